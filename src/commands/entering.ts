/**
 * What every command that writes has in common: its options, the look into inventory and record, and the one way in which
 * an entry is written and reported. Nothing is written while a problem stands.
 */
import { type Command, Option } from 'commander';
import { type CalendarDate, timestampIn } from '../calendar/zone.ts';
import type { Asset, Inventory } from '../inventory/inventory.ts';
import { didYouMean } from '../problem/nearest.ts';
import { type Problem, problem, Refusal } from '../problem/problem.ts';
import type { Parsed } from '../quantity/parse.ts';
import { type Appended, appendEntry } from '../record/append.ts';
import type { EntryDraft } from '../record/draft.ts';
import { stateFolder } from '../record/head.ts';
import { doneAtMs } from '../record/order.ts';
import { type RecordRead, readRecord } from '../record/read.ts';
import { foldStanding } from '../record/standing.ts';
import type { Done, Standing } from '../record/standing-types.ts';
import { stationName } from '../record/station.ts';
import { printCautions } from '../report/cautions.ts';
import { renderEntryJson } from '../report/entry-json.ts';
import type { Context } from './context.ts';
import {
  type FileOptions,
  inventoryOption,
  openInventory,
  recordFolder,
  recordNamedBy,
  recordOption,
} from './files.ts';
import { readWhen } from './when.ts';

export interface WritingOptions extends FileOptions {
  readonly by?: string;
  readonly on?: string;
  readonly note?: string;
  readonly id?: string;
  readonly json?: boolean;
}

/** Adds what every writing command takes. */
export function writingOptions(command: Command): Command {
  command
    .option('--by <who>', 'who did it; else HOLDFAST_BY')
    .option('--on <time>', 'when it was done, as 2026-11-25 or 2026-11-25T08:14; else now')
    .option('--note <text>', 'anything to add')
    .addOption(new Option('--id <id>', 'the id of an earlier try, so that nothing is entered twice'))
    .option('--json', 'print the entry as JSON');
  return recordOption(inventoryOption(command));
}

/** Limits of schemas/record.schema.json, in characters. */
export const TEXT_LIMITS = { by: 200, note: 4000, because: 1000, case: 80 } as const;

/** What is common to all drafts: the keys that the desk fills in. */
export interface Signed {
  readonly by: string;
  readonly on?: string;
  readonly note?: string;
  readonly inventory: string;
}

/**
 * The place where an entry is made out: problems are gathered, all of them, and `write` refuses while there are any.
 */
export class Desk {
  readonly context: Context;
  readonly inventory: Inventory;
  readonly recordDir: string;
  readonly problems: Problem[] = [];
  readonly cautions: Problem[] = [];
  readonly #options: WritingOptions;
  readonly #timeNeeded: boolean;
  #now: Date;
  #isStationTold = false;
  #isRecordTold = false;
  #record: RecordRead | null = null;
  #standing: Standing | null = null;

  constructor(
    context: Context,
    options: WritingOptions,
    { timeNeeded = false }: { timeNeeded?: boolean } = {},
  ) {
    this.context = context;
    this.#now = context.now();
    this.inventory = openInventory(context, options, this.now);
    this.recordDir = recordFolder(context, options, this.inventory.file);
    this.#options = options;
    this.#timeNeeded = timeNeeded;
  }

  /** The record as it is now, read once and only when asked for. What is wrong with it is said on stderr. */
  get record(): RecordRead {
    if (this.#record === null) {
      this.#record = readRecord(this.recordDir, {
        timeZone: this.timeZone,
        stateDir: stateFolder(this.context.env),
      });
      printCautions([...this.#record.damage, ...this.#record.cautions], this.context);
    }
    return this.#record;
  }

  get standing(): Standing {
    this.#standing ??= foldStanding(this.inventory, this.record.entries);
    return this.#standing;
  }

  /** The command's reading of the clock. */
  get now(): Date {
    return this.#now;
  }

  /** After a person was led through a test, which took a while. */
  readClockAgain(): void {
    this.#now = this.context.now();
  }

  /** Looks again, after an entry was written. */
  standingAnew(): Standing {
    this.#record = null;
    this.#standing = null;
    return this.standing;
  }

  get timeZone(): string {
    return this.inventory.practice.timeZone;
  }

  get today(): CalendarDate {
    return timestampIn(this.timeZone, this.now).slice(0, 10);
  }

  /**
   * Whether something said to be done at `on` (undefined: now) comes before another entry in the order of the record. What is
   * entered late changes nothing that was done since.
   */
  comesBefore(on: string | undefined, { on: otherOn, at }: Pick<Done, 'on' | 'at'>): boolean {
    const doneAt = doneAtMs(this.timeZone);
    const now = timestampIn(this.timeZone, this.now);
    return doneAt({ on: on ?? now, at: now }) < doneAt({ on: otherOn, at });
  }

  /** Whether `--id` names an entry that is there already: then what was true before it no longer is, and is not asked. */
  get isRetry(): boolean {
    const { id } = this.#options;
    return id !== undefined && this.record.entries.some(entry => entry.id === id);
  }

  problem(...of: Parameters<typeof problem>): void {
    this.problems.push(problem(...of));
  }

  caution(...of: Parameters<typeof problem>): void {
    this.cautions.push(problem(...of));
  }

  /** The asset with this id, or a problem with the nearest known one. */
  asset(id: string): Asset | null {
    const asset = this.inventory.assets.get(id);
    if (asset !== undefined) return asset;
    this.problem(
      'asset_unknown',
      `the inventory has no '${id}'`,
      didYouMean(id, [...this.inventory.assets.keys()]),
    );
    return null;
  }

  /** The one of these with this id, or a problem: unknown, or known as something else. */
  oneOf<A extends Asset>(id: string, those: readonly A[], what: string): A | null {
    const found = those.find(one => one.id === id);
    if (found !== undefined) return found;
    const other = this.inventory.assets.get(id);
    const known = those.map(one => one.id);
    if (other === undefined)
      this.problem('asset_unknown', `the inventory has no ${what} '${id}'`, didYouMean(id, known));
    else
      this.problem(
        'asset_kind',
        `'${id}' is ${article(other.type)}, and ${article(what)} is needed`,
        didYouMean(id, known),
      );
    return null;
  }

  /** A quantity read from an option, or a problem that names the option and the forms it takes. */
  quantity<T>(option: string, text: string | undefined, parse: (text: string) => Parsed<T>): T | undefined {
    if (text === undefined) return undefined;
    const parsed = parse(text);
    if (parsed.ok) return parsed.value;
    this.problem(
      'quantity_not_understood',
      `${option}: ${parsed.message}`,
      `write it as one of ${parsed.forms}`,
    );
    return undefined;
  }

  /** A text within its limit, or a problem that names the limit. */
  text(option: string, text: string, most: number): string {
    const length = [...text].length;
    if (length > most) {
      this.problem(
        'text_length',
        `${option} has ${length} characters; the record takes ${most}`,
        `shorten it to ${most} characters`,
      );
    } else if (text.trim() === '') {
      this.problem('text_length', `${option} is empty`, `write at least one character, or leave it out`);
    }
    return text;
  }

  /** A figure within what the record takes, or a problem that names the limits. */
  within(option: string, value: number | undefined, least: number, most: number, unit: string): void {
    if (value === undefined || (value >= least && value <= most)) return;
    this.problem(
      'entry_value',
      `${option}: ${value} ${unit} is outside ${least} to ${most} ${unit}`,
      'check the unit and the decimal point',
    );
  }

  /**
   * Who, when, note and inventory, with their problems.
   *
   * @param about - the assets that the entry speaks of: what was done before they were in service cautions.
   */
  sign(about: readonly (Asset | null)[]): Signed {
    const { by = this.context.env.HOLDFAST_BY ?? '', note, on } = this.#options;
    if (by.trim() === '')
      this.problem('who_missing', 'nobody is named who did it', 'add --by NAME, or set HOLDFAST_BY');
    else this.text('--by', by, TEXT_LIMITS.by);
    if (note !== undefined) this.text('--note', note, TEXT_LIMITS.note);
    const when =
      on === undefined
        ? undefined
        : readWhen(on, { timeZone: this.timeZone, now: this.now, timeNeeded: this.#timeNeeded });
    if (when !== undefined && typeof when !== 'string') this.problems.push(when);
    const date = typeof when === 'string' ? when.slice(0, 10) : this.today;
    for (const asset of about) {
      if (asset === null || asset.since === null || date >= asset.since) continue;
      const message = `${date} is before ${asset.id} was in service (since ${asset.since})`;
      this.caution('before_in_service', message, 'check the date, and since in the inventory');
    }
    return {
      by,
      ...(typeof when === 'string' ? { on: when } : {}),
      ...(note === undefined ? {} : { note }),
      inventory: this.inventory.blob,
    };
  }

  /** @throws Refusal (exit 2) with every problem gathered so far. */
  ensureSound(): void {
    if (this.problems.length > 0) throw new Refusal(this.problems);
  }

  /**
   * Writes the entry and says so: `told`, then where it stands; with --json the entry alone. Cautions go to stderr.
   *
   * @param told - whole lines; the first is the answer.
   * @param more - added to the JSON, for example what was judged.
   * @throws Refusal: exit 2 with every problem gathered, exit 3 where the record cannot be written.
   */
  async write(
    draft: EntryDraft,
    told: string,
    more: Readonly<Record<string, unknown>> = {},
  ): Promise<Appended> {
    this.ensureSound();
    const { context } = this;
    const appended = await this.#append(draft, this.#options.id);
    const { entry, already } = appended;
    const cautions = [...this.cautions, ...appended.cautions];
    printCautions(cautions, context);
    if (this.#options.json) context.out(renderEntryJson(appended, cautions, more));
    else context.out(`${told}${already ? 'Was recorded already' : 'Recorded'} as ${entry.id}.\n`);
    return appended;
  }

  /**
   * Writes several entries that belong together, one after the other, and says so once. With `--id` each gets a number
   * behind it, so that a retry recognises those that were written.
   *
   * @throws Refusal as `write`; the entries before the one that failed are recorded, and it is said which.
   */
  async writeAll(drafts: readonly EntryDraft[], told: string): Promise<void> {
    this.ensureSound();
    const { context } = this;
    const { id, json } = this.#options;
    const done: Appended[] = [];
    try {
      for (const [i, draft] of drafts.entries()) {
        done.push(await this.#append(draft, id === undefined ? undefined : `${id}-${i + 1}`));
      }
    } finally {
      printCautions([...this.cautions, ...done.flatMap(({ cautions }) => cautions)], context);
      if (done.length < drafts.length) {
        context.err(
          `recorded: ${done.length} of ${drafts.length} entries${done.length === 0 ? '' : `, up to ${done.at(-1)?.entry.id}`}\n`,
        );
      }
    }
    // One object a line; what is said of the whole stands in the first.
    const own = (i: number) => (i === 0 ? this.cautions : []);
    const line = (appended: Appended, i: number) =>
      renderEntryJson(appended, [...own(i), ...appended.cautions], {});
    if (json) context.out(done.map(line).join(''));
    else context.out(`${told}${recordedAs(done)}\n`);
  }

  async #append(draft: EntryDraft, id: string | undefined): Promise<Appended> {
    const { context } = this;
    const station = stationName(context.env.HOLDFAST_STATION, context.hostname);
    const name = recordNamedBy(context, this.#options);
    if (name !== null && !this.record.exists && !this.#isRecordTold) {
      this.#isRecordTold = true;
      this.caution(
        'record_new',
        `${name} names ${this.recordDir}, and there was no such folder: this entry begins a new record in it`,
        'if the record lies elsewhere, correct the name, and enter this there',
      );
    }
    const others = this.record.stations.map(one => one.station).filter(name => name !== station);
    if (
      others.length > 0 &&
      !this.record.stations.some(one => one.station === station) &&
      !this.#isStationTold
    ) {
      this.#isStationTold = true;
      this.caution(
        'station_new',
        `'${station}' is a new station of this record, beside ${others.join(', ')}`,
        `set HOLDFAST_STATION if this workplace is one of them`,
      );
    }
    return appendEntry({
      recordDir: this.recordDir,
      station,
      draft,
      id,
      now: this.now,
      timeZone: this.timeZone,
      stateDir: stateFolder(context.env),
    });
  }
}

function recordedAs(done: readonly Appended[]): string {
  const [first] = done;
  if (done.length === 1) return `Recorded as ${first?.entry.id}.`;
  return `Recorded as ${done.length} entries, ${first?.entry.id} to ${done.at(-1)?.entry.id}.`;
}

function article(noun: string): string {
  return `${/^[aeiou]/.test(noun) ? 'an' : 'a'} ${noun}`;
}
