/** The questions of `inventory new` on a terminal. Enter takes what is offered. */
import { createInterface, type Interface } from 'node:readline/promises';
import { CIRCUIT_KINDS } from '../../inventory/inventory.ts';
import { refuse } from '../../problem/problem.ts';
import type { Terminal } from '../context.ts';
import { type Answers, FAULTS } from './answers.ts';

interface Questions {
  /** What the options say already; that is not asked. */
  readonly given: Partial<Answers>;
  /** What is offered. */
  readonly defaults: Answers;
  readonly now: Date;
  readonly terminal: Terminal;
}

/** @throws Refusal `interrupted` on Ctrl-C and Ctrl-D, before anything is written. */
export async function askAll({ given, defaults, now, terminal }: Questions): Promise<Answers> {
  const lines = createInterface({
    input: terminal.input,
    output: terminal.output,
    terminal: true,
    historySize: 0,
  });
  const end = new AbortController();
  lines.on('close', () => end.abort());
  const ask = asker(lines, end.signal, terminal);
  const words = (text: string) => text.split(/[\s,]+/).filter(word => word !== '');
  const checked = (fault: (list: readonly string[]) => string | null) => (text: string) => fault(words(text));
  try {
    const name = given.name ?? (await ask('Name of the practice', defaults.name, FAULTS.name));
    const zone =
      given.timeZone ?? (await ask('Time zone', defaults.timeZone, text => FAULTS.timeZone(text, now)));
    const machines =
      given.machines ??
      words(
        await ask('Machines, the preferred one first', defaults.machines.join(' '), checked(FAULTS.machines)),
      );
    const kinds = `Circuits (${CIRCUIT_KINDS.join(', ')})`;
    const circuits =
      given.circuits ?? words(await ask(kinds, defaults.circuits.join(' '), checked(FAULTS.circuits)));
    return { name, timeZone: zone, machines, circuits };
  } catch (error) {
    if (end.signal.aborted)
      return refuse('interrupted', 'broken off: nothing was written', 'start again when ready');
    throw error;
  } finally {
    lines.close();
  }
}

/** Asks until the answer has no fault. */
function asker(lines: Interface, signal: AbortSignal, { output }: Terminal) {
  return async (
    question: string,
    offered: string,
    fault: (text: string) => string | null,
  ): Promise<string> => {
    for (;;) {
      const typed = (await lines.question(`${question} [${offered}]: `, { signal })).trim();
      const answer = typed === '' ? offered : typed;
      const wrong = fault(answer);
      if (wrong === null) return answer;
      output.write(`  ${wrong}\n`);
    }
  };
}
