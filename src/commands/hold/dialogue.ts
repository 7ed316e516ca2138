/** A conversation on a terminal: questions, answers, a countdown. Ctrl-C and Ctrl-D end it at any step. */
import { performance } from 'node:perf_hooks';
import { createInterface, type Interface } from 'node:readline';
import { Writable } from 'node:stream';
import { problem, Refusal } from '../../problem/problem.ts';
import type { Parsed } from '../../quantity/parse.ts';
import { COUNTDOWN_ROWS, plainCountdown, renderCountdown } from '../../report/countdown.ts';
import { wrap } from '../../report/text.ts';
import type { Context, Terminal } from '../context.ts';

const REDRAW_MS = 100;
const BELL = '\u0007';

interface Waiting {
  resolve(line: string): void;
  reject(error: Error): void;
}

/**
 * @example
 * const talk = new Dialogue(context, terminal);
 * try { await talk.ask('…'); } finally { talk.close(); }
 */
export class Dialogue {
  readonly #context: Context;
  readonly #output: NodeJS.WriteStream;
  readonly #lines: Interface;
  /** What is said when it ends early. */
  readonly #interruption: () => Refusal;
  /** While true, what is typed is not shown. */
  #muted = false;
  /** What waits now: an answer, or Enter at the end of a countdown. */
  #waiting: Waiting | null = null;
  #interrupted = false;

  constructor(context: Context, { input, output }: Terminal, interruption = interrupted) {
    this.#context = context;
    this.#interruption = interruption;
    this.#output = output;
    const shown = new Writable({
      write: (chunk: Buffer, _encoding, done) => {
        if (!this.#muted) output.write(chunk);
        done();
      },
    });
    this.#lines = createInterface({ input, output: shown, terminal: true, historySize: 0 });
    this.#lines.on('line', line => this.#settle(waiting => waiting.resolve(line)));
    this.#lines.on('SIGINT', () => this.#interrupt());
    // Ctrl-D, or the terminal went away.
    this.#lines.on('close', () => this.#interrupt());
  }

  /** Whole lines, wrapped. */
  say(text: string, indent = '', hanging = indent): void {
    this.#output.write(`${wrap(text, this.width, indent, hanging)}\n`);
  }

  get width(): number {
    return this.#context.width;
  }

  /** Waits for a line. @throws Refusal `interrupted` */
  async ask(question: string): Promise<string> {
    this.#lines.setPrompt(`${question} `);
    this.#lines.prompt();
    return (await this.#line()).trim();
  }

  /** Asks until the answer is one of these words, or the beginning of just one. */
  async choose<W extends string>(question: string, words: readonly W[]): Promise<W> {
    for (;;) {
      const answer = (await this.ask(question)).toLowerCase();
      const meant = words.filter(word => word.startsWith(answer));
      const [only] = meant;
      const exact = words.find(word => word === answer);
      if (exact !== undefined) return exact;
      if (answer !== '' && meant.length === 1 && only !== undefined) return only;
      this.say(`Please answer ${words.join(', ')}.`, '  ');
    }
  }

  /** Asks until the answer can be read. */
  async quantity<T>(question: string, parse: (text: string) => Parsed<T>): Promise<T> {
    for (;;) {
      const parsed = parse(await this.ask(question));
      if (parsed.ok) return parsed.value;
      this.say(`${parsed.message}. Write it as one of ${parsed.forms}.`, '  ');
    }
  }

  /**
   * Counts until Enter is pressed, down to the time that is needed and on beyond it.
   *
   * @returns the seconds that went by, to a tenth, never rounded up.
   */
  async countdown(neededS: number): Promise<number> {
    const start = performance.now();
    const elapsed = () => (performance.now() - start) / 1000;
    const draw = this.#drawing(neededS);
    this.#muted = true;
    let rang = false;
    draw(0);
    const timer = setInterval(() => {
      if (!rang && elapsed() >= neededS) {
        rang = true;
        this.#output.write(BELL);
      }
      draw(elapsed());
    }, REDRAW_MS);
    try {
      await this.#line();
      const took = elapsed();
      draw(took);
      // A tenth at the least: no time at all would be no measurement.
      return Math.max(0.1, Math.floor(took * 10) / 10);
    } finally {
      clearInterval(timer);
      this.#muted = false;
      this.#output.write('\n');
    }
  }

  close(): void {
    this.#interrupted = true;
    this.#lines.close();
  }

  /** Draws in place; on a terminal that cannot, a line for each second. */
  #drawing(neededS: number): (elapsedS: number) => void {
    const { env } = this.#context;
    // Figures that do not fit would be drawn over and over, one below the other.
    if (env.TERM === 'dumb' || this.#output.rows < COUNTDOWN_ROWS + 1) {
      let last = '';
      return elapsedS => {
        const line = plainCountdown(elapsedS, neededS);
        if (line !== last) this.#output.write(`${line}\n`);
        last = line;
      };
    }
    const locale = env.LC_ALL || env.LC_CTYPE || env.LANG || '';
    const look = { width: this.width, blocks: /utf-?8/i.test(locale) };
    let drawn = 0;
    let last = '';
    return elapsedS => {
      const lines = renderCountdown(elapsedS, neededS, look);
      const drawing = lines.join('\n');
      // A slow line is not kept busy with what it shows already.
      if (drawing === last) return;
      last = drawing;
      const up = drawn > 1 ? `\u001b[${drawn - 1}A` : '';
      this.#output.write(`${up}${lines.map(line => `\r${line}\u001b[K`).join('\n')}`);
      drawn = lines.length;
    };
  }

  #line(): Promise<string> {
    return new Promise((resolve, reject) => {
      if (this.#interrupted) reject(this.#interruption());
      else this.#waiting = { resolve, reject };
    });
  }

  #settle(how: (waiting: Waiting) => void): void {
    const waiting = this.#waiting;
    this.#waiting = null;
    if (waiting !== null) how(waiting);
  }

  #interrupt(): void {
    if (this.#interrupted) return;
    this.#interrupted = true;
    this.#muted = false;
    this.#output.write('\n');
    this.#settle(waiting => waiting.reject(this.#interruption()));
  }
}

function interrupted(): Refusal {
  return notRecorded('interrupted');
}

/** The refusal of a guided test that did not come to its end. */
export function notRecorded(why: string): Refusal {
  return new Refusal([
    problem(
      'hold_interrupted',
      `${why}: nothing was recorded`,
      'if the pair is under pressure, open the pop-off now; start again when ready',
    ),
  ]);
}
