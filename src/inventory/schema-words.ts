/** One error of the schema validator → a problem in words about the user's own line. */
import type { ErrorObject } from 'ajv';
import schema from '../../schemas/inventory.schema.json' with { type: 'json' };
import type { Code } from '../problem/codes.ts';
import { nearest } from '../problem/nearest.ts';
import type { Problem } from '../problem/problem.ts';
import { type ParsedDocument, pointerNames, QUOTE_THE_TEXT } from './parse.ts';

/** What is said of an error; `pointer` is where the marker goes, and `onKey` puts it under the key there. */
interface Words {
  readonly code: Code;
  readonly message: string;
  readonly remedy: string;
  readonly pointer?: string;
  readonly onKey?: boolean;
}

export function schemaProblem(document: ParsedDocument, error: ErrorObject): Problem {
  const {
    code,
    message,
    remedy,
    pointer = error.instancePath,
    onKey = false,
  } = wordsFor(error, document.value);
  const { key, value } = document.locate(pointer);
  const stretch = onKey && key !== null ? key : value;
  const isRest = code === 'unknown_key' && document.isRestOfText(stretch.start);
  const meant = isRest ? restRemedy(error, remedy) : remedy;
  return document.source.problem(code, stretch.start, stretch.end, message, meant);
}

/** The list of known keys would lead astray whoever wrote no key at all. */
function restRemedy(error: ErrorObject, remedy: string): string {
  return nearestKey(error) === null ? QUOTE_THE_TEXT : `${remedy} Or else: ${QUOTE_THE_TEXT}`;
}

function wordsFor(error: ErrorObject, root: unknown): Words {
  const { keyword, instancePath, params } = error;
  const key = quotedKey(instancePath);
  const value = valueAt(root, instancePath);
  switch (keyword) {
    case 'additionalProperties':
      return unknownKey(error);
    case 'required': {
      const missing: string = params.missingProperty;
      const message = `${ownerName(instancePath, value)} has no '${missing}'`;
      const pointer = hasId(value) ? `${instancePath}/id` : instancePath;
      return { code: 'missing_key', message, remedy: `add ${missing}: …`, pointer, onKey: !hasId(value) };
    }
    case 'false schema': {
      const owner = valueAt(root, instancePath.slice(0, instancePath.lastIndexOf('/')));
      const kind = isRecord(owner) ? show(owner.kind) : 'this kind';
      const message = `${key} does not go with kind ${kind}`;
      return { code: 'key_not_for_kind', message, remedy: 'delete it, or correct the kind', onKey: true };
    }
    case 'type':
      return {
        code: 'wrong_type',
        message: `${key} is ${describe(value)}`,
        remedy: `write ${typeWords(params.type)}${typeHint(value, params.type)}`,
      };
    case 'enum':
      return notAllowed(instancePath, value, params.allowedValues.map(String));
    case 'minimum':
    case 'maximum':
    case 'exclusiveMinimum':
    case 'exclusiveMaximum':
      return {
        code: 'out_of_limits',
        message: `${show(value)} for ${key} is out of limits`,
        remedy: `it must be ${LIMIT_WORDS[keyword]} ${params.limit}; check unit and decimal point`,
      };
    case 'pattern':
      return {
        code: 'bad_id',
        message: `${show(value)} is not an id`,
        remedy: 'use a-z, 0-9 and -, starting with a letter, at most 40',
      };
    case 'format':
      return {
        code: 'bad_date',
        message: `${show(value)} is not a date`,
        remedy: 'write it as YYYY-MM-DD, and see that the day exists',
      };
    case 'uniqueItems':
      return {
        code: 'item_twice',
        message: `${key} holds the same item twice`,
        remedy: 'delete one of the two',
        pointer: `${instancePath}/${Math.max(params.i, params.j)}`,
      };
    case 'minProperties':
    case 'maxProperties':
    case 'minItems':
    case 'maxItems':
    case 'minLength':
    case 'maxLength':
      return wrongLength(keyword, params.limit, key, value);
    default:
      throw new Error(`no words for the schema keyword ${keyword}`);
  }
}

const LIMIT_WORDS = {
  minimum: 'at least',
  maximum: 'at most',
  exclusiveMinimum: 'above',
  exclusiveMaximum: 'below',
};

function unknownKey(error: ErrorObject): Words {
  const unknown: string = error.params.additionalProperty;
  const near = nearestKey(error);
  return {
    code: 'unknown_key',
    message: `unknown key '${unknown}'`,
    remedy:
      near === null
        ? `known here: ${knownKeys(error).join(', ')}`
        : `did you mean '${near}'?${unitHint(unknown, near)}`,
    pointer: `${error.instancePath}/${unknown.replaceAll('~', '~0').replaceAll('/', '~1')}`,
    onKey: true,
  };
}

/** The known key nearest to the unknown one of an `additionalProperties` error, or null. */
export function nearestKey(error: ErrorObject): string | null {
  return nearest(error.params.additionalProperty, knownKeys(error));
}

/**
 * The keys that the schema knows at the place of an error. Found by the way through the value, since the error's own
 * schema path begins anew at every reference.
 */
function knownKeys({ instancePath }: ErrorObject): string[] {
  let node: unknown = schema;
  for (const name of pointerNames(instancePath)) {
    node = resolved(
      isRecord(node) && isRecord(node.properties)
        ? node.properties[name]
        : isRecord(node)
          ? node.items
          : null,
    );
  }
  return isRecord(node) && isRecord(node.properties) ? Object.keys(node.properties) : [];
}

/** A part of the schema itself in place of a reference to it. */
function resolved(node: unknown): unknown {
  return isRecord(node) && typeof node.$ref === 'string' ? valueAt(schema, node.$ref.slice(1)) : node;
}

/** Longest first, so that _ml_kg_min is not taken for the end of another. */
const UNITS: readonly (readonly [suffix: string, unit: string])[] = [
  ['_ml_kg_min', 'mL/kg/min'],
  ['_ml_cmh2o', 'mL/cmH2O'],
  ['_ml_min', 'mL/min'],
  ['_ml_kg', 'mL/kg'],
  ['_ml', 'mL'],
  ['_cmh2o', 'cmH2O'],
  ['_psi', 'psi'],
  ['_bar', 'bar'],
  ['_kg', 'kg'],
  ['_mm', 'mm'],
  ['_g', 'g'],
  ['_l', 'L'],
];

/** Whoever wrote another unit into the key has a figure in that unit: renaming the key alone would make it wrong. */
function unitHint(unknown: string, near: string): string {
  const [suffix, unit] = UNITS.find(([end]) => near.endsWith(end)) ?? [];
  return suffix === undefined || unknown.endsWith(suffix) ? '' : ` Its figure is in ${unit}.`;
}

function notAllowed(pointer: string, value: unknown, allowed: readonly string[]): Words {
  if (pointer === '/format') {
    return {
      code: 'format_unknown',
      message: `format ${show(value)} is not known`,
      remedy: 'write format: 1',
    };
  }
  const near = typeof value === 'string' ? nearest(value, allowed) : null;
  return {
    code: 'value_not_allowed',
    message: `${show(value)} is not allowed for ${quotedKey(pointer)}`,
    remedy: `${near === null ? '' : `did you mean '${near}'? `}allowed: ${allowed.join(', ')}`,
  };
}

function wrongLength(keyword: string, limit: number, key: string, value: unknown): Words {
  const [count, what] = Array.isArray(value)
    ? [value.length, 'item']
    : typeof value === 'string'
      ? [Array.from(value).length, 'character']
      : [Object.keys(isRecord(value) ? value : {}).length, 'key'];
  const counted = (n: number) => `${n} ${what}${n === 1 ? '' : 's'}`;
  return {
    code: 'wrong_length',
    message: count === 0 ? `${key} is empty` : `${key} has ${counted(count)}`,
    remedy: `write ${keyword.startsWith('min') ? 'at least' : 'at most'} ${counted(limit)}`,
  };
}

const TYPE_WORDS: Readonly<Record<string, string>> = {
  number: 'a number',
  integer: 'a whole number',
  string: 'a text',
  boolean: 'true or false',
  array: 'a list [ … ]',
  object: 'keys with values',
};

function typeWords(types: string | string[]): string {
  return [types]
    .flat()
    .map(type => TYPE_WORDS[type] ?? type)
    .join(' or ');
}

function typeHint(value: unknown, types: string | string[]): string {
  const wanted = [types].flat();
  if (wanted.includes('string'))
    return typeof value === 'number' || typeof value === 'boolean' ? ' in quotes' : '';
  if (typeof value !== 'string') return '';
  if (wanted.includes('boolean')) return /^(true|false)$/i.test(value) ? ' without quotes' : '';
  if (!wanted.includes('number') && !wanted.includes('integer')) return '';
  if (/^\d+(\.\d+)?$/.test(value)) return ' without quotes';
  return /^\d+,\d+$/.test(value) ? ' with a point, not a comma' : ' alone: the unit stands in the key';
}

function describe(value: unknown): string {
  if (value === null) return 'empty';
  if (Array.isArray(value)) return 'a list';
  if (isRecord(value)) return 'a group of keys';
  return typeof value === 'string' ? `the text ${show(value)}` : show(value);
}

/** The value as the user wrote it, cut to what fits in a line. */
function show(value: unknown): string {
  const text =
    typeof value === 'string'
      ? `'${value}'`
      : typeof value === 'number'
        ? String(value)
        : JSON.stringify(value);
  return text.length > 50 ? `${text.slice(0, 47)}…` : text;
}

/** What lacks a key, by its id where it has one. */
function ownerName(pointer: string, value: unknown): string {
  const isEntry = /\/\d+$/.test(pointer);
  if (!isEntry) return quotedKey(pointer);
  return hasId(value) ? `'${value.id}'` : `an entry of ${quotedKey(pointer)}`;
}

function hasId(value: unknown): value is { id: string } {
  return isRecord(value) && typeof value.id === 'string';
}

/** The nearest key above a path, in quotes: items of a list are named after their list. */
function quotedKey(pointer: string): string {
  const key = pointerNames(pointer).findLast(name => !/^\d*$/.test(name));
  return key === undefined ? 'the inventory' : `'${key}'`;
}

function valueAt(root: unknown, pointer: string): unknown {
  return pointerNames(pointer).reduce<unknown>((value, name) => {
    return isRecord(value) && Object.hasOwn(value, name) ? value[name] : undefined;
  }, root);
}

/** A map or a list: both are walked by name. */
function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}
