/** The questions of `inventory new` in a real terminal. */
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { HAS_TMUX, Terminal } from '../terminal/tmux.ts';

const BIN = path.resolve('bin/holdfast.cjs');

let folder: string;
let terminal: Terminal | null = null;

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'holdfast-new-'));
});

afterEach(() => {
  terminal?.close();
  terminal = null;
  rmSync(folder, { recursive: true, force: true });
});

function start(words: string): Terminal {
  const env = { LC_ALL: 'C.UTF-8', TZ: 'Europe/Dublin' };
  terminal = new Terminal(`'${process.execPath}' '${BIN}' inventory new ${words}`, { cwd: folder, env });
  return terminal;
}

describe.skipIf(!HAS_TMUX)('inventory new on a terminal', () => {
  it('asks for what no option says, says what is wrong, and offers what Enter takes', async () => {
    const t = start('mine.yaml --machine theatre-1 --rules holds-1993');
    await t.shows(/Name of the practice \[Our practice\]:/);
    t.line('Larkhill');
    await t.shows(/Time zone \[Europe\/Dublin\]:/);
    t.line('Dubbin');
    await t.shows(/'Dubbin' is no IANA time zone/);
    t.line('');
    await t.shows(/Circuits .*\[t_piece bain circle_y\]:/);
    t.line('bane');
    await t.shows(/there is no circuit kind 'bane'/);
    t.line('bain, circle_coaxial');
    const screen = await t.shows(/exit code 0/);
    expect(screen).not.toContain('Machines');
    const text = readFileSync(path.join(folder, 'mine.yaml'), 'utf8');
    expect(text).toContain('name: "Larkhill"');
    expect(text).toContain('time_zone: Europe/Dublin');
    expect(text).toContain('id: coaxial-1');
    expect(text).not.toContain('y-piece-1');
  });

  it.each(['C-c', 'C-d'])('writes nothing after %s', async key => {
    const t = start('mine.yaml');
    await t.shows(/Name of the practice/);
    t.line('Larkhill');
    await t.shows(/Time zone/);
    t.key(key);
    const screen = await t.shows(/exit code 2/);
    expect(screen).toContain('interrupted');
    expect(screen).toContain('broken off: nothing was written');
    expect(existsSync(path.join(folder, 'mine.yaml'))).toBe(false);
  });
});
