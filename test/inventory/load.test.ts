import { execFileSync, spawnSync } from 'node:child_process';
import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { todayIn } from '../../src/calendar/zone.ts';
import { gitBlobId } from '../../src/inventory/build.ts';
import type { Inventory, Rule } from '../../src/inventory/inventory.ts';
import { findInventory, loadInventory } from '../../src/inventory/load.ts';
import { Refusal } from '../../src/problem/problem.ts';

const NOW = new Date('2026-11-25T09:00:00Z');
const SHAPE = 'test/inventory/ok/inventory-shape.yaml';
const EXAMPLE = 'inventory.example.yaml';

const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-inventory-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const load = (file: string) => loadInventory(file, zone => todayIn(zone, NOW));

function loaded(file: string): Inventory {
  const result = load(file);
  if (!result.ok) throw new Refusal(result.problems);
  return result.inventory;
}

/** Writes a file of the test's own and gives its path. */
function write(name: string, content: string | Buffer): string {
  const file = path.join(folder, name);
  writeFileSync(file, content);
  return file;
}

function problemsOf(file: string) {
  const result = load(file);
  return result.ok ? [] : result.problems.map(({ code, line, column }) => ({ code, line, column }));
}

const codesOf = (file: string) => problemsOf(file).map(({ code }) => code);

/** Every rule of a practice by its path. */
function allRules(node: unknown): Rule<unknown>[] {
  if (typeof node !== 'object' || node === null) return [];
  if ('from' in node && 'source' in node) return [node as Rule<unknown>];
  return Object.values(node).flatMap(allRules);
}

describe('loadInventory', () => {
  it.each([...readdirSync('test/inventory/ok').map(name => `test/inventory/ok/${name}`), EXAMPLE])(
    'takes %s',
    file => {
      expect(load(file)).toMatchObject({ ok: true });
    },
  );

  it('takes Windows line ends and a byte order mark, at the same places', () => {
    const text = readFileSync(EXAMPLE, 'utf8');
    const plain = loaded(EXAMPLE);
    const other = loaded(write('windows.yaml', `\ufeff${text.replaceAll('\n', '\r\n')}`));
    expect(other.rules).toEqual(plain.rules);
    expect(other.circuits.map(({ id, place }) => [id, place.line, place.column])).toEqual(
      plain.circuits.map(({ id, place }) => [id, place.line, place.column]),
    );
    expect(other.checks.map(({ text }) => text)).toEqual(plain.checks.map(({ text }) => text));
    expect(other.blob).not.toBe(plain.blob);
  });

  it('has the defaults that the shape writes out', () => {
    const text = readFileSync(SHAPE, 'utf8');
    const written = allRules(loaded(SHAPE).rules);
    const defaults = allRules(
      loaded(write('no-rules.yaml', text.replace(/^rules:[\s\S]*?(?=^machines:)/m, ''))).rules,
    );
    expect(defaults.map(({ path, value }) => [path, value])).toEqual(
      written.map(({ path, value }) => [path, value]),
    );
    expect(written.length).toBeGreaterThan(35);
    expect(new Set(written.map(({ from }) => from))).toEqual(new Set(['inventory']));
    expect(new Set(defaults.map(({ from, line }) => `${from} ${line}`))).toEqual(new Set(['default null']));
    expect(defaults.filter(({ source }) => source === '')).toEqual([]);
  });

  it('takes each rule that is left out from the defaults, and says so', () => {
    const text = readFileSync(SHAPE, 'utf8').replace(/^ {4}minimum_ml_min: 500\n/m, '');
    const { freshGasFlow } = loaded(write('one-rule-less.yaml', text)).rules;
    expect(freshGasFlow.minimumMlPerMin).toMatchObject({ value: 500, from: 'default', line: null });
    expect(freshGasFlow.mlPerKgMin.rebreathing.maintenance).toMatchObject({
      value: [20, 30],
      from: 'inventory',
    });
  });

  it('says of a rule on which line it stands and quotes the comment behind it', () => {
    const { boundary, leakHold } = loaded(EXAMPLE).rules;
    const lines = readFileSync(EXAMPLE, 'utf8').split('\n');
    const { line, path: pointer, source } = boundary.nonRebreathingBelowKg;
    expect(lines[(line ?? 0) - 1]).toContain('non_rebreathing_below_kg: 7');
    expect(pointer).toBe('/rules/boundary/non_rebreathing_below_kg');
    expect(source).toBe(
      "the practice's own figure, noted “common practice; AAFP 2018 puts it at 3 kg for cats”",
    );
    expect(leakHold.bain.seconds.source).toContain('“common practice”');
  });

  it('finds the place of everything', () => {
    const inventory = loaded(EXAMPLE);
    const lines = readFileSync(EXAMPLE, 'utf8').split('\n');
    for (const asset of inventory.assets.values()) {
      const { line, column } = inventory.placeOf(asset.type === 'bag' ? asset.path : `${asset.path}/id`);
      expect(lines[line - 1]?.slice(column - 1)).toMatch(new RegExp(`^${asset.id}\\b`));
    }
  });

  it('gives the blob id that git gives', () => {
    expect(gitBlobId(Buffer.from('hello\n'))).toBe('ce013625030ba8dba906f756967f9e9ca394464a');
  });

  it('inherits since from the machine, and reads bar as psi', () => {
    const { assets } = loaded(EXAMPLE);
    expect(assets.get('theatre-2-iso')?.since).toBe('2019-10-14');
    expect(assets.get('theatre-2-absorber')?.since).toBe('2024-01-15');
    expect(assets.get('bank')).toMatchObject({ gaugeUnit: 'bar', cylinders: 4 });
    const bank = assets.get('bank');
    // 137 bar is 1987 psi (NIST SP 811).
    expect(bank?.type === 'supply' && bank.kind === 'cylinder' ? bank.fullPsi : null).toBeCloseTo(1987.02, 1);
  });
});

describe('files that are none', () => {
  it('names a folder, a missing file and a file that is not regular', () => {
    expect(codesOf(folder)).toEqual(['file_is_folder']);
    expect(codesOf(path.join(folder, 'none.yaml'))).toEqual(['file_missing']);
    expect(codesOf(path.join(EXAMPLE, 'below-a-file.yaml'))).toEqual(['file_missing']);
    expect(codesOf('/dev/null')).toEqual(['file_not_readable']);
    const loop = path.join(folder, 'loop.yaml');
    symlinkSync(loop, loop);
    expect(codesOf(loop)).toEqual(['file_not_readable']);
  });

  it('names a file that may not be read', ctx => {
    const file = write('locked.yaml', readFileSync(EXAMPLE));
    chmodSync(file, 0o000);
    if (process.getuid?.() !== 0) {
      expect(codesOf(file)).toEqual(['file_not_readable']);
      return;
    }
    // Root reads everything: another user has to try.
    chmodSync(folder, 0o755);
    const tryAs = (...words: string[]) =>
      spawnSync(process.execPath, ['bin/holdfast.cjs', ...words], {
        uid: 65534,
        gid: 65534,
        encoding: 'utf8',
      });
    if (tryAs('--version').status !== 0) ctx.skip('run as root, and no other user may read this folder');
    const { status, stderr } = tryAs('inventory', 'check', file, '--json');
    expect(status).toBe(2);
    expect(JSON.parse(stderr)).toMatchObject({ problems: [{ code: 'file_not_readable', file }] });
  });

  it('refuses more than 1 MiB before reading it', () => {
    expect(codesOf(write('large.yaml', Buffer.alloc(2 * 1024 * 1024, '# large\n')))).toEqual([
      'file_too_large',
    ]);
    expect(codesOf(write('just.yaml', Buffer.alloc(1024 * 1024 + 1, '#')))).toEqual(['file_too_large']);
    // Each item is a dash, two brackets, a space, a line break and what the lexer puts in between.
    const dense = `a:\n${'- []\n'.repeat(80_000)}`;
    expect(codesOf(write('dense.yaml', Buffer.from(dense)))).toEqual(['wrong_length']);
    expect(codesOf(write('denser.yaml', Buffer.from(dense + dense.slice(3))))).toEqual(['file_too_large']);
    expect(codesOf(write('fits.yaml', Buffer.alloc(1024 * 1024, '#')))).toEqual(['file_empty']);
  });

  it('names the place of bytes that are not UTF-8', () => {
    const latin1 = Buffer.from('format: 1\npractice:\n  name: caf\u00e9 Larkhill\n', 'latin1');
    expect(problemsOf(write('latin1.yaml', latin1))).toEqual([
      { code: 'file_not_utf8', line: 3, column: 12 },
    ]);
    const utf16 = Buffer.from('\ufeffformat: 1\n', 'utf16le');
    expect(problemsOf(write('utf16.yaml', utf16))).toEqual([{ code: 'file_not_utf8', line: 1, column: 1 }]);
    // A replacement character that is really in the file is no sign of bad bytes.
    const both = Buffer.concat([Buffer.from('# \ufffd\na: '), Buffer.from([0xc3, 0x28])]);
    expect(problemsOf(write('both.yaml', both))).toEqual([{ code: 'file_not_utf8', line: 2, column: 4 }]);
  });

  it('refuses a lone carriage return, which would be no line end', () => {
    expect(problemsOf(write('cr.yaml', 'format: 1\rpractice: x\n'))).toEqual([
      { code: 'control_character', line: 1, column: 10 },
    ]);
  });
});

describe('files made to hurt', () => {
  const MOST = 1024 * 1024;
  const fill = (text: string) => text.repeat(Math.floor(MOST / text.length));

  it.each([
    ['brackets', fill('['), 'too_deep'],
    ['braces', fill('{a: '), 'too_deep'],
    ['hyphens', fill('- '), 'too_deep'],
    ['question marks', fill('? '), 'too_deep'],
    ['colons', fill('a: '), 'too_deep'],
    ['documents', fill('---\n'), 'several_documents'],
    ['anchors', fill('&a '), 'anchor_refused'],
    ['aliases', `[${fill('*a,').slice(3)}]`, 'anchor_refused'],
    ['one long word', `a: ${'x'.repeat(MOST - 3)}`, 'unknown_key'],
    ['tabs', fill('\ta: 1\n'), 'tab_indentation'],
    ['control characters', fill('\u0001'), 'control_character'],
    ['conflict markers', fill('<<<<<<< a\n'), 'conflict_markers'],
    ['many keys', Array.from({ length: 5_000 }, (_, i) => `k${i}: 1`).join('\n'), 'unknown_key'],
    [
      'many keys in one line',
      `{${Array.from({ length: 5_000 }, (_, i) => `k${i}: 1`).join(', ')}}`,
      'unknown_key',
    ],
    ['one key many times', 'a: 1\n'.repeat(20_000), 'key_twice'],
    ['many machines', `machines: [${'{},'.repeat(20_000)}]`, 'wrong_length'],
  ])('answers to masses of %s', (name, text, code) => {
    expect(codesOf(write(`${name}.yaml`, text))).toContain(code);
  });
});

describe('findInventory', () => {
  it('takes the one that is named, else the nearest in this folder or above', () => {
    const inner = path.join(folder, 'a/b');
    mkdirSync(inner, { recursive: true });
    write('inventory.yaml', readFileSync(EXAMPLE));
    expect(findInventory('x.yaml', inner)).toBe('x.yaml');
    expect(findInventory(undefined, inner)).toBe('../../inventory.yaml');
    write('a/inventory.yaml', readFileSync(EXAMPLE));
    expect(findInventory(undefined, inner)).toBe('../inventory.yaml');
    expect(() => findInventory(undefined, '/')).toThrow(Refusal);
  });
});

describe('git', () => {
  it('agrees on the blob id', () => {
    expect(loaded(EXAMPLE).blob).toBe(
      execFileSync('git', ['hash-object', '--no-filters', EXAMPLE], { encoding: 'utf8' }).trim(),
    );
  });
});
