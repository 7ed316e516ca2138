/** `holdfast record export`: the record for a spreadsheet or another program. */
import path from 'node:path';
import { Command, Option } from 'commander';
import { filterEntries } from '../../record/filter.ts';
import { writeFileWhole } from '../../report/out-file.ts';
import { renderRecordCsv } from '../../report/record-csv.ts';
import { cancellations } from '../../report/record-show.ts';
import { safeJson } from '../../report/safe-text.ts';
import { counted } from '../../report/text.ts';
import type { Context } from '../context.ts';
import { inventoryOption, recordOption } from '../files.ts';
import { openForReading, printText } from './opened.ts';
import { type FilterOptions, filterOptions, readFilter } from './show.ts';

interface ExportOptions extends FilterOptions {
  readonly format: 'csv' | 'jsonl';
  readonly out?: string;
}

const EXAMPLES = `
All stations in one order, by when it was done. csv has a column cancelled_by;
jsonl has each entry as it was written.
Exit code: 0; 1 where the record is damaged.

Examples:
  holdfast record export --format csv --out record.csv
  holdfast record export --format jsonl --kind hold | jq -r .result`;

export function exportCommand(context: Context): Command {
  const command = new Command('export')
    .summary('all entries as CSV or JSON lines')
    .description('Prints all entries for a spreadsheet (csv) or another program (jsonl).')
    .addOption(
      new Option('--format <format>', 'csv or jsonl').choices(['csv', 'jsonl']).makeOptionMandatory(),
    )
    .option('--out <file>', 'write into a file, whole or not at all')
    .addHelpText('after', EXAMPLES)
    .action((options: ExportOptions) => runExport(options, context));
  return recordOption(inventoryOption(filterOptions(command)));
}

function runExport(options: ExportOptions, context: Context): void {
  const opened = openForReading(context, options);
  const all = opened.record.entries;
  const entries = filterEntries(all, readFilter(options, opened));
  const text =
    options.format === 'csv'
      ? renderRecordCsv({ entries, cancelledBy: cancellations(all) })
      : entries.map(entry => `${safeJson(entry)}\n`).join('');
  if (options.out === undefined) context.out(text);
  else {
    writeFileWhole(path.resolve(context.cwd, options.out), text);
    const told = `${counted(entries.length, 'entry', 'entries')} written to ${options.out}\n`;
    printText(opened.record, told, context);
  }
}
