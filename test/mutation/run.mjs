/**
 * `npm run mutate -- src/quantity` or `npm run mutate -- src/plan/bag.ts …`: changes the sources of one folder in every way that
 * the tool knows, runs the folder's own tests against each change, and lists the changes that no test noticed.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, statSync } from 'node:fs';

const words = process.argv.slice(2);
const options = words.filter(word => word.startsWith('--'));
const targets = words.filter(word => !word.startsWith('--'));
const folders = new Set(targets.map(target => /^src\/[a-z]+/.exec(target)?.[0]));
const [folder] = folders;
if (folders.size !== 1 || folder === undefined) {
  console.error(
    'usage: npm run mutate -- [--ignoreStatic] src/FOLDER | src/FOLDER/FILE.ts…   (one folder of src at a time)',
  );
  process.exit(2);
}

const REPORT = 'reports/mutation/mutation.json';
mkdirSync('reports/mutation', { recursive: true });
rmSync(REPORT, { force: true });
const patterns = targets.map(target => {
  const [path] = target.split(':');
  return statSync(path).isDirectory() ? `${path}/**/*.ts` : target;
});
const { status } = spawnSync(
  'npx',
  ['stryker', 'run', 'stryker.config.json', '--mutate', patterns.join(','), ...options],
  {
    stdio: 'inherit',
    env: { ...process.env, MUTATED: folder },
  },
);
if (status !== 0) process.exit(status ?? 1);

const { files } = JSON.parse(readFileSync(REPORT, 'utf8'));
const count = mutants => {
  const of = state => mutants.filter(({ status }) => status === state).length;
  const [killed, timedOut] = [of('Killed'), of('Timeout')];
  const [survived, uncovered] = [of('Survived'), of('NoCoverage')];
  const all = killed + timedOut + survived + uncovered;
  const score = all === 0 ? 'none' : `${(((killed + timedOut) / all) * 100).toFixed(1)} %`;
  return { mutants: all, killed, 'timed out': timedOut, survived, 'without a test': uncovered, score };
};

for (const [file, { mutants, source }] of Object.entries(files)) {
  const lines = source.split('\n');
  for (const { status, location, replacement, mutatorName } of mutants) {
    if (status !== 'Survived' && status !== 'NoCoverage') continue;
    const { start, end } = location;
    const last = end.line === start.line ? end.column - 1 : undefined;
    const was = lines[start.line - 1].slice(start.column - 1, last);
    const mark = status === 'NoCoverage' ? ' (no test reaches it)' : '';
    const squeezed = (replacement ?? '').replaceAll(/\s+/g, ' ');
    console.log(`${file}:${start.line}:${start.column} ${mutatorName}${mark}: ${was} → ${squeezed}`);
  }
}
console.table({
  ...Object.fromEntries(Object.entries(files).map(([file, { mutants }]) => [file, count(mutants)])),
  [folder]: count(Object.values(files).flatMap(({ mutants }) => mutants)),
});
