import { describe, expect, it } from 'vitest';
import { safeJson, safeText } from '../../src/report/safe-text.ts';

describe('safeText', () => {
  it('makes control characters and marks that reorder the screen visible', () => {
    expect(safeText('a\u001b[31m\tb\u007f\u009b\u202e\u200b')).toBe('a␛[31m␉b␡<U+009B><U+202E><U+200B>');
  });

  it('leaves what a person writes', () => {
    const text = 'Ångström 動物 👩‍👩‍👧 é 200–300 mL/kg';
    expect(safeText(text)).toBe(text);
  });
});

describe('safeJson', () => {
  it('reads back exactly and holds no such character', () => {
    const value = { note: 'a\u001b\u009b\u202e\u2028b', list: [1, 'x'] };
    for (const indent of [undefined, 2]) {
      const json = safeJson(value, indent);
      expect(JSON.parse(json)).toEqual(value);
      expect(json.replaceAll('\n', '')).toBe(safeText(json.replaceAll('\n', '')));
    }
  });
});
