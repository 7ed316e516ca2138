/** What the due report must know of one line, as plain numbers. One object serves all lines. */
import type { Entry } from '../../generated/entry.ts';
import type { Agent } from '../../inventory/inventory.ts';
import { HOLD, READING, RETURN, SIGN_OFF, SUPPLY_HOLD, USAGE, WITHDRAW } from './kernel/layout.ts';
import { hashOf, type Names } from './names.ts';

/** The kinds of entry that are always parsed, numbered on. */
export const CORRECT = 8;
const COMPLIANCE = 9;

/** Agents are numbered from 1; 0: not said. */
export const AGENTS: readonly Agent[] = ['isoflurane', 'sevoflurane', 'desflurane', 'halothane'];

/** Asset and check ids, numbered. */
export interface Vocabulary {
  /** First those of the inventory, in its order; then whatever else the record names. */
  readonly assets: Names;
  /** The checks of the inventory alone. */
  readonly checks: Names;
}

export class LineFacts {
  kind = 0;
  /** Where its id stands in the block; both 0 where the line was parsed, then `id` has it. */
  idStart = 0;
  idEnd = 0;
  /** Where its `at` and its `prev` stand in the block, of a line that was not parsed. */
  atStart = 0;
  prevStart = 0;
  /** Of a line that was not parsed. */
  station = '';
  /** Whether `on` says the same as `at`, of a line that was not parsed. */
  isDoneWhenEntered = false;
  id = '';
  /** Of usage and readings. */
  idHash = 0;
  /** Times and figures, in an array: as fields each would be an object of its own. */
  readonly #figures = new Float64Array(8);
  /** The date on which it was done, as the number YYYYMMDD. */
  date = 0;
  /** The asset, supply or circuit; of usage the machine. */
  asset = -1;
  /** Of a hold the machine, of usage the circuit. */
  other = -1;
  /** -1: none that the inventory has. */
  check = -1;
  /** sign_off, hold, supply_hold. */
  isPass = false;
  isPopOffOpen = false;
  /** reading */
  isNew = false;
  /** usage */
  agent = 0;
  /** correct: the id that no longer counts. */
  entry = '';

  /** When it counts as done, in ms since 1970. */
  get on(): number {
    return this.#figures[0] ?? 0;
  }

  set on(ms: number) {
    this.#figures[0] = ms;
  }

  /** When it was entered, in ms since 1970. */
  get at(): number {
    return this.#figures[1] ?? 0;
  }

  set at(ms: number) {
    this.#figures[1] = ms;
  }

  /** Where the line stands: `placeOf` its file and byte. */
  get place(): number {
    return this.#figures[2] ?? 0;
  }

  set place(place: number) {
    this.#figures[2] = place;
  }

  /** The number that the line gives itself, of a line that was not parsed; NaN: none. */
  get n(): number {
    return this.#figures[7] ?? 0;
  }

  set n(value: number) {
    this.#figures[7] = value;
  }

  /** Of a reading, in grams; NaN: it was no weighing. */
  get g(): number {
    return this.#figures[3] ?? 0;
  }

  set g(value: number) {
    this.#figures[3] = value;
  }

  /** Of usage. */
  get minutes(): number {
    return this.#figures[4] ?? 0;
  }

  set minutes(value: number) {
    this.#figures[4] = value;
  }

  /** Of usage. */
  get flowMlPerMin(): number {
    return this.#figures[5] ?? 0;
  }

  set flowMlPerMin(value: number) {
    this.#figures[5] = value;
  }

  /** Of usage; NaN: not said. */
  get settingPercent(): number {
    return this.#figures[6] ?? 0;
  }

  set settingPercent(value: number) {
    this.#figures[6] = value;
  }
}

/** The facts of a line that was parsed. @param doneAt - `doneAtMs` of the practice's zone. */
export function factsOf(
  entry: Entry,
  facts: LineFacts,
  { assets, checks }: Vocabulary,
  doneAt: (entry: Entry) => number,
): void {
  facts.id = entry.id;
  facts.idStart = 0;
  facts.idEnd = 0;
  facts.idHash = hashOf(entry.id);
  facts.on = doneAt(entry);
  facts.at = Date.parse(entry.at);
  facts.date = dateNumber(entry.on);
  switch (entry.kind) {
    case 'hold':
      facts.kind = HOLD;
      facts.asset = assets.indexOf(entry.circuit);
      facts.other = assets.indexOf(entry.machine);
      facts.isPass = entry.result === 'pass';
      facts.isPopOffOpen = entry.pop_off === 'open';
      break;
    case 'supply_hold':
      facts.kind = SUPPLY_HOLD;
      facts.asset = assets.indexOf(entry.supply);
      facts.isPass = entry.result === 'pass';
      break;
    case 'sign_off':
      facts.kind = SIGN_OFF;
      facts.asset = assets.indexOf(entry.asset);
      facts.check = checks.texts.indexOf(entry.check);
      facts.isPass = entry.result === 'pass';
      break;
    case 'reading':
      facts.kind = READING;
      facts.asset = assets.indexOf(entry.asset);
      facts.isNew = entry.new;
      facts.g = entry.g ?? Number.NaN;
      break;
    case 'withdraw':
      facts.kind = WITHDRAW;
      facts.asset = assets.indexOf(entry.asset);
      break;
    case 'return':
      facts.kind = RETURN;
      facts.asset = assets.indexOf(entry.asset);
      break;
    case 'usage':
      facts.kind = USAGE;
      facts.asset = assets.indexOf(entry.machine);
      facts.other = assets.indexOf(entry.circuit);
      facts.minutes = entry.minutes;
      facts.flowMlPerMin = entry.flow_ml_min;
      facts.agent = entry.agent === undefined ? 0 : AGENTS.indexOf(entry.agent) + 1;
      facts.settingPercent = entry.setting_percent ?? Number.NaN;
      break;
    case 'correct':
      facts.kind = CORRECT;
      facts.entry = entry.entry;
      break;
    case 'compliance':
      facts.kind = COMPLIANCE;
      break;
  }
}

/** @example dateNumber('2026-11-25') //=> 20261125 */
export function dateNumber(date: string): number {
  return Number(date.slice(0, 4)) * 10_000 + Number(date.slice(5, 7)) * 100 + Number(date.slice(8, 10));
}

/** @example dateText(20261125) //=> '2026-11-25' */
export function dateText(date: number): string {
  const digits = String(date).padStart(8, '0');
  return `${digits.slice(0, 4)}-${digits.slice(4, 6)}-${digits.slice(6)}`;
}
