import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvCell, renderDueCsv } from '../../src/report/due-csv.ts';
import { named, reportOf } from '../due/report.ts';
import { withdraw } from '../record/entries.ts';

/** RFC 4180, read letter by letter. */
function parseCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = '';
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const letter = text.charAt(i);
    if (quoted) {
      if (letter === '"' && text.charAt(i + 1) === '"') cell += text.charAt(i++);
      else if (letter === '"') quoted = false;
      else cell += letter;
    } else if (letter === '"') quoted = true;
    else if (letter === ',') {
      row.push(cell);
      cell = '';
    } else if (letter === '\r' && text.charAt(i + 1) === '\n') {
      rows.push([...row, cell]);
      row = [];
      cell = '';
      i++;
    } else cell += letter;
  }
  return rows;
}

describe('csvCell', () => {
  it.each([
    '=1+1',
    '+1',
    '-1',
    '@SUM(A1)',
    '\t=1',
    '\r=1',
    '\n=1',
    ' =1',
    '\uff1d1',
    '\uff0b1',
    '\uff0d1',
    '\uff201',
  ])('keeps a spreadsheet from running %j', text => {
    expect(parseCsv(`${csvCell(text)}\r\n`)).toEqual([[`'${text}`]]);
  });

  it('leaves other texts as they are, in quotes where a comma, quote or line break asks for it', () => {
    expect(csvCell('a,b')).toBe('"a,b"');
    expect(csvCell('say "ah"')).toBe('"say ""ah"""');
    expect(csvCell('plain = text')).toBe('plain = text');
    expect([csvCell(null), csvCell(3.5), csvCell(false)]).toEqual(['', '3.5', 'false']);
  });

  it('comes back whole from any text, and never begins as a formula', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), text => {
        const [[cell = ''] = []] = parseCsv(`${csvCell(text)}\r\n`);
        expect(cell === text || cell === `'${text}`).toBe(true);
        expect(cell).not.toMatch(/^\s*[=+\-@\uff1d\uff0b\uff0d\uff20]/);
      }),
    );
  });
});

describe('renderDueCsv', () => {
  it('has one row for each item under one row of names, all equally long', () => {
    const report = reportOf([]);
    const [names, ...rows] = parseCsv(renderDueCsv(report));
    expect(names?.slice(0, 6)).toEqual(['practice', 'as_of', 'asset', 'check', 'state', 'due_on']);
    expect(rows).toHaveLength(report.practices[0]?.items.length ?? -1);
    for (const row of rows) expect(row).toHaveLength(names?.length ?? -1);
  });

  it('does not run what a person typed as the name of a practice or a reason', () => {
    const evil = '=HYPERLINK("http://example.invalid","x")';
    const text = renderDueCsv(reportOf([withdraw('09:00', 'bain-1', evil)], { inventory: named(evil) }));
    for (const row of parseCsv(text)) for (const cell of row) expect(cell).not.toMatch(/^[=+\-@\t\r]/);
    expect(text).toContain("'=HYPERLINK");
  });
});
