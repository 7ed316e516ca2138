/** Boxes and texts of a drawing, in millimetres, before anything is written as SVG. */
import { type FitStyle, fitText, LINE_HEIGHT } from './text-fit.ts';

export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export type Shape =
  | { readonly kind: 'rect'; readonly rect: Rect; readonly fill: Fill; readonly line: number }
  | {
      readonly kind: 'text';
      readonly text: string;
      readonly x: number;
      readonly baseline: number;
      readonly size: number;
      readonly anchor: 'start' | 'middle' | 'end';
      readonly bold: boolean;
      readonly ink: 'black' | 'white';
      /** What it must stay within. */
      readonly box: Rect;
    };

export type Fill = 'white' | 'tint' | 'black' | 'hatch';

export interface WordStyle extends FitStyle {
  readonly anchor: 'start' | 'middle' | 'end';
  readonly ink?: 'black' | 'white';
}

/** A text in the middle of the height of a box, as large as it goes. */
export function words(text: string, box: Rect, style: WordStyle): Shape[] {
  if (text === '') return [];
  const { anchor, bold, ink = 'black' } = style;
  const { lines, size } = fitText(text, box, style);
  const x = { start: box.x, middle: box.x + box.width / 2, end: box.x + box.width }[anchor];
  const height = lines.length * size * LINE_HEIGHT;
  const top = box.y + (box.height - height) / 2;
  // Of a line's height the letters without descender end at about four fifths.
  return lines.map((line, i) => ({
    kind: 'text',
    text: line,
    x,
    baseline: top + (i + 0.8) * size * LINE_HEIGHT,
    size,
    anchor,
    bold,
    ink,
    box,
  }));
}

/** The room for text within a frame. */
export function inset({ x, y, width, height }: Rect): Rect {
  return { x: x + 1, y: y + 0.5, width: width - 2, height: height - 1 };
}
