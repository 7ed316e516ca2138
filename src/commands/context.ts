/** What a command knows of the world. `main` makes one from the process; tests make their own. */

/** 0 done · 1 done, something to act on · 2 not done: command line or input · 3 not done: the record · 4 a bug. */
export type ExitCode = 0 | 1 | 2 | 3 | 4;

export interface Context {
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly cwd: string;
  readonly hostname: string;
  /** The clock. A command reads it once and passes the instant down; only the guided hold reads it again. */
  now(): Date;
  /** Results. */
  out(text: string): void;
  /** Everything else. */
  err(text: string): void;
  /** Columns of the terminal, at most what is good to read; 80 when it is not a terminal. */
  readonly width: number;
  /** Whether results may be coloured. Colour is never the only sign. */
  readonly colour: boolean;
  /** The terminal, where there is one on both sides; null where the command cannot ask. */
  readonly terminal: Terminal | null;
  /** Set by the command; main hands it to the process. */
  exitCode: ExitCode;
}

/** Raw access to a terminal, for commands that ask. */
export interface Terminal {
  readonly input: NodeJS.ReadStream;
  readonly output: NodeJS.WriteStream;
}
