/** The schema stage: what the generated validator found, as problems on the user's own lines. */
import type { ErrorObject } from 'ajv';
import type { InventoryFile } from '../generated/inventory-file.ts';
import validateInventory from '../generated/validate-inventory.js';
import { byPlace, type Problem } from '../problem/problem.ts';
import type { ParsedDocument } from './parse.ts';
import { nearestKey, schemaProblem } from './schema-words.ts';

/** Past this many the rest is not listed: the file is something else than an inventory. */
const MOST_PROBLEMS = 500;

/** All schema problems in the order of the file; none means that `document.value` is an `InventoryFile`. */
export function schemaProblems(document: ParsedDocument): Problem[] {
  if (validateInventory(document.value)) return [];
  const errors = meantErrors((validateInventory.errors ?? []).slice(0, MOST_PROBLEMS));
  return withoutRepeats(errors.map(error => schemaProblem(document, error))).sort(byPlace);
}

/** The value of a document that has no schema problems. */
export function validatedFile(document: ParsedDocument): InventoryFile {
  return document.value as InventoryFile;
}

/** Without what only follows from another error: a failed `if`, and a key that is missing because it is mistyped. */
function meantErrors(errors: readonly ErrorObject[]): ErrorObject[] {
  const mistyped = new Set<string>();
  for (const error of errors) {
    if (error.keyword === 'additionalProperties') mistyped.add(`${error.instancePath}/${nearestKey(error)}`);
  }
  return errors.filter(({ keyword, instancePath, params }) => {
    if (keyword === 'required') return !mistyped.has(`${instancePath}/${params.missingProperty}`);
    return keyword !== 'if';
  });
}

/** The same rule can be reached on two ways through the schema. */
function withoutRepeats(problems: readonly Problem[]): Problem[] {
  const seen = new Set<string>();
  return problems.filter(({ code, line, column, message }) => {
    const key = `${code} ${line}:${column} ${message}`;
    const isNew = !seen.has(key);
    seen.add(key);
    return isNew;
  });
}
