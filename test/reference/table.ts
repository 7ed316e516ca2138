/** The table of all checks as a page, and what of the published values has no figure here to be checked against. */
import type { ReferenceRow } from './check.ts';

export type TableRow = ReferenceRow & { readonly difference: number | null };

/** Every published or agreed value, by its id. `V`: saturated vapour, a check of our own; `U`: units. */
export const IDS: readonly string[] = [
  ...numbered('F', 9),
  ...numbered('B', 2),
  ...numbered('T', 3),
  ...numbered('G', 4),
  ...numbered('L', 13),
  ...numbered('O', 5),
  ...numbered('M', 3),
  ...numbered('A', 5),
  ...['V', ...numbered('V', 3)],
  'C1',
  'E1',
  ...numbered('W', 2),
  'D1',
  'Dates',
  'U',
];

/** Values that no figure of the program depends on, and why. */
export const NO_FIGURE: Readonly<Record<string, { readonly fact: string; readonly why: string }>> = {
  L7: {
    fact: 'oxygen flush 35–75 L/min (APSF; seen)',
    why: 'the steps say when to keep off the flush, and name no flow of it',
  },
  L8: {
    fact: 'scavenging interface, flush on: below 10 cmH2O (FDA 1993, step 8; seen)',
    why: 'a practice may write it into the text of a check; no pressure of the scavenging is judged',
  },
  L10: {
    fact: 'valve discs: 40 cmH2O by a spare bag (University of Ottawa machine check 1997; seen)',
    why: 'the steps say that a hold does not prove the discs; their test is a check with the text of the practice',
  },
  L11: {
    fact: 'pipeline about 50 psi (FDA 1993, step 3; seen)',
    why: 'a pipeline has no figure for what is left, and its pressure is neither read nor judged',
  },
  L13: {
    fact: 'vaporizer output within 15 % of the dial (UC Davis; UConn; seen)',
    why: 'the output is measured by those who service it; here a service is signed off as passed or failed',
  },
  A4: {
    fact: 'absorbent: change when colour has reached 2/3 of the charge (Jorgensen & Jorgensen 1977; seen)',
    why: 'colour is seen, not worked out: the change is signed off, and limits are hours and dates',
  },
  A5: {
    fact: 'absorbent: change at half a canister or 125 mL of liquid agent (Dunlop, WSAVA 2014; seen)',
    why: 'limits of absorbent are hours in use and dates; liquid agent is summed for charcoal alone',
  },
  E1: {
    fact: '2 ppm ceiling, halogenated agent alone (NIOSH 77-140; seen)',
    why: 'the air of the room is not measured by what the program knows; when to monitor it is a check with a date',
  },
};

function numbered(letter: string, count: number): string[] {
  return Array.from({ length: count }, (_, i) => `${letter}${i + 1}`);
}

/** The page. @param rows - in any order; they are put in the order of the ids, and within one as they were checked. */
export function renderTable(rows: readonly TableRow[]): string {
  const sorted = IDS.flatMap(id => rows.filter(row => row.id === id));
  const misfits = sorted.filter(({ misfit }) => misfit !== undefined);
  return `# Outside checks

Every figure of the program that a published or agreed value can be held against, beside that value. Made from the checks in
this folder, and written anew by \`REFERENCE_TABLE=write npx vitest run test/reference/table.test.ts\`; that test fails where
this page is stale.

How theirs is known: **seen** = read in a stored copy of the source or of a text that prints it; **quoted** = read in a text
that quotes the source; **memory** = from memory, the named text not at hand; **practice** = common practice or agreed here, no
source; **exact** = by definition or arithmetic. "With rules" says by which rules of an inventory ours was worked out, where
they are not the defaults. A difference is ours less theirs, or less the nearer end of a range; 0 also where it is less than a
billionth; "same" and "not" compare words. A **misfit** is known not to agree, and the check is that it still does not.

${sorted.length} checks, ${misfits.length} of them misfits.

| id | figure | ours | theirs | difference | with rules | source | how known |
| --- | --- | ---: | ---: | ---: | --- | --- | --- |
${sorted.map(line).join('')}
## Known misfits

${misfits.map(row => `- **${row.id}**, ${row.figure}: ours ${shown(row.ours)}, theirs ${theirs(row)}. ${sentence(row.misfit ?? '')}\n`).join('')}
## Values that touch no figure

| id | value | why there is nothing to check |
| --- | --- | --- |
${Object.entries(NO_FIGURE)
  .map(([id, { fact, why }]) => cells([id, fact, why]))
  .join('')}`;
}

function line(row: TableRow): string {
  const misfit = row.misfit === undefined ? '' : ' **misfit**';
  return cells([
    row.id,
    row.figure,
    shown(row.ours),
    theirs(row),
    `${differenceOf(row)}${misfit}`,
    row.rules ?? '',
    row.source,
    row.how,
  ]);
}

function cells(texts: readonly string[]): string {
  return `| ${texts.map(text => text.replaceAll('|', '\\|')).join(' | ')} |\n`;
}

function theirs({ theirs }: TableRow): string {
  return typeof theirs === 'object' ? `${shown(theirs[0])} to ${shown(theirs[1])}` : shown(theirs);
}

function differenceOf({ ours, theirs, difference }: TableRow): string {
  if (difference === null) return ours === theirs ? 'same' : 'not';
  return Math.abs(difference) < 1e-9 ? '0' : shown(Number(difference.toPrecision(3)));
}

/** Six digits: more than any source prints. */
function shown(value: number | string): string {
  return typeof value === 'string' ? value : String(Number(value.toPrecision(6)));
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
