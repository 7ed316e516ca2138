/** A round on the screen: the list to read, and what came of it. */
import type { Round, RoundItem, RoundName } from '../round/round.ts';
import { safeText } from './safe-text.ts';
import { wrap } from './text.ts';

export const ROUND_WORDS: Readonly<Record<RoundName, string>> = {
  opening: 'Opening round',
  before_case: 'Round before a case',
  closing: 'Closing round',
  weekly: 'Weekly round',
};

/** How an item is done where it is not signed off. */
const OTHER_WAYS: Readonly<
  Record<'hold' | 'supply_hold' | 'reading', (item: RoundItem, machine: string) => string>
> = {
  hold: ({ asset }, machine) => `holdfast hold ${asset.id} --machine ${machine}`,
  supply_hold: ({ asset }) => `holdfast hold --supply ${asset.id}`,
  reading: ({ asset }) => `holdfast reading ${asset.id} VALUE`,
};

/** The command that does an item which is not signed off; null where it is. */
export function otherWay(item: RoundItem, machine: string): string | null {
  const { doneBy } = item.check;
  return doneBy === 'sign_off' ? null : OTHER_WAYS[doneBy](item, machine);
}

/** "vaporizer-level of theatre-1-iso" */
export function itemName({ asset, check }: RoundItem): string {
  return `${check.id} of ${asset.id}`;
}

/** The list with each check's text, to be read at the machine. */
export function renderRound(round: Round, practice: string, width: number): string {
  const { machine, items, firstSince, otherCircuits } = round;
  const place = machine.location === null ? '' : ` (${safeText(machine.location)})`;
  const lines = [`${ROUND_WORDS[round.name]} of ${machine.id}${place}, ${safeText(practice)}`];
  for (const { asset, date } of firstSince) {
    lines.push(
      wrap(`The first round since ${asset} came back into service on ${date}: look twice.`, width, '  '),
    );
  }
  lines.push('');
  for (const [i, item] of items.entries()) {
    lines.push(
      `${String(i + 1).padStart(3)}  ${itemName(item)}${item.standsFailed ? ' (FAILED last time)' : ''}`,
    );
    if (item.check.text !== null) lines.push(wrap(safeText(item.check.text), width, '     '));
    const way = otherWay(item, machine.id);
    if (way !== null) lines.push(wrap(`by ${way}`, width, '     '));
    lines.push(wrap(lastWords(item), width, '     '));
  }
  if (items.length === 0) lines.push('  no check of this round applies here');
  if (otherCircuits > 0) {
    lines.push('', wrap('Checks of circuits are in this round too: name them with --circuit ID.', width));
  }
  return `${lines.join('\n')}\n`;
}

function lastWords({ lastPass }: RoundItem): string {
  return lastPass === null ? 'never done' : `last ${lastPass.date}, ${safeText(lastPass.by)}`;
}
