/** `holdfast record show`: what was done, or what stands open. */
import { Command } from 'commander';
import { didYouMean } from '../../problem/nearest.ts';
import { refuse } from '../../problem/problem.ts';
import { assetsOf, type EntryFilter, filterEntries, KINDS } from '../../record/filter.ts';
import { openItems } from '../../record/open-items.ts';
import {
  cancellations,
  renderEntries,
  renderEntriesJson,
  renderOpen,
  renderOpenJson,
} from '../../report/record-show.ts';
import { safeText } from '../../report/safe-text.ts';
import type { Context } from '../context.ts';
import { type FileOptions, inventoryOption, recordOption } from '../files.ts';
import { type Opened, openForReading, printText, readSince } from './opened.ts';

export interface FilterOptions extends FileOptions {
  readonly asset?: string;
  readonly since?: string;
  readonly kind?: string;
}

interface ShowOptions extends FilterOptions {
  readonly open?: boolean;
  readonly json?: boolean;
}

const KIND_WORDS = KINDS.map(kind => kind.replace('_', '-'));

const EXAMPLES = `
Exit code: 0; 1 where the record is damaged, and with --open where something
stands open.

Examples:
  holdfast record show --asset bain-1 --since 2026-11-01
  holdfast record show --open                             the list for the engineer`;

export function showCommand(context: Context): Command {
  const show = new Command('show')
    .summary('what was done, or with --open what is out of service')
    .description('Lists what was done, the oldest first; with --open what is out of service and why.')
    .option('--open', 'what is withdrawn, failed, or unanswered now, as a list to hand on')
    .option('--json', 'print JSON')
    .addHelpText('after', EXAMPLES)
    .action((options: ShowOptions) => runShow(options, context));
  return recordOption(inventoryOption(filterOptions(show)));
}

/** Adds `--asset`, `--since`, `--kind`. */
export function filterOptions(command: Command): Command {
  return command
    .option('--asset <id>', 'only what is about this asset')
    .option('--since <date>', 'only what was done on this date or later')
    .option('--kind <kind>', `only ${KIND_WORDS.join(', ')}`);
}

function runShow(options: ShowOptions, context: Context): void {
  if (options.open) {
    showOpen(options, context);
    return;
  }
  const opened = openForReading(context, options);
  const { inventory, record, state } = opened;
  const shown = {
    entries: filterEntries(record.entries, readFilter(options, opened)),
    cancelledBy: cancellations(record.entries),
  };
  if (options.json) context.out(renderEntriesJson(shown, state));
  else if (record.exists) printText(record, renderEntries(shown, inventory, context.width), context);
  else printText(record, `No record yet at ${safeText(record.dir)}: the first entry starts it.\n`, context);
}

function showOpen(options: ShowOptions, context: Context): void {
  if (options.since !== undefined || options.kind !== undefined) {
    refuse(
      'options_clash',
      '--open shows all that stands open now; --since and --kind do not go with it',
      'leave them out',
    );
  }
  const opened = openForReading(context, options);
  const { standing, inventory, today, record, state } = opened;
  const { asset } = readFilter(options, opened);
  const items = openItems(standing, inventory).filter(
    ({ assets }) => asset === null || assets.includes(asset),
  );
  const shown = { items, standing, inventory, entries: record.entries, today };
  if (options.json) context.out(renderOpenJson(shown, state));
  else printText(record, renderOpen(shown, context.width), context);
  if (items.length > 0) context.exitCode = 1;
}

/** The filter that is meant. Assets that have left the inventory may be named as long as the record knows them. */
export function readFilter(
  { asset, since, kind }: FilterOptions,
  { inventory, record }: Opened,
): EntryFilter {
  const known = new Set([...inventory.assets.keys(), ...record.entries.flatMap(assetsOf)]);
  if (asset !== undefined && !known.has(asset)) {
    refuse(
      'asset_unknown',
      `neither the inventory nor the record has '${asset}'`,
      didYouMean(asset, [...known]),
    );
  }
  const wanted = kind?.replaceAll('-', '_');
  const found = wanted === undefined ? null : KINDS.find(one => one === wanted);
  if (found === undefined) {
    refuse(
      'option_value',
      `--kind takes ${KIND_WORDS.join(', ')}, not '${kind}'`,
      didYouMean(kind ?? '', KIND_WORDS),
    );
  }
  return { asset: asset ?? null, since: readSince(since), kind: found };
}
