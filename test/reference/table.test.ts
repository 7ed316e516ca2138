/** README.md in this folder is what the checks say, and every published value is either checked or said to touch nothing. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { IDS, NO_FIGURE, renderTable, type TableRow } from './table.ts';

const PAGE = path.resolve('test/reference/README.md');

let rows: readonly TableRow[] = [];

/** The checks run once more, by themselves and in one process, since their rows are needed all together. */
beforeAll(() => {
  const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-reference-'));
  try {
    const files = readdirSync('test/reference').filter(
      name => name.endsWith('.test.ts') && name !== 'table.test.ts',
    );
    const { status, stdout } = spawnSync(
      process.execPath,
      [
        'node_modules/vitest/vitest.mjs',
        'run',
        '--config=test/reference/rows.config.ts',
        ...files.map(name => `test/reference/${name}`),
      ],
      { encoding: 'utf8', env: { ...process.env, REFERENCE_ROWS: folder, NO_COLOR: '1' } },
    );
    if (status !== 0) throw new Error(stdout);
    rows = readdirSync(folder)
      .sort()
      .flatMap(name => readFileSync(path.join(folder, name), 'utf8').trimEnd().split('\n'))
      .map(line => JSON.parse(line) as TableRow);
  } finally {
    rmSync(folder, { recursive: true });
  }
}, 120_000);

describe('the table of outside checks', () => {
  it('says what the checks say now', () => {
    const page = renderTable(rows);
    if (process.env.REFERENCE_TABLE === 'write') writeFileSync(PAGE, page);
    expect(
      readFileSync(PAGE, 'utf8'),
      'stale: REFERENCE_TABLE=write npx vitest run test/reference/table.test.ts',
    ).toBe(page);
  });

  it('has a check of every published value, or the reason why there is none, and never both', () => {
    const checked = new Set(rows.map(({ id }) => id));
    expect(IDS.filter(id => checked.has(id) === id in NO_FIGURE)).toEqual([]);
  });

  it('leaves out no check', () => {
    expect(rows.filter(({ id }) => !IDS.includes(id))).toEqual([]);
    expect(
      renderTable(rows)
        .split('\n')
        .filter(line => /^\| [A-Z]/.test(line)),
    ).toHaveLength(rows.length + Object.keys(NO_FIGURE).length);
  });

  it('names no two different checks alike', () => {
    const names = rows.map(({ id, figure, rules, source }) => [id, figure, rules, source].join(' / '));
    expect(names.filter((name, i) => names.indexOf(name) !== i)).toEqual([]);
  });
});
