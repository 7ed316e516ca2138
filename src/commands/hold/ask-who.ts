/** Who does it, asked of a person who is led through it and was not named. */
import type { Refusal } from '../../problem/problem.ts';
import type { Context } from '../context.ts';
import type { WritingOptions } from '../entering.ts';
import { Dialogue } from './dialogue.ts';

/**
 * The options with a name: as given, or asked for. Where there is nobody to ask they come back as they are.
 *
 * @param interruption - what Ctrl-C is called; not given: `hold_interrupted`.
 * @throws Refusal (exit 2) on Ctrl-C.
 */
export async function withWho<T extends WritingOptions>(
  options: T,
  context: Context,
  interruption?: () => Refusal,
): Promise<T> {
  const { terminal } = context;
  const named = options.by ?? context.env.HOLDFAST_BY ?? '';
  if (terminal === null || options.json || named.trim() !== '') return options;
  const talk = new Dialogue(context, terminal, interruption);
  try {
    for (;;) {
      const by = await talk.ask('Who does it (--by):');
      if (by !== '') return { ...options, by };
    }
  } finally {
    talk.close();
  }
}
