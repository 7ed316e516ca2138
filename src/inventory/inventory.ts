/** The domain model: what a practice owns and how it works, with units in the names and a place for everything. */
import type { Interval } from '../calendar/interval.ts';
import type { Place } from '../problem/problem.ts';
import type {
  CmH2O,
  Fraction,
  Grams,
  Hours,
  Kg,
  Litres,
  Millimetres,
  Minutes,
  Ml,
  MlPerCmH2O,
  MlPerKg,
  MlPerKgMin,
  MlPerMin,
  Psi,
  Range,
  Seconds,
} from '../quantity/units.ts';

/** Every kind of circuit. What differs from kind to kind is a table over them, so that a new one is asked for everywhere. */
export const CIRCUIT_KINDS = ['t_piece', 'bain', 'circle_y', 'circle_coaxial'] as const;

export type CircuitKind = (typeof CIRCUIT_KINDS)[number];
export type CircuitClass = 'rebreathing' | 'non_rebreathing';
export type Drive = 'circle' | 't_piece' | 'bain';
export type Weekday = 'mon' | 'tue' | 'wed' | 'thu' | 'fri' | 'sat' | 'sun';

export const SPECIES = ['dog', 'cat', 'rabbit', 'ferret', 'other'] as const;
export type Species = (typeof SPECIES)[number];

export const PHASES = ['induction', 'maintenance', 'recovery'] as const;
export type Phase = (typeof PHASES)[number];

export const AGENTS = ['isoflurane', 'sevoflurane', 'desflurane', 'halothane'] as const;
export type Agent = (typeof AGENTS)[number];

/** One rule with its provenance. `source` says where the figure comes from, in words. */
export interface Rule<T> {
  readonly value: T;
  /** JSON pointer into the inventory, for example /rules/boundary/near_kg. */
  readonly path: string;
  /** The line in the inventory, or null for a default. */
  readonly line: number | null;
  readonly from: 'inventory' | 'default';
  readonly source: string;
}

export interface HoldRule {
  readonly pressureCmH2O: Rule<CmH2O>;
  readonly seconds: Rule<Seconds>;
  readonly dropCmH2O: Rule<CmH2O>;
  readonly makeUpMlPerMin: Rule<MlPerMin>;
}

export interface Rules {
  readonly boundary: {
    readonly nonRebreathingBelowKg: Rule<Kg>;
    readonly rebreathingAboveKg: Rule<Kg>;
    readonly between: Rule<CircuitClass>;
    readonly nearKg: Rule<Kg>;
  };
  readonly freshGasFlow: {
    readonly minimumMlPerMin: Rule<MlPerMin>;
    readonly mlPerKgMin: Readonly<Record<CircuitClass, Readonly<Record<Phase, Rule<Range<MlPerKgMin>>>>>>;
  };
  readonly circleNeverBelowKg: Rule<Kg>;
  readonly tidalVolumeMlPerKg: Rule<Range<MlPerKg>>;
  readonly tidalVolumeBySpecies: Readonly<Partial<Record<Species, Rule<Range<MlPerKg>>>>>;
  readonly reservoirBag: { readonly tidalVolumes: Rule<number>; readonly sizeAtMlPerKg: Rule<MlPerKg> };
  readonly leakHold: Readonly<Record<CircuitKind, HoldRule>> & {
    readonly withoutGaugeSeconds: Rule<Seconds>;
    readonly validFor: Rule<'case' | 'day'>;
    readonly highPressureFallPsi: Rule<Psi>;
    readonly highPressureMinutes: Rule<Minutes>;
  };
  readonly phaseMinutes: { readonly induction: Rule<Minutes>; readonly recovery: Rule<Minutes> };
  readonly turnoverMinutes: Rule<Minutes>;
  readonly absorbentLitresPer100G: Rule<number>;
  readonly deadSpaceFraction: Rule<Fraction>;
  readonly wideBoreBelowKg: Rule<Kg>;
}

export interface Practice {
  readonly name: string;
  readonly timeZone: string;
  readonly openDays: readonly Weekday[];
  /** Calendar dates, YYYY-MM-DD. */
  readonly closedDates: readonly string[];
}

interface Located {
  /** Where it stands in the inventory. */
  readonly place: Place;
  /** JSON pointer into the inventory, for example /machines/0. */
  readonly path: string;
}

/** Something with an id that the record can speak of. `since` is a calendar date, or null where none is given. */
interface AssetBase extends Located {
  readonly id: string;
  readonly since: string | null;
}

export interface Flowmeter {
  readonly maxMlPerMin: MlPerMin;
  /** The engraved marks, stretch by stretch, rising: from the end of the one before, in steps, up to `upTo`. */
  readonly marks: readonly { readonly upToMlPerMin: MlPerMin; readonly stepMlPerMin: MlPerMin }[];
}

export interface Machine extends AssetBase {
  readonly type: 'machine';
  readonly location: string | null;
  readonly flowmeter: Flowmeter;
  readonly drives: readonly Drive[];
  readonly freshGasOutlet: 'at_machine' | 'at_circle' | 'switch';
  readonly flushTo: 'outlet' | 'circle' | 'none';
  /** null: the inventory does not say. */
  readonly capnograph: boolean | null;
  /** Reads circle pressure only. */
  readonly pressureGauge: boolean;
  readonly internalVolumeMl: Ml | null;
  readonly absorber: Absorber | null;
  readonly vaporizers: readonly Vaporizer[];
  readonly scavenging: Scavenging | null;
  /** Ids of its oxygen supplies; the first in order serves. */
  readonly oxygen: readonly string[];
}

export interface Absorber extends AssetBase {
  readonly type: 'absorber';
  readonly machine: string;
  readonly absorbentG: Grams;
}

export interface Vaporizer extends AssetBase {
  readonly type: 'vaporizer';
  readonly machine: string;
  readonly agent: Agent;
  readonly minFlowMlPerMin: MlPerMin | null;
}

export interface Scavenging extends AssetBase {
  readonly type: 'scavenging';
  readonly machine: string;
  readonly kind: 'charcoal' | 'active';
  /** Charcoal only. */
  readonly limitGainG: Grams | null;
  /** Active only. */
  readonly airBreak: boolean;
}

export interface Circuit extends AssetBase {
  readonly type: 'circuit';
  readonly kind: CircuitKind;
  /** Least and greatest weight, both included; null: any weight of its class. */
  readonly weightsKg: Range<Kg> | null;
  /** Whether the circuit or the block it hangs on has a gauge of its own. */
  readonly pressureGauge: boolean;
  readonly boreMm: Millimetres | null;
  readonly volumeMl: Ml | null;
  readonly deadSpaceMl: Ml | null;
  readonly complianceMlPerCmH2O: MlPerCmH2O | null;
}

/** All bags of one size. */
export interface BagSize extends Located {
  readonly sizeMl: Ml;
  readonly count: number;
  readonly ids: readonly string[];
}

/** A single bag that has an id. */
export interface Bag extends AssetBase {
  readonly type: 'bag';
  readonly sizeMl: Ml;
}

export interface Cylinder extends AssetBase {
  readonly type: 'supply';
  readonly kind: 'cylinder';
  /** How many stand on one regulator. */
  readonly cylinders: number;
  /** Oxygen in all of them when full. */
  readonly capacityL: Litres;
  readonly fullPsi: Psi;
  readonly reservePsi: Psi;
  /** The unit in which the practice reads this gauge. */
  readonly gaugeUnit: 'psi' | 'bar';
}

export interface Pipeline extends AssetBase {
  readonly type: 'supply';
  readonly kind: 'pipeline';
}

export interface Concentrator extends AssetBase {
  readonly type: 'supply';
  readonly kind: 'concentrator';
  readonly maxMlPerMin: MlPerMin;
}

export type OxygenSupply = Cylinder | Pipeline | Concentrator;
export type Asset = Machine | Absorber | Vaporizer | Scavenging | Circuit | Bag | OxygenSupply;

/** How often a check comes round. */
export type Every = Interval;

export interface Check extends Located {
  readonly id: string;
  /** The ids of the assets it applies to, in the order of the inventory. */
  readonly assets: readonly string[];
  readonly every: Every | null;
  readonly after: { readonly hoursInUse: Hours | null; readonly gainG: Grams | null };
  readonly countedFrom: 'last_done' | 'calendar';
  /** The first date of the calendar grid, YYYY-MM-DD. */
  readonly starting: string | null;
  readonly doneBy: 'sign_off' | 'hold' | 'supply_hold' | 'reading';
  readonly blocks: boolean;
  readonly round: 'opening' | 'before_case' | 'closing' | 'weekly' | null;
  readonly text: string | null;
}

export interface Inventory {
  /** The path as it was given. */
  readonly file: string;
  /** git's blob id of the bytes that were read. */
  readonly blob: string;
  readonly practice: Practice;
  readonly rules: Rules;
  readonly machines: readonly Machine[];
  readonly circuits: readonly Circuit[];
  readonly bags: readonly BagSize[];
  readonly supplies: readonly OxygenSupply[];
  readonly checks: readonly Check[];
  /** Lines whose comment still says CHECK, as the starter leaves them. */
  readonly unfinishedLines: number;
  /** Every asset by its id: one namespace, in the order of the inventory. */
  readonly assets: ReadonlyMap<string, Asset>;
  /** The place of a JSON pointer, or of the nearest thing above it that exists. */
  placeOf(pointer: string): Place;
}

interface KindFacts {
  readonly circuitClass: CircuitClass;
  readonly drive: Drive;
  readonly innerTube: boolean;
}

/** Written out for every kind: what a new one silently took over from another could be a wrong flow or a test left out. */
const KIND_FACTS: Readonly<Record<CircuitKind, KindFacts>> = {
  t_piece: { circuitClass: 'non_rebreathing', drive: 't_piece', innerTube: false },
  bain: { circuitClass: 'non_rebreathing', drive: 'bain', innerTube: true },
  circle_y: { circuitClass: 'rebreathing', drive: 'circle', innerTube: false },
  circle_coaxial: { circuitClass: 'rebreathing', drive: 'circle', innerTube: true },
};

/** @example classOf('bain') //=> 'non_rebreathing' */
export function classOf(kind: CircuitKind): CircuitClass {
  return KIND_FACTS[kind].circuitClass;
}

/** What a machine must drive for this kind. @example driveOf('circle_coaxial') //=> 'circle' */
export function driveOf(kind: CircuitKind): Drive {
  return KIND_FACTS[kind].drive;
}

/**
 * Whether a gauge shows a pair's pressure: the circuit's own, or the machine's, which reads circle pressure only.
 *
 * @example hasGauge(tPiece, machineWithGauge) //=> false
 */
export function hasGauge(circuit: Circuit, machine: Machine): boolean {
  return circuit.pressureGauge || (machine.pressureGauge && classOf(circuit.kind) === 'rebreathing');
}

/** Whether the kind has a tube within a tube, which needs a test of its own. @example hasInnerTube('bain') //=> true */
export function hasInnerTube(kind: CircuitKind): boolean {
  return KIND_FACTS[kind].innerTube;
}
