/** Which inventory and which record a command line means: option, then environment, then the usual place. */
import { lstatSync } from 'node:fs';
import path from 'node:path';
import type { Command } from 'commander';
import { todayIn } from '../calendar/zone.ts';
import type { Inventory } from '../inventory/inventory.ts';
import { ensureInventory, findInventory } from '../inventory/load.ts';
import { storeRefusal } from '../record/folder.ts';
import type { Context } from './context.ts';

/** What commander hands over for the two shared options. */
export interface FileOptions {
  readonly inventory?: string | undefined;
  readonly record?: string | undefined;
}

/** Adds `--inventory FILE`. */
export function inventoryOption(command: Command): Command {
  return command.option(
    '--inventory <file>',
    'the inventory; else HOLDFAST_INVENTORY, else the nearest inventory.yaml',
  );
}

/** Adds `--record DIR`. */
export function recordOption(command: Command): Command {
  return command.option(
    '--record <dir>',
    'the record; else HOLDFAST_RECORD, else record/ beside the inventory',
  );
}

/**
 * Reads the inventory that is meant.
 *
 * @param now - the command's one reading of the clock; decides what is in the future.
 * @throws Refusal (exit 2) with everything that is wrong with it, or `inventory_not_found`.
 */
export function openInventory(context: Context, options: FileOptions, now: Date = context.now()): Inventory {
  return ensureInventory(inventoryFile(context, options), zone => todayIn(zone, now));
}

/** The path of the inventory that is meant. @throws Refusal `inventory_not_found` */
export function inventoryFile(context: Context, options: FileOptions): string {
  return findInventory(named(options.inventory, context.env.HOLDFAST_INVENTORY), context.cwd);
}

/**
 * The folder of the record that is meant. It need not exist yet.
 *
 * @param inventoryFile - the path of the inventory; the record's usual place is beside it.
 * @example recordFolder(context, {}, 'clinic/inventory.yaml') //=> 'clinic/record'
 */
export function recordFolder(context: Context, options: FileOptions, inventoryFile: string): string {
  return (
    named(options.record, context.env.HOLDFAST_RECORD) ?? path.join(path.dirname(inventoryFile), 'record')
  );
}

/**
 * The folder of the record that is meant, for a command that only reads. Where a person named it, it must be there: a mistyped
 * name or a share that is not mounted would otherwise drop every stop without a word. The usual place may be empty.
 *
 * @throws Refusal (exit 3) `record_missing`
 */
export function recordToRead(context: Context, options: FileOptions, inventoryFile: string): string {
  const dir = recordFolder(context, options, inventoryFile);
  const name = recordNamedBy(context, options);
  if (name === null || !isMissing(path.resolve(dir))) return dir;
  throw storeRefusal(
    'record_missing',
    dir,
    `${name} names ${dir}, and there is no such folder`,
    'check the name, and whether the disk it lies on is there; where no record was begun yet, the first entry begins it',
  );
}

/** Not through a link. Whatever else is wrong with it is said where it is opened. */
function isMissing(dir: string): boolean {
  try {
    return lstatSync(dir, { throwIfNoEntry: false }) === undefined;
  } catch {
    return false;
  }
}

/** What names the record, as a person wrote it; null: nothing does, and it lies in the usual place. */
export function recordNamedBy({ env }: Context, { record }: FileOptions): string | null {
  if (named(record) !== undefined) return '--record';
  return named(env.HOLDFAST_RECORD) === undefined ? null : 'HOLDFAST_RECORD';
}

/** The first that says something; an empty text says nothing. */
function named(...candidates: readonly (string | undefined)[]): string | undefined {
  return candidates.find(candidate => candidate !== undefined && candidate !== '');
}
