/**
 * How each kind of circuit is connected, as a plain line drawing: the machine on the left, the patient end on the right.
 *
 * Drawn in a box of 90 × 34 units (mm on the card). Lines only, so that it prints in black and white.
 */
import type { CircuitKind } from '../../inventory/inventory.ts';

export const DRAWING_WIDTH = 90;
export const DRAWING_HEIGHT = 34;

/** The drawing as SVG elements, without a frame. */
export function drawing(kind: CircuitKind): string {
  return DRAWINGS[kind]();
}

type Point = readonly [x: number, y: number];

const line = (points: readonly Point[], width = 0.5, dashes = '') =>
  `<polyline points="${points.map(point => point.join(',')).join(' ')}" fill="none" stroke="black" stroke-width="${width}"${dashes === '' ? '' : ` stroke-dasharray="${dashes}"`}/>`;

const box = (x: number, y: number, width: number, height: number) =>
  `<rect x="${x}" y="${y}" width="${width}" height="${height}" fill="white" stroke="black" stroke-width="0.5"/>`;

type Anchor = 'start' | 'middle' | 'end';

const label = (x: number, y: number, text: string, anchor: Anchor = 'middle') =>
  `<text x="${x}" y="${y}" font-size="2.6" text-anchor="${anchor}">${text}</text>`;

/** The bag hangs: a neck and a drop. */
const bag = (x: number, y: number) =>
  `${line(
    [
      [x, y],
      [x, y + 3],
    ],
    0.9,
  )}<path d="M ${x - 1} ${y + 3} C ${x - 6} ${y + 8}, ${x - 4} ${y + 14}, ${x} ${y + 14} S ${x + 6} ${y + 8}, ${x + 1} ${y + 3} Z" fill="white" stroke="black" stroke-width="0.5"/>${label(x, y + 10, 'bag')}`;

/** The pop-off: a stem with a lid that lifts. */
const popOff = (x: number, y: number) =>
  `${line(
    [
      [x, y],
      [x, y - 3],
    ],
    0.9,
  )}${line([
    [x - 2.5, y - 3],
    [x + 2.5, y - 3],
  ])}${line([
    [x - 2.5, y - 3.8],
    [x + 2.5, y - 5],
  ])}`;

/** Waste gas on its way to the scavenging. */
const waste = (x: number, y: number, length: number) =>
  `${line(
    [
      [x, y],
      [x + length, y],
    ],
    0.5,
    '1.2 0.8',
  )}<path d="M ${x + length} ${y - 1} l 2 1 l -2 1 z" fill="black"/>`;

const patient = (x: number, y: number) =>
  `<circle cx="${x + 2.2}" cy="${y}" r="2.4" fill="white" stroke="black" stroke-width="0.5"/>${label(x + 2.2, y + 6.4, 'patient end')}`;

/** Two lines are the walls of a hose. */
const hose = (from: Point, to: Point, bore = 3) => {
  const [x1, y1] = from;
  const [x2, y2] = to;
  const half = bore / 2;
  return (
    line([
      [x1, y1 - half],
      [x2, y2 - half],
    ]) +
    line([
      [x1, y1 + half],
      [x2, y2 + half],
    ])
  );
};

const outlet = box(2, 11, 15, 10) + label(9.5, 15, 'fresh-gas') + label(9.5, 18.6, 'outlet');

/** Circle: valves and absorber at the machine, bag and pop-off theirs. */
const circleBase =
  box(2, 6, 18, 14) +
  label(11, 11.6, 'absorber') +
  label(11, 15, 'and valves') +
  bag(7, 20) +
  popOff(15, 6) +
  label(19, 3.6, 'pop-off', 'start') +
  waste(29, 2.7, 12) +
  label(44.5, 3.6, 'scavenging', 'start');

const DRAWINGS: Readonly<Record<CircuitKind, () => string>> = {
  circle_y: () =>
    circleBase +
    hose([20, 9], [66, 9]) +
    hose([20, 17], [66, 17]) +
    line([
      [66, 7.5],
      [72, 11.5],
      [78, 11.5],
    ]) +
    line([
      [66, 10.5],
      [68.5, 13],
      [66, 15.5],
    ]) +
    line([
      [66, 18.5],
      [72, 14.5],
      [78, 14.5],
    ]) +
    patient(78, 13) +
    label(43, 13.9, 'a hose on each valve, either way round'),
  circle_coaxial: () =>
    circleBase +
    line([
      [20, 8.5],
      [25, 8.5],
      [28, 12],
    ]) +
    line([
      [20, 17.5],
      [25, 17.5],
      [28, 14],
    ]) +
    hose([28, 13], [78.4, 13], 4.4) +
    line(
      [
        [20, 9.6],
        [24.5, 9.6],
        [28, 12.4],
        [76, 12.4],
      ],
      0.35,
    ) +
    line(
      [
        [20, 10.8],
        [24, 10.8],
        [27.5, 13.6],
        [76, 13.6],
      ],
      0.35,
    ) +
    patient(78, 13) +
    label(52, 20.6, 'inner tube: inspiratory valve') +
    label(52, 24, 'outer hose: expiratory valve'),
  bain: () =>
    outlet +
    line(
      [
        [17, 15.4],
        [27, 15.4],
        [32, 15.4],
        [76, 15.4],
      ],
      0.35,
    ) +
    line(
      [
        [17, 16.6],
        [27, 16.6],
        [32, 16.6],
        [76, 16.6],
      ],
      0.35,
    ) +
    box(27, 12, 8, 8) +
    line(
      [
        [27, 15.4],
        [35, 15.4],
      ],
      0.35,
    ) +
    line(
      [
        [27, 16.6],
        [35, 16.6],
      ],
      0.35,
    ) +
    hose([35, 16], [78.4, 16], 4.4) +
    bag(29, 20) +
    popOff(33, 12) +
    label(37.5, 9.6, 'pop-off', 'start') +
    waste(48, 8.7, 12) +
    label(63.5, 9.6, 'scavenging', 'start') +
    patient(78, 16) +
    label(56, 23.6, 'fresh gas in the inner tube,') +
    label(56, 27, 'back through the outer hose'),
  t_piece: () =>
    outlet +
    line(
      [
        [17, 15.4],
        [70, 15.4],
        [70, 17.5],
      ],
      0.35,
    ) +
    line(
      [
        [17, 16.6],
        [68.8, 16.6],
        [68.8, 17.5],
      ],
      0.35,
    ) +
    line([
      [60, 17.5],
      [68.8, 17.5],
    ]) +
    line([
      [70, 17.5],
      [78, 17.5],
    ]) +
    line([
      [60, 20.5],
      [78, 20.5],
    ]) +
    hose([38, 19], [60, 19]) +
    patient(78, 19) +
    label(43, 14, 'fresh-gas hose') +
    line([
      [38, 17.5],
      [33, 17.5],
      [30, 19],
      [33, 20.5],
      [38, 20.5],
    ]) +
    `<path d="M 33 17.5 C 24 14.5, 20 26, 27 27 S 35 23, 33 20.5" fill="white" stroke="black" stroke-width="0.5"/>` +
    label(28, 22.6, 'bag') +
    waste(24, 30.5, 12) +
    line([
      [25, 27],
      [23.4, 30.5],
      [25, 30.5],
    ]) +
    label(39.5, 31.4, 'open end or pop-off, to scavenging', 'start'),
};
