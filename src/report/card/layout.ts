/** The card laid out on paper: every line of text with its place, wrapped so that nothing runs over the edge. */
import type { CardContent } from './content.ts';
import { DRAWING_HEIGHT, DRAWING_WIDTH } from './drawing.ts';

/** All lengths in mm. */
export interface CardLayout {
  readonly width: number;
  readonly height: number;
  readonly texts: readonly CardText[];
  /** Top left corners of the boxes to tick. */
  readonly ticks: readonly { readonly x: number; readonly y: number; readonly size: number }[];
  readonly rules: readonly number[];
  readonly drawing: { readonly x: number; readonly y: number; readonly scale: number };
  readonly margin: number;
}

export interface CardText {
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly bold: boolean;
  readonly text: string;
  readonly anchor?: 'end';
}

const A6 = { width: 105, height: 148 };
const A5 = { width: 148, height: 210 };
const MARGIN = 6;

/** A6 where everything fits, else A5; a very long list of cautions makes the A5 sheet's text smaller. */
export function layOut(content: CardContent): CardLayout {
  for (const [sheet, scale] of [
    [A6, 1],
    [A5, 1.3],
    [A5, 1],
    [A5, 0.8],
  ] as const) {
    const layout = layOutOn(content, sheet.width, scale);
    if (layout.height <= sheet.height) return { ...layout, height: sheet.height };
  }
  return layOutOn(content, A5.width, 0.8);
}

class Page {
  readonly texts: CardText[] = [];
  readonly ticks: { x: number; y: number; size: number }[] = [];
  readonly rules: number[] = [];
  y = MARGIN;
  readonly width: number;

  constructor(width: number) {
    this.width = width;
  }

  get inner(): number {
    return this.width - 2 * MARGIN;
  }

  /** A paragraph at the left margin or further in. */
  paragraph(text: string, size: number, { bold = false, indent = 0 } = {}): void {
    for (const part of wrapTo(text, this.inner - indent, size, bold)) {
      this.y += size * LEADING;
      this.texts.push({ x: MARGIN + indent, y: this.y, size, bold, text: part });
    }
  }

  rule(): void {
    this.y += 2;
    this.rules.push(this.y);
    this.y += 1;
  }
}

const LEADING = 1.25;

function layOutOn(content: CardContent, width: number, scale: number): CardLayout {
  const page = new Page(width);
  page.paragraph(content.patient, 6.4 * scale, { bold: true });
  page.y += 1;
  page.paragraph(content.where, 2.6 * scale);
  page.rule();
  const column = 17 * scale;
  for (const { label, figure, detail } of content.figures) {
    const top = page.y + 5 * scale * LEADING;
    if (label !== '') page.texts.push({ x: MARGIN, y: top, size: 2.8 * scale, bold: false, text: label });
    page.paragraph(figure, 5 * scale, { bold: true, indent: column });
    if (detail !== '') page.paragraph(detail, 2.6 * scale, { indent: column });
  }
  page.rule();
  const drawingScale = page.inner / DRAWING_WIDTH;
  const drawing = { x: MARGIN, y: page.y + 1, scale: drawingScale };
  page.y += DRAWING_HEIGHT * drawingScale + 1;
  page.rule();
  const size = 2.9 * scale;
  page.paragraph('Leak test', size * 1.15, { bold: true });
  for (const step of content.hold) {
    page.ticks.push({ x: MARGIN, y: page.y + size * 0.42, size: size * 0.9 });
    page.paragraph(step, size, { indent: size * 1.6 });
    page.y += 0.5 * scale;
  }
  for (const limit of content.limits) page.paragraph(limit, size);
  if (content.cautions.length > 0) {
    page.rule();
    page.paragraph('Caution', size * 1.15, { bold: true });
    for (const text of content.cautions) page.paragraph(`• ${text}`, size);
  }
  page.rule();
  for (const text of content.foot) page.paragraph(text, 2.3 * scale);
  return {
    width,
    height: page.y + MARGIN,
    texts: page.texts,
    ticks: page.ticks,
    rules: page.rules,
    drawing,
    margin: MARGIN,
  };
}

/** Breaks between words, by the reckoned width of the letters. */
function wrapTo(text: string, width: number, size: number, bold: boolean): string[] {
  const most = width / (size * (bold ? 1.08 : 1));
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ').flatMap(word => pieces(word, most))) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && reckonedWidth(longer) > most) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return [...lines, line];
}

/** A word longer than the line is cut: better in two pieces than off the paper. */
function pieces(word: string, most: number): string[] {
  const done: string[] = [];
  let piece = '';
  for (const character of word) {
    if (piece !== '' && reckonedWidth(piece + character) > most) {
      done.push(piece);
      piece = '';
    }
    piece += character;
  }
  return [...done, piece];
}

/**
 * The width of a text in units of its size, reckoned generously: the face that prints is not known here. The figures cover
 * the sans-serif faces that browsers fall back on; the test measures in a real browser.
 */
function reckonedWidth(text: string): number {
  let width = 0;
  for (const character of text) width += letterWidth(character);
  return width;
}

function letterWidth(character: string): number {
  if (/[ijl.,:;'|!ftI()[\]]/.test(character)) return 0.36;
  if (/[mwMW@%\u2014]/.test(character)) return 0.98;
  if (/[A-Z&\u00d8]/.test(character)) return 0.76;
  if (character === ' ') return 0.31;
  return /[\u0020-\u024f\u2010-\u2027]/.test(character) ? 0.6 : 1.1;
}
