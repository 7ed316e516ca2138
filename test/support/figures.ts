/** The figures of a plan's document with the keys by which their reasons are named. */
import type { PlanDocument } from '../../src/generated/plan-document.ts';

export interface Figure {
  readonly figure: string;
  readonly value: number | boolean | null;
}

/** Every number and every yes or no in flows, phases, bag and leak test, of both classes. */
export function figuresOf({
  fresh_gas_flow,
  phases,
  reservoir_bag,
  leak_hold,
  between,
}: PlanDocument): Figure[] {
  return [
    ...within('fresh_gas_flow', fresh_gas_flow),
    ...phases.flatMap(phase => within(`phases.${phase.phase}`, phase)),
    ...within('reservoir_bag', reservoir_bag),
    ...within('leak_hold', leak_hold),
    ...within('between.fresh_gas_flow', between?.fresh_gas_flow ?? null),
    ...within('between.reservoir_bag', between?.system.circuit == null ? null : between.reservoir_bag),
  ];
}

function within(name: string, part: object | null): Figure[] {
  return Object.entries(part ?? {}).flatMap(([key, value]: [string, unknown]) =>
    typeof value === 'number' || typeof value === 'boolean' ? [{ figure: `${name}.${key}`, value }] : [],
  );
}
