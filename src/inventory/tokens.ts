/**
 * Text → YAML tokens, and what is refused among them. Nothing is taken over from YAML that could make one line change the
 * meaning of another: no anchors, aliases, tags, directives or second documents.
 */
import { CST, Lexer, Parser } from 'yaml';
import type { Code } from '../problem/codes.ts';
import type { Problem } from '../problem/problem.ts';
import type { Source } from './source.ts';

/** Deeper than any inventory nests. What comes after the tokens recurses and would run out of stack. */
const MOST_LEVELS = 32;

/** Words and marks. The largest hospital's inventory has a tenth of it; several seconds of reading are spared, and refused, beyond. */
const MOST_LEXEMES = 500_000;

/** Past this many the rest is not read: the file is something else than an inventory. */
const MOST_PROBLEMS = 20;

/**
 * The tokens of a text, or all that is refused in it. The lexemes are gathered first: turning each into tokens as it comes
 * takes a quarter longer, and there are thousands of them.
 */
export function tokenize(source: Source): { tokens: CST.Token[] } | Problem[] {
  const lexemes: string[] = [];
  for (const lexeme of new Lexer().lex(source.text)) {
    if (lexemes.push(lexeme) > MOST_LEXEMES) break;
  }
  const refused = refusals(source, lexemes);
  if (refused.length > 0) return refused;
  const read = parseLexemes(source, lexemes);
  // What is wrong with what was read says more.
  return lexemes.length > MOST_LEXEMES && !Array.isArray(read) ? [tooMany(source, lexemes)] : read;
}

/** All that is refused among the lexemes, up to the beginning of a second document. */
function refusals(source: Source, lexemes: readonly string[]): Problem[] {
  const problems: Problem[] = [];
  const documents = new DocumentCounter();
  let offset = 0;
  let isScalarContent = false;
  for (const lexeme of lexemes) {
    // What follows the scalar mark is text, whatever it looks like.
    const type = isScalarContent ? 'scalar' : CST.tokenType(lexeme);
    isScalarContent = lexeme === CST.SCALAR;
    const isSecond = documents.isSecond(type);
    const refused = refusal(isSecond ? 'second-document' : type, lexeme);
    if (refused !== null) {
      const { code, message, remedy } = refused;
      problems.push(source.problem(code, offset, offset + lexeme.length, message, remedy));
    }
    if (isSecond || problems.length === MOST_PROBLEMS) break;
    if (!MARKS.has(lexeme)) offset += lexeme.length;
  }
  return problems;
}

function parseLexemes(source: Source, lexemes: readonly string[]): { tokens: CST.Token[] } | Problem[] {
  const parser = new Parser();
  const tokens: CST.Token[] = [];
  let offset = 0;
  for (const lexeme of lexemes) {
    for (const token of parser.next(lexeme)) tokens.push(token);
    if (parser.stack.length > MOST_LEVELS) return [tooDeep(source, offset)];
    if (!MARKS.has(lexeme)) offset += lexeme.length;
  }
  for (const token of parser.end()) tokens.push(token);
  return { tokens };
}

function tooMany(source: Source, lexemes: readonly string[]): Problem {
  const offset = lexemes.reduce((sum, lexeme) => sum + (MARKS.has(lexeme) ? 0 : lexeme.length), 0);
  const message = `more than ${MOST_LEXEMES} words and marks`;
  return source.problem('file_too_large', offset - 1, offset, message, 'check that it is the right file');
}

function tooDeep(source: Source, offset: number): Problem {
  const message = `groups within groups, more than ${MOST_LEVELS} deep`;
  return source.problem('too_deep', offset, offset + 1, message, 'check the indentation and the brackets');
}

type LexemeType = ReturnType<typeof CST.tokenType> | 'second-document';

/** Watches for the beginning of a second document. */
class DocumentCounter {
  #isFirstOver = false;
  #hasContent = false;

  /** Whether the lexeme that comes now begins a second document. Told of every lexeme, in their order. */
  isSecond(type: LexemeType): boolean {
    if (type === 'doc-end' || (type === 'doc-start' && this.#hasContent))
      this.#isFirstOver = this.#hasContent;
    const isContent = type !== null && !BETWEEN_DOCUMENTS.has(type);
    if (this.#isFirstOver && (isContent || type === 'doc-start')) return true;
    this.#hasContent ||= isContent || type === 'doc-start';
    return false;
  }
}

/** What the lexer puts in between and that stands in no text. */
const MARKS: ReadonlySet<string> = new Set([CST.DOCUMENT, CST.FLOW_END, CST.SCALAR]);

const BETWEEN_DOCUMENTS: ReadonlySet<string> = new Set([
  'byte-order-mark',
  'comment',
  'directive-line',
  'doc-end',
  'doc-mode',
  'doc-start',
  'newline',
  'space',
]);

function refusal(type: LexemeType, lexeme: string): { code: Code; message: string; remedy: string } | null {
  switch (type) {
    case 'anchor':
      return { code: 'anchor_refused', message: `an anchor, ${lexeme}`, remedy: 'write the values out' };
    case 'alias':
      return { code: 'anchor_refused', message: `an alias, ${lexeme}`, remedy: 'write the values out' };
    case 'tag':
      return { code: 'tag_refused', message: `a tag, ${lexeme}`, remedy: 'delete the tag' };
    case 'directive-line':
      return { code: 'directive_refused', message: `a directive, ${lexeme}`, remedy: 'delete the line' };
    case 'second-document':
      return {
        code: 'several_documents',
        message: 'a second document begins here',
        remedy: 'keep one, and delete the line ---',
      };
    case 'double-quoted-scalar':
    case 'single-quoted-scalar':
      // Found here because the library would point at the end of the file.
      if (lexeme.length > 1 && lexeme.at(-1) === lexeme[0]) return null;
      return { code: 'yaml_syntax', message: 'not YAML: a quote that is never closed', remedy: 'close it' };
    default:
      return null;
  }
}
