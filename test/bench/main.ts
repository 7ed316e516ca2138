/**
 * `npm run bench [-- --quick] [PART…]`: runs the parts one behind the other, keeps what each found as results/PART.json, and writes the
 * page from all that is kept. `npm run bench -- page` only writes the page, after a change of notes.md. Run by run.mjs. Each part has a process of its own, so that none measures what another left in memory.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { effortOf } from './effort.ts';
import { appendMany } from './entry.ts';
import { keptPage, PAGE, RESULTS, resultFile } from './kept.ts';
import { thisRun } from './machine.ts';
import { sectionOf, verdict } from './page.ts';
import { PARTS, type Part } from './parts.ts';
import { type Found, isFound, isMissed, type PartResult } from './result.ts';

const QUICK = '--quick';

async function main([mode, ...rest]: readonly string[]): Promise<void> {
  if (mode === 'write') return appendMany(rest);
  if (mode === 'measure') return measureHere(rest);
  const [home = '', ...words] = rest;
  if (words[0] === 'page') return writePage();
  const isQuick = words.includes(QUICK) || process.env.BENCH_QUICK === '1';
  const names = words.filter(word => word !== QUICK);
  const known = PARTS.map(({ name }) => name);
  const unknown = names.filter(name => !known.includes(name));
  if (unknown.length > 0) {
    console.error(
      `no part ${unknown.join(', ')}; usage: npm run bench -- [${QUICK}] [${known.join('|')}]…, or page`,
    );
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
  mkdirSync(RESULTS, { recursive: true });
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
  writePage();
  const rows = results.flatMap(result => result.rows);
  console.log(`${verdict(rows)}\n${PAGE} is written anew.`);
  if (rows.some(isMissed)) process.exitCode = 1;
}

function writePage(): void {
  writeFileSync(PAGE, keptPage());
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
