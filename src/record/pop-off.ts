/** Which pop-off was last left shut, or found stuck, and not seen open since. Pure. */
import type { HoldEntry } from '../generated/entry.ts';
import { classOf, type Inventory } from '../inventory/inventory.ts';
import type { Done, HoldDone, PairStanding, Standing } from './standing-types.ts';

/** The built-in check that answers a pop-off left shut. It stands in no inventory. */
export const POP_OFF_CHECK = 'pop-off-open';

const WORDS: Readonly<Record<HoldEntry['pop_off'], string | null>> = {
  open: null,
  shut: 'it was left shut after the leak test',
  stuck: 'the pressure did not fall when it was opened after the leak test',
};

/** What nobody has answered yet of a pop-off. */
export interface OpenPopOff {
  readonly done: Done;
  /** In words: left shut, stuck, or signed off as not opening. Whose test or sign-off it was may follow: `… of y-large`. */
  readonly because: string;
  /** The circuit that was on when it was left so, and the machine; null: it was on none. */
  readonly circuit: string;
  readonly machine: string | null;
  /** The command that says it was seen open. */
  readonly answer: string;
}

type Word = Omit<OpenPopOff, 'because' | 'answer'> & { readonly because: string | null };

/**
 * The last word on the pop-off of a pair: of the pair itself, and of the valve, which a circle shares with every other circle
 * on its machine, and which a T-piece and a Bain take along from machine to machine.
 *
 * @returns null: it was seen open, or never tested.
 * @example openPopOff(standing, inventory, 'coaxial-1', 'theatre-1')?.circuit //=> 'y-large', which left it shut there
 */
export function openPopOff(
  standing: Standing,
  inventory: Inventory,
  circuit: string,
  machine: string,
): OpenPopOff | null {
  const isOnMachine = isCircle(inventory, circuit);
  const isOwn = (pair: PairStanding) => pair.circuit === circuit && pair.machine === machine;
  const sharesValve = (pair: PairStanding) =>
    isOnMachine ? pair.machine === machine && isCircle(inventory, pair.circuit) : pair.circuit === circuit;
  const pairs = [...standing.pairs.values()];
  for (const some of [pairs.filter(isOwn), pairs.filter(sharesValve)]) {
    const circuits = new Set([circuit, ...some.map(pair => pair.circuit)]);
    const words = [
      ...some.flatMap(({ holds }) => wordOfHold(holds.at(-1))),
      ...[...circuits].flatMap(one => wordsOfSignOffs(standing, one, isOnMachine ? machine : null)),
    ];
    const last = words.sort((a, b) => a.done.order - b.done.order).at(-1);
    if (last === undefined || last.because === null) continue;
    return { ...last, because: last.because, answer: answerTo(standing, last, isOnMachine) };
  }
  return null;
}

/** A circuit that has left the inventory may have been a circle. */
function isCircle(inventory: Inventory, circuit: string): boolean {
  const kind = inventory.circuits.find(({ id }) => id === circuit)?.kind;
  return kind === undefined || classOf(kind) === 'rebreathing';
}

/** A sign-off speaks of the machine on which the circuit was last held: of another only a new test can. */
function answerTo(standing: Standing, { circuit, machine }: Word, isOnMachine: boolean): string {
  const isElsewhere = isOnMachine && machine !== null && lastHeldOn(standing, circuit, null) !== machine;
  return isElsewhere
    ? `holdfast hold ${circuit} --machine ${machine}`
    : `holdfast sign-off ${circuit} ${POP_OFF_CHECK}`;
}

function wordOfHold(hold: HoldDone | undefined): Word[] {
  if (hold === undefined) return [];
  const { circuit, machine, pop_off } = hold.entry;
  return [{ done: hold.done, because: WORDS[pop_off], circuit, machine }];
}

/**
 * What was signed off of a circuit's pop-off. A circle's sits on the machine: then only what was signed off while the circuit
 * was last held on that machine speaks of it.
 *
 * @param machine - null: the valve is the circuit's own.
 */
function wordsOfSignOffs(standing: Standing, circuit: string, machine: string | null): Word[] {
  const answers = standing.assets.get(circuit)?.popOffAnswers ?? [];
  return answers.flatMap(({ done, result }): Word[] => {
    const heldOn = lastHeldOn(standing, circuit, done);
    if (machine !== null && heldOn !== null && heldOn !== machine) return [];
    const because = result === 'fail' ? 'it did not open at the sign-off' : null;
    return [{ done, because, circuit, machine: heldOn }];
  });
}

/** The machine on which a circuit was last held, before something was done or ever; null: on none. */
function lastHeldOn(standing: Standing, circuit: string, before: Done | null): string | null {
  let last: HoldDone | null = null;
  for (const pair of standing.pairs.values()) {
    if (pair.circuit !== circuit) continue;
    const hold = pair.holds.findLast(({ done }) => before === null || done.order < before.order);
    if (hold !== undefined && (last === null || hold.done.order > last.done.order)) last = hold;
  }
  return last?.entry.machine ?? null;
}
