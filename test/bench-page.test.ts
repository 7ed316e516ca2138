/** The page of the bench: made from results, and honest about what was missed. Nothing is measured here. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { drawGrowth } from './bench/growth.ts';
import { keptPage, PAGE } from './bench/kept.ts';
import { contender, interleave, ratioOf, spreadOf, timeOf } from './bench/measure.ts';
import { quantity } from './bench/number.ts';
import { pageOf, verdict } from './bench/page.ts';
import { isFound, isMissed, type PartResult, type Row } from './bench/result.ts';

const ROW: Row = {
  what: 'append ÷ bare write',
  unit: 'times',
  figure: { median: 2, low: 1.5, high: 3.25 },
  goal: 2,
  judged: 'median',
  from: '0.3 ms ÷ 0.15 ms',
};
const MISSED: Row = { ...ROW, what: 'verify ÷ sha256sum', figure: { median: 2.84, low: 2.7, high: 3.1 } };

function resultOf(rows: readonly Row[]): PartResult {
  const run = {
    at: '2026-11-25 08:14 UTC',
    machine: '2 × a CPU, Node v20',
    load: [0.25, 1, 2],
    commit: 'abc1234',
  };
  return { rows, growth: [], remarks: [], run };
}

describe('the page of the bench', () => {
  it('is what the kept results and the notes make', () => {
    // After a change of notes.md: npm run bench -- page.
    expect(readFileSync(PAGE, 'utf8')).toBe(keptPage());
  });

  it('says of each row what was measured, its spread, the goal, and in words whether it is met', () => {
    const section = { name: 'record', title: 'Record', about: 'About it.', result: resultOf([ROW, MISSED]) };
    const page = pageOf([section], 'A note.\n');
    expect(page).toContain('| append ÷ bare write | 2.00 | 1.50 to 3.25 | 2 | met | 0.3 ms ÷ 0.15 ms |');
    expect(page).toContain('| verify ÷ sha256sum | 2.84 | 2.70 to 3.10 | 2 | **MISSED** |');
    expect(page).toContain('Goals: 2; met 1, missed 1. **MISSED**: verify ÷ sha256sum (2.84, goal 2).');
    expect(page).toContain('2 × a CPU, Node v20');
    expect(page).toContain(
      '`npm run bench -- record`, 2026-11-25 08:14 UTC, commit abc1234; load before 0.25, 1.00, 2.00.',
    );
    expect(page.endsWith('A note.\n')).toBe(true);
  });

  it('says of a part that was never run that it was not measured', () => {
    const page = pageOf([{ name: 'due', title: 'Due', about: 'About it.', result: null }], '');
    expect(page).toContain('Not measured yet: due.');
    expect(page).toContain('Not measured yet: `npm run bench -- due`.');
  });
});

describe('isMissed', () => {
  it('takes a goal that is just reached as met, and nothing without a goal as missed', () => {
    expect(isMissed(ROW)).toBe(false);
    expect(isMissed({ ...ROW, figure: { ...ROW.figure, median: 2.0001 } })).toBe(true);
    expect(isMissed({ ...MISSED, goal: null })).toBe(false);
  });

  it('judges by the highest where that is asked for', () => {
    expect(isMissed({ ...ROW, judged: 'high' })).toBe(true);
    expect(verdict([{ ...ROW, judged: 'high' }])).toContain('(3.25, goal 2)');
  });

  it('takes what is no number for missed', () => {
    expect(isMissed({ ...ROW, figure: { median: Number.NaN, low: 1, high: 2 } })).toBe(true);
  });
});

describe('interleave', () => {
  it('runs all in each round, another one first, and a slow one only in some; the first round does not count', async () => {
    const order: string[] = [];
    const named = (name: string, ms: number, every?: number) =>
      contender(() => {
        order.push(name);
        return ms * order.length;
      }, every);
    const [a, b, slow] = [named('a', 1), named('b', 2), named('slow', 10, 2)];
    await interleave(3, [a, b, slow]);
    expect(order.join(' ')).toBe('a b a b slow b a slow a b');
    expect(a.times).toEqual([3, 7, 9]);
    expect(slow.times).toEqual([50, null, 80]);
    // 3 ÷ 50 and 9 ÷ 80: only the rounds in which both ran.
    expect(ratioOf(a, slow)).toEqual({ median: (3 / 50 + 9 / 80) / 2, low: 3 / 50, high: 9 / 80 });
    expect(timeOf(slow)).toEqual({ median: 65, low: 50, high: 80 });
  });
});

describe('figures of the bench', () => {
  it('are medians with the lowest and the highest', () => {
    expect(spreadOf([5, 1, 2])).toEqual({ median: 2, low: 1, high: 5 });
    expect(spreadOf([4, 1, 2, 3])).toEqual({ median: 2.5, low: 1, high: 4 });
    expect(() => spreadOf([])).toThrow('nothing was measured');
  });

  it('are printed to about three digits, with their unit', () => {
    expect([quantity(0.1428, 'times'), quantity(2.5, 'times'), quantity(14.23, 'times')]).toEqual([
      '0.143',
      '2.50',
      '14.2',
    ]);
    expect(quantity(1234.5, 'ms')).toBe('1,235 ms');
    expect(quantity(0, 'entries')).toBe('0 entries');
  });

  it('are refused where they are no numbers', () => {
    const found = JSON.parse(JSON.stringify(resultOf([ROW])));
    expect(isFound(found)).toBe(true);
    expect(
      isFound(
        JSON.parse(
          JSON.stringify(
            resultOf([{ ...ROW, goal: Number.NaN, figure: { ...ROW.figure, low: Number.NaN } }]),
          ),
        ),
      ),
    ).toBe(false);
  });
});

describe('drawGrowth', () => {
  const points = [10_000, 100_000, 1_000_000].map(lines => ({ lines, value: lines / 1000 }));

  it('draws equal factors as equal steps, names the growth of the last step, and fits into 80 columns', () => {
    const flat = points.map(({ lines }) => ({ lines, value: 30 }));
    const drawn = drawGrowth({
      title: 'whole process',
      unit: 'ms',
      series: [
        { name: 'due', points },
        { name: 'jq | awk', points: flat },
      ],
    });
    const lines = drawn.split('\n');
    const bars = lines.filter(line => / \|[# ]{34} /.test(line)).map(line => line.match(/#/g)?.length ?? 0);
    // From 10 to 1000 ms: two decades over 34 columns.
    expect(bars).toEqual([0, 17, 34, 8, 8, 8]);
    expect(lines.at(4)).toMatch(/1,000,000 \|#{34}\s+1,000 ms {2}n\^1\.00$/);
    expect(lines.at(7)).toContain('n^0.00');
    expect(lines.at(-1)).toMatch(/^ {19}\^10 +\^100 +\^1,000$/);
    expect(Math.max(...lines.map(line => line.length))).toBeLessThanOrEqual(80);
  });
});
