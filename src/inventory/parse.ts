/** Text → YAML document that keeps the place of everything in it, with all problems of syntax. */
import {
  Composer,
  isMap,
  isNode,
  isScalar,
  isSeq,
  type Node,
  type Pair,
  type Scalar,
  type YAMLError,
  type YAMLSeq,
} from 'yaml';
import { byPlace, type Problem } from '../problem/problem.ts';
import { rawTextProblems } from './raw-text.ts';
import type { Source } from './source.ts';
import { tokenize } from './tokens.ts';

/** Past this many the rest is not listed: the file is something else than an inventory. */
const MOST_PROBLEMS = 50;

/** No list of the schema takes more. */
const MOST_ITEMS = 1000;

/** A stretch of the text, as offsets from 0. */
export interface Stretch {
  readonly start: number;
  readonly end: number;
}

/** Where a value stands in the text, and its key where it has one. */
export interface Located {
  readonly key: Stretch | null;
  readonly value: Stretch;
}

/** A parsed inventory: its plain value, and the place of everything in it. */
export interface ParsedDocument {
  readonly source: Source;
  readonly value: unknown;
  /** The stretch of a JSON pointer, or of the nearest thing above it that exists. */
  locate(pointer: string): Located;
  /** Whether the key that begins at an offset is evidently the rest of a text that a comma has cut. */
  isRestOfText(keyStart: number): boolean;
}

/** YAML takes a comma inside braces for the end of a value, and a colon for the end of a key. */
export const QUOTE_THE_TEXT = 'a text with a comma or a colon must stand in quotes';

/** The pairs of each map by their keys. */
type KeyIndex = Map<Node, Map<string, Pair>>;

/** What is gathered on the way through the document. */
interface Found {
  readonly index: KeyIndex;
  /** Where the keys begin that are the rest of a text. */
  readonly rests: Set<number>;
  readonly problems: Problem[];
}

export function parseYaml(source: Source): ParsedDocument | Problem[] {
  const raw = rawTextProblems(source);
  if (raw.length > 0) return raw;
  const read = tokenize(source);
  if (Array.isArray(read)) return read;

  // Keys that stand twice are found by the index below: the library's own search takes the square of their number.
  const composer = new Composer({ version: '1.2', schema: 'core', uniqueKeys: false });
  const documents = [...composer.compose(read.tokens, true, source.text.length)];
  const document = documents[0];
  const errors = documents.flatMap(({ errors, warnings }) => [...errors, ...warnings]);
  if (errors.length > 0) return syntaxProblems(source, errors);
  if (document === undefined || document.contents === null || isEmpty(document.contents)) {
    return [
      source.problem('file_empty', 0, 0, 'the inventory is empty', 'start from: holdfast inventory new FILE'),
    ];
  }

  const root = document.contents;
  const found: Found = { index: new Map(), rests: new Set(), problems: [] };
  indexKeys(source, root, found);
  if (found.problems.length > 0) return found.problems;
  return {
    source,
    value: document.toJS({ maxAliasCount: 0 }),
    locate: pointer => locate(root, found.index, pointer),
    isRestOfText: keyStart => found.rests.has(keyStart),
  };
}

/**
 * Indexes the keys of every map, and notes keys that stand twice, keys that are no words, numbers in odd forms and endless lists. Recurses: the
 * depth is bounded.
 */
function indexKeys(source: Source, node: unknown, found: Found): void {
  const { index, rests, problems } = found;
  if (problems.length >= MOST_PROBLEMS) return;
  if (isSeq(node)) {
    if (node.items.length > MOST_ITEMS) problems.push(endlessList(source, node));
    else for (const item of node.items) indexKeys(source, item, found);
  }
  if (isScalar(node) && typeof node.value === 'number' && !PLAIN_NUMBER.test(node.source ?? '')) {
    problems.push(oddNumber(source, node));
  }
  if (!isMap(node)) return;
  const pairs = new Map<string, Pair>();
  index.set(node, pairs);
  for (const [i, pair] of node.items.entries()) {
    if (node.flow && isRestOfText(pair, node.items[i - 1], rests)) rests.add(stretchOf(pair.key).start);
    const { start, end } = stretchOf(pair.key ?? pair.value);
    const name = isScalar(pair.key) && pair.key.value !== null ? String(pair.key.value) : null;
    const first = name === null ? undefined : pairs.get(name);
    if (name === null) {
      problems.push(source.problem('yaml_syntax', start, end, 'not YAML: a key must be a word', MEND));
    } else if (first === undefined) {
      pairs.set(name, pair);
    } else {
      const { line } = source.placeAt(stretchOf(first.key).start);
      const message = `'${name}' stands already on line ${line} of the same group`;
      const remedy = rests.has(start) ? QUOTE_THE_TEXT : 'keep one of the two';
      problems.push(source.problem('key_twice', start, end, message, remedy));
    }
    if (problems.length >= MOST_PROBLEMS) return;
    indexKeys(source, pair.value, found);
  }
}

/** A key without a value, or of several words, right behind a text without quotes or behind another such rest of it. */
function isRestOfText(pair: Pair, before: Pair | undefined, rests: ReadonlySet<number>): boolean {
  if (before === undefined || !isScalar(pair.key) || pair.key.type !== 'PLAIN') return false;
  const isKeyLike = pair.value !== null && /^\w+$/.test(pair.key.source ?? '');
  if (isKeyLike) return false;
  const { value } = before;
  const isText = isScalar(value) && value.type === 'PLAIN' && typeof value.value === 'string';
  return isText || rests.has(stretchOf(before.key).start);
}

/** As on the command line: digits with at most one point. A number that could be read in two ways is not read at all. */
const PLAIN_NUMBER = /^-?(0|[1-9]\d*)(\.\d+)?$/;

function oddNumber(source: Source, node: Scalar): Problem {
  const { start, end } = stretchOf(node);
  const message = `${node.source} is a number in another form than digits with at most one point`;
  const remedy = 'write it in plain digits, without a zero in front, for example 500 or 0.5';
  return source.problem('number_form', start, end, message, remedy);
}

/** The schema's validator would take the square of the number of items to say what is wrong with each. */
function endlessList(source: Source, list: YAMLSeq): Problem {
  const { start } = stretchOf(list);
  const message = `a list of ${list.items.length} entries`;
  return source.problem('wrong_length', start, start + 1, message, `no list has more than ${MOST_ITEMS}`);
}

const MEND = 'mend this line; the mistake may stand just above it';

/** What the library found, without what only follows: one problem a line, and the first of a run of lines with the same. */
function syntaxProblems(source: Source, errors: readonly YAMLError[]): Problem[] {
  const problems = errors
    .slice(0, MOST_PROBLEMS)
    .map(error => syntaxProblem(source, error))
    .sort(byPlace);
  return problems.filter(({ line, message }, i) => {
    const before = problems[i - 1];
    if (before === undefined || before.line === null || line === null) return true;
    return before.line !== line && !(before.line === line - 1 && before.message === message);
  });
}

function syntaxProblem(source: Source, { code, message, pos: [from, to] }: YAMLError): Problem {
  if (code === 'TAB_AS_INDENT') {
    return source.problem(
      'tab_indentation',
      from,
      to,
      'a tab in the indentation',
      'use two spaces for each level',
    );
  }
  if (/^Block collections .* within flow/.test(message)) {
    const [key = ''] = source.text.slice(from, to).split(/:\s/);
    // What stands before the second colon: a word of a text, or a value and the next key with no comma in between.
    return /\s/.test(key)
      ? source.problem(
          'yaml_syntax',
          from,
          to,
          `not YAML: ${COMMA_OR_COLON}`,
          `put in the comma; ${QUOTE_THE_TEXT}`,
        )
      : source.problem(
          'yaml_syntax',
          from,
          to,
          'not YAML: a second colon with a space behind it',
          QUOTE_THE_TEXT,
        );
  }
  const [, words] = PLAIN_WORDS.find(([pattern]) => pattern.test(message)) ?? [];
  return source.problem('yaml_syntax', from, to, `not YAML: ${words ?? message}`, MEND);
}

const COMMA_OR_COLON = 'inside brackets or braces a comma is missing, or a text with a colon has no quotes';

/** What the library says in the terms of YAML's grammar, in words for those who never read it. */
const PLAIN_WORDS: readonly (readonly [pattern: RegExp, words: string])[] = [
  [/^Flow .* end with a \]/, 'a bracket [ above is not closed'],
  [/^Flow .* end with a \}/, 'a brace { above is not closed'],
  [/^Unexpected , in flow/, 'a comma too many'],
  [/^Nested mappings/, 'a second colon with a space behind it; put the text in quotes'],
  [/^Implicit keys need|followed by map values/, 'a line without its colon; a colon wants a space behind it'],
  [/start at the same column|without - indicator/, 'indented differently from the lines it belongs to'],
  [/^Unexpected block-seq-ind/, 'a hyphen where no list can begin'],
  [/^Unexpected scalar at node end/, 'something more behind the value; put the whole in quotes'],
  [/^Unexpected flow-(seq|map)-end/, 'a closing bracket or brace that nothing opened'],
  [/^Plain value cannot start/, 'a text cannot begin with this sign; put it in quotes'],
  [/^Invalid escape/, 'a backslash that begins no known escape; use single quotes'],
];

function locate(root: Node, index: KeyIndex, pointer: string): Located {
  let node: unknown = root;
  let found: Located = { key: null, value: stretchOf(root) };
  for (const name of pointerNames(pointer)) {
    if (isMap(node)) {
      const pair = index.get(node)?.get(name);
      if (pair === undefined) return found;
      const key = stretchOf(pair.key);
      node = pair.value;
      found = { key, value: node === null || isEmpty(node) ? key : stretchOf(node) };
    } else if (isSeq(node)) {
      node = node.items[Number(name)];
      if (node === undefined) return found;
      found = { key: null, value: stretchOf(node) };
    } else return found;
  }
  return found;
}

/** The names on the way of a JSON pointer. @example pointerNames('/machines/0/a~1b') //=> ['machines', '0', 'a/b'] */
export function pointerNames(pointer: string): string[] {
  return pointer
    .split('/')
    .slice(1)
    .map(name => name.replaceAll('~1', '/').replaceAll('~0', '~'));
}

function stretchOf(node: unknown): Stretch {
  const range = isNode(node) ? node.range : null;
  return range ? { start: range[0], end: range[1] } : { start: 0, end: 0 };
}

function isEmpty(node: unknown): boolean {
  return isScalar(node) && node.value === null && (node.source ?? '') === '';
}
