/**
 * The way of an inventory: file → text → document → schema → domain model → cross-references. Each stage is entered only
 * when the one before found nothing, and each gives all that it finds.
 */
import { existsSync } from 'node:fs';
import path from 'node:path';
import { type Problem, problem, Refusal } from '../problem/problem.ts';
import { buildInventory } from './build.ts';
import { crossReferenceProblems } from './cross-reference.ts';
import type { Inventory } from './inventory.ts';
import { parseYaml } from './parse.ts';
import { type FileRead, readSource } from './read.ts';
import { schemaProblems, validatedFile } from './validate.ts';

/** Today in a time zone as YYYY-MM-DD, or null where there is no such zone. */
export type TodayIn = (timeZone: string) => string | null;

export type Loaded = { ok: true; inventory: Inventory } | { ok: false; problems: readonly Problem[] };

/** Reads an inventory, or says everything that is wrong with it at the first stage that finds something. */
export function loadInventory(file: string, todayIn: TodayIn): Loaded {
  const read = readSource(file);
  return 'source' in read ? understandInventory(read, todayIn) : { ok: false, problems: [read] };
}

/** The same for a text that need not be in a file. */
export function understandInventory(read: FileRead, todayIn: TodayIn): Loaded {
  const document = parseYaml(read.source);
  if (Array.isArray(document)) return { ok: false, problems: document };
  const schema = schemaProblems(document);
  if (schema.length > 0) return { ok: false, problems: schema };
  const validated = validatedFile(document);
  const inventory = buildInventory(validated, document, read.bytes);
  const cross = crossReferenceProblems(validated, document, inventory, todayIn);
  return cross.length > 0 ? { ok: false, problems: cross } : { ok: true, inventory };
}

/** @throws Refusal with all problems of the stage. */
export function ensureInventory(file: string, todayIn: TodayIn): Inventory {
  const loaded = loadInventory(file, todayIn);
  if (!loaded.ok) throw new Refusal(loaded.problems);
  return loaded.inventory;
}

/** The inventory that is meant: the one named, else the nearest inventory.yaml in this folder or above. */
export function findInventory(named: string | undefined, folder: string): string {
  if (named !== undefined && named !== '') return named;
  for (let here = folder; ; here = path.dirname(here)) {
    const file = path.join(here, 'inventory.yaml');
    if (existsSync(file)) return path.relative(folder, file) || file;
    if (here === path.dirname(here)) break;
  }
  throw new Refusal([
    problem(
      'inventory_not_found',
      `no inventory.yaml in ${folder} or a folder above it`,
      'name it with --inventory FILE, or write one with: holdfast inventory new inventory.yaml',
    ),
  ]);
}
