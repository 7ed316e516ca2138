/** A round in a real terminal: all as it should be, one by one, and Ctrl-C. */
import { copyFileSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { HAS_TMUX, Terminal } from './tmux.ts';

const PROGRAM = path.resolve('bin/holdfast.cjs');
let folder: string;
let terminal: Terminal | null;

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'holdfast-round-'));
  copyFileSync('inventory.example.yaml', path.join(folder, 'inventory.yaml'));
  terminal = null;
});

afterEach(() => {
  terminal?.close();
  rmSync(folder, { recursive: true, force: true });
});

function start(words: string): Terminal {
  const env = {
    HOLDFAST_STATION: 'prep-room',
    HOLDFAST_BY: 'Ada',
    XDG_STATE_HOME: path.join(folder, 'state'),
  };
  terminal = new Terminal(`"${process.execPath}" "${PROGRAM}" ${words}`, { cwd: folder, env });
  return terminal;
}

function entries(): { kind: string; check?: string; result?: string }[] {
  const station = path.join(folder, 'record/prep-room');
  if (!existsSync(station)) return [];
  const [file = ''] = readdirSync(station);
  return readFileSync(path.join(station, file), 'utf8')
    .trimEnd()
    .split('\n')
    .map(line => JSON.parse(line));
}

describe.skipIf(!HAS_TMUX)('holdfast round on a terminal', () => {
  it('signs everything off with one word, after a summary', async () => {
    const t = start('round closing theatre-1');
    await t.shows(/one by one \(each\):/);
    t.line('all');
    await t.shows(/Nothing failed\. Passed: 2\.[\s\S]*Record this/);
    t.line('yes');
    await t.shows(/PASSED: closing round of theatre-1, 2 of 2[\s\S]*exit code 0/);
    expect(entries().map(({ kind, result }) => `${kind} ${result}`)).toEqual([
      'sign_off pass',
      'sign_off pass',
    ]);
  });

  it('asks who does it where nobody is named', async () => {
    const t = start("round closing theatre-1 --by ''");
    await t.shows(/Who does it \(--by\):/);
    t.line('Bea');
    await t.shows(/one by one \(each\):/);
    t.line('all');
    await t.shows(/Record this/);
    t.line('yes');
    await t.shows(/exit code 0/);
    expect(entries()).toMatchObject([{ by: 'Bea' }, { by: 'Bea' }]);
  });

  it('goes one by one, and says what failed and what is not done', async () => {
    const t = start('round closing theatre-1');
    await t.shows(/one by one \(each\):/);
    t.line('each');
    await t.shows(/cylinders-shut of theatre-1-e \(pass, fail, skip\):/);
    t.line('fail');
    await t.shows(/flows-off of theatre-1 \(pass, fail, skip\):/);
    t.line('skip');
    await t.shows(
      /FAILED: cylinders-shut of theatre-1-e[\s\S]*Not done: flows-off of theatre-1[\s\S]*Record this/,
    );
    t.line('yes');
    await t.shows(/exit code 1/);
    expect(entries()).toMatchObject([{ check: 'cylinders-shut', result: 'fail' }]);
  });

  it('records nothing on Ctrl-C or without a confirmation, and says so', async () => {
    const t = start('round closing theatre-1');
    await t.shows(/one by one \(each\):/);
    t.key('C-c');
    const screen = await t.shows(/exit code 2/);
    expect(screen).toContain('round_interrupted');
    expect(screen).toContain('nothing was recorded');
    expect(screen).not.toContain('open the pop-off now');
    expect(entries()).toEqual([]);
  });
});
