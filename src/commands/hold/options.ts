/** The options of a leak test of a pair → what was seen. */
import type { Bag } from '../../inventory/inventory.ts';
import { didYouMean } from '../../problem/nearest.ts';
import { formatNumber, formatVolume } from '../../quantity/format.ts';
import { parseCircuitPressure, parseFlow, parseSeconds, parseVolume } from '../../quantity/parse.ts';
import type { Seconds } from '../../quantity/units.ts';
import type { HoldMark, HoldSeen } from '../../record/judge.ts';
import type { Desk } from '../entering.ts';
import type { HoldOptions } from '../hold.ts';

const MEASUREMENTS = ['from', 'to', 'seconds', 'steady', 'slack', 'makeUp', 'atPressure', 'popOff'] as const;
/** Limits of schemas/record.schema.json. */
const LONGEST_S = 86_400;
const HIGHEST_FLOW_ML_MIN = 30_000;

/** Whether anything that was measured is given: then nobody is guided. */
export function isMeasured(options: HoldOptions): boolean {
  return MEASUREMENTS.some(key => options[key] !== undefined);
}

/** Names the options that this pair wants. */
export function missingMeasurement(desk: Desk, mark: HoldMark): void {
  const wanted = mark.gauge
    ? '--from P --to P --seconds S, or --make-up FLOW --at-pressure P; and --pop-off open|shut|stuck'
    : '--steady or --slack, --seconds S, and --pop-off open|shut|stuck (no gauge shows the pressure of this pair)';
  desk.problem(
    'usage',
    `nothing that was measured is given, and there is no terminal to ask on`,
    `give ${wanted}`,
  );
}

/** What was seen, with everything that is wrong with it on the desk. */
export function readSeen(desk: Desk, options: HoldOptions, mark: HoldMark | null): HoldSeen {
  const from = desk.quantity('--from', options.from, parseCircuitPressure);
  const to = desk.quantity('--to', options.to, parseCircuitPressure);
  const seconds = readSeconds(desk, options.seconds);
  const flow = desk.quantity('--make-up', options.makeUp, parseFlow);
  const at = desk.quantity('--at-pressure', options.atPressure, parseCircuitPressure);
  desk.within('--make-up', flow, 0, HIGHEST_FLOW_ML_MIN, 'mL/min');
  lookForGaps(desk, options, mark);
  const fall =
    from === undefined || to === undefined || seconds === undefined
      ? undefined
      : { fromCmH2O: from, toCmH2O: to, seconds };
  const isWatched = options.steady === true || options.slack === true;
  const taut = isWatched && seconds !== undefined ? { steady: options.steady === true, seconds } : undefined;
  const makeUp = flow === undefined || at === undefined ? undefined : { flowMlPerMin: flow, atCmH2O: at };
  return { fall, taut, makeUp, popOff: options.popOff };
}

function readSeconds(desk: Desk, text: string | undefined): Seconds | undefined {
  const read = desk.quantity('--seconds', text, parseSeconds);
  if (read === 0)
    desk.problem(
      'entry_value',
      '--seconds: a pressure is held longer than nothing',
      'write it as --seconds 10',
    );
  desk.within('--seconds', read, 0, LONGEST_S, 's');
  return read;
}

/** Options that need another, or shut one out. */
function lookForGaps(
  desk: Desk,
  { from, to, seconds, steady, slack, makeUp, atPressure, popOff }: HoldOptions,
  mark: HoldMark | null,
): void {
  const byGauge = from !== undefined || to !== undefined;
  const byBag = steady === true || slack === true;
  const byFlow = makeUp !== undefined || atPressure !== undefined;
  const need = (option: string, because: string) => desk.problem('usage', `missing: ${option}`, because);
  if (steady && slack)
    desk.problem('options_clash', '--steady and --slack do not go together', 'leave one of them out');
  if (byBag && (byGauge || byFlow)) {
    desk.problem(
      'options_clash',
      'the bag was watched (--steady, --slack), and a gauge was read as well',
      'give what decides: the gauge where there is one',
    );
  }
  if (byGauge && from === undefined) need('--from P', 'give the pressure at the start');
  if (byGauge && to === undefined) need('--to P', 'give the pressure at the end');
  if ((byGauge || byBag) && seconds === undefined) need('--seconds S', 'say how long it was watched');
  if (byFlow && makeUp === undefined) need('--make-up FLOW', 'give the flow that keeps the pressure steady');
  if (byFlow && atPressure === undefined) need('--at-pressure P', 'give the pressure that the flow keeps');
  if (!byGauge && !byBag && !byFlow && (seconds !== undefined || popOff !== undefined)) {
    if (mark === null || mark.gauge)
      need('--from P and --to P, or --make-up FLOW and --at-pressure P', 'say what the gauge showed');
    else need('--steady or --slack', 'say whether the bag stayed taut');
  }
}

/** The bag that hung on the pair. */
export interface BagGiven {
  readonly sizeMl: number;
  readonly written: { size_ml: number; id?: string };
  readonly asset: Bag | null;
}

/** `--bag`: the id of a bag, or a size that is in stock. */
export function readBag(desk: Desk, text: string | undefined): BagGiven | null {
  if (text === undefined) return null;
  const { assets, bags } = desk.inventory;
  const asset = assets.get(text);
  if (asset?.type === 'bag')
    return { sizeMl: asset.sizeMl, written: { size_ml: asset.sizeMl, id: asset.id }, asset };
  const stocked = bags.map(({ sizeMl }) => formatVolume(sizeMl));
  const size = parseVolume(text);
  if (!size.ok) {
    const ids = bags.flatMap(({ ids }) => ids);
    const isNumber = /^\d/.test(text);
    if (isNumber)
      desk.problem('quantity_not_understood', `--bag: ${size.message}`, `write it as one of ${size.forms}`);
    else
      desk.problem(
        'asset_unknown',
        `--bag: the inventory has no bag '${text}'`,
        didYouMean(text, [...ids, ...stocked]),
      );
    return null;
  }
  if (!bags.some(({ sizeMl }) => sizeMl === size.value)) {
    desk.problem(
      'asset_unknown',
      `--bag: the inventory has no bag of ${formatNumber(size.value)} mL`,
      `in stock: ${stocked.join(', ')}`,
    );
  }
  return { sizeMl: size.value, written: { size_ml: size.value }, asset: null };
}
