/**
 * Text → YAML tokens, and what is refused among them. Nothing is taken over from YAML that could make one line change the
 * meaning of another: no anchors, aliases, tags, directives or second documents.
 */
import { type CST, Lexer, Parser } from 'yaml';
import { byPlace, type Problem } from '../problem/problem.ts';
import type { Source } from './source.ts';

/** Deeper than any inventory nests. What comes after the tokens recurses and would run out of stack. */
const MOST_LEVELS = 32;

/** Past this many the rest is not listed: the file is something else than an inventory. */
const MOST_PROBLEMS = 20;

/** The tokens of a text, or all that is refused in it. */
export function tokenize(source: Source): { tokens: CST.Token[] } | Problem[] {
  const parser = new Parser();
  const tokens: CST.Token[] = [];
  let offset = 0;
  for (const lexeme of new Lexer().lex(source.text)) {
    tokens.push(...parser.next(lexeme));
    // Looked at while reading, since reading on to the end of a megabyte of brackets takes seconds.
    if (parser.stack.length > MOST_LEVELS) return [tooDeep(source, offset)];
    offset = parser.offset;
  }
  tokens.push(...parser.end());
  const refused = refusedTokens(source, tokens);
  return refused.length > 0 ? refused : { tokens };
}

function tooDeep(source: Source, offset: number): Problem {
  const message = `groups within groups, more than ${MOST_LEVELS} deep`;
  return source.problem('too_deep', offset, offset + 1, message, 'check the indentation and the brackets');
}

function refusedTokens(source: Source, tokens: readonly CST.Token[]): Problem[] {
  const problems: Problem[] = [];
  const documents = tokens.filter(token => token.type === 'document');
  const second = documents[1];
  if (second !== undefined) {
    const { offset } = second;
    problems.push(
      source.problem(
        'several_documents',
        offset,
        offset + 3,
        'a second document begins here',
        'keep one, and delete the line ---',
      ),
    );
  }
  for (const token of tokens) {
    if (token.type === 'directive') problems.push(refusal(source, token, 'directive_refused', 'a directive'));
  }
  const open: CST.Token[] = documents.slice(0, 1);
  for (let token = open.pop(); token !== undefined; token = open.pop()) {
    if (problems.length >= MOST_PROBLEMS) break;
    if (token.type === 'alias') problems.push(refusal(source, token, 'anchor_refused', 'an alias'));
    if (isOpenQuote(token)) problems.push(openQuote(source, token.offset));
    for (const property of propertiesOf(token)) {
      if (property.type === 'anchor') problems.push(refusal(source, property, 'anchor_refused', 'an anchor'));
      if (property.type === 'tag') problems.push(refusal(source, property, 'tag_refused', 'a tag'));
    }
    // Last in, first out: in reverse, so that the first problems of the file are the ones that are listed.
    open.push(...innerTokens(token).reverse());
  }
  return problems.sort(byPlace);
}

/** Found here because the library would point at the end of the file. */
function isOpenQuote(token: CST.Token): boolean {
  if (token.type !== 'double-quoted-scalar' && token.type !== 'single-quoted-scalar') return false;
  return token.source.length < 2 || token.source.at(-1) !== token.source[0];
}

function openQuote(source: Source, offset: number): Problem {
  const message = 'not YAML: a quote that is never closed';
  return source.problem('yaml_syntax', offset, offset + 1, message, 'close it on the same line');
}

const REFUSALS = {
  anchor_refused: 'write the values out',
  tag_refused: 'delete the tag',
  directive_refused: 'delete the line',
};

function refusal(
  source: Source,
  token: { offset: number; source: string },
  code: keyof typeof REFUSALS,
  what: string,
): Problem {
  const end = token.offset + token.source.length;
  return source.problem(code, token.offset, end, `${what}, ${token.source}`, REFUSALS[code]);
}

/** The anchors and tags that stand in front of a token's values. */
function propertiesOf(token: CST.Token): CST.SourceToken[] {
  if (token.type === 'document') return token.start;
  if (!('items' in token)) return [];
  return token.items.flatMap(({ start, sep }) => [...start, ...(sep ?? [])]);
}

function innerTokens(token: CST.Token): CST.Token[] {
  if (token.type === 'document') return token.value === undefined ? [] : [token.value];
  if (!('items' in token)) return [];
  return token.items.flatMap(({ key, value }) =>
    [key, value].filter(inner => inner !== undefined && inner !== null),
  );
}
