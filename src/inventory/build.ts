/** A validated file → the domain model. Defaults of single keys are applied here, nowhere else. */
import { createHash } from 'node:crypto';
import { INTERVAL_UNITS } from '../calendar/interval.ts';
import type { InventoryFile } from '../generated/inventory-file.ts';
import { psiFromBar } from '../quantity/convert.ts';
import {
  grams,
  hours,
  type Kg,
  litres,
  millimetres,
  ml,
  mlPerCmH2O,
  mlPerMin,
  psi,
  type Range,
} from '../quantity/units.ts';
import type {
  Absorber,
  Asset,
  Bag,
  BagSize,
  Check,
  Circuit,
  Cylinder,
  Every,
  Inventory,
  Machine,
  OxygenSupply,
  Scavenging,
  Vaporizer,
} from './inventory.ts';
import type { ParsedDocument } from './parse.ts';
import { buildRules } from './rules.ts';
import { selectAssets } from './select.ts';

type MachineEntry = InventoryFile['machines'][number];
type CircuitEntry = InventoryFile['circuits'][number];
type BagEntry = InventoryFile['bags'][number];
type SupplyEntry = InventoryFile['oxygen_supplies'][number];
type CheckEntry = NonNullable<InventoryFile['checks']>[number];

/** Builds the domain model. Ids may still clash and references dangle: the cross-reference stage looks at that. */
export function buildInventory(file: InventoryFile, document: ParsedDocument, bytes: Buffer): Inventory {
  const placeOf = (pointer: string) => document.source.placeAt(document.locate(pointer).value.start);
  const at = (path: string) => ({ path, place: placeOf(path) });

  const machines = file.machines.map((entry, i) => buildMachine(entry, at, `/machines/${i}`));
  const circuits = file.circuits.map((entry, i) => buildCircuit(entry, at(`/circuits/${i}`)));
  const bags = file.bags.map((entry, i) => buildBagSize(entry, at(`/bags/${i}`)));
  const supplies = file.oxygen_supplies.map((entry, i) => buildSupply(entry, at(`/oxygen_supplies/${i}`)));
  const assets = new Map<string, Asset>();
  for (const asset of allAssets(machines, circuits, bags, supplies, at)) {
    if (!assets.has(asset.id)) assets.set(asset.id, asset);
  }
  return {
    file: document.source.file,
    // Worked out when it is asked for: a screen does not show it, and loading the hashes takes a millisecond or two.
    get blob() {
      return gitBlobId(bytes);
    },
    practice: {
      name: file.practice.name,
      timeZone: file.practice.time_zone,
      openDays: file.practice.open_days,
      closedDates: file.practice.closed_dates ?? [],
    },
    rules: buildRules(file, document),
    machines,
    circuits,
    bags,
    supplies,
    checks: (file.checks ?? []).map((entry, i) => buildCheck(entry, at(`/checks/${i}`), assets.values())),
    assets,
    unfinishedLines: document.source.text.match(/\S[ \t]+#[ \t]*CHECK\b/g)?.length ?? 0,
    placeOf,
  };
}

/** The id that git gives to a file with these bytes: `git hash-object FILE` prints the same. */
export function gitBlobId(bytes: Buffer): string {
  return createHash('sha1').update(`blob ${bytes.length}\0`).update(bytes).digest('hex');
}

type At = (path: string) => Pick<Asset, 'path' | 'place'>;

function buildMachine(entry: MachineEntry, at: At, path: string): Machine {
  const inherited = { machine: entry.id, since: entry.since };
  const absorber: Absorber | null =
    entry.absorber === undefined
      ? null
      : {
          ...inherited,
          type: 'absorber',
          ...at(`${path}/absorber`),
          id: entry.absorber.id,
          since: entry.absorber.since ?? entry.since,
          absorbentG: grams(entry.absorber.absorbent_g),
        };
  const vaporizers = (entry.vaporizers ?? []).map(
    (vaporizer, i): Vaporizer => ({
      ...inherited,
      type: 'vaporizer',
      ...at(`${path}/vaporizers/${i}`),
      id: vaporizer.id,
      since: vaporizer.since ?? entry.since,
      agent: vaporizer.agent,
      minFlowMlPerMin: optional(vaporizer.min_flow_ml_min, mlPerMin),
    }),
  );
  const scavenging: Scavenging | null =
    entry.scavenging === undefined
      ? null
      : {
          ...inherited,
          type: 'scavenging',
          ...at(`${path}/scavenging`),
          id: entry.scavenging.id,
          since: entry.scavenging.since ?? entry.since,
          kind: entry.scavenging.kind,
          limitGainG: optional(entry.scavenging.limit_gain_g, grams),
          airBreak: entry.scavenging.air_break ?? false,
        };
  return {
    type: 'machine',
    ...at(path),
    id: entry.id,
    since: entry.since,
    location: entry.location ?? null,
    flowmeter: {
      maxMlPerMin: mlPerMin(entry.flowmeter.max_ml_min),
      marks: entry.flowmeter.marks.map(({ up_to_ml_min, step_ml_min }) => ({
        upToMlPerMin: mlPerMin(up_to_ml_min),
        stepMlPerMin: mlPerMin(step_ml_min),
      })),
    },
    drives: entry.drives,
    freshGasOutlet: entry.fresh_gas_outlet ?? 'at_machine',
    flushTo: entry.flush_to ?? 'outlet',
    capnograph: entry.capnograph ?? null,
    pressureGauge: entry.pressure_gauge ?? false,
    internalVolumeMl: optional(entry.internal_volume_ml, ml),
    absorber,
    vaporizers,
    scavenging,
    oxygen: entry.oxygen,
  };
}

function buildCircuit(entry: CircuitEntry, at: ReturnType<At>): Circuit {
  return {
    type: 'circuit',
    ...at,
    id: entry.id,
    kind: entry.kind,
    since: entry.since,
    weightsKg: optional(entry.weights_kg, range => range as unknown as Range<Kg>),
    pressureGauge: entry.pressure_gauge ?? false,
    boreMm: optional(entry.bore_mm, millimetres),
    volumeMl: optional(entry.volume_ml, ml),
    deadSpaceMl: optional(entry.dead_space_ml, ml),
    complianceMlPerCmH2O: optional(entry.compliance_ml_cmh2o, mlPerCmH2O),
  };
}

function buildBagSize(entry: BagEntry, at: ReturnType<At>): BagSize {
  return { ...at, sizeMl: ml(entry.size_ml), count: entry.count, ids: entry.ids ?? [] };
}

function buildSupply(entry: SupplyEntry, at: ReturnType<At>): OxygenSupply {
  const base = { type: 'supply' as const, ...at, id: entry.id, since: entry.since ?? null };
  switch (entry.kind) {
    case 'pipeline':
      return { ...base, kind: 'pipeline' };
    case 'concentrator':
      return { ...base, kind: 'concentrator', maxMlPerMin: mlPerMin(entry.max_ml_min ?? 0) };
    case 'cylinder':
      return { ...base, kind: 'cylinder', ...cylinderFigures(entry) };
  }
}

/** Pressures that are missing or in two units become NaN here; the cross-reference stage refuses them. */
function cylinderFigures(
  entry: SupplyEntry,
): Pick<Cylinder, 'cylinders' | 'capacityL' | 'fullPsi' | 'reservePsi' | 'gaugeUnit'> {
  const inBar = entry.full_bar !== undefined || entry.reserve_bar !== undefined;
  return {
    cylinders: entry.cylinders ?? 1,
    capacityL: litres(entry.capacity_l ?? Number.NaN),
    fullPsi: inBar ? psiFromBar(entry.full_bar ?? Number.NaN) : psi(entry.full_psi ?? Number.NaN),
    reservePsi: inBar ? psiFromBar(entry.reserve_bar ?? Number.NaN) : psi(entry.reserve_psi ?? Number.NaN),
    gaugeUnit: inBar ? 'bar' : 'psi',
  };
}

function buildCheck(entry: CheckEntry, at: ReturnType<At>, assets: Iterable<Asset>): Check {
  return {
    ...at,
    id: entry.id,
    assets: selectAssets([entry.of].flat(), assets).map(asset => asset.id),
    every: buildEvery(entry.every),
    after: {
      hoursInUse: optional(entry.after?.hours_in_use, hours),
      gainG: optional(entry.after?.gain_g, grams),
    },
    countedFrom: entry.counted_from ?? 'last_done',
    starting: entry.starting ?? null,
    doneBy: entry.done_by ?? 'sign_off',
    blocks: entry.blocks ?? false,
    round: entry.round ?? null,
    text: entry.text ?? null,
  };
}

/** The schema lets through one unit, and only those that are looked at here: `test/inventory/kinds.test.ts`. */
function buildEvery(every: CheckEntry['every']): Every | null {
  for (const unit of INTERVAL_UNITS) {
    const count = every?.[unit];
    if (count !== undefined) return { unit, count };
  }
  return null;
}

/** Every asset in the order of the inventory, repeated ids included. */
export function* allAssets(
  machines: readonly Machine[],
  circuits: readonly Circuit[],
  bags: readonly BagSize[],
  supplies: readonly OxygenSupply[],
  at: At,
): Generator<Asset> {
  for (const machine of machines) {
    yield machine;
    if (machine.absorber !== null) yield machine.absorber;
    yield* machine.vaporizers;
    if (machine.scavenging !== null) yield machine.scavenging;
  }
  yield* circuits;
  for (const size of bags) {
    for (const [i, id] of size.ids.entries()) {
      yield {
        type: 'bag',
        ...at(`${size.path}/ids/${i}`),
        id,
        since: null,
        sizeMl: size.sizeMl,
      } satisfies Bag;
    }
  }
  yield* supplies;
}

function optional<T, U>(value: T | undefined, convert: (value: T) => U): U | null {
  return value === undefined ? null : convert(value);
}
