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

/** Past this many the rest is not read: the file is something else than an inventory. */
const MOST_PROBLEMS = 20;

/** The tokens of a text, or all that is refused in it. */
export function tokenize(source: Source): { tokens: CST.Token[] } | Problem[] {
  const problems: Problem[] = [];
  const parser = new Parser();
  const tokens: CST.Token[] = [];
  for (const { type, lexeme, offset } of typedLexemes(source.text)) {
    const refused = refusal(type, lexeme);
    if (refused !== null) {
      const { code, message, remedy } = refused;
      problems.push(source.problem(code, offset, offset + lexeme.length, message, remedy));
    }
    // Once something is refused the rest is only looked through.
    if (problems.length === 0) tokens.push(...parser.next(lexeme));
    if (parser.stack.length > MOST_LEVELS) return [tooDeep(source, offset)];
    if (problems.length === MOST_PROBLEMS) break;
  }
  if (problems.length > 0) return problems;
  tokens.push(...parser.end());
  return { tokens };
}

function tooDeep(source: Source, offset: number): Problem {
  const message = `groups within groups, more than ${MOST_LEVELS} deep`;
  return source.problem('too_deep', offset, offset + 1, message, 'check the indentation and the brackets');
}

type LexemeType = ReturnType<typeof CST.tokenType> | 'second-document';

/** The lexemes of a text, each with its type and offset, up to the beginning of a second document. */
function* typedLexemes(text: string): Generator<{ type: LexemeType; lexeme: string; offset: number }> {
  let offset = 0;
  let isScalarContent = false;
  let isDocumentOver = false;
  let hasContent = false;
  for (const lexeme of new Lexer().lex(text)) {
    // What follows the scalar mark is text, whatever it looks like.
    const type = isScalarContent ? 'scalar' : CST.tokenType(lexeme);
    isScalarContent = lexeme === CST.SCALAR;
    if (type === 'doc-end' || (type === 'doc-start' && hasContent)) isDocumentOver = hasContent;
    const isContent = type !== null && !BETWEEN_DOCUMENTS.has(type);
    if (isDocumentOver && (isContent || type === 'doc-start')) {
      yield { type: 'second-document', lexeme, offset };
      return;
    }
    hasContent ||= isContent || type === 'doc-start';
    yield { type, lexeme, offset };
    if (!MARKS.has(lexeme)) offset += lexeme.length;
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
