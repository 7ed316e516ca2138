/**
 * The closed list of codes, its page, and its samples. UPDATE_SAMPLES=1 writes src/problem/CODES.md anew.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { CautionRow, CodeRow } from '../../src/problem/code.ts';
import { CODE_FAMILIES } from '../../src/problem/codes.ts';

const PAGE = 'src/problem/CODES.md';
const HERE = 'problem/codes.test.ts';

const rows = CODE_FAMILIES.flatMap(({ rows }) => Object.entries(rows));
const codes = rows.map(([code]) => code);

function renderPage(): string {
  const families = CODE_FAMILIES.map(({ heading, rows }) => {
    const lines = Object.entries(rows).map(([code, row]) => tableLine(code, row));
    return `## ${heading}\n\n| code | means | what to do |\n| --- | --- | --- |\n${lines.join('\n')}\n`;
  });
  return `# Codes

Every error and every caution has one code. The list is closed; \`holdfast explain CODE\` prints the same.
Made from \`src/problem/codes/\` by \`UPDATE_SAMPLES=1 npx vitest run test/problem\`.

${families.join('\n')}`;
}

function tableLine(code: string, row: CodeRow | CautionRow): string {
  const means = 'level' in row ? `**${row.level}** ${row.means}` : row.means;
  return `| \`${code}\` | ${means} | ${row.remedy} |`;
}

/** All that the tests and their samples say, without this file. */
function testTexts(): string[] {
  return readdirSync('test', { recursive: true, withFileTypes: true })
    .filter(entry => entry.isFile() && !`${entry.parentPath}/${entry.name}`.endsWith(HERE))
    .map(entry => readFileSync(`${entry.parentPath}/${entry.name}`, 'utf8'));
}

describe('the list of codes', () => {
  it('has each code once, in one family', () => {
    expect(codes.filter((code, i) => codes.indexOf(code) !== i)).toEqual([]);
  });

  it('is written in one way', () => {
    for (const [code, { means, remedy }] of rows) {
      expect(code).toMatch(/^[a-z][a-z0-9]*(_[a-z0-9]+)*$/);
      expect(means, code).toMatch(/^[A-Z0-9].*\.$/s);
      expect(remedy, code).toMatch(/^[A-Za-z0-9].*\.$/s);
      expect(`${means}${remedy}`, code).not.toMatch(/[|\n]/);
    }
  });

  it('is the page', () => {
    if (process.env.UPDATE_SAMPLES === '1') writeFileSync(PAGE, renderPage());
    const page = readFileSync(PAGE, 'utf8');
    const onPage = [...page.matchAll(/^\| `([a-z0-9_]+)` \|/gm)].map(match => match[1]);
    expect(onPage.filter(code => code !== undefined && !codes.includes(code))).toEqual([]);
    expect(codes.filter(code => !onPage.includes(code))).toEqual([]);
    expect(page).toBe(renderPage());
  });

  it('has a sample of every code in the tests', () => {
    const texts = testTexts();
    // In quotes in a test, or as the first word of a printed problem.
    const isSampled = (code: string) => {
      const sample = new RegExp(`['"\`]${code}['"\`]|^\\W*${code}\\b`, 'm');
      return texts.some(text => sample.test(text));
    };
    expect(codes.filter(code => !isSampled(code))).toEqual([]);
  });

  it('has a drop-in sample of every problem that an inventory can have', () => {
    const inventory = CODE_FAMILIES.find(({ heading }) => heading === 'Inventory');
    // What cannot sit in a repository as a file is made by test/inventory/load.test.ts.
    const made = ['file_missing', 'file_is_folder', 'file_not_readable', 'file_too_large', 'file_not_utf8'];
    const dropped = readdirSync('test/inventory/problems').map(name => name.split(/[-.]/)[0]);
    const all = Object.keys(inventory?.rows ?? {}).filter(code => code !== 'inventory_not_found');
    expect(all.length).toBeGreaterThan(40);
    expect(all.filter(code => !dropped.includes(code) && !made.includes(code))).toEqual([]);
  });
});
