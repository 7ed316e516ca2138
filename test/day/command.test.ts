/** The list as a file: what keeps it from being read at all. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { Context } from '../../src/commands/context.ts';
import { run } from '../../src/commands/run.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-day-'));
mkdirSync(path.join(folder, 'record'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const ROWS = 'ref,species,weight,start,minutes\nK-\u00e9,cat,4kg,08:30,30\n';

async function day(list: string): Promise<{ code: string | null; exitCode: number }> {
  const printed = { err: '' };
  const context: Context = {
    env: { XDG_STATE_HOME: folder },
    cwd: folder,
    hostname: 'prep-room.example',
    now: () => new Date('2026-11-25T08:14:03Z'),
    out: () => {},
    err: text => {
      printed.err += text;
    },
    width: 80,
    colour: false,
    terminal: null,
    exitCode: 0,
  };
  const inventory = path.resolve('inventory.example.yaml');
  const record = path.join(folder, 'record');
  const exitCode = await run(['day', list, '--json', '--inventory', inventory, '--record', record], context);
  const [, code] = /"code":"([a-z0-9_]+)"/.exec(printed.err) ?? [];
  return { code: code ?? null, exitCode };
}

function written(name: string, content: string | Buffer): string {
  writeFileSync(path.join(folder, name), content);
  return name;
}

describe('holdfast day', () => {
  it('reads a list with the mark that spreadsheets put in front', async () => {
    expect(await day(written('bom.csv', `\ufeff${ROWS}`))).toEqual({ code: null, exitCode: 0 });
  });

  it('refuses what is not UTF-8', async () => {
    for (const [name, bytes] of [
      ['latin.csv', Buffer.from(ROWS, 'latin1')],
      ['wide.csv', Buffer.from(`\ufeff${ROWS}`, 'utf16le')],
    ] as const)
      expect(await day(written(name, bytes))).toEqual({ code: 'list_not_utf8', exitCode: 2 });
  });

  it('refuses what is no list: too large, a folder, another ending, not there', async () => {
    expect(await day(written('large.csv', ROWS.repeat(30_000)))).toEqual({
      code: 'list_too_large',
      exitCode: 2,
    });
    expect(await day(path.relative(folder, '.') || '.')).toEqual({ code: 'list_kind', exitCode: 2 });
    expect(await day('none.yaml')).toEqual({ code: 'list_not_readable', exitCode: 2 });
  });
});
