import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseCsv } from '../../src/day/list/csv.ts';
import { readDayList } from '../../src/day/list/list.ts';
import { Source } from '../../src/inventory/source.ts';
import { casesOf, DATE, example } from './example.ts';

const HEADER = 'ref,species,weight,start,minutes';
const text = (rows: string[][], separator: string) =>
  rows.map(cells => `${cells.map(cell => `"${cell.replaceAll('"', '""')}"`).join(separator)}\r\n`).join('');

describe('parseCsv', () => {
  it('gives back what was put in quotes, with each cell at its place', () => {
    const cell = fc.stringMatching(/^[a-z ",;\n]{0,6}$/);
    fc.assert(
      fc.property(
        fc.array(fc.array(cell, { minLength: 3, maxLength: 3 }), { minLength: 1, maxLength: 4 }),
        rows => {
          const filled = rows.filter(cells => cells.some(one => one.trim() !== ''));
          const source = new Source('x.csv', `a,b,c\r\n${text(rows, ',')}`);
          const parsed = parseCsv(source).slice(1);
          expect(parsed.map(cells => ('code' in cells ? [] : cells.map(one => one.text)))).toEqual(filled);
          for (const cells of parsed) {
            if ('code' in cells) continue;
            for (const { text, from, to } of cells)
              expect(source.text.slice(from, to)).toBe(`"${text.replaceAll('"', '""')}"`);
          }
        },
      ),
    );
  });
});

describe('readDayList', () => {
  it('reads the same from commas, semicolons, CRLF and YAML', () => {
    const csv = `${HEADER}\nK-1,cat,4.2kg,08:30,40\nK-2,Dog,15lb,8:45:00,1.5h\n`;
    const yaml = `patients:\n  - { ref: K-1, species: cat, weight: 4.2kg, start: "08:30", minutes: 40 }\n  - { ref: K-2, species: dog, weight: 15lb, start: "8:45", minutes: 1.5h }\n`;
    const plain = casesOf(csv).map(({ line: _, ...rest }) => rest);
    const others = [
      csv.replaceAll(',', ';').replaceAll('\n', '\r\n'),
      csv.replace('ref,species', ' Ref , SPECIES'),
    ];
    for (const other of others) expect(casesOf(other).map(({ line: _, ...rest }) => rest)).toEqual(plain);
    const read = readDayList('yaml', {
      source: new Source('day.yaml', yaml),
      inventory: example(),
      date: DATE,
    });
    expect(read.ok && read.cases.map(({ line: _, ...rest }) => rest)).toEqual(plain);
  });

  it('puts the cases in the order of their starts, and those that start together in that of the list', () => {
    const cases = casesOf(`${HEADER}\nA,cat,4kg,10:00,30\nB,cat,4kg,09:00,30\nC,cat,4kg,10:00,30\n`);
    expect(cases.map(({ ref }) => ref)).toEqual(['B', 'A', 'C']);
  });

  it('reads times on the practice clock', () => {
    const source = new Source('day.csv', `${HEADER}\nA,cat,4kg,08:30,30\n`);
    const summer = readDayList('csv', { source, inventory: example(), date: '2026-07-01' });
    expect(summer.ok && summer.cases[0]?.start.toISOString()).toBe('2026-07-01T07:30:00.000Z');
  });

  it('refuses more patients than a day has', () => {
    const rows = Array.from({ length: 201 }, (_, i) => `R-${i},cat,4kg,08:30,30`);
    const source = new Source('day.csv', `${HEADER}\n${rows.join('\n')}\n`);
    const read = readDayList('csv', { source, inventory: example(), date: DATE });
    expect(read.ok ? [] : read.problems.map(({ code }) => code)).toEqual(['list_too_large']);
  });

  it('never fails on a text, whatever it is', () => {
    const words = fc.constantFrom(
      HEADER,
      '\n',
      ',',
      ';',
      '"',
      'K-1',
      'cat',
      '4kg',
      '08:30',
      '30',
      'patients:',
      '- ',
      '{',
      '}',
      ' ',
      '=1+1',
      '\ud83d\udc15',
    );
    fc.assert(
      fc.property(
        fc.array(words, { maxLength: 40 }),
        fc.constantFrom('csv' as const, 'yaml' as const),
        (parts, kind) => {
          const source = new Source(`x.${kind}`, parts.join(''));
          const read = readDayList(kind, { source, inventory: example(), date: DATE });
          if (!read.ok) expect(read.problems.length).toBeGreaterThan(0);
          if (!read.ok)
            for (const { message, remedy } of read.problems)
              expect(`${message}${remedy}`).not.toContain('undefined');
        },
      ),
    );
  });

  it('reads the example', () => {
    expect(casesOf(readFileSync('test/day/day.example.csv', 'utf8'))).toHaveLength(8);
  });
});
