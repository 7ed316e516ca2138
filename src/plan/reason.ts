/** Why a figure is what it is. No figure leaves a plan without one. */
import type { Inventory, Rule } from '../inventory/inventory.ts';

/** Where a constant stands: in the practice's own inventory, or in the defaults. */
export interface RuleRef {
  /** JSON pointer into the inventory. */
  readonly path: string;
  readonly line: number | null;
  readonly from: 'inventory' | 'default';
  /** Where the constant comes from, in words. */
  readonly source: string;
}

export interface Reason {
  /** The figure's key in the JSON, for example fresh_gas_flow.low_ml_min. */
  readonly figure: string;
  readonly value: number | boolean | string | null;
  /** The formula with the numbers put in: "200 mL/kg/min × 6.8 kg". */
  readonly formula: string;
  readonly inputs: Readonly<Record<string, number | string | null>>;
  /** Every rule that gave a constant, the deciding one first; empty where none did. */
  readonly rules: readonly RuleRef[];
  readonly source: string;
}

/** Figures with the reasons for each of them. */
export interface Reasoned {
  readonly reasons: readonly Reason[];
}

export function ruleRef({ path, line, from, source }: Rule<unknown>): RuleRef {
  return { path, line, from, source };
}

/** A property of an asset that serves as a rule, for example a flowmeter's marks. */
export function assetRef(
  inventory: Inventory,
  path: string,
  source = 'as the practice wrote it down',
): RuleRef {
  return { path, line: inventory.placeOf(path).line, from: 'inventory', source };
}

/** A reason whose constants come from rules; the sources of all of them are said, each once. */
export function reasonFromRules(
  figure: string,
  value: Reason['value'],
  formula: string,
  inputs: Reason['inputs'],
  rules: readonly Rule<unknown>[],
): Reason {
  const sources = [...new Set(rules.map(rule => rule.source))];
  return { figure, value, formula, inputs, rules: rules.map(ruleRef), source: sources.join('; ') };
}
