/**
 * What `holdfast due` costs on a record of a million lines, as ratios of what others need for the newest entry of each pair, in the
 * same run on the same files; and how its memory grows from ten thousand lines to a million. Whole processes, in turn; medians.
 */
import { spawnSync } from 'node:child_process';
import { readdirSync, statSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import path from 'node:path';
import { writeBenchPractice } from './due-record.ts';

const ROUNDS = 7;
const SMALL = 10_000;
const BIG = 1_000_000;
const MOST = { duckDb: 1.5, jq: 0.12, growthMiB: 30 };
const KIB = 1024;

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
const JQ = `jq -r 'select(.kind == "sign_off") | [.asset, .check, .on, .result] | @tsv' "$@" |
  awk -F'\\t' '{ pair = $1 " " $2; if ($3 >= newest[pair]) { newest[pair] = $3; result[pair] = $4 } }
    END { for (pair in newest) count++; print count }'`;

function main(): void {
  const home = process.argv[2] ?? '.';
  const [small, big] = [path.join(home, 'small'), path.join(home, 'big')];
  writeBenchPractice(small, SMALL);
  writeBenchPractice(big, BIG);
  const files = recordFiles(big);
  const bytes = files.reduce((sum, file) => sum + statSync(file).size, 0);
  const duckDb = path.join(home, 'duckdb.cjs');
  writeFileSync(duckDb, DUCKDB);

  const times = { due: [] as number[], duckDb: [] as number[], jq: [] as number[] };
  for (let round = 0; round < ROUNDS; round++) {
    times.due.push(timed(process.execPath, dueOf(big)));
    times.duckDb.push(timed(process.execPath, [duckDb, path.resolve('node_modules/@duckdb/node-api'), big]));
    times.jq.push(timed('sh', ['-c', JQ, 'sh', ...files]));
  }
  const growthMiB = peakMiB(big) - peakMiB(small);

  const [cpu] = cpus();
  console.log(
    `${cpus().length} × ${cpu?.model}, Node ${process.version}, load ${loadavg()
      .map(load => load.toFixed(1))
      .join(' ')}`,
  );
  console.log(
    `${BIG} lines, ${(bytes / KIB / KIB).toFixed(0)} MiB, ${files.length} files; ${ROUNDS} of each, ms:`,
  );
  for (const [name, all] of Object.entries(times))
    console.log(`  ${name.padEnd(7)} ${all.map(ms => ms.toFixed(0)).join(' ')}`);
  const [due, duck, jq] = [median(times.due), median(times.duckDb), median(times.jq)];
  console.log(`due ÷ DuckDB          ${(due / duck).toFixed(2)}  (at most ${MOST.duckDb})`);
  console.log(`due ÷ (jq | awk)      ${(due / jq).toFixed(3)}  (at most ${MOST.jq})`);
  console.log(
    `growth of the peak    ${growthMiB.toFixed(0)} MiB from ${SMALL} to ${BIG} lines  (at most ${MOST.growthMiB})`,
  );
  if (due / duck > MOST.duckDb || due / jq > MOST.jq || growthMiB > MOST.growthMiB) process.exitCode = 1;
}

function dueOf(folder: string): string[] {
  const inventory = path.join(folder, 'inventory.yaml');
  return ['bin/holdfast.cjs', 'due', '--quiet', '--as-of', '2026-11-24', '--inventory', inventory];
}

/** The peak of the whole process, from the process itself: the middle of three. */
function peakMiB(folder: string): number {
  const hook = path.join(folder, 'peak.cjs');
  writeFileSync(hook, "process.on('exit', () => console.error(process.resourceUsage().maxRSS));");
  const peaks = [1, 2, 3].map(() => {
    const { stderr } = spawnSync(process.execPath, ['--require', hook, ...dueOf(folder)], {
      encoding: 'utf8',
    });
    return Number(stderr.trim().split('\n').at(-1)) / KIB;
  });
  return median(peaks);
}

function recordFiles(folder: string): string[] {
  const record = path.join(folder, 'record');
  return readdirSync(record, { recursive: true, encoding: 'utf8' })
    .filter(name => name.endsWith('.jsonl'))
    .map(name => path.join(record, name));
}

function timed(program: string, args: readonly string[]): number {
  const start = performance.now();
  const { status, stderr, error } = spawnSync(program, args, { encoding: 'utf8' });
  const ms = performance.now() - start;
  // `due` ends with 1 where something is due.
  if (error !== undefined || status === null || status > 1 || stderr !== '')
    throw new Error(`${program} ${args[0]}: ${error ?? stderr}`);
  return ms;
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

main();
