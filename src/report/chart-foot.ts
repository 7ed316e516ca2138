/** The foot of a wall chart: what stands out, what is out of service, how to read it, the safety line. */
import type { Chart } from '../chart/chart.ts';
import { bagFormula, edgeWords, recordWords } from './chart-words.ts';
import type { Rect, Shape } from './drawing.ts';
import { SAFETY_LINE } from './safety.ts';
import { breakLines, fitText, LINE_HEIGHT } from './text-fit.ts';

export interface Foot {
  readonly height: number;
  at(x: number, y: number): Shape[];
}

const TEXT_SIZE = 3.5;
const SAFETY_HEIGHT = 7;
const MOST_FINDINGS = 7;
/** The foot must leave the rows their room. */
const MOST_RECORD_LINES = 6;

const HOW_TO_READ =
  'Go down to the first row whose limit the patient does not pass: “to 5” includes 5 kg, “under 7” does not. ' +
  'Oxygen: the flowmeter mark to set at every weight of the row.';
const LEAK_TEST =
  'Leak test before the case with no patient attached; open the pop-off after every test. ' +
  'Never flush oxygen into a T-piece or Bain with a patient attached.';

/** @param width in mm */
export function footOf(chart: Chart, width: number): Foot {
  const lines = linesOf(chart).flatMap(({ text, bold }) =>
    breakLines(text, TEXT_SIZE, width, { bold }).map(line => ({ text: line, bold })),
  );
  const pitch = TEXT_SIZE * LINE_HEIGHT;
  const height = 2 + lines.length * pitch + 1 + SAFETY_HEIGHT;
  return {
    height,
    at: (x, y) => [
      ...lines.map(({ text, bold }, i): Shape => {
        const box = { x, y: y + 2 + i * pitch, width, height: pitch };
        return textIn(text, box, TEXT_SIZE, bold);
      }),
      ...safetyLine({ x, y: y + height - SAFETY_HEIGHT, width, height: SAFETY_HEIGHT }),
    ],
  };
}

function linesOf(chart: Chart): { text: string; bold: boolean }[] {
  const found = findingWords(chart).slice(0, MOST_FINDINGS);
  const record = recordWords(chart).slice(0, MOST_RECORD_LINES);
  const hidden = findingWords(chart).length - found.length + recordWords(chart).length - record.length;
  const more =
    hidden === 0
      ? []
      : [`NOT ALL WARNINGS STAND HERE: ${hidden} MORE ${hidden === 1 ? 'IS' : 'ARE'} ON THE LAST SHEET.`];
  return [
    ...more.map(text => ({ text, bold: true })),
    ...(found.length === 0 ? [] : [{ text: found.join(' '), bold: true }]),
    ...record.map(text => ({ text, bold: true })),
    { text: `Bag: ${bagFormula(chart)}. ${HOW_TO_READ} ${edgeWords(chart)}`, bold: false },
    { text: LEAK_TEST, bold: false },
  ];
}

/** Every warning, one a line, where the foot has no room for all; empty where it has. */
export function warningsBeyondFoot(chart: Chart): string[] {
  const [found, record] = [findingWords(chart), recordWords(chart)];
  return found.length > MOST_FINDINGS || record.length > MOST_RECORD_LINES ? [...record, ...found] : [];
}

function findingWords({ findings }: Chart): string[] {
  return findings.map(({ message }) => `${capital(message)}.`);
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function safetyLine(rect: Rect): Shape[] {
  const inner = { x: rect.x + 1.5, y: rect.y, width: rect.width - 3, height: rect.height };
  const { size } = fitText(SAFETY_LINE, inner, { largest: 5, least: 3, bold: true });
  return [
    { kind: 'rect', rect, fill: 'white', line: 0.6 },
    { ...textIn(SAFETY_LINE, inner, size, true), x: rect.x + rect.width / 2, anchor: 'middle' },
  ];
}

function textIn(text: string, box: Rect, size: number, bold: boolean): Extract<Shape, { kind: 'text' }> {
  const baseline = box.y + (box.height - size * LINE_HEIGHT) / 2 + 0.8 * size * LINE_HEIGHT;
  return { kind: 'text', text, x: box.x, baseline, size, anchor: 'start', bold, ink: 'black', box };
}
