/**
 * A problem is a value: what is wrong, where, and what to do next. Rendering it is another function (frame.ts).
 */
import type { Code } from './codes.ts';

/** A place in a file that a person wrote. Lines and columns count from 1; columns count characters, not bytes. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

export interface Problem {
  readonly code: Code;
  readonly file: string | null;
  readonly line: number | null;
  readonly column: number | null;
  /** What is wrong, in one sentence without a full stop. */
  readonly message: string;
  /** What to do next. */
  readonly remedy: string;
  /** The user's own source line and the stretch of it that is meant, for the frame. */
  readonly excerpt?: { readonly text: string; readonly length: number } | undefined;
}

/** Orders problems as a person meets them on the way down a file. */
export function byPlace(a: Problem, b: Problem): number {
  return (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0);
}

/** 2: not done, because of the command line or an input file. 3: not done, because of the record. */
export type RefusalExit = 2 | 3;

/**
 * Thrown where a command cannot go on; carries all that is to be said. Only `main` catches it.
 *
 * @example throw new Refusal([problem('machine_unknown', "no machine 'theater-1'", "did you mean 'theatre-1'?")])
 */
export class Refusal extends Error {
  readonly problems: readonly Problem[];
  readonly exitCode: RefusalExit;

  constructor(problems: readonly Problem[], exitCode: RefusalExit = 2) {
    super(problems.map(p => p.message).join('; '));
    this.name = 'Refusal';
    this.problems = problems;
    this.exitCode = exitCode;
  }
}

/** A problem that has no place in a file, for example one of the command line. */
export function problem(code: Code, message: string, remedy: string): Problem {
  return { code, file: null, line: null, column: null, message, remedy };
}

/** A problem of a whole file. */
export function fileProblem(code: Code, file: string, message: string, remedy: string): Problem {
  return { code, file, line: null, column: null, message, remedy };
}

/** Refuses with one problem of the command line or of an input file (exit 2). */
export function refuse(code: Code, message: string, remedy: string): never {
  throw new Refusal([problem(code, message, remedy)]);
}
