/**
 * Text → YAML document, with all problems of syntax. Nothing is taken over from YAML that could make one line change the
 * meaning of another: no anchors, aliases, tags or second documents.
 */
import { Composer, type CST, type Document, isMap, isPair, isScalar, isSeq, LineCounter, type Node, Parser } from 'yaml';
import type { Problem } from '../problem/problem.ts';
import type { Source } from './source.ts';

/** Deeper than any inventory nests; checked before composing, which recurses. */
const MOST_LEVELS = 32;

/** Where a value stands in the text, and its key where it has one. Offsets from 0. */
export interface Located {
  key: { start: number; end: number } | null;
  value: { start: number; end: number };
}

/** A parsed inventory: its plain value, and the place of everything in it. */
export interface ParsedDocument {
  source: Source;
  value: unknown;
  /** The stretch of a JSON pointer, or of the nearest thing above it that exists. */
  locate(pointer: string): Located;
}

export function parseYaml(source: Source): ParsedDocument | Problem[] {
  const early = [...conflictMarkers(source), ...controlCharacters(source)];
  if (early.length > 0) return early;

  const tokens = [...new Parser(new LineCounter().addNewLine).parse(source.text)];
  const refused = refusedTokens(source, tokens);
  if (refused.length > 0) return refused;

  const documents = [...new Composer({ version: '1.2', schema: 'core', uniqueKeys: true }).compose(tokens)];
  const problems = documents.flatMap(document => syntaxProblems(source, document));
  if (problems.length > 0) return problems;
  const document = documents[0];
  if (document === undefined || document.contents === null || isEmptyScalar(document.contents)) {
    return [source.problem('file_empty', 0, 0, 'the inventory is empty', 'start from: holdfast inventory new FILE')];
  }
  const root = document.contents;
  return { source, value: document.toJS({ maxAliasCount: 0 }), locate: pointer => locate(root, pointer) };
}

function isEmptyScalar(node: unknown): boolean {
  return isScalar(node) && node.value === null && (node.source ?? '') === '';
}

function conflictMarkers(source: Source): Problem[] {
  const problems: Problem[] = [];
  const marker = /^(?:<{7}|={7}|>{7}|\|{7})(?= |\r?$)/gm;
  for (const match of source.text.matchAll(marker)) {
    const what = `a conflict marker of git (${match[0]})`;
    const remedy = 'choose what is right on each side and delete the marker lines';
    problems.push(source.problem('conflict_markers', match.index, match.index + 7, what, remedy));
  }
  // A row of ======= alone may be somebody's underline; the arrows are git's.
  return problems.some(p => p.excerpt !== undefined && /^[<>]/.test(p.excerpt.text)) ? problems : [];
}

function controlCharacters(source: Source): Problem[] {
  const problems: Problem[] = [];
  // C0 but tab and line breaks, DEL, C1, line separators, and the marks that reorder text on the screen.
  // biome-ignore lint/suspicious/noControlCharactersInRegex: finding them is the point
  const control = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]/g;
  for (const match of source.text.matchAll(control)) {
    const name = `U+${(match[0].codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;
    const remedy = 'delete it and type the text again';
    problems.push(source.problem('control_character', match.index, match.index + 1, `a control character, ${name}`, remedy));
    if (problems.length === 20) break;
  }
  return problems;
}

/** Anchors, aliases, tags, second documents and bottomless nesting, found before anything is composed. */
function refusedTokens(source: Source, tokens: readonly CST.Token[]): Problem[] {
  const problems: Problem[] = [];
  const documents = tokens.filter(token => token.type === 'document');
  const second = documents[1];
  if (second !== undefined) {
    problems.push(
      source.problem('several_documents', second.offset, second.offset + 3, 'a second document begins here', 'keep one'),
    );
  }
  const open: { token: CST.Token; level: number }[] = documents.map(token => ({ token, level: 0 })).reverse();
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const { token, level } = next;
    if (level > MOST_LEVELS) {
      problems.push(source.problem('too_deep', token.offset, token.offset + 1, `more than ${MOST_LEVELS} levels`, 'check the indentation and the brackets'));
      break;
    }
    if (token.type === 'alias') {
      problems.push(refusedAnchor(source, token.offset, token.source, 'an alias'));
    }
    for (const part of innerTokens(token)) {
      if (part.type === 'anchor') problems.push(refusedAnchor(source, part.offset, part.source, 'an anchor'));
      else if (part.type === 'tag') {
        const end = part.offset + part.source.length;
        problems.push(source.problem('tag_refused', part.offset, end, `a tag, ${part.source}`, 'delete the tag'));
      } else open.push({ token: part, level: level + 1 });
    }
  }
  return problems.sort((a, b) => (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0)).slice(0, 50);
}

function refusedAnchor(source: Source, offset: number, text: string, what: string): Problem {
  return source.problem('anchor_refused', offset, offset + text.length, `${what}, ${text}`, 'write the values out');
}

type AnyToken = CST.Token | CST.SourceToken;

function innerTokens(token: CST.Token): AnyToken[] {
  const inner: AnyToken[] = [];
  if (token.type === 'document') {
    inner.push(...token.start.filter(isProperty));
    if (token.value !== undefined) inner.push(token.value);
  }
  if ('items' in token) {
    for (const item of token.items) {
      inner.push(...item.start.filter(isProperty), ...(item.sep ?? []).filter(isProperty));
      if (item.key) inner.push(item.key);
      if (item.value) inner.push(item.value);
    }
  }
  return inner;
}

function isProperty(token: CST.SourceToken): boolean {
  return token.type === 'anchor' || token.type === 'tag';
}

function syntaxProblems(source: Source, document: Document.Parsed): Problem[] {
  return [...document.errors, ...document.warnings].map(error => {
    const [from, to] = error.pos;
    switch (error.code) {
      case 'TAB_AS_INDENT':
        return source.problem('tab_indentation', from, to, 'a tab in the indentation', 'use two spaces for each level');
      case 'DUPLICATE_KEY':
        return source.problem('key_twice', from, to, 'this key stands twice in the same group', 'keep one of the two');
      default: {
        const message = error.message.replace(/ at line \d+, column \d+:?[\s\S]*$/, '');
        return source.problem('yaml_syntax', from, to, `not YAML: ${message}`, 'mend this line; the mistake may stand just above it');
      }
    }
  });
}

function locate(root: Node, pointer: string): Located {
  let node: unknown = root;
  let found: Located = { key: null, value: rangeOf(root) };
  for (const token of pointer.split('/').slice(1)) {
    const name = token.replaceAll('~1', '/').replaceAll('~0', '~');
    if (isMap(node)) {
      const pair = node.items.find(item => isPair(item) && isScalar(item.key) && String(item.key.value) === name);
      if (pair === undefined) return found;
      const key = rangeOf(pair.key);
      node = pair.value;
      found = { key, value: isEmptyScalar(node) ? key : rangeOf(node) };
    } else if (isSeq(node)) {
      const item: unknown = node.items[Number(name)];
      if (item === undefined) return found;
      node = item;
      found = { key: null, value: rangeOf(node) };
    } else return found;
  }
  return found;
}

function rangeOf(node: unknown): { start: number; end: number } {
  const range = (node as { range?: [number, number, number] | null } | null)?.range;
  return range ? { start: range[0], end: range[1] } : { start: 0, end: 0 };
}
