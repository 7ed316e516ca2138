/**
 * What `due` costs as the record grows, against what others need on the same files: `wc -l` to read them at all, jq and awk, and
 * DuckDB for the newest entry of each pair; and how its memory grows. Whole processes.
 */
import { mkdirSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { writeBenchPractice } from './due-record.ts';
import type { Effort } from './effort.ts';
import {
  type Contender,
  contender,
  holdfast,
  interleave,
  outputOf,
  peakMiB,
  type Spread,
  timedProcess,
  timeOf,
} from './measure.ts';
import { count } from './number.ts';
import type { Found, Row } from './result.ts';
import { countRow, growthOf, peakRow, ratioRow } from './rows.ts';

/** Goals at the greatest size. */
const MOST = { duckDb: 1.5, jq: 0.12, growthMiB: 30 };
const MIB = 1024 * 1024;

/** Newest sign-off of each pair by an engine; prints how many pairs. */
const DUCKDB = `
  const { DuckDBInstance } = require(process.argv[2]);
  (async () => {
    const connection = await (await DuckDBInstance.create(':memory:')).connect();
    const read = await connection.runAndReadAll(\`
      SELECT asset, "check", max("on"), arg_max(result, "on")
      FROM read_json('\${process.argv[3]}/record/*/*.jsonl', format = 'newline_delimited',
        columns = { kind: 'VARCHAR', asset: 'VARCHAR', "check": 'VARCHAR', result: 'VARCHAR', "on": 'VARCHAR' })
      WHERE kind = 'sign_off' GROUP BY ALL\`);
    console.log(read.getRowObjects().length);
  })();
`;
/** The same by two filters. */
const JQ = `jq -r 'select(.kind == "sign_off") | [.asset, .check, .on, .result] | @tsv' "$@" |
  awk -F'\\t' '{ pair = $1 " " $2; if ($3 >= newest[pair]) { newest[pair] = $3; result[pair] = $4 } }
    END { for (pair in newest) count++; print count }'`;

interface Sized {
  readonly lines: number;
  readonly files: number;
  readonly bytes: number;
  readonly due: Contender;
  readonly wc: Contender;
  readonly jq: Contender;
  readonly duckDb: Contender;
  readonly peak: Spread;
}

export async function measure(home: string, effort: Effort): Promise<Found> {
  const sizes: Sized[] = [];
  for (const lines of effort.isQuick ? [1000, 10_000] : [10_000, 100_000, 1_000_000])
    sizes.push(await measureSize(path.join(home, String(lines)), lines, effort));
  const greatest = sizes.at(-1);
  const least = sizes[0];
  if (greatest === undefined || least === undefined) throw new Error('no size');
  const points = (value: (size: Sized) => number) =>
    sizes.map(size => ({ lines: size.lines, value: value(size) }));
  const grown = greatest.peak.median - least.peak.median;
  return {
    rows: [
      ...sizes.flatMap(size => ratios(size, size === greatest)),
      ...sizes.map(({ lines, peak }) => peakRow(`\`due\`, ${count(lines)} lines: peak memory`, peak, null)),
      countRow(
        `\`due\`: growth of the peak from ${count(least.lines)} to ${count(greatest.lines)} lines`,
        grown,
        'MiB',
        MOST.growthMiB,
        'difference of the medians',
      ),
    ],
    growth: [
      growthOf('whole process, by lines of the record', 'ms', {
        'wc -l': points(({ wc }) => timeOf(wc).median),
        due: points(({ due }) => timeOf(due).median),
        DuckDB: points(({ duckDb }) => timeOf(duckDb).median),
        'jq | awk': points(({ jq }) => timeOf(jq).median),
      }),
      growthOf('peak memory of due, by lines of the record', 'MiB', {
        due: points(({ peak }) => peak.median),
      }),
    ],
    remarks: [
      `Records of 200 pairs of asset and check over six years: ${sizes
        .map(
          ({ lines, bytes, files }) =>
            `${count(lines)} lines in ${files} files, ${(bytes / MIB).toFixed(1)} MiB`,
        )
        .join('; ')}.`,
    ],
  };
}

async function measureSize(home: string, lines: number, { rounds, isQuick }: Effort): Promise<Sized> {
  mkdirSync(home, { recursive: true });
  writeBenchPractice(home, lines);
  const files = recordFiles(home);
  const command = [
    'due',
    '--quiet',
    '--as-of',
    '2026-11-24',
    '--inventory',
    path.join(home, 'inventory.yaml'),
  ];
  const script = path.join(home, 'duckdb.cjs');
  writeFileSync(script, DUCKDB);
  const duckDbArgs = [script, path.resolve('node_modules/@duckdb/node-api'), home];
  const jqArgs = ['-c', JQ, 'sh', ...files];
  // Unless the two answer the same question, neither is a measure.
  const pairs = [outputOf(process.execPath, duckDbArgs), outputOf('sh', jqArgs)].map(Number);
  if (pairs[0] !== pairs[1] || pairs[0] === 0)
    throw new Error(`DuckDB and jq find ${pairs.join(' and ')} pairs`);

  const due = holdfast(...command);
  const wc = contender(() => timedProcess('wc', ['-l', ...files]));
  const duckDb = contender(() => timedProcess(process.execPath, duckDbArgs));
  // At a million lines jq alone takes longer than all others together: there it runs three times.
  const jq = contender(() => timedProcess('sh', jqArgs), lines < 1_000_000 || isQuick ? 1 : 3);
  await interleave(rounds(7), [due, wc, duckDb, jq]);
  const peak = peakMiB(home, 3, command);
  const bytes = files.reduce((sum, file) => sum + statSync(file).size, 0);
  rmSync(home, { recursive: true });
  return { lines, files: files.length, bytes, due, wc, jq, duckDb, peak };
}

function ratios({ lines, due, wc, duckDb, jq }: Sized, isGreatest: boolean): Row[] {
  const what = `\`due\`, ${count(lines)} lines`;
  return [
    ratioRow(`${what} ÷ \`wc -l\``, due, wc),
    ratioRow(`${what} ÷ DuckDB, newest of each pair`, due, duckDb, isGreatest ? MOST.duckDb : null),
    ratioRow(`${what} ÷ \`jq … \\| awk\``, due, jq, isGreatest ? MOST.jq : null),
  ];
}

function recordFiles(folder: string): string[] {
  const record = path.join(folder, 'record');
  return readdirSync(record, { recursive: true, encoding: 'utf8' })
    .filter(name => name.endsWith('.jsonl'))
    .map(name => path.join(record, name));
}
