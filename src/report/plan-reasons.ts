/** Where every figure of a plan comes from, for a person. */
import type { Reason, RuleRef } from '../plan/reason.ts';
import { formatNumber } from '../quantity/format.ts';
import { safeText } from './safe-text.ts';
import { wrap } from './text.ts';

/** One block a figure: its value, the formula, the rules with their lines, the source. */
export function renderReasons(reasons: readonly Reason[], file: string, width: number): string[] {
  const lines = ['WHERE THE FIGURES COME FROM'];
  for (const { figure, value, formula, rules, source } of reasons) {
    const shown = typeof value === 'number' ? formatNumber(value, 2) : String(value);
    lines.push(wrap(`${figure} = ${shown}: ${formula}`, width, '  ', '    '));
    const places = rules.map(rule => place(rule, file)).join('; ');
    lines.push(wrap(safeText(`${places}${places === '' ? '' : '. '}${source}`), width, '    '));
  }
  return lines;
}

function place({ path, line, from }: RuleRef, file: string): string {
  const name = path.slice(1).replaceAll('/', '.');
  return from === 'default' ? `${name} (default)` : `${name} (${file}:${line})`;
}
