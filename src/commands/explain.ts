/** `holdfast explain [CODE]`: what a code means and what to do. */
import { Command } from 'commander';
import type { CautionRow, CodeRow } from '../problem/code.ts';
import { CODE_FAMILIES } from '../problem/codes.ts';
import { nearest } from '../problem/nearest.ts';
import { refuse } from '../problem/problem.ts';
import { padEnd, wrap } from '../report/text.ts';
import type { Context } from './context.ts';

const LEVELS = {
  stop: 'stop: the patient must not go on this equipment (exit code 1)',
  caution: 'caution: read it before the case',
  note: 'note: for your information',
};

const EXAMPLES = `
Examples:
  holdfast explain hold_needed   what this caution of a plan means
  holdfast explain               all codes`;

export function command(context: Context): Command {
  return new Command('explain')
    .description('Prints what a code means and what to do. Without a code: all of them.')
    .argument('[code...]', 'one code or several, as they stand in front of a message')
    .addHelpText('after', EXAMPLES)
    .action((codes: string[]) => {
      const rendered = codes.map(code => renderCode(code, context.width));
      context.out(codes.length === 0 ? renderAllCodes(context.width) : rendered.join('\n'));
    });
}

/** One code in full. A code may be typed with hyphens or capitals. @throws Refusal `code_unknown` with the names near it. */
function renderCode(typed: string, width: number): string {
  const code = typed.toLowerCase().replaceAll('-', '_');
  for (const { heading, rows } of CODE_FAMILIES) {
    const row = Object.hasOwn(rows, code) ? rows[code] : undefined;
    if (row !== undefined) return renderRow(code, heading, row, width);
  }
  const near = codesNear(code);
  refuse(
    'code_unknown',
    `there is no code '${typed}'`,
    near.length > 0 ? `did you mean ${near.join(', ')}?` : 'holdfast explain without a code lists them all',
  );
}

function renderRow(code: string, heading: string, row: CodeRow | CautionRow, width: number): string {
  const lines = [`${code} (${heading.toLowerCase()})`];
  if ('level' in row) lines.push(`  ${LEVELS[row.level]}`);
  lines.push(wrap(row.means, width, '  '), wrap(row.remedy, width, '  → ', '    '));
  return `${lines.join('\n')}\n`;
}

function renderAllCodes(width: number): string {
  const column =
    Math.max(...CODE_FAMILIES.flatMap(({ rows }) => Object.keys(rows).map(code => code.length))) + 4;
  const families = CODE_FAMILIES.filter(({ rows }) => Object.keys(rows).length > 0).map(
    ({ heading, rows }) => {
      const lines = Object.entries(rows).map(([code, row]) => {
        const means = 'level' in row ? `${row.level}: ${row.means}` : row.means;
        return wrap(means, width, padEnd(`  ${code}`, column), ' '.repeat(column));
      });
      return `${heading}\n${lines.join('\n')}\n`;
    },
  );
  return families.join('\n');
}

/** The codes that share a word with what was typed, and the one with the fewest letters different; at most six. */
function codesNear(typed: string): string[] {
  const all = CODE_FAMILIES.flatMap(({ rows }) => Object.keys(rows));
  const words = typed.split('_').filter(word => word.length > 2);
  const best = nearest(typed, all);
  const sharing = all.filter(code => code !== best && words.some(word => code.split('_').includes(word)));
  return [...(best === null ? [] : [best]), ...sharing].slice(0, 6);
}
