import stringWidth from 'string-width';
import { describe, expect, it } from 'vitest';
import { renderTable } from '../../src/report/table.ts';

describe('renderTable', () => {
  it('sets texts to the left and figures to the right', () => {
    expect(
      renderTable(
        [{ heading: 'size' }, { heading: 'count', align: 'right' }],
        [
          ['1 L', '3'],
          ['500 mL', '12'],
        ],
        80,
      ),
    ).toBe('size    count\n1 L         3\n500 mL     12\n');
  });

  it('measures wide characters and emoji as a terminal does', () => {
    const lines = renderTable(
      [{ heading: 'a' }, { heading: 'b' }],
      [
        ['動物', 'x'],
        ['🐈', 'x'],
        ['abcd', 'x'],
      ],
      80,
    )
      .trimEnd()
      .split('\n');
    expect(lines.slice(1).map(line => stringWidth(line.slice(0, line.indexOf('x'))))).toEqual([6, 6, 6]);
  });

  it('goes on in the next line where there is no room, between words first', () => {
    const table = renderTable(
      [{ heading: 'id' }, { heading: 'what' }],
      [['bain-1', 'one two three four']],
      20,
    );
    expect(table).toBe('id      what\nbain-1  one two\n        three four\n');
  });

  it('breaks a word that is longer than its column', () => {
    const table = renderTable([{ heading: 'id' }, { heading: 'n' }], [['a'.repeat(40), '1']], 20);
    expect(table.split('\n').every(line => stringWidth(line) <= 20)).toBe(true);
    expect(table.replaceAll(/[^a]/g, '')).toHaveLength(40);
  });
});
