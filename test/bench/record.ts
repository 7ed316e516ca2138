/** What the record costs, as ratios of what the system itself needs; and whether many writers at once lose anything. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { closeSync, fsyncSync, mkdirSync, openSync, writeSync } from 'node:fs';
import path from 'node:path';
import { FIRST_PREV, lineHash } from '../../src/record/chain.ts';
import { verifyRecord } from '../../src/record/verify.ts';
import type { Effort } from './effort.ts';
import { appendOne, INVENTORY } from './entry.ts';
import { LineFile } from './line-file.ts';
import {
  type Contender,
  contender,
  holdfast,
  interleave,
  LAUNCHER,
  outputOf,
  peakMiB,
  spreadOf,
  timed,
  timedProcess,
} from './measure.ts';
import { count, quantity } from './number.ts';
import type { Found, Row } from './result.ts';
import { countRow, peakRow, ratioRow } from './rows.ts';

const PAIRS_A_ROUND = 20;
const FIRST_MS = Date.parse('2026-01-01T08:00:00Z');
const WRITERS = 8;

export async function measure(home: string, effort: Effort): Promise<Found> {
  const append = await appendRow(path.join(home, 'append'), effort);
  const verify = await verifyRows(path.join(home, 'verify'), effort);
  const writers = await writersFound(path.join(home, 'writers'), effort.isQuick ? 20 : 200);
  return { rows: [append, ...verify, ...writers.rows], growth: [], remarks: writers.remarks };
}

/** One of each by turns, so that both see the same disk; the medians of so many pairs are a round. */
async function appendRow(home: string, { rounds }: Effort): Promise<Row> {
  mkdirSync(home, { recursive: true });
  const line = Buffer.from(`${'x'.repeat(340)}\n`);
  const bare = contender(() => timed(() => bareWrite(path.join(home, 'bare.jsonl'), line)));
  const ours = contender(() => timed(() => appendOne(path.join(home, 'record'), path.join(home, 'state'))));
  await interleave(rounds(15) * PAIRS_A_ROUND, [bare, ours]);
  return ratioRow('append ÷ bare open, write, fsync, close', inRounds(ours), inRounds(bare), 2);
}

/** Every so many times as their median. */
function inRounds({ times, run }: Contender): Contender {
  const ran = times.filter(time => time !== null);
  const medians = Array.from(
    { length: ran.length / PAIRS_A_ROUND },
    (_, i) => spreadOf(ran.slice(i * PAIRS_A_ROUND, (i + 1) * PAIRS_A_ROUND)).median,
  );
  return { ...contender(run), times: medians };
}

function bareWrite(file: string, line: Buffer): void {
  const fd = openSync(file, 'a');
  writeSync(fd, line);
  fsyncSync(fd);
  closeSync(fd);
}

async function verifyRows(dir: string, { rounds, isQuick }: Effort): Promise<Row[]> {
  const lines = isQuick ? 10_000 : 1_000_000;
  const file = path.join(dir, 'prep', '2026.jsonl');
  writeChain(file, lines);
  const command = ['record', 'verify', '--record', dir];
  const said = outputOf(process.execPath, [LAUNCHER, ...command, '--json']);
  if (!said.includes('"sound": true') || !said.includes(`"entries": ${lines},`))
    throw new Error(`the record is not as it was made: ${said}`);
  const theirs = contender(() => timedProcess('sha256sum', [file]));
  const ours = holdfast(...command);
  await interleave(rounds(7), [theirs, ours]);
  return [
    ratioRow(`\`record verify\`, ${count(lines)} lines ÷ \`sha256sum\``, ours, theirs, 2.6),
    peakRow(`\`record verify\`, ${count(lines)} lines: peak memory`, peakMiB(dir, 3, command), 200),
  ];
}

/** Chained lines of about 300 bytes, half a minute apart. */
function writeChain(name: string, lines: number): void {
  const file = new LineFile(name);
  let prev = FIRST_PREV;
  for (let n = 1; n <= lines; n++) {
    const at = `${new Date(FIRST_MS + n * 30_000).toISOString().slice(0, 19)}+00:00`;
    const line = JSON.stringify({
      v: 1,
      id: `20261125-${String(n).padStart(9, '0')}`,
      at,
      station: 'prep',
      kind: 'return',
      by: 'AB',
      on: at,
      asset: 'b-1',
      n,
      inventory: INVENTORY,
      tool: '0.1.0',
      prev,
    });
    prev = lineHash(Buffer.from(line));
    file.write(line);
  }
  file.close();
}

async function writersFound(home: string, each: number): Promise<{ rows: Row[]; remarks: string[] }> {
  const [recordDir, stateDir] = [path.join(home, 'record'), path.join(home, 'state')];
  mkdirSync(home);
  const start = performance.now();
  const ends = Array.from({ length: WRITERS }, () => {
    const args = [process.argv[1] ?? '', 'write', recordDir, stateDir, String(each)];
    return once(spawn(process.execPath, args, { stdio: ['ignore', 'ignore', 'inherit'] }), 'close');
  });
  const failed = (await Promise.all(ends)).filter(([status]) => status !== 0).length;
  const ms = performance.now() - start;
  const { stations, damage, more } = verifyRecord(recordDir, { stateDir });
  const found = stations.reduce((sum, { entries }) => sum + entries, 0);
  const all = WRITERS * each;
  const what = `${WRITERS} processes × ${each} entries`;
  return {
    rows: [
      countRow(`${what}: lost`, all - found, 'entries', 0, `${count(all)} − ${count(found)} found`),
      countRow(`${what}: torn or forked`, damage.length + more, 'places', 0, 'what verify found'),
      countRow(`${what}: writers that failed`, failed, 'processes', 0, 'exit codes'),
    ],
    remarks: [
      `The ${WRITERS} processes write to one station, one behind the other's lock: ${quantity(ms / all, 'ms')} an entry, start included.`,
    ],
  };
}
