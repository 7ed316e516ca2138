/** Where it leaks, in words. */
import type { CircuitKind, Inventory } from '../inventory/inventory.ts';
import type { HoldDone, Standing } from '../record/standing-types.ts';
import { type Part, partsOf, type SuspectGroup } from '../record/suspects.ts';
import { bestSwap, type Swap } from '../record/swap.ts';
import { placesToLook } from '../record/where-to-look.ts';
import { seenWords } from './entry-words.ts';
import { wrap } from './text.ts';

/** What the record says of one group of failures: what failed, what is acquitted, who is suspect, the next swap. */
export function suspectLines(
  group: SuspectGroup,
  groups: readonly SuspectGroup[],
  standing: Standing,
  inventory: Inventory,
  width: number,
): string[] {
  const lines = group.failures.map(({ done, entry }) =>
    wrap(
      `failed: ${entry.circuit} on ${entry.machine}, ${moment(done.on)}: ${seenWords(entry)}`,
      width,
      '',
      '  ',
    ),
  );
  for (const { part, by, exceptCircle } of group.cleared) {
    const except = exceptCircle ? `; its absorber and valves were not in that test and are not cleared` : '';
    lines.push(
      wrap(
        `cleared: ${part.id}, which passed ${passedWith(part, by)}, ${moment(by.done.on)}${except}`,
        width,
        '',
        '  ',
      ),
    );
  }
  if (group.suspects.length === 0) {
    lines.push(
      wrap(
        'suspect: none of these parts alone, each passed elsewhere since. Look where they join, and hold the same pair again.',
        width,
        '',
        '  ',
      ),
    );
  }
  for (const [i, { part, alone, explains }] of group.suspects.entries()) {
    const weight = alone
      ? group.failures.length > 1
        ? 'alone explains all of these failures'
        : 'alone explains the failure'
      : `explains ${explains} of ${group.failures.length} failures`;
    lines.push(wrap(`suspect ${i + 1}: the ${part.kind} ${part.id}, which ${weight}`, width, '', '  '));
  }
  if (group.suspects.length > 0 && group.leaks === 2)
    lines.push('No one leak explains all of these failures; two do.');
  if (group.suspects.length > 0 && group.leaks === null)
    lines.push('Neither one leak nor two explain all of these failures.');
  if (group.failures.some(failure => bagUnnamed(failure, inventory))) {
    lines.push(
      wrap(
        'The bag was not named by its id (--bag), so the record can neither suspect nor clear it: look at it first.',
        width,
      ),
    );
  }
  const swap = bestSwap(group, groups, standing, inventory);
  if (swap !== null) lines.push(wrap(swapWords(swap), width, '', '  '));
  return lines;
}

/** The places to look at for a kind of circuit, in the order in which leaks are found. */
export function lookLine(kind: CircuitKind, width: number): string {
  const places = placesToLook(kind).map((place, i) => `${i + 1} ${place}`);
  return wrap(`Look, with soapy water on each part, at: ${places.join(', ')}.`, width, '', '  ');
}

/** @example swapWords(swap) //=> 'One swap tells most: hold y-piece-1 on dental, in place of theatre-1. If it passes, …' */
function swapWords({ circuit, machine, out, in: incoming, ifPass, ifFail, proven }: Swap): string {
  const change =
    incoming === null
      ? `hang another bag of its size in place of ${out.id}, and hold ${circuit} on ${machine} again`
      : `hold ${circuit} on ${machine}, that is, ${incoming} in place of ${out.id}`;
  const unproven =
    incoming === null || proven
      ? ''
      : ` (${incoming} has not passed of late: if it fails, that may be ${incoming}'s own leak)`;
  return `One swap tells most: ${change}${unproven}. If it passes, it is ${anyOf(ifPass)}; if it fails, ${anyOf(ifFail)}.`;
}

function anyOf(explanations: readonly (readonly Part[])[]): string {
  return explanations.map(parts => parts.map(({ id }) => id).join(' and ')).join(', or ');
}

function passedWith(part: Part, by: HoldDone): string {
  if (part.kind === 'circuit') return `on ${by.entry.machine}`;
  if (part.kind === 'machine') return `with ${by.entry.circuit}`;
  return `on ${by.entry.machine} with ${by.entry.circuit}`;
}

function bagUnnamed(failure: HoldDone, inventory: Inventory): boolean {
  return (
    failure.entry.reason !== 'pop_off_stuck' &&
    !partsOf(failure, inventory).some(({ kind }) => kind === 'bag')
  );
}

/** A date, or the hour and minute with it. @example moment('2026-11-25T08:14:03+00:00') //=> '2026-11-25 08:14' */
export function moment(on: string): string {
  return on.slice(0, 16).replace('T', ' ');
}
