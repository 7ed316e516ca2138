/** Two clones of a practice's repository, each with a station of its own, in real git: they merge, and the record is sound. */
import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Context } from '../../src/commands/context.ts';
import { run } from '../../src/commands/run.ts';
import { LARKHILL } from './entries.ts';

let root: string;

beforeEach(() => {
  root = mkdtempSync(path.join(tmpdir(), 'holdfast-git-'));
  git('.', 'init', '--quiet', '--bare', '--initial-branch=main', 'practice.git');
  clone('theatre');
  copyFileSync(LARKHILL, path.join(root, 'theatre', 'inventory.yaml'));
  commit('theatre', 'the inventory');
  git('theatre', 'push', '--quiet', 'origin', 'HEAD:main');
  clone('ward');
});

afterEach(() => rmSync(root, { recursive: true, force: true }));

function git(folder: string, ...words: readonly string[]): string {
  mkdirSync(path.join(root, 'home'), { recursive: true });
  const who = {
    GIT_AUTHOR_NAME: 'M. Quill',
    GIT_AUTHOR_EMAIL: 'quill@larkhill.example',
    GIT_COMMITTER_NAME: 'M. Quill',
    GIT_COMMITTER_EMAIL: 'quill@larkhill.example',
  };
  const env = { PATH: process.env.PATH, HOME: path.join(root, 'home'), GIT_CONFIG_NOSYSTEM: '1', ...who };
  return execFileSync('git', words, {
    cwd: path.join(root, folder),
    env,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
  });
}

function clone(name: string): void {
  git('.', 'clone', '--quiet', 'practice.git', name);
}

function commit(folder: string, message: string): void {
  git(folder, 'add', '--all');
  git(folder, 'commit', '--quiet', '--message', message);
}

let minute = 0;

async function holdfast(
  station: string,
  ...argv: readonly string[]
): Promise<{ out: string; exitCode: number }> {
  minute += 1;
  const now = new Date(Date.parse('2026-11-25T08:00:00Z') + minute * 60_000);
  let out = '';
  const context: Context = {
    env: {
      HOLDFAST_STATION: station,
      HOLDFAST_BY: 'M. Quill',
      HOLDFAST_INVENTORY: path.join(root, station, 'inventory.yaml'),
      XDG_STATE_HOME: path.join(root, `state-${station}`),
    },
    cwd: path.join(root, station),
    hostname: station,
    now: () => now,
    out: text => {
      out += text;
    },
    err: () => {},
    width: 80,
    colour: false,
    terminal: null,
    exitCode: 0,
  };
  const exitCode = await run(argv, context);
  return { out, exitCode };
}

const HOLD = ['--from', '30', '--to', '30', '--seconds', '10', '--pop-off', 'open'];

describe('two clones that append on their own stations', () => {
  it('merge without a conflict, in order of time, and the record is sound in both', async () => {
    // In turns, over several rounds, so that both histories go on after a merge.
    for (let round = 0; round < 3; round++) {
      expect(
        (await holdfast('theatre', 'hold', 'y-piece-1', '--machine', 'theatre-1', ...HOLD)).exitCode,
      ).toBe(0);
      expect((await holdfast('ward', 'hold', 'y-piece-1', '--machine', 'dental', ...HOLD)).exitCode).toBe(0);
      expect((await holdfast('theatre', 'reading', 'ward-e-1', `${1400 - round}psi`)).exitCode).toBe(0);
      commit('theatre', `theatre, round ${round}`);
      commit('ward', `ward, round ${round}`);
      for (const station of ['theatre', 'ward', 'theatre']) {
        git(station, 'pull', '--quiet', '--no-rebase', '--no-edit', 'origin', 'main');
        git(station, 'push', '--quiet', 'origin', 'HEAD:main');
      }
    }
    for (const station of ['theatre', 'ward']) {
      const verified = await holdfast(station, 'record', 'verify', '--json');
      expect(verified.exitCode, verified.out).toBe(0);
      const { out } = await holdfast(station, 'record', 'export', '--format', 'jsonl');
      const entries = out
        .trimEnd()
        .split('\n')
        .map(line => JSON.parse(line) as { on: string; station: string });
      expect(entries).toHaveLength(9);
      expect(entries.map(({ station: by }) => by)).toEqual(
        Array.from({ length: 3 }, () => ['theatre', 'ward', 'theatre']).flat(),
      );
      expect(entries.map(({ on }) => on)).toEqual(entries.map(({ on }) => on).sort());
    }
    const files = (station: string) =>
      ['theatre', 'ward'].map(name =>
        readFileSync(path.join(root, station, 'record', name, '2026.jsonl'), 'utf8'),
      );
    expect(files('theatre')).toEqual(files('ward'));
  });

  it('know after the merge what the other did: a circuit that went to the other machine is to be held anew', async () => {
    await holdfast('theatre', 'hold', 'y-piece-1', '--machine', 'theatre-1', ...HOLD);
    const state = async () => {
      const { out } = await holdfast(
        'theatre',
        'plan',
        '20kg',
        '--circuit',
        'y-piece-1',
        '--machine',
        'theatre-1',
        '--json',
      );
      return (JSON.parse(out) as { leak_hold: { state: string } }).leak_hold.state;
    };
    expect(await state()).toBe('held');
    await holdfast(
      'ward',
      'usage',
      'dental',
      '--circuit',
      'y-piece-1',
      '--minutes',
      '20',
      '--flow',
      '1L/min',
    );
    commit('theatre', 'theatre');
    commit('ward', 'ward');
    git('ward', 'push', '--quiet', 'origin', 'HEAD:main');
    git('theatre', 'pull', '--quiet', '--no-rebase', '--no-edit', 'origin', 'main');
    expect(await state()).toBe('needed');
  });
});
