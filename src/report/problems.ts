/** Problems → stderr, for a person or as JSON. */
import { frame } from '../problem/frame.ts';
import type { Problem } from '../problem/problem.ts';
import { safeJson, safeText } from './safe-text.ts';
import { counted, wrap } from './text.ts';

/** What printing problems needs of the world. */
interface Printer {
  err(text: string): void;
  readonly width: number;
}

/** More than a person reads before mending the first ones; JSON has all of them. */
const MOST_SHOWN = 100;

/** Writes problems to stderr, as text or as one JSON object (`holdfast.error/1`). */
export function printProblems(
  problems: readonly Problem[],
  { context, json }: { context: Printer; json: boolean },
): void {
  context.err(json ? renderProblemsJson(problems) : renderProblems(problems, context.width));
}

/**
 * Problems in words: code and place, what is wrong, the user's own line with a marker, what to do. A blank line parts them.
 *
 * @param width columns of the terminal
 */
export function renderProblems(problems: readonly Problem[], width: number): string {
  const shown = problems.slice(0, MOST_SHOWN).map(problem => renderProblem(problem, width));
  const left = problems.length - MOST_SHOWN;
  if (left > 0)
    shown.push(`… and ${counted(left, 'problem')} more. Mend these first, or see all with --json.\n`);
  return shown.join('\n');
}

/** `{"format":"holdfast.error/1","problems":[{code,file,line,column,message,remedy}]}` on one line. */
function renderProblemsJson(problems: readonly Problem[]): string {
  const plain = problems.map(({ code, file, line, column, message, remedy }) => ({
    code,
    file,
    line,
    column,
    message,
    remedy,
  }));
  return `${safeJson({ format: 'holdfast.error/1', problems: plain })}\n`;
}

function renderProblem(problem: Problem, width: number): string {
  const { code, line, column, message, remedy, excerpt } = problem;
  const lines = [[code, placeOf(problem)].filter(Boolean).join(' '), wrap(safeText(message), width, '  ')];
  if (excerpt !== undefined && line !== null && column !== null) {
    lines.push(frame({ line, column, ...excerpt }, { width, visible: safeText }));
  }
  lines.push(wrap(safeText(remedy), width, '  → ', '    '));
  return `${lines.join('\n')}\n`;
}

/** `file:line:column`, as far as it is known: editors and terminals make a link of it. */
function placeOf({ file, line, column }: Problem): string {
  return [file === null ? null : safeText(file), line, column].filter(part => part !== null).join(':');
}
