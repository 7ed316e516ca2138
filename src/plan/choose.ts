/** The pair to use: the first circuit, on the first machine, that fits, in the practice's own order of preference. */
import { type CircuitClass, classOf } from '../inventory/inventory.ts';
import {
  type FitCase,
  MISFIT_CODES,
  type Misfit,
  type MisfitCode,
  misfitsOf,
  type Pair,
  wrongClass,
} from './fit.ts';

/** A pair that was not taken, and why. */
export interface PassedOver {
  readonly circuit: string;
  readonly machine: string;
  readonly code: MisfitCode;
  readonly reason: string;
}

export interface Choice {
  readonly pair: Pair | null;
  /** What does not fit but was forced. */
  readonly misfits: readonly Misfit[];
  /** The pairs looked at before the one taken; all of them where none was. */
  readonly passedOver: readonly PassedOver[];
}

/** Ids that force the choice; null leaves it free. */
export interface Forced {
  readonly circuit: string | null;
  readonly machine: string | null;
}

/**
 * The pair of a class. What was forced is taken although it does not fit; the part that was left free must still fit by
 * itself.
 *
 * @example choosePair('non_rebreathing', fit, { circuit: null, machine: null }).pair?.circuit.id //=> 'bain-1'
 */
export function choosePair(circuitClass: CircuitClass, fit: FitCase, forced: Forced): Choice {
  const isForced = forced.circuit !== null || forced.machine !== null;
  const passedOver: PassedOver[] = [];
  const tolerated: { pair: Pair; misfits: Misfit[]; entry: PassedOver }[] = [];
  for (const pair of pairs(fit, forced)) {
    const misfits = pairMisfits(pair, circuitClass, fit);
    const [worst] = misfits;
    if (worst === undefined) return { pair, misfits: [], passedOver };
    const { circuit, machine } = pair;
    const entry = { circuit: circuit.id, machine: machine.id, code: worst.code, reason: worst.reason };
    passedOver.push(entry);
    if (isForced && misfits.every(misfit => isTolerated(misfit, forced)))
      tolerated.push({ pair, misfits, entry });
  }
  // Of several that only the force makes possible, the one with the least against it.
  const [best] = tolerated.sort((a, b) => a.misfits.length - b.misfits.length);
  if (best === undefined) return { pair: null, misfits: [], passedOver };
  const { pair, misfits } = best;
  return { pair, misfits, passedOver: passedOver.filter(entry => entry !== best.entry) };
}

/** A non-rebreathing pair for a patient of the rebreathing class: only circuits whose stated weights include the patient. */
export function chooseSubstitute(fit: FitCase, machine: string | null): Choice {
  return chooseFitting('non_rebreathing', withStatedWeightsOnly(fit), machine);
}

/** A pair of a class that fits without any force, on the machine that was named where one was. */
export function chooseFitting(circuitClass: CircuitClass, fit: FitCase, machine: string | null): Choice {
  // By leaving the other machines out instead of forcing this one: what force alone would take keeps its reason in the list.
  const machines = fit.inventory.machines.filter(({ id }) => machine === null || id === machine);
  const there = { ...fit, inventory: { ...fit.inventory, machines } };
  return choosePair(circuitClass, there, { circuit: null, machine: null });
}

/**
 * The nearest reason for each circuit: of the machines it was tried on, the one where it came furthest. Circuits of another
 * class are left out: they go without saying.
 *
 * @example nearestMisses(choice.passedOver)[0]?.reason //=> 'is for 0.5 to 5 kg'
 */
export function nearestMisses(passedOver: readonly PassedOver[]): PassedOver[] {
  const rank = ({ code }: PassedOver) => MISFIT_CODES.indexOf(code);
  const nearest = new Map<string, PassedOver>();
  for (const miss of passedOver) {
    const best = nearest.get(miss.circuit);
    if (miss.code !== 'wrong_class' && (best === undefined || rank(miss) > rank(best)))
      nearest.set(miss.circuit, miss);
  }
  return [...nearest.values()];
}

function withStatedWeightsOnly(fit: FitCase): FitCase {
  const circuits = fit.inventory.circuits.filter(({ weightsKg }) => weightsKg !== null);
  return { ...fit, inventory: { ...fit.inventory, circuits } };
}

function pairMisfits(pair: Pair, circuitClass: CircuitClass, fit: FitCase): Misfit[] {
  return classOf(pair.circuit.kind) === circuitClass ? misfitsOf(pair, fit) : [wrongClass(circuitClass)];
}

function* pairs({ inventory }: FitCase, forced: Forced): Generator<Pair> {
  for (const circuit of inventory.circuits) {
    if (forced.circuit !== null && circuit.id !== forced.circuit) continue;
    for (const machine of inventory.machines) {
      if (forced.machine === null || machine.id === forced.machine) yield { circuit, machine };
    }
  }
}

function isTolerated({ code, part }: Misfit, { circuit, machine }: Forced): boolean {
  if (code === 'wrong_class') return false;
  if (circuit !== null && machine !== null) return true;
  // A machine that does not drive the circuit helps nobody, unless both were named.
  if (code === 'not_driven') return false;
  return part === 'pair' || (part === 'circuit' ? circuit !== null : machine !== null);
}
