/** What stands on the card of a plan: words and figures, not yet laid out. */
import type { CircuitKind } from '../../inventory/inventory.ts';
import { CLASS_WORDS, KIND_WORDS, type Pair } from '../../plan/fit.ts';
import type { Plan } from '../../plan/plan.ts';
import { isLimit } from '../../plan/steps/hold.ts';
import { formatVolume, formatWeight } from '../../quantity/format.ts';
import { flowWords } from '../flow-words.ts';
import { SAFETY_LINE } from '../safety.ts';

export interface CardContent {
  /** "6.8 kg (14.99 lb), dog" */
  readonly patient: string;
  /** Practice, date, case. */
  readonly where: string;
  readonly kind: CircuitKind;
  /** Label and figure, the figure large. */
  readonly figures: readonly { readonly label: string; readonly figure: string; readonly detail: string }[];
  /** Each gets a box to tick. */
  readonly hold: readonly string[];
  /** What the leak test does not prove: nothing to tick. */
  readonly limits: readonly string[];
  readonly cautions: readonly string[];
  readonly foot: readonly string[];
}

/** The content for a plan that has a pair, flows and steps. */
export function cardContent(plan: Plan, pair: Pair): CardContent {
  const { request, inventory, at, main, bag, steps } = plan;
  const species = request.species === null ? '' : `, ${request.species}`;
  const caseRef = request.caseRef === null ? '' : `, case ${request.caseRef}`;
  const flows = main === null ? [] : flowWords(plan, main);
  const size = bag === null || bag.sizeMl === null ? 'none in stock' : formatVolume(bag.sizeMl);
  return {
    patient: `${formatWeight(request.weightKg)}${species}`,
    where: `${inventory.practice.name}, ${at.slice(0, 16).replace('T', ' ')}${caseRef}`,
    kind: pair.circuit.kind,
    figures: [
      {
        label: 'Circuit',
        figure: pair.circuit.id,
        detail: `${KIND_WORDS[pair.circuit.kind]}, ${CLASS_WORDS[main?.circuitClass ?? 'non_rebreathing']}`,
      },
      { label: 'Machine', figure: pair.machine.id, detail: pair.machine.location ?? '' },
      ...flows.map(({ figure, detail }, i) => ({ label: i === 0 ? 'Oxygen' : '', figure, detail })),
      { label: 'Bag', figure: size, detail: '' },
    ],
    hold: (steps?.hold ?? []).filter(step => !isLimit(step)),
    limits: (steps?.hold ?? []).filter(isLimit),
    cautions: plan.cautions.filter(({ level }) => level === 'caution').map(({ message }) => message),
    foot: [SAFETY_LINE, `inventory ${inventory.blob.slice(0, 12)}`],
  };
}
