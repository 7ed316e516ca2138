/** Cautions beside a result → stderr. The result stands; these are to be read all the same. */
import type { Problem } from '../problem/problem.ts';
import { safeText } from './safe-text.ts';
import { wrap } from './text.ts';

interface Printer {
  err(text: string): void;
  readonly width: number;
}

/** Writes each caution with its code and what to do. */
export function printCautions(problems: readonly Problem[], context: Printer): void {
  for (const one of problems) context.err(renderCaution(one, context.width));
}

/** @example renderCaution(problem('pair_not_driven', 'x', 'y'), 80) //=> 'pair_not_driven (caution)\n  x\n  → y\n' */
function renderCaution({ code, file, line, message, remedy }: Problem, width: number): string {
  const place = file === null ? '' : ` ${safeText(file)}${line === null ? '' : `:${line}`}`;
  const lines = [
    `${code}${place} (caution)`,
    wrap(safeText(message), width, '  '),
    wrap(safeText(remedy), width, '  → ', '    '),
  ];
  return `${lines.join('\n')}\n`;
}
