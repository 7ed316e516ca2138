/**
 * What the record costs, as ratios of what the system itself needs in the same run, medians:
 * an append against a bare open–write–fsync–close, verify against sha256sum.
 */
import { spawnSync } from 'node:child_process';
import { closeSync, fsyncSync, mkdirSync, openSync, writeSync } from 'node:fs';
import path from 'node:path';
import { appendEntry } from '../../src/record/append.ts';
import { FIRST_PREV, lineHash } from '../../src/record/chain.ts';
import type { EntryDraft } from '../../src/record/draft.ts';
import { verifyRecord } from '../../src/record/verify.ts';

const APPENDS = 300;
const LINES = 1_000_000;
const ROUNDS = 7;
const FIRST_MS = Date.parse('2026-01-01T08:00:00Z');
const MOST = { append: 2, verify: 2.6, rssMiB: 200 };
const INVENTORY = '0123456789abcdef0123456789abcdef01234567';
const DRAFT: EntryDraft = {
  kind: 'withdraw',
  by: 'A. Byrne',
  asset: 'bain-1',
  because: 'cracked',
  inventory: INVENTORY,
};

async function main(): Promise<void> {
  const home = process.argv[2] ?? '.';
  const append = await appendRatio(path.join(home, 'append'));
  const verify = verifyRatio(path.join(home, 'verify'));
  const rssMiB = process.resourceUsage().maxRSS / 1024;
  console.log(`append ÷ bare write         ${append.toFixed(2)}  (at most ${MOST.append})`);
  console.log(`verify ÷ sha256sum          ${verify.toFixed(2)}  (at most ${MOST.verify})`);
  console.log(`peak memory of the process  ${rssMiB.toFixed(0)} MiB  (at most ${MOST.rssMiB})`);
  if (append > MOST.append || verify > MOST.verify || rssMiB > MOST.rssMiB) process.exitCode = 1;
}

/** In turn, so that both see the same disk. */
async function appendRatio(home: string): Promise<number> {
  mkdirSync(home, { recursive: true });
  const recordDir = path.join(home, 'record');
  const line = Buffer.from(`${'x'.repeat(340)}\n`);
  const bare: number[] = [];
  const ours: number[] = [];
  for (let i = 0; i < APPENDS; i++) {
    bare.push(timed(() => bareWrite(path.join(home, 'bare.jsonl'), line)));
    const start = performance.now();
    await appendEntry({
      recordDir,
      station: 'prep',
      draft: DRAFT,
      now: new Date(),
      timeZone: 'Europe/Dublin',
      stateDir: path.join(home, 'state'),
    });
    ours.push(performance.now() - start);
  }
  console.log(`append ${median(ours).toFixed(2)} ms, bare ${median(bare).toFixed(2)} ms, ${APPENDS} of each`);
  return median(ours) / median(bare);
}

function bareWrite(file: string, line: Buffer): void {
  const fd = openSync(file, 'a');
  writeSync(fd, line);
  fsyncSync(fd);
  closeSync(fd);
}

function verifyRatio(dir: string): number {
  const file = path.join(dir, 'prep', '2026.jsonl');
  mkdirSync(path.dirname(file), { recursive: true });
  generate(file);
  const ours: number[] = [];
  const theirs: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    theirs.push(timed(() => spawnSync('sha256sum', [file])));
    ours.push(
      timed(() => {
        const { damage, stations } = verifyRecord(dir, { stateDir: null });
        if (damage.length > 0 || stations[0]?.entries !== LINES)
          throw new Error('the record is not as it was made');
      }),
    );
  }
  console.log(
    `verify ${median(ours).toFixed(0)} ms, sha256sum ${median(theirs).toFixed(0)} ms, ${LINES} lines, ${ROUNDS} of each`,
  );
  return median(ours) / median(theirs);
}

/** Chained lines of about 300 bytes, half a minute apart. */
function generate(file: string): void {
  const fd = openSync(file, 'w');
  let prev = FIRST_PREV;
  let block: string[] = [];
  for (let n = 1; n <= LINES; n++) {
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
    block.push(line);
    if (block.length === 10_000 || n === LINES) {
      writeSync(fd, `${block.join('\n')}\n`);
      block = [];
    }
  }
  closeSync(fd);
}

function timed(work: () => unknown): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

void main();
