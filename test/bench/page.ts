/** The page of results: test/bench/README.md. Pure: the same results make the same page. */
import { drawGrowth } from './growth.ts';
import { figure, quantity } from './number.ts';
import { isMissed, type PartResult, type Row, type Run } from './result.ts';

export interface Section {
  readonly name: string;
  readonly title: string;
  readonly about: string;
  /** null: this part has not been run yet. */
  readonly result: PartResult | null;
}

/** @param notes written by hand, in Markdown */
export function pageOf(sections: readonly Section[], notes: string): string {
  const rows = sections.flatMap(({ result }) => result?.rows ?? []);
  const runs = sections.flatMap(({ result }) => (result === null ? [] : [result.run]));
  const machines = [...new Set(runs.map(({ machine }) => machine))];
  const unmeasured = sections.filter(({ result }) => result === null).map(({ name }) => name);
  return `${[
    '# Measured',
    'Written by `npm run bench`, not by hand. `npm run bench -- NAME…` measures some parts anew, and each section says when and how loaded the machine was before.',
    `Measured on: ${machines.join('; ') || 'nothing yet'}.`,
    `${verdict(rows)}${unmeasured.length === 0 ? '' : ` Not measured yet: ${unmeasured.join(', ')}.`}`,
    'A ratio is the median of ratios of runs that took turns, with the lowest and the highest; the goal is for the median unless the section says otherwise. `NODE_EXTRA_CA_CERTS` is unset.',
    ...sections.map(sectionOf),
    '## Notes',
    notes.trim(),
  ].join('\n\n')}\n`;
}

/** What came of the goals, the missed ones by name. */
export function verdict(rows: readonly Row[]): string {
  const judged = rows.filter(({ goal }) => goal !== null);
  const missed = judged.filter(isMissed);
  const names = missed.map(({ what, figure: { median, high }, judged, unit, goal }) => {
    const is = judged === 'high' ? high : median;
    return `${what} (${quantity(is, unit)}, goal ${goal})`;
  });
  const summary = `Goals: ${judged.length}; met ${judged.length - missed.length}, missed ${missed.length}.`;
  return names.length === 0 ? summary : `${summary} **MISSED**: ${names.join('; ')}.`;
}

export function sectionOf({ name, title, about, result }: Section): string {
  const heading = `## ${title}\n\n${about}`;
  if (result === null) return `${heading}\n\nNot measured yet: \`npm run bench -- ${name}\`.`;
  return [
    heading,
    table(result.rows),
    ...result.growth.map(growth => `\`\`\`text\n${drawGrowth(growth)}\n\`\`\``),
    ...(result.remarks.length === 0 ? [] : [result.remarks.join(' ')]),
    provenance(name, result.run),
  ].join('\n\n');
}

function table(rows: readonly Row[]): string {
  return [
    '| what | median | lowest to highest | goal, at most | verdict | from |',
    '| --- | --- | --- | --- | --- | --- |',
    ...rows.map(rowOf),
  ].join('\n');
}

function rowOf(row: Row): string {
  const { what, unit, goal, from } = row;
  const { median, low, high } = row.figure;
  const spread = low === high ? '' : `${figure(low, unit)} to ${figure(high, unit)}`;
  const verdict = goal === null ? 'no goal' : isMissed(row) ? '**MISSED**' : 'met';
  return `| ${[what, quantity(median, unit), spread, goal ?? '', verdict, from].join(' | ')} |`;
}

function provenance(name: string, { at, load, commit }: Run): string {
  const loads = load.map(average => average.toFixed(2)).join(', ');
  return `\`npm run bench -- ${name}\`, ${at}, commit ${commit}; load before ${loads}.`;
}
