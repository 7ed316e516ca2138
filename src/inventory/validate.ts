/** The schema stage: what the generated validator found, said in words about the user's own lines. */
import type { ErrorObject } from 'ajv';
import type { InventoryFile } from '../generated/inventory-file.ts';
import validateInventory from '../generated/validate-inventory.js';
import schema from '../../schemas/inventory.schema.json' with { type: 'json' };
import type { Code } from '../problem/codes.ts';
import { nearest } from '../problem/nearest.ts';
import type { Problem } from '../problem/problem.ts';
import type { ParsedDocument } from './parse.ts';

/** All schema problems in the order of the file; none means that `document.value` is an `InventoryFile`. */
export function schemaProblems(document: ParsedDocument): Problem[] {
  if (validateInventory(document.value)) return [];
  const errors: ErrorObject[] = validateInventory.errors ?? [];
  const problems = errors.filter(error => error.keyword !== 'if').map(error => translate(document, error));
  return withoutRepeats(problems).sort(byPlace);
}

/** The value of a document that has no schema problems. */
export function validatedFile(document: ParsedDocument): InventoryFile {
  return document.value as InventoryFile;
}

export function byPlace(a: Problem, b: Problem): number {
  return (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0);
}

function withoutRepeats(problems: Problem[]): Problem[] {
  const seen = new Set<string>();
  return problems.filter(({ code, line, column, message }) => {
    const key = `${code} ${line}:${column} ${message}`;
    return !seen.has(key) && Boolean(seen.add(key));
  });
}

function translate(document: ParsedDocument, error: ErrorObject): Problem {
  const { keyword, instancePath, params } = error;
  const name = instancePath.slice(instancePath.lastIndexOf('/') + 1);
  const here = valueAt(document.value, instancePath);
  const at = (code: Code, message: string, remedy: string, pointer = instancePath, onKey = false): Problem => {
    const { key, value } = document.locate(pointer);
    const stretch = onKey && key !== null ? key : value;
    return document.source.problem(code, stretch.start, stretch.end, message, remedy);
  };

  switch (keyword) {
    case 'additionalProperties': {
      const unknown: string = params.additionalProperty;
      const known = knownKeys(error);
      const near = nearest(unknown, known);
      const remedy = near === null ? `known here: ${known.join(', ')}` : `did you mean '${near}'?`;
      return at('unknown_key', `unknown key '${unknown}'`, remedy, `${instancePath}/${escapePointer(unknown)}`, true);
    }
    case 'required': {
      const missing: string = params.missingProperty;
      const owner = name === '' ? 'the inventory' : /^\d+$/.test(name) ? 'this entry' : `'${name}'`;
      return at('missing_key', `${owner} has no '${missing}'`, `add ${missing}: …`, instancePath, true);
    }
    case 'false schema':
      return at('key_not_for_kind', `'${name}' does not belong to this kind`, 'delete it, or correct the kind', instancePath, true);
    case 'type':
      return at('wrong_type', `'${owningKey(instancePath)}' is ${describe(here)}`, `write ${article(params.type)}${unquoteHint(here, params.type)}`);
    case 'enum': {
      const allowed: unknown[] = params.allowedValues;
      if (instancePath === '/format') {
        return at('format_unknown', `format ${show(here)} is not known`, 'write format: 1');
      }
      const near = typeof here === 'string' ? nearest(here, allowed.map(String)) : null;
      const remedy = near === null ? `use one of: ${allowed.join(', ')}` : `did you mean '${near}'? allowed: ${allowed.join(', ')}`;
      return at('value_not_allowed', `${show(here)} is not allowed for '${owningKey(instancePath)}'`, remedy);
    }
    case 'minimum':
    case 'maximum':
    case 'exclusiveMinimum':
    case 'exclusiveMaximum': {
      const limit = `${LIMIT_WORDS[keyword]} ${params.limit}`;
      return at('out_of_limits', `${show(here)} for '${owningKey(instancePath)}' is out of limits`, `it must be ${limit}; check unit and decimal point`);
    }
    case 'pattern':
      return at('bad_id', `${show(here)} is not an id`, 'use a-z, 0-9 and -, starting with a letter, at most 40');
    case 'format':
      return at('bad_date', `${show(here)} is not a date`, 'write it as YYYY-MM-DD, and see that the day exists');
    case 'uniqueItems':
      return at('item_twice', `'${owningKey(instancePath)}' holds the same item twice`, 'delete one', `${instancePath}/${params.i}`);
    case 'minProperties':
    case 'maxProperties': {
      const count = `${keyword === 'minProperties' ? 'at least' : 'at most'} ${params.limit}`;
      return at('wrong_length', `'${owningKey(instancePath)}' has the wrong number of keys`, `write ${count}`, instancePath, true);
    }
    case 'minItems':
    case 'maxItems':
    case 'minLength':
    case 'maxLength': {
      const count = `${keyword.startsWith('min') ? 'at least' : 'at most'} ${params.limit}`;
      const what = keyword.endsWith('Items') ? 'items' : 'characters';
      return at('wrong_length', `'${owningKey(instancePath)}' has the wrong length`, `write ${count} ${what}`);
    }
    default:
      throw new Error(`no words for the schema keyword ${keyword}`);
  }
}

const LIMIT_WORDS = { minimum: 'at least', maximum: 'at most', exclusiveMinimum: 'above', exclusiveMaximum: 'below' };

const TYPE_WORDS: Record<string, string> = {
  number: 'a number', integer: 'a whole number', string: 'text', boolean: 'true or false', array: 'a list [ … ]', object: 'keys with values',
};

function article(type: string | string[]): string {
  return [type].flat().map(one => TYPE_WORDS[one] ?? one).join(' or ');
}

function unquoteHint(value: unknown, type: string | string[]): string {
  const wantsNumber = [type].flat().some(one => one === 'number' || one === 'integer');
  if (typeof value !== 'string' || !wantsNumber) return '';
  if (/^\d+(\.\d+)?$/.test(value)) return ' without quotes';
  return /^\d+,\d+$/.test(value) ? ' with a point, not a comma' : ', without its unit: the unit stands in the key';
}

function describe(value: unknown): string {
  if (value === null) return 'empty';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'a group of keys';
  return typeof value === 'string' ? `the text ${show(value)}` : show(value);
}

/** The value as the user wrote it, cut to what fits in a line. */
function show(value: unknown): string {
  const text = typeof value === 'string' ? `'${value}'` : JSON.stringify(value);
  return text.length > 50 ? `${text.slice(0, 47)}…` : text;
}

/** The nearest key above a path: items of a list are named after their list. */
function owningKey(pointer: string): string {
  const names = pointer.split('/').filter(part => !/^\d*$/.test(part));
  return names.at(-1) ?? 'the inventory';
}

function valueAt(root: unknown, pointer: string): unknown {
  let value: unknown = root;
  for (const token of pointer.split('/').slice(1)) {
    const name = token.replaceAll('~1', '/').replaceAll('~0', '~');
    value = (value as Record<string, unknown> | undefined)?.[name];
  }
  return value;
}

function escapePointer(name: string): string {
  return name.replaceAll('~', '~0').replaceAll('/', '~1');
}

/** The keys that the schema knows at the place of an additionalProperties error. */
function knownKeys(error: ErrorObject): string[] {
  const owner = error.schemaPath.slice(0, error.schemaPath.lastIndexOf('/'));
  return Object.keys(valueAt(schema, owner.replace(/^#/, '') + '/properties') ?? {});
}
