import stringWidth from 'string-width';
import { describe, expect, it } from 'vitest';
import { frame } from '../../src/problem/frame.ts';
import { safeText } from '../../src/report/safe-text.ts';

/** The frame's two lines, and the display columns of the marker. */
function framed(text: string, column: number, length: number, width = 80) {
  const [source = '', marker = ''] = frame(
    { line: 12, column, text, length },
    { width, visible: safeText },
  ).split('\n');
  const from = marker.indexOf('^');
  return { source, marker, from, to: marker.length };
}

/** What stands in a line between two display columns. */
function cutByWidth(line: string, from: number, to: number): string {
  let at = 0;
  let cut = '';
  for (const { segment } of new Intl.Segmenter('en', { granularity: 'grapheme' }).segment(line)) {
    if (at >= from && at < to) cut += segment;
    at += stringWidth(segment);
  }
  return cut;
}

describe('frame', () => {
  it('marks a stretch of a plain line', () => {
    expect(
      frame({ line: 7, column: 3, text: '  zone: x', length: 4 }, { width: 80, visible: safeText }),
    ).toBe('  7 |   zone: x\n    |   ^^^^');
  });

  it.each([
    ['wide characters', '名前: max_l_min', 5, 9, 'max_l_min'],
    ['emoji', '🐈🐕 max_l_min: 8', 4, 9, 'max_l_min'],
    ['a family of joined emoji', '👩‍👩‍👧 max', 7, 3, 'max'],
    ['combining marks', 'e\u0301e\u0301 max', 6, 3, 'max'],
    ['a flag', '🇮🇪 max', 4, 3, 'max'],
  ])('is not shifted by %s', (_what, text, column, length, meant) => {
    const { source, from, to } = framed(text, column, length);
    expect(cutByWidth(source, from, to)).toBe(meant);
  });

  it('marks a wide character with two columns', () => {
    const { from, to } = framed('a: 名', 4, 1);
    expect(to - from).toBe(2);
  });

  it('shows control characters and marks behind them', () => {
    const { source, from, to } = framed('\u001b[31m\tx\u202e max', 10, 3);
    expect(source).toContain('␛[31m␉x<U+202E> max');
    expect(cutByWidth(source, from, to)).toBe('max');
  });

  it('marks one column where the stretch lies behind the end of the line', () => {
    expect(framed('abc', 4, 1)).toMatchObject({ source: '  12 | abc', marker: '     |    ^' });
  });

  it.each([40, 80, 100])('cuts a long line around the marker at %i columns', width => {
    const text = `${'名'.repeat(500)}max_l_min${'z'.repeat(100_000)}`;
    const { source, marker, from, to } = framed(text, 501, 9, width);
    expect(stringWidth(source)).toBeLessThanOrEqual(width);
    expect(stringWidth(marker)).toBeLessThanOrEqual(width);
    expect(cutByWidth(source, from, to)).toBe('max_l_min');
    expect(source).toMatch(/\| ….*….*$|\| ….*…$/);
  });

  it('uses the room of an empty side for the other', () => {
    const { source } = framed(`${'a'.repeat(300)} end`, 302, 3);
    expect(stringWidth(source)).toBe(80);
    expect(source.endsWith(' end')).toBe(true);
  });

  it('cuts a stretch that is longer than the screen', () => {
    const { source, from, to } = framed('x'.repeat(10_000), 1, 9_000);
    expect(stringWidth(source)).toBeLessThanOrEqual(80);
    expect(cutByWidth(source, from, to)).toMatch(/^x{10,}…$/);
  });
});
