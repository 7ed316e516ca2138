/**
 * Every weight at which a chart of this inventory may change: computed from its rules and assets, never sampled.
 *
 * What the record says moves no edge: an asset out of service only makes some of them idle. So charts with and without an
 * asset share one set of edges and are compared weight by weight.
 */
import {
  type CircuitClass,
  classOf,
  driveOf,
  type Inventory,
  type Machine,
  PHASES,
  type Rule,
  type Species,
} from '../inventory/inventory.ts';
import { tidalVolumeRule } from '../plan/bag.ts';
import { CLASS_WORDS } from '../plan/fit.ts';
import { highestMark } from '../plan/flow.ts';
import { plausibleKg } from '../plan/patient.ts';
import { formatFlow, formatNumber, formatVolume } from '../quantity/format.ts';
import { type Kg, kg, type MlPerMin } from '../quantity/units.ts';
import { limitCrossings } from './flow-steps.ts';
import { tidyEdges } from './grid.ts';
import type { Edge, EdgeCause } from './span.ts';

export interface EdgeRange {
  readonly fromKg: Kg;
  readonly toKg: Kg;
  readonly species: Species | null;
}

const CLASSES: readonly CircuitClass[] = ['non_rebreathing', 'rebreathing'];

/** The edges within a range, in rising order; both ends of the range are among them. */
export function edgesOf(inventory: Inventory, range: EdgeRange): Edge[] {
  return tidyEdges(allEdges(inventory, range), range.fromKg, range.toKg);
}

/** The edges of several inventories together. */
export function edgesOfAll(inventories: readonly Inventory[], range: EdgeRange): Edge[] {
  const edges = inventories.flatMap(inventory => allEdges(inventory, range));
  return tidyEdges(edges, range.fromKg, range.toKg);
}

function allEdges(inventory: Inventory, range: EdgeRange): Edge[] {
  return [
    ...plausibleEdges(range.species),
    ...classEdges(inventory),
    ...circuitEdges(inventory),
    ...bagEdges(inventory, range.species),
    ...floorEdges(inventory),
    ...flowLimitEdges(inventory, range),
  ];
}

function plausibleEdges(species: Species | null): Edge[] {
  const range = species === null ? null : plausibleKg(species);
  return (range ?? []).map(weight =>
    written(weight, { words: `beyond this a ${species} is hardly possible`, path: null, line: null }),
  );
}

function classEdges({ rules: { boundary, circleNeverBelowKg } }: Inventory): Edge[] {
  const edge = (rule: Rule<Kg>, words: string) => written(rule.value, fromRule(rule, words));
  return [
    edge(boundary.nonRebreathingBelowKg, 'below this weight non-rebreathing circuits are used'),
    edge(boundary.rebreathingAboveKg, 'above this weight rebreathing circuits are used'),
    edge(circleNeverBelowKg, 'no circle is used below this weight'),
  ];
}

function circuitEdges(inventory: Inventory): Edge[] {
  return inventory.circuits.flatMap(({ id, weightsKg, path }) => {
    if (weightsKg === null) return [];
    const [low, high] = weightsKg;
    const cause = fromAsset(inventory, `${path}/weights_kg`, `${id} is for ${low} to ${high} kg`);
    return [written(low, cause), written(high, cause)];
  });
}

/** As far as each bag is large enough. */
function bagEdges(inventory: Inventory, species: Species | null): Edge[] {
  const mlPerKg = bagMlPerKg(inventory, species);
  if (mlPerKg === null) return [];
  return inventory.bags.map(({ sizeMl, path }) =>
    computed(
      sizeMl / mlPerKg.value,
      fromAsset(
        inventory,
        path,
        `a bag of ${formatVolume(sizeMl)} is large enough up to ${formatNumber(sizeMl)} mL / (${mlPerKg.formula})`,
      ),
    ),
  );
}

/** The bag that is wanted, in mL per kg; null where the practice has no tidal volume for the species. */
export function bagMlPerKg(
  inventory: Inventory,
  species: Species | null,
): { value: number; formula: string; rules: readonly Rule<unknown>[] } | null {
  const tidalVolume = tidalVolumeRule(inventory, species);
  if (tidalVolume === null) return null;
  const { tidalVolumes, sizeAtMlPerKg } = inventory.rules.reservoirBag;
  const isGeneral = tidalVolume === inventory.rules.tidalVolumeMlPerKg;
  const [low, high] = tidalVolume.value;
  const sizeAt = isGeneral ? sizeAtMlPerKg.value : (low + high) / 2;
  return {
    value: tidalVolumes.value * sizeAt,
    formula: `${formatNumber(tidalVolumes.value)} × ${formatNumber(sizeAt, 3)} mL/kg`,
    rules: [tidalVolumes, isGeneral ? sizeAtMlPerKg : tidalVolume],
  };
}

/** Where a flow by weight meets the least flow. */
function floorEdges({ rules: { freshGasFlow } }: Inventory): Edge[] {
  const { mlPerKgMin, minimumMlPerMin: minimum } = freshGasFlow;
  return CLASSES.flatMap(circuitClass =>
    PHASES.flatMap(phase => {
      const rule = mlPerKgMin[circuitClass][phase];
      return rule.value.map(perKg =>
        computed(
          minimum.value / perKg,
          fromRule(
            rule,
            `${formatNumber(perKg)} mL/kg/min reaches the floor of ${formatFlow(minimum.value)}`,
          ),
        ),
      );
    }),
  );
}

/** Where the flow to set reaches beyond a flowmeter or a concentrator. */
function flowLimitEdges(inventory: Inventory, { fromKg, toKg }: EdgeRange): Edge[] {
  return inventory.machines.flatMap(machine =>
    CLASSES.filter(circuitClass => serves(inventory, machine, circuitClass)).flatMap(circuitClass =>
      limitsOf(inventory, machine).flatMap(({ limit, cause }) =>
        limitCrossings(inventory, machine, circuitClass, limit, fromKg, toKg).map(weight =>
          computed(weight, { ...cause, words: `${CLASS_WORDS[circuitClass]}: ${cause.words}` }),
        ),
      ),
    ),
  );
}

function serves(inventory: Inventory, { drives }: Machine, circuitClass: CircuitClass): boolean {
  return inventory.circuits.some(
    ({ kind }) => classOf(kind) === circuitClass && drives.includes(driveOf(kind)),
  );
}

/** The flowmeter's last mark, and each concentrator that may come to serve. */
function limitsOf(inventory: Inventory, machine: Machine): { limit: MlPerMin; cause: EdgeCause }[] {
  const last = highestMark(machine.flowmeter);
  const flowmeter = {
    limit: last,
    cause: fromAsset(
      inventory,
      `${machine.path}/flowmeter`,
      `the flowmeter of ${machine.id} ends at ${formatFlow(last)}`,
    ),
  };
  const supplies = inventory.supplies.flatMap(supply => {
    if (supply.kind !== 'concentrator' || !machine.oxygen.includes(supply.id)) return [];
    const words = `${supply.id} gives at most ${formatFlow(supply.maxMlPerMin)} to ${machine.id}`;
    return [{ limit: supply.maxMlPerMin, cause: fromAsset(inventory, supply.path, words) }];
  });
  return [flowmeter, ...supplies];
}

function written(weight: Kg, cause: EdgeCause): Edge {
  return { kg: weight, isComputed: false, because: [cause] };
}

function computed(weight: number, cause: EdgeCause): Edge {
  return { kg: kg(weight), isComputed: true, because: [cause] };
}

function fromRule({ path, line }: Rule<unknown>, words: string): EdgeCause {
  return { words, path, line };
}

function fromAsset(inventory: Inventory, path: string, words: string): EdgeCause {
  return { words, path, line: inventory.placeOf(path).line };
}
