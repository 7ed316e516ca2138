/** A leak test that was judged, for a person: PASS or FAIL first, in words. */

import type { HoldEntry } from '../generated/entry.ts';
import type { Circuit, Inventory, Machine } from '../inventory/inventory.ts';
import { formatNumber } from '../quantity/format.ts';
import type { Judgement } from '../record/judge.ts';
import type { Compliance } from '../record/leak.ts';
import { pairKey, type Standing } from '../record/standing-types.ts';
import { findSuspects } from '../record/suspects.ts';
import { lookLine, suspectLines } from './suspect-words.ts';
import { wrap } from './text.ts';

export interface HoldTold {
  readonly circuit: Circuit;
  readonly machine: Machine;
  readonly judgement: Exclude<Judgement, { outcome: 'refused' }>;
  readonly popOff: HoldEntry['pop_off'];
  readonly leak: HoldEntry['leak'];
  readonly compliance: Compliance | null;
}

/**
 * The verdict in whole lines.
 *
 * @example renderVerdict(told, 80) //=> 'PASS: bain-1 on theatre-1. 20 cmH2O held for 10 s with no fall.\n'
 */
export function renderVerdict(
  { circuit, machine, judgement, popOff, leak, compliance }: HoldTold,
  width: number,
): string {
  const { outcome, because } = judgement;
  const pair = `${circuit.id} on ${machine.id}`;
  const head = outcome === 'fail' ? 'FAIL' : popOff === 'open' ? 'PASS' : 'PASS, BUT IT DOES NOT COUNT';
  const lines = [wrap(`${head}: ${pair}. ${sentence(because)}`, width, '', '  ')];
  if (leak !== undefined && compliance !== null) {
    const size = `${leak.at_least ? 'at least ' : ''}${formatNumber(leak.ml_min, 1)} mL/min`;
    lines.push(wrap(`The fall means a leak of ${size} (${compliance.source}).`, width, '', '  '));
  }
  if (popOff === 'shut') {
    const todo = `STOP (pop_off_shut): the pop-off was left shut. Open it with the end still blocked, see the pressure fall to zero, and say so: holdfast sign-off ${circuit.id} pop-off-open. Then do a new leak test: this one never counts`;
    lines.push(wrap(todo, width, '', '  '));
  } else if (popOff === 'stuck') {
    // Where a leak decides it is named first; the pop-off is a second fault, and the worse one.
    const isAlone = judgement.reason === 'pop_off_stuck';
    const found = isAlone
      ? 'the pop-off is stuck'
      : 'the pop-off is stuck too: opened, it let no pressure go';
    const todo = `STOP (pop_off_shut): ${found}. Take the end off and press the bag empty: there may still be pressure in there. Plans stop at this pop-off until it has been seen to open: holdfast sign-off ${circuit.id} pop-off-open`;
    lines.push(wrap(todo, width, '', '  '));
  }
  return `${lines.join('\n')}\n`;
}

/** What follows from a failure: the pair is withheld, where to look, and what the record acquits. */
export function renderAfterFailure(
  circuit: Circuit,
  machine: Machine,
  standing: Standing,
  inventory: Inventory,
  width: number,
): string {
  const last = standing.pairs.get(pairKey(circuit.id, machine.id))?.holds.at(-1);
  // A stuck pop-off is no leak: there is one place to look at, and the message has named it.
  const isStuck = last?.entry.reason === 'pop_off_stuck';
  const lines = [
    wrap(
      `${circuit.id} on ${machine.id} is withheld: plans pass it over until a leak test of the same pair passes.`,
      width,
      '',
      '  ',
    ),
    ...(isStuck ? [] : [lookLine(circuit.kind, width)]),
  ];
  const groups = findSuspects(standing, inventory);
  const group = groups.find(({ failures }) =>
    failures.some(({ entry }) => entry.circuit === circuit.id && entry.machine === machine.id),
  );
  if (group !== undefined)
    lines.push(
      'By the record:',
      ...suspectLines(group, groups, standing, inventory, width - 2).map(indented),
    );
  return `${lines.join('\n')}\n`;
}

function indented(text: string): string {
  return text.replace(/^/gm, '  ');
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
