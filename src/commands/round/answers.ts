/** What a person said of each item of a round: by options, or one by one on a terminal. */
import { didYouMean } from '../../problem/nearest.ts';
import type { Round, RoundItem } from '../../round/round.ts';
import type { Desk } from '../entering.ts';

/** `already`: a leak test or a high-pressure test that was passed today. null: not done. */
export type Answer =
  | { readonly result: 'pass' | 'fail' }
  | { readonly reading: string }
  | { readonly already: true }
  | null;

/** In the order of the round's items. */
export type Answers = readonly { readonly item: RoundItem; readonly answer: Answer }[];

export interface AnswerOptions {
  readonly pass?: readonly string[] | undefined;
  readonly fail?: readonly string[] | undefined;
  readonly read?: readonly string[] | undefined;
}

/** Whether the command line answers anything. */
export function hasAnswers({ pass, fail, read }: AnswerOptions): boolean {
  return [pass, fail, read].some(list => list !== undefined);
}

/**
 * The answers that stand on the command line. `all` passes everything that is signed off and not failed; an id is that of a
 * check, or CHECK:ASSET where it applies to several.
 */
export function answersFromOptions(desk: Desk, round: Round, options: AnswerOptions): Answers {
  const named = (option: string, words: readonly string[] = []) =>
    new Set(words.filter(word => word !== 'all').flatMap(word => itemsNamed(desk, round, option, word)));
  const failed = named('--fail', options.fail);
  const passed = named('--pass', options.pass);
  const all = options.pass?.includes('all') ?? false;
  for (const item of failed) {
    if (passed.has(item))
      desk.problem('options_clash', `${nameOf(item)} is both passed and failed`, 'leave one out');
  }
  const readings = readingsOf(desk, round, options.read ?? []);
  return round.items.map(item => {
    const reading = readings.get(item);
    if (reading !== undefined) return { item, answer: { reading } };
    if (failed.has(item)) return { item, answer: { result: 'fail' } };
    if (passed.has(item) || (all && item.check.doneBy === 'sign_off'))
      return { item, answer: { result: 'pass' } };
    return { item, answer: doneAlready(item, desk.today) };
  });
}

/** What a round cannot sign off itself is done when its own test was passed today. */
export function doneAlready({ check, lastPass, standsFailed }: RoundItem, today: string): Answer {
  const isOwnTest = check.doneBy === 'hold' || check.doneBy === 'supply_hold';
  return isOwnTest && !standsFailed && lastPass?.date === today ? { already: true } : null;
}

function itemsNamed(desk: Desk, { items }: Round, option: string, word: string): RoundItem[] {
  const [check, asset] = word.split(':');
  const found = items.filter(
    item => item.check.id === check && (asset === undefined || item.asset.id === asset),
  );
  if (found.length === 0) {
    const known = [...new Set(items.map(item => item.check.id))];
    desk.problem(
      'check_unknown',
      `${option}: '${word}' is not in this round`,
      didYouMean(check ?? word, known),
    );
  }
  const other = found.find(item => item.check.doneBy !== 'sign_off');
  if (other !== undefined) {
    const remedy =
      other.check.doneBy === 'reading' ? `add --read ${other.asset.id}=VALUE` : 'do it with holdfast hold';
    desk.problem('check_by_other_means', `${option}: ${nameOf(other)} is not signed off`, remedy);
  }
  return found;
}

function readingsOf(desk: Desk, { items }: Round, words: readonly string[]): Map<RoundItem, string> {
  const readings = new Map<RoundItem, string>();
  for (const word of words) {
    const [asset = '', value] = word.split('=');
    const item = items.find(one => one.asset.id === asset && one.check.doneBy === 'reading');
    if (value === undefined || value === '') {
      desk.problem('option_value', `--read '${word}' names no value`, 'write it as --read ASSET=1450psi');
    } else if (item === undefined) {
      const known = items.filter(one => one.check.doneBy === 'reading').map(one => one.asset.id);
      desk.problem(
        'asset_unknown',
        `--read: this round reads nothing at '${asset}'`,
        didYouMean(asset, known),
      );
    } else readings.set(item, value);
  }
  return readings;
}

function nameOf({ asset, check }: RoundItem): string {
  return `${check.id} of ${asset.id}`;
}
