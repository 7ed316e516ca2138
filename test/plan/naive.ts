/**
 * The choice of pair, written again on purpose in the plainest way: one long function over the words of the design, nothing
 * shared with src/plan. Only ever compared with it.
 */
import type { Circuit, Inventory, Machine } from '../../src/inventory/inventory.ts';

export interface NaiveCase {
  readonly inventory: Inventory;
  readonly weightKg: number;
  readonly idealKg: number | null;
  readonly circuit: string | null;
  readonly machine: string | null;
  /** Ids that are out of service, and pairs "circuit machine" that failed. */
  readonly out: readonly string[];
  readonly failed: readonly string[];
}

type Class = 'rebreathing' | 'non_rebreathing';

/** "circuit machine", or null where none fits. Where a choice is forced and several misfit, any of `among`. */
export function naivePair(one: NaiveCase): { pair: string | null; substituted: boolean } {
  const { inventory, weightKg, idealKg } = one;
  const { boundary } = inventory.rules;
  const classOfWeight = (weight: number): Class => {
    if (weight < boundary.nonRebreathingBelowKg.value) return 'non_rebreathing';
    if (weight > boundary.rebreathingAboveKg.value) return 'rebreathing';
    return boundary.between.value;
  };
  const wanted = classOfWeight(idealKg ?? weightKg);
  const actual = classOfWeight(weightKg);

  const all: [Circuit, Machine][] = [];
  for (const circuit of inventory.circuits)
    for (const machine of inventory.machines) all.push([circuit, machine]);

  for (const [circuit, machine] of all) {
    if (isClass(circuit, wanted) && fits(one, circuit, machine))
      return { pair: `${circuit.id} ${machine.id}`, substituted: false };
  }
  if (wanted === 'rebreathing') {
    for (const [circuit, machine] of all) {
      if (isClass(circuit, 'non_rebreathing') && circuit.weightsKg !== null && fits(one, circuit, machine))
        return { pair: `${circuit.id} ${machine.id}`, substituted: true };
    }
  }
  if (wanted !== actual) {
    for (const [circuit, machine] of all) {
      if (!isClass(circuit, wanted) && fits(one, circuit, machine))
        return { pair: `${circuit.id} ${machine.id}`, substituted: true };
    }
  }
  return { pair: null, substituted: false };
}

function isClass(circuit: Circuit, cls: Class): boolean {
  const isCircle = circuit.kind === 'circle_y' || circuit.kind === 'circle_coaxial';
  return cls === 'rebreathing' ? isCircle : !isCircle;
}

function fits(one: NaiveCase, circuit: Circuit, machine: Machine): boolean {
  const { inventory, weightKg, idealKg, out, failed } = one;
  const lungs = idealKg ?? weightKg;
  if (out.includes(circuit.id) || out.includes(machine.id)) return false;
  if (failed.includes(`${circuit.id} ${machine.id}`)) return false;
  const isCircle = circuit.kind === 'circle_y' || circuit.kind === 'circle_coaxial';
  const drive = isCircle ? 'circle' : circuit.kind;
  if (!machine.drives.some(driven => driven === drive)) return false;
  if (circuit.weightsKg !== null && (lungs < circuit.weightsKg[0] || lungs > circuit.weightsKg[1]))
    return false;
  if (isCircle && Math.min(weightKg, lungs) < inventory.rules.circleNeverBelowKg.value) return false;
  const supply = machine.oxygen.find(id => !out.includes(id));
  if (supply === undefined) return false;
  for (const phase of ['induction', 'maintenance', 'recovery'] as const) {
    const set = naiveSet(
      inventory,
      machine,
      isCircle ? 'rebreathing' : 'non_rebreathing',
      phase,
      weightKg,
    ).set;
    if (set === null) return false;
    const kind = inventory.supplies.find(({ id }) => id === supply);
    if (kind?.kind === 'concentrator' && set > kind.maxMlPerMin) return false;
  }
  return true;
}

/** The mark to set, by walking over all marks; null where no mark is high enough. */
export function naiveSet(
  inventory: Inventory,
  machine: Machine,
  cls: Class,
  phase: 'induction' | 'maintenance' | 'recovery',
  weightKg: number,
): { low: number; high: number; set: number | null } {
  const { minimumMlPerMin, mlPerKgMin } = inventory.rules.freshGasFlow;
  const [perKgLow, perKgHigh] = mlPerKgMin[cls][phase].value;
  const low = Math.max(perKgLow * weightKg, minimumMlPerMin.value);
  const high = Math.max(perKgHigh * weightKg, minimumMlPerMin.value);
  const marks = marksOf(machine);
  const dust = 1e-6;
  const atMiddle = marks.find(mark => mark >= (low + high) / 2 - dust) ?? null;
  if (atMiddle !== null && atMiddle <= high + dust) return { low, high, set: atMiddle };
  // Beyond the last mark the middle of the range cannot be set; the lowest mark from the low end may still be in range.
  if (atMiddle === null && marks.length > 0 && nextAfter(machine, (low + high) / 2) <= high + dust)
    return { low, high, set: null };
  return { low, high, set: marks.find(mark => mark >= low - dust) ?? null };
}

/** Every engraved mark, from the lowest. */
export function marksOf(machine: Machine): number[] {
  const marks: number[] = [];
  let from = 0;
  for (const { upToMlPerMin, stepMlPerMin } of machine.flowmeter.marks) {
    for (let mark = from + stepMlPerMin; mark <= upToMlPerMin + 1e-6; mark += stepMlPerMin) marks.push(mark);
    from = upToMlPerMin;
  }
  return marks;
}

/** Where the mark would be if the last spacing went on beyond the end of the flowmeter. */
function nextAfter(machine: Machine, flow: number): number {
  const last = machine.flowmeter.marks.at(-1);
  if (last === undefined) return Number.POSITIVE_INFINITY;
  let mark: number = last.upToMlPerMin;
  while (mark < flow - 1e-6) mark += last.stepMlPerMin;
  return mark;
}
