/** Links put where files of the record, of reports and of remembered heads belong, also while an entry is written. */
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { Worker } from 'node:worker_threads';
import { afterAll, afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Clinic, expectSound, removeHome } from '../fuzz/clinic.ts';

const LARKHILL = readFileSync('test/record/larkhill.yaml');
const SIGN_OFF = ['sign-off', 'bain-1', 'inner-tube'];

let clinic: Clinic;
const at = (name: string) => path.join(clinic.folder, name);

beforeEach(() => {
  clinic = new Clinic({
    'inventory.yaml': LARKHILL,
    'victim.txt': 'precious\n',
    'elsewhere/keep.txt': 'mine\n',
  });
});
afterEach(() => {
  expect(readFileSync(at('victim.txt'), 'utf8')).toBe('precious\n');
  // A new file may have been made through a link in the moment before it was looked for; nothing is ever written into it.
  for (const name of readdirSync(at('elsewhere')))
    expect(readFileSync(at(`elsewhere/${name}`), 'utf8'), name).toBe(name === 'keep.txt' ? 'mine\n' : '');
  clinic.remove();
});
afterAll(removeHome);

describe('links in the record', () => {
  it.each([
    ['the record', 'record', 'elsewhere'],
    ['the station', 'record/prep-room', '../elsewhere'],
    ['the file of the year', 'record/prep-room/2026.jsonl', '../../victim.txt'],
    ['a file of the year that leads nowhere', 'record/prep-room/2026.jsonl', '../../elsewhere/new.txt'],
  ])('%s: nothing is written or read through it', async (_, link, target) => {
    mkdirSync(path.dirname(at(link)), { recursive: true });
    symlinkSync(target, at(link));
    const written = await clinic.run(SIGN_OFF);
    expectSound(written);
    expect(written.exitCode).toBe(3);
    expect(written.err).toMatch(/record_symlink/);
    for (const words of ['record show', 'record verify', 'plan 6.8kg', 'due']) {
      const read = await clinic.run(words.split(' '));
      expectSound(read);
      expect(read.out).not.toMatch(/precious/);
      expect(read.exitCode).toBeGreaterThan(0);
    }
  });

  it.each([
    ['the station', 'record/prep-room', '../elsewhere'],
    ['the file of the year', 'record/prep-room/2026.jsonl', '../../victim.txt'],
  ])(
    '%s: nothing is written through one that comes and goes while entries are written',
    async (_, name, target) => {
      const first = await clinic.run(SIGN_OFF);
      expect(first.exitCode, first.err).toBe(0);
      const stop = new SharedArrayBuffer(4);
      const swapper = new Worker(SWAPPER, { eval: true, workerData: { real: at(name), target, stop } });
      const outcomes = new Set<number>();
      for (let i = 0; i < 60; i++) {
        const ran = await clinic.run(SIGN_OFF);
        // Refused or recorded, nothing else.
        expect(ran.exitCode === 0 || ran.exitCode === 3, `${ran.exitCode}: ${ran.err}`).toBe(true);
        outcomes.add(ran.exitCode);
      }
      new Int32Array(stop)[0] = 1;
      await new Promise(resolve => swapper.once('exit', resolve));
      expect(lstatSync(at(name)).isSymbolicLink()).toBe(false);
      // Both must have happened, or nothing was tried.
      expect(outcomes.size).toBe(2);
    },
  );
});

/** Puts a link in the place of the real thing for a moment, over and over. */
const SWAPPER = `
  const { renameSync, rmSync, symlinkSync } = require('node:fs');
  const { real, target, stop } = require('node:worker_threads').workerData;
  const stopped = new Int32Array(stop);
  const pause = ms => Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, ms);
  while (Atomics.load(stopped, 0) === 0) {
    try {
      renameSync(real, real + '.away');
      symlinkSync(target, real);
      pause(3);
      rmSync(real);
      renameSync(real + '.away', real);
    } catch (error) {
      // A new file of the year may have been made in between: the old one goes back over it.
      try { rmSync(real, { recursive: true, force: true }); } catch {}
      try { renameSync(real + '.away', real); } catch {}
    }
    pause(3);
  }`;

describe('links elsewhere', () => {
  it('a report goes to where a link of the user leads, but never through one beside it', async () => {
    symlinkSync('victim.txt', at('.report.txt.new'));
    expect((await clinic.run(['due', '--out', 'report.txt'])).exitCode).toBe(1);
    expect(lstatSync(at('report.txt')).isFile()).toBe(true);
  });

  it('a remembered head is not written through a link', async () => {
    expect((await clinic.run(SIGN_OFF)).exitCode).toBe(0);
    const state = path.join(clinic.root, 'state', 'holdfast');
    const [head = ''] = readdirSync(state);
    for (const name of [head, `${head}.new`]) {
      rmSync(path.join(state, name), { force: true });
      symlinkSync(at('victim.txt'), path.join(state, name));
    }
    expect((await clinic.run(SIGN_OFF)).exitCode).toBe(0);
  });

  it('a torn tail is not set aside through a link', async () => {
    expect((await clinic.run(SIGN_OFF)).exitCode).toBe(0);
    const file = at('record/prep-room/2026.jsonl');
    writeFileSync(file, `${readFileSync(file, 'utf8')}{"v":1,"id":"torn`);
    for (const ending of ['', '-1', '.new', '.tmp']) symlinkSync('../../victim.txt', `${file}.torn${ending}`);
    expectSound(await clinic.run(SIGN_OFF));
    expect(
      readFileSync(file, 'utf8')
        .split('\n')
        .filter(line => line !== '')
        .every(isJson),
    ).toBe(true);
  });
});

function isJson(line: string): boolean {
  try {
    JSON.parse(line);
    return true;
  } catch {
    return false;
  }
}

describe('folders that everybody may write to', () => {
  it.each(['record', 'record/prep-room'])(
    '%s: cautioned by what writes and by what reads, and used',
    async name => {
      expect((await clinic.run(SIGN_OFF)).exitCode).toBe(0);
      chmodSync(at(name), 0o777);
      for (const words of [SIGN_OFF, ['record', 'verify'], ['due']]) {
        const ran = await clinic.run(words);
        expectSound(ran);
        expect(ran.err, words.join(' ')).toMatch(/record_world_writable/);
      }
      // Where only owners may remove their files, as in /tmp, nobody can put another in their place.
      chmodSync(at(name), 0o1777);
      expect((await clinic.run(['record', 'verify'])).err).not.toMatch(/record_world_writable/);
    },
  );

  it('gives its own folders and files to their owner alone to write', async () => {
    const before = process.umask(0o000);
    try {
      expect((await clinic.run(SIGN_OFF)).exitCode).toBe(0);
    } finally {
      process.umask(before);
    }
    for (const name of ['record', 'record/prep-room', 'record/prep-room/2026.jsonl'])
      expect(lstatSync(at(name)).mode & 0o002, name).toBe(0);
    const state = path.join(clinic.root, 'state', 'holdfast');
    expect(existsSync(state)).toBe(true);
    expect(lstatSync(state).mode & 0o077).toBe(0);
    renameSync(state, `${state}.moved`);
  });
});
