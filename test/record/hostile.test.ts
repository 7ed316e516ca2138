/** Texts that mean harm or are merely long: stored exactly, printed visibly, limits named. */
import { copyFileSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Context } from '../../src/commands/context.ts';
import { run } from '../../src/commands/run.ts';
import { LARKHILL } from './entries.ts';

let folder: string;

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'holdfast-hostile-'));
  copyFileSync(LARKHILL, path.join(folder, 'inventory.yaml'));
});

afterEach(() => rmSync(folder, { recursive: true, force: true }));

async function holdfast(...argv: readonly string[]): Promise<{ out: string; err: string; exitCode: number }> {
  const printed = { out: '', err: '' };
  const context: Context = {
    env: {
      HOLDFAST_STATION: 'theatre',
      HOLDFAST_INVENTORY: path.join(folder, 'inventory.yaml'),
      XDG_STATE_HOME: path.join(folder, 'state'),
    },
    cwd: folder,
    hostname: 'theatre',
    now: () => new Date('2026-11-25T08:14:03Z'),
    out: text => {
      printed.out += text;
    },
    err: text => {
      printed.err += text;
    },
    width: 80,
    colour: false,
    terminal: null,
    exitCode: 0,
  };
  const exitCode = await run(argv, context);
  return { ...printed, exitCode };
}

function lines(): string[] {
  const station = path.join(folder, 'record', 'theatre');
  if (!existsSync(station)) return [];
  return readdirSync(station)
    .filter(name => name.endsWith('.jsonl'))
    .flatMap(name =>
      readFileSync(path.join(station, name), 'utf8')
        .split('\n')
        .filter(line => line !== ''),
    );
}

const NASTY: readonly [string, string][] = [
  ['escape sequences', 'red \u001b[31malert\u001b[0m and \u001b]0;title\u0007'],
  ['newlines and tabs', 'first\nsecond\r\n\tthird'],
  ['NUL and C1 controls', 'a\u0000b\u009b2Jc\u0085d'],
  ['right-to-left marks', 'user \u202etxt.exe\u202c and \u2067\u05e9\u05dc\u05d5\u05dd\u2069'],
  ['right-to-left text', '\u05e9\u05dc\u05d5\u05dd \u0645\u0631\u062d\u0628\u0627'],
  ['separators that some readers take for line ends', 'a\u2028b\u2029c\u000bd\u000ce'],
  ['quotes and backslashes', '"},{"kind":"hold"\\u0000\\'],
  ['emoji and wide letters', '🐈‍⬛ 漢字 é'],
];

// biome-ignore lint/suspicious/noControlCharactersInRegex: none of these may reach a terminal
const DANGEROUS = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069]/;

describe('texts of entries', () => {
  it.each(NASTY)('keeps %s exactly on one line, and prints them visibly everywhere', async (_, text) => {
    const done = await holdfast('withdraw', 'bain-1', '--because', text, '--by', text, '--note', text);
    expect(done).toMatchObject({ exitCode: 0, err: '' });
    expect(lines()).toHaveLength(1);
    expect(JSON.parse(lines()[0] ?? '')).toMatchObject({ by: text, note: text, because: text });
    expect(lines()[0]).not.toMatch(DANGEROUS);
    const shown = await holdfast('record', 'show');
    const open = await holdfast('record', 'show', '--open');
    const again = await holdfast('withdraw', 'bain-1', '--because', text, '--by', text);
    const csv = await holdfast('record', 'export', '--format', 'csv');
    expect(again.exitCode).toBe(2);
    for (const printed of [done.out, shown.out, open.out, again.err, csv.out.replaceAll('\r\n', '\n')])
      expect(printed).not.toMatch(DANGEROUS);
    for (const words of [
      ['record', 'show', '--json'],
      ['record', 'export', '--format', 'jsonl'],
    ]) {
      const { out } = await holdfast(...words);
      expect(out).not.toMatch(DANGEROUS);
      const document = JSON.parse(out) as { entries?: [{ note: string }]; note?: string };
      expect(document.entries?.[0]?.note ?? document.note).toBe(text);
    }
    expect((await holdfast('record', 'verify')).exitCode).toBe(0);
  });

  it.each<[string, string, number]>([
    ['--note', 'note', 4000],
    ['--by', 'by', 200],
    ['--because', 'because', 1000],
  ])(
    'names the limit of %s, takes what just fits, and writes nothing beyond it',
    async (option, key, most) => {
      const words = { '--because': 'cracked', '--by': 'M. Quill' } as Record<string, string>;
      const withdraw = (text: string) =>
        holdfast('withdraw', 'bain-1', ...Object.entries({ ...words, [option]: text }).flat());
      // Counted in characters as a person counts them, not in UTF-16 units.
      const long = await withdraw('🐈'.repeat(most + 1));
      expect(long.exitCode).toBe(2);
      expect(long.err).toMatch(
        new RegExp(`text_length[\\s\\S]*${option} has ${most + 1} characters; the record takes ${most}`),
      );
      expect(lines()).toEqual([]);
      const fits = await withdraw('🐈'.repeat(most));
      expect(fits.exitCode).toBe(0);
      expect(JSON.parse(lines()[0] ?? '')[key]).toBe('🐈'.repeat(most));
    },
  );

  it('refuses a note of 100 kB with the limit named', async () => {
    const { exitCode, err } = await holdfast(
      'withdraw',
      'bain-1',
      '--because',
      'cracked',
      '--by',
      'M. Quill',
      '--note',
      'x'.repeat(100_000),
    );
    expect(exitCode).toBe(2);
    expect(err).toMatch(/100000 characters; the record takes 4000/);
    expect(lines()).toEqual([]);
  });

  it('keeps a lone surrogate from making a line that cannot be read back', async () => {
    const { exitCode } = await holdfast('withdraw', 'bain-1', '--because', 'half \ud83d', '--by', 'M. Quill');
    expect([0, 2]).toContain(exitCode);
    expect((await holdfast('record', 'verify')).exitCode).toBe(exitCode === 0 ? 0 : expect.any(Number));
    for (const line of lines()) expect(() => JSON.parse(line)).not.toThrow();
  });
});
