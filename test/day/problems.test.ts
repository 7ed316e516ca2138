/**
 * Bad lists as drop-in samples: problems/CODE.csv or CODE-WHAT.yaml, and beside it what is printed.
 * UPDATE_SAMPLES=1 writes the .out files anew; read the difference before it is committed.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readDayList } from '../../src/day/list/list.ts';
import { Source } from '../../src/inventory/source.ts';
import { DAY_LIST_CODES } from '../../src/problem/codes/day.ts';
import { renderProblems } from '../../src/report/problems.ts';
import { example } from './example.ts';

const FOLDER = 'test/day/problems';
/** The days on which clocks are put forward and back in Dublin; else an ordinary one. */
const DATES: Readonly<Record<string, string>> = {
  list_time_gap: '2027-03-28',
  list_time_twice: '2026-10-25',
};

const samples = readdirSync(FOLDER).filter(name => !name.endsWith('.out'));

describe('bad lists', () => {
  it.each(samples)('%s', name => {
    const [code = ''] = name.split(/[-.]/);
    const file = `${FOLDER}/${name}`;
    const source = new Source(file, readFileSync(file, 'utf8'));
    const kind = name.endsWith('.csv') ? 'csv' : 'yaml';
    const read = readDayList(kind, { source, inventory: example(), date: DATES[code] ?? '2026-11-27' });
    const problems = read.ok ? [] : read.problems;
    const printed = renderProblems(problems, 80);
    if (process.env.UPDATE_SAMPLES === '1') writeFileSync(`${file}.out`, printed);
    expect(problems.map(problem => problem.code)).toContain(code);
    expect(printed).toBe(readFileSync(`${file}.out`, 'utf8'));
  });

  it('are of every kind that a text can have', () => {
    // What is wrong with the file itself is played in test/scenarios/day-errors.txt; too many patients in list.test.ts.
    const elsewhere = ['list_not_readable', 'list_kind', 'list_not_utf8', 'list_too_large'];
    const missing = Object.keys(DAY_LIST_CODES).filter(
      code => !elsewhere.includes(code) && !samples.some(name => name.split(/[-.]/)[0] === code),
    );
    expect(missing).toEqual([]);
  });
});
