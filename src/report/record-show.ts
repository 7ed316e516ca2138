/** The record for a person: entries, and what stands open. */
import type { Entry } from '../generated/entry.ts';
import type { Inventory } from '../inventory/inventory.ts';
import type { OpenItem } from '../record/open-items.ts';
import type { Standing } from '../record/standing-types.ts';
import { findSuspects } from '../record/suspects.ts';
import { entryWords, seenWords } from './entry-words.ts';
import type { RecordState } from './record-damaged.ts';
import { safeJson, safeText } from './safe-text.ts';
import { lookLine, moment, suspectLines } from './suspect-words.ts';
import { counted, wrap } from './text.ts';

/** Entries with the corrections that cancel them. */
export interface Shown {
  readonly entries: readonly Entry[];
  /** By the id of the entry that was cancelled. */
  readonly cancelledBy: ReadonlyMap<string, Entry>;
}

/** Which correction cancels which entry. A correction of a correction cancels nothing. */
export function cancellations(all: readonly Entry[]): Map<string, Entry> {
  const kinds = new Map(all.map(entry => [entry.id, entry.kind]));
  const found = new Map<string, Entry>();
  for (const entry of all) {
    if (entry.kind === 'correct' && kinds.get(entry.entry) !== 'correct' && !found.has(entry.entry))
      found.set(entry.entry, entry);
  }
  return found;
}

/** Two lines an entry, the oldest first: when and what, then who and the id; then the note. */
export function renderEntries({ entries, cancelledBy }: Shown, inventory: Inventory, width: number): string {
  const blocks = entries.map(entry => renderEntry(entry, cancelledBy.get(entry.id), inventory, width));
  const total =
    cancelledBy.size === 0
      ? ''
      : `, ${entries.filter(({ id }) => cancelledBy.has(id)).length} of them cancelled`;
  return `${blocks.join('\n')}${blocks.length === 0 ? '' : '\n\n'}${counted(entries.length, 'entry', 'entries')}${total}\n`;
}

const INDENT = ' '.repeat(18);

function renderEntry(
  entry: Entry,
  cancelled: Entry | undefined,
  inventory: Inventory,
  width: number,
): string {
  const struck = cancelled === undefined ? '' : 'CANCELLED ';
  const lines = [
    wrap(`${struck}${entryWords(entry, inventory)}`, width, moment(entry.on).padEnd(18), INDENT),
  ];
  const entered = entry.on === entry.at ? '' : `, entered ${moment(entry.at)}`;
  lines.push(wrap(`${safeText(entry.by)}, ${entry.station}${entered}, ${entry.id}`, width, INDENT));
  if (entry.note !== undefined) lines.push(wrap(`note: ${safeText(entry.note)}`, width, INDENT));
  if (cancelled?.kind === 'correct') {
    lines.push(
      wrap(
        `cancelled by ${safeText(cancelled.by)}, ${moment(cancelled.on)}: ${safeText(cancelled.because)}`,
        width,
        INDENT,
      ),
    );
  }
  return lines.join('\n');
}

/** `{"format":"holdfast.record/1","record","entries":[{…,"cancelled_by":id}]}`. */
export function renderEntriesJson({ entries, cancelledBy }: Shown, record: RecordState): string {
  const plain = entries.map(entry => ({ ...entry, cancelled_by: cancelledBy.get(entry.id)?.id ?? null }));
  return `${safeJson({ format: 'holdfast.record/1', record, entries: plain })}\n`;
}

export interface OpenShown {
  readonly items: readonly OpenItem[];
  readonly standing: Standing;
  readonly inventory: Inventory;
  readonly entries: readonly Entry[];
  readonly today: string;
}

/** The list to hand to the engineer: a box to tick, what, why, since when, who says so, and for a leak where to look. */
export function renderOpen({ items, standing, inventory, entries, today }: OpenShown, width: number): string {
  const title = `Out of service at ${safeText(inventory.practice.name)}, ${today}`;
  if (items.length === 0) return `${title}: nothing.\n`;
  const notes = new Map(entries.map(({ id, note }) => [id, note]));
  const blocks = items.map((item, i) => {
    const { done } = item;
    const note = notes.get(done.entry);
    return [
      wrap(openWords(item, inventory), width, `[ ] ${i + 1}. `, '       '),
      wrap(`${moment(done.on)}, ${safeText(done.by)}, ${done.entry}`, width, '       '),
      ...(note === undefined ? [] : [wrap(`note: ${safeText(note)}`, width, '       ')]),
      ...leakLines(item, standing, inventory, width - 7).map(line => line.replace(/^/gm, '       ')),
    ].join('\n');
  });
  const [first, ...rest] = blocks;
  return `${[`${title}: ${counted(items.length, 'item')}.\n`, first, ...rest].join('\n')}\n\nMended by ____________________   on ____________________\n`;
}

function openWords({ what, assets, check, because, hold }: OpenItem, inventory: Inventory): string {
  const [first = '', second = ''] = assets.map(id => named(id, inventory));
  switch (what) {
    case 'withdrawn':
      return `${first}: withdrawn. ${safeText(because)}`;
    case 'failed_hold':
      return `${first} on ${second}: leak test failed, ${because} (${hold === null ? '' : seenWords(hold.entry)})`;
    case 'pop_off':
      return `${first} on ${second}: the pop-off has not been seen to open; ${because}`;
    case 'failed_check':
      return `${first}: ${check} failed`;
    case 'failed_supply_hold':
      return `${first}: high-pressure test failed, ${because}`;
  }
}

/** An id with what it is, for someone who does not know the ids. @example named('bain-1', inventory) //=> 'bain-1 (Bain)' */
function named(id: string, { assets }: Inventory): string {
  const asset = assets.get(id);
  if (asset === undefined) return `${id} (no longer in the inventory)`;
  switch (asset.type) {
    case 'circuit':
      return `${id} (${CIRCUIT_WORDS[asset.kind]})`;
    case 'machine':
      return asset.location === null ? `${id} (machine)` : `${id} (machine, ${safeText(asset.location)})`;
    case 'supply':
      return `${id} (${asset.kind})`;
    case 'vaporizer':
      return `${id} (${asset.agent} vaporizer on ${asset.machine})`;
    case 'absorber':
    case 'scavenging':
      return `${id} (${asset.type} of ${asset.machine})`;
    case 'bag':
      return `${id} (bag)`;
  }
}

const CIRCUIT_WORDS = {
  t_piece: 'T-piece',
  bain: 'Bain',
  circle_y: 'circle',
  circle_coaxial: 'coaxial circle',
} as const;

function leakLines(
  { what, hold, assets }: OpenItem,
  standing: Standing,
  inventory: Inventory,
  width: number,
): string[] {
  const kind = inventory.circuits.find(({ id }) => id === assets[0])?.kind;
  if (what !== 'failed_hold' || hold === null || kind === undefined) return [];
  if (hold.entry.reason === 'pop_off_stuck') return [];
  const groups = findSuspects(standing, inventory);
  const group = groups.find(({ failures }) => failures.some(({ done }) => done.entry === hold.done.entry));
  const byRecord =
    group === undefined
      ? []
      : suspectLines(group, groups, standing, inventory, width).filter(line => !line.startsWith('failed:'));
  return [lookLine(kind, width), ...byRecord];
}

/** `{"format":"holdfast.open/1","record","as_of","practice","items":[{what,assets,check,because,since,by,entry,note}]}`. */
export function renderOpenJson({ items, inventory, entries, today }: OpenShown, record: RecordState): string {
  const notes = new Map(entries.map(({ id, note }) => [id, note]));
  const plain = items.map(({ what, assets, check, because, done }) => ({
    what,
    assets,
    check,
    because,
    since: done.on,
    by: done.by,
    entry: done.entry,
    note: notes.get(done.entry) ?? null,
  }));
  return `${safeJson({ format: 'holdfast.open/1', record, as_of: today, practice: inventory.practice.name, items: plain })}\n`;
}
