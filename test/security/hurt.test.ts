/** A megabyte made to be read over and over: each took minutes or more once, and is an answer in a moment now. */
import { readFileSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { Clinic, removeHome } from '../fuzz/clinic.ts';

const LARKHILL = readFileSync('test/record/larkhill.yaml', 'utf8');
const ROOM = 1024 * 1024 - LARKHILL.length - 200;

const named = (text: string) => LARKHILL.replace('name: Larkhill Animal Clinic', () => `name: ${text}`);
const ruled = (text: string) =>
  LARKHILL.replace('practice:', () => `rules:\n  boundary:\n    near_kg: 0.5${text}\npractice:`);

afterAll(removeHome);

describe('a megabyte', () => {
  it.each([
    ['of blanks before a tab', `${LARKHILL}\n${' '.repeat(ROOM)}\t`, 'blanks_too_long'],
    ['of blanks in a name', named(`a${' '.repeat(ROOM)}b`), 'blanks_too_long'],
    ['of tabs in a quoted name', named(`"a${'\t'.repeat(ROOM)}b"`), 'blanks_too_long'],
    ['of blanks in a quoted name of two lines', named(`"a\n${' '.repeat(ROOM)}b\n   c"`), 'blanks_too_long'],
    ['of blanks before a comment', ruled(`${' '.repeat(ROOM)}# x`), 'blanks_too_long'],
    ['of blanks in a comment', ruled(` #${' '.repeat(ROOM)}x`), 'blanks_too_long'],
    [
      'of the most blanks there may be',
      named(`"a${`${' '.repeat(256)}x`.repeat(Math.floor(ROOM / 257))}"`),
      'wrong_length',
    ],
    ['of such lines', named(`"a${`\n${' '.repeat(255)}x`.repeat(Math.floor(ROOM / 257))}"`), 'wrong_length'],
    [
      'of anchors within anchors',
      `${LARKHILL}a: &a [x, x]\n${'b: &b [*a, *a, *a, *a]\n'.repeat(40_000)}`,
      'anchor_refused',
    ],
    ['of groups within groups', `${LARKHILL}a: ${'{a: '.repeat(ROOM / 4)}`, 'too_deep'],
  ])('%s is refused by name', async (_, text, code) => {
    const clinic = new Clinic({ 'inventory.yaml': text });
    const { exitCode, err } = await clinic.run(['inventory', 'check']);
    expect({ exitCode, code: err.split(' ')[0] }).toEqual({ exitCode: 2, code });
    clinic.remove();
  });

  it('of lines in the record without an end is one damaged line', async () => {
    const line = `{"v":1,"id":"${'a'.repeat(ROOM)}`;
    const clinic = new Clinic({
      'inventory.yaml': LARKHILL,
      'record/prep-room/2026.jsonl': `${line}\n${'['.repeat(ROOM)}\n`,
    });
    const { exitCode, err, out } = await clinic.run(['record', 'verify']);
    expect(exitCode).toBe(1);
    expect(`${out}${err}`).toMatch(/2026\.jsonl:2/);
    clinic.remove();
  });

  it('of the word that commander suggests by is looked at once', async () => {
    const clinic = new Clinic({ 'inventory.yaml': LARKHILL });
    const { exitCode, err } = await clinic.run(['plan', '6.8kg', `--${'(Did you mean '.repeat(70_000)}`]);
    expect({ exitCode, code: err.split('\n')[0] }).toEqual({ exitCode: 2, code: 'usage' });
    clinic.remove();
  });
});
