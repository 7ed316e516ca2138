/**
 * `npm run bench [-- --quick] [PART…]`: runs the parts one behind the other, keeps what each found as results/PART.json, and writes the
 * page from all that is kept. Run by run.mjs. Each part has a process of its own, so that none measures what another left in memory.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { effortOf } from './effort.ts';
import { appendMany } from './entry.ts';
import { thisRun } from './machine.ts';
import { pageOf, type Section, sectionOf, verdict } from './page.ts';
import { PARTS, type Part } from './parts.ts';
import { type Found, isFound, isMissed, type PartResult, readResult } from './result.ts';

const BENCH = 'test/bench';
const QUICK = '--quick';

async function main([mode, ...rest]: readonly string[]): Promise<void> {
  if (mode === 'write') return appendMany(rest);
  if (mode === 'measure') return measureHere(rest);
  const [home = '', ...words] = rest;
  const isQuick = words.includes(QUICK) || process.env.BENCH_QUICK === '1';
  const names = words.filter(word => word !== QUICK);
  const known = PARTS.map(({ name }) => name);
  const unknown = names.filter(name => !known.includes(name));
  if (unknown.length > 0) {
    console.error(`no part ${unknown.join(', ')}; usage: npm run bench -- [${QUICK}] [${known.join('|')}]…`);
    process.exitCode = 2;
    return;
  }
  runParts(
    PARTS.filter(({ name }) => names.length === 0 || names.includes(name)),
    home,
    isQuick,
  );
}

function runParts(parts: readonly Part[], home: string, isQuick: boolean): void {
  const run = thisRun(new Date());
  console.log(`${run.machine}\n`);
  const results: PartResult[] = [];
  for (const part of parts) {
    const found = measureApart(part, path.join(home, part.name), isQuick);
    if (found === null) {
      // What it found before stays on the page, under its own date.
      console.error(`${part.name} failed\n`);
      process.exitCode = 1;
      continue;
    }
    const result = { ...found, run };
    results.push(result);
    console.log(`${sectionOf({ ...part, result })}\n`);
    if (!isQuick) writeFileSync(resultFile(part.name), `${JSON.stringify(result, null, 2)}\n`);
  }
  if (isQuick) {
    console.log('Only tried: small sizes and few rounds. Nothing was judged, and nothing kept.');
    return;
  }
  const page = pageOf(keptSections(), readFileSync(`${BENCH}/notes.md`, 'utf8'));
  writeFileSync(`${BENCH}/README.md`, page);
  const rows = results.flatMap(result => result.rows);
  console.log(`${verdict(rows)}\n${BENCH}/README.md is written anew.`);
  if (rows.some(isMissed)) process.exitCode = 1;
}

/** Everything that is kept, for the page. */
function keptSections(): Section[] {
  return PARTS.map(part => ({ ...part, result: readResult(resultFile(part.name)) }));
}

function resultFile(name: string): string {
  return `${BENCH}/results/${name}.json`;
}

function measureApart({ name }: Part, home: string, isQuick: boolean): Found | null {
  mkdirSync(home);
  const words = ['measure', home, name, ...(isQuick ? [QUICK] : [])];
  const { status, stdout } = spawnSync(process.execPath, [process.argv[1] ?? '', ...words], {
    stdio: ['ignore', 'pipe', 'inherit'],
    encoding: 'utf8',
  });
  rmSync(home, { recursive: true });
  if (status !== 0) return null;
  const found: unknown = JSON.parse(stdout);
  return isFound(found) ? found : null;
}

/** In the part's own process: what was found goes to stdout. */
async function measureHere([home = '', name, option]: readonly string[]): Promise<void> {
  const part = PARTS.find(one => one.name === name);
  if (part === undefined) throw new Error(`no part ${name}`);
  console.log(JSON.stringify(await part.measure(home, effortOf(option === QUICK))));
}

void main(process.argv.slice(2));
