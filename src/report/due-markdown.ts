/** The due report for an issue or a chat: a table that shows every character of an id as it is. */
import type { DueCaution, DueItem, DueReport, PracticeDue } from '../due/item.ts';
import {
  countWords,
  dateWords,
  latenessWords,
  STRUCTURE_ONLY,
  stateWords,
  stationWords,
  summaryWords,
} from './due-words.ts';
import { safeText } from './safe-text.ts';

/** The report as Markdown, with a line break at its end. Only texts that cannot break out of a table cell are let in. */
export function renderDueMarkdown(report: DueReport): string {
  const blocks = [
    `# ${escaped(summaryWords(report.practices))}`,
    ...report.practices.flatMap(due => practiceBlocks(due, report.practices.length > 1)),
  ];
  return `${blocks.join('\n\n')}\n`;
}

function practiceBlocks(due: PracticeDue, several: boolean): string[] {
  const first = due.cautions.filter(({ code }) => code === 'record_damaged' || code === 'no_record');
  const last = due.cautions.filter(caution => !first.includes(caution));
  return [
    `## ${escaped(due.practice)}, ${dateWords(due.asOf)}`,
    ...first.map(cautionBlock),
    ...(several ? [countWords(due.items)] : []),
    ...(due.items.length === 0 ? [] : [table(due.items)]),
    ...last.map(cautionBlock),
    ...(due.record === 'none' || due.stations.length === 0 ? [] : [recordBlock(due)]),
  ];
}

function cautionBlock({ code, message }: DueCaution): string {
  return code === 'record_damaged'
    ? `> **Record damaged:** ${escaped(message)}. What stands below may be wrong. Run \`holdfast record verify\`.`
    : `> ${code === 'no_record' ? 'Note' : 'Caution'}: ${escaped(message)}.`;
}

function table(items: readonly DueItem[]): string {
  const rows = items.map(item => {
    const bold = item.state === 'overdue' || item.state === 'due' ? '**' : '';
    const lateness = item.state === 'withdrawn' ? '' : latenessWords(item);
    const cells = [
      `${bold}${stateWords(item)}${bold}`,
      code(item.asset.id),
      code(item.check.id),
      lateness,
      escaped(item.because),
    ];
    return `| ${cells.join(' | ')} |`;
  });
  return ['| State | Asset | Check | Date | Why |', '| --- | --- | --- | --- | --- |', ...rows].join('\n');
}

function recordBlock({ stations }: PracticeDue): string {
  return [
    'Record:',
    '',
    ...stations.map(station => `- ${escaped(stationWords(station))}`),
    '',
    `${STRUCTURE_ONLY.replace('holdfast record verify', '`holdfast record verify`')}.`,
  ].join('\n');
}

/** Ids are a-z, 0-9 and -, so that nothing in them can end the code. */
function code(id: string): string {
  return `\`${id}\``;
}

/**
 * A text of a person in which nothing is markup: no emphasis, link, HTML, table border, mention or issue number.
 *
 * @example escaped('a|b <i>') //=> 'a\\|b \\<i\\>'
 */
function escaped(text: string): string {
  return safeText(text)
    .replace(/[\\`*_{}[\]<>|~]/g, '\\$&')
    .replace(/[@#](?=\w)/g, '$&\u2060');
}
