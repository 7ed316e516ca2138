import { stripVTControlCharacters } from 'node:util';
import fc from 'fast-check';
import stringWidth from 'string-width';
import { describe, expect, it } from 'vitest';
import { renderDueMarkdown } from '../../src/report/due-markdown.ts';
import { renderDueText } from '../../src/report/due-text.ts';
import { named, reportOf } from '../due/report.ts';
import { failedHold, signOff, withdraw } from '../record/entries.ts';

const PLAIN = { width: 80, colour: false };
const ENTRIES = [
  signOff('2026-11-24', 'bain-1', 'inner-tube'),
  signOff('2026-11-20', 'theatre-1-absorber', 'absorbent-change'),
  failedHold('08:00', 'y-piece-1', 'theatre-1'),
  withdraw('2026-11-20T09:00:00+00:00', 'theatre-1-iso', 'sent away for service'),
];

describe('renderDueText', () => {
  it('says it all in the first line', () => {
    expect(renderDueText(reportOf(ENTRIES), PLAIN).split('\n')[0]).toBe(
      '5 overdue, 1 due, 1 not known, 2 in order, 1 withdrawn',
    );
  });

  it('says the same with colour as without', () => {
    const coloured = renderDueText(reportOf(ENTRIES), { width: 80, colour: true });
    expect(coloured).not.toBe(renderDueText(reportOf(ENTRIES), PLAIN));
    expect(stripVTControlCharacters(coloured)).toBe(renderDueText(reportOf(ENTRIES), PLAIN));
  });

  it('keeps within 80 columns, however wide the terminal and however long the texts', () => {
    const words = fc
      .array(fc.stringMatching(/^[a-zäß漢字]{1,12}$/), { minLength: 1, maxLength: 40 })
      .map(list => list.join(' '));
    fc.assert(
      fc.property(words, words, fc.integer({ min: 80, max: 200 }), (name, because, width) => {
        const report = reportOf([...ENTRIES, withdraw('10:00', 'bain-1', because)], {
          inventory: named(name),
        });
        for (const line of renderDueText(report, { width, colour: false }).split('\n')) {
          expect(stringWidth(line)).toBeLessThanOrEqual(80);
        }
      }),
      { numRuns: 50 },
    );
  });

  it('puts a damaged record before everything else, and still reports', () => {
    const lines = renderDueText(
      reportOf(ENTRIES, { damage: ['theatre/2026.jsonl, line 7, is no entry'] }),
      PLAIN,
    ).split('\n');
    expect(lines[0]).toBe('RECORD DAMAGED: 5 overdue, 1 due, 1 not known, 2 in order, 1 withdrawn');
    expect(lines[4]).toMatch(/^RECORD DAMAGED: theatre\/2026.jsonl, line 7, is no entry/);
    expect(lines.join('\n')).toContain('inner-tube');
  });

  it('shows control characters in texts instead of sending them to the terminal', () => {
    const text = renderDueText(
      reportOf([withdraw('10:00', 'bain-1', 'hose\u001b[2J')], { inventory: named('\u009bLarkhill') }),
      PLAIN,
    );
    // biome-ignore lint/suspicious/noControlCharactersInRegex: finding them is the point
    expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/);
    expect(text).toContain('hose␛[2J');
  });

  it('prints the head of each station and how many entries it has', () => {
    expect(renderDueText(reportOf(ENTRIES), PLAIN)).toContain(
      `theatre: 12 entries, last\n    ${'ab'.repeat(32)}`,
    );
  });
});

describe('renderDueMarkdown', () => {
  it('lets no text of a person act as markup', () => {
    const evil = 'a|b <img src=x> [l](http://x.invalid) **b** `c` @someone #12\n| x |';
    const text = renderDueMarkdown(reportOf([withdraw('10:00', 'bain-1', evil)], { inventory: named(evil) }));
    const row = text.split('\n').find(line => line.includes('a\\|b') && line.startsWith('| withdrawn'));
    expect(row?.split(/(?<!\\)\|/)).toHaveLength(7);
    expect(text).not.toMatch(/(?<!\\)<|@someone|#12|(?<!\\)\[l/);
  });

  it('has a row for every item', () => {
    const report = reportOf(ENTRIES);
    const rows = renderDueMarkdown(report)
      .split('\n')
      .filter(line => line.startsWith('| ') && !line.startsWith('| State') && !line.startsWith('| ---'));
    expect(rows).toHaveLength(report.practices[0]?.items.length ?? -1);
  });
});
