/**
 * `npm run mutate -- src/quantity` or `npm run mutate -- src/plan/bag.ts …`: changes the sources of one folder in every way that
 * the tool knows, runs the folder's own tests against each change, and lists the changes that no test noticed.
 *
 * With `--again` only what no test noticed before, or what was never tried, is tried, and the two are counted together: for
 * after tests were added. A source that has changed since is tried whole.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const words = process.argv.slice(2);
const again = words.includes('--again');
const options = words.filter(word => word.startsWith('--') && word !== '--again');
const targets = words.filter(word => !word.startsWith('--'));
const folders = new Set(targets.map(target => /^src\/[a-z]+/.exec(target)?.[0]));
const [folder] = folders;
if (folders.size !== 1 || folder === undefined) {
  console.error(
    'usage: npm run mutate -- [--ignoreStatic] [--again] src/FOLDER | src/FOLDER/FILE.ts…   (one folder of src at a time)',
  );
  process.exit(2);
}

const REPORT = 'reports/mutation/mutation.json';
/** What is known of each mutant of the folder, by file: the source it was tried on, and how it ended. */
const KNOWN = `reports/mutation/${folder.replaceAll('/', '-')}.json`;
mkdirSync('reports/mutation', { recursive: true });
rmSync(REPORT, { force: true });
const known = existsSync(KNOWN) ? JSON.parse(readFileSync(KNOWN, 'utf8')) : {};

const isNoticed = ({ status }) => status === 'Killed' || status === 'Timeout';
const keyOf = ({ mutatorName, replacement, location }) =>
  JSON.stringify([mutatorName, replacement, location.start, location.end]);

function filesBelow(path) {
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path, { recursive: true })
    .map(name => join(path, name))
    .filter(name => name.endsWith('.ts'));
}

/** What to change of a file: all of it, or the places of what was not noticed. */
function patternsOf(file) {
  const before = known[file];
  if (!again || before === undefined || before.source !== readFileSync(file, 'utf8')) return [file];
  return before.mutants
    .filter(({ status }) => status === 'Survived' || status === 'NoCoverage' || status === 'Ignored')
    .map(
      ({ location: { start, end } }) =>
        `${file}:${start.line}:${start.column - 1}-${end.line}:${end.column - 1}`,
    );
}

const files = targets.flatMap(target => (target.includes(':') ? [] : filesBelow(target)));
const patterns = [...targets.filter(target => target.includes(':')), ...new Set(files.flatMap(patternsOf))];
if (patterns.length > 0) {
  const { status } = spawnSync(
    'npx',
    ['stryker', 'run', 'stryker.config.json', '--mutate', patterns.join(','), ...options],
    {
      stdio: 'inherit',
      env: { ...process.env, MUTATED: folder },
    },
  );
  if (status !== 0) process.exit(status ?? 1);
  for (const [file, { source, mutants }] of Object.entries(JSON.parse(readFileSync(REPORT, 'utf8')).files)) {
    const before = known[file]?.source === source ? known[file].mutants : [];
    const merged = new Map(before.map(mutant => [keyOf(mutant), mutant]));
    for (const { mutatorName, replacement, location, status } of mutants) {
      const mutant = { mutatorName, replacement, location, status };
      const earlier = merged.get(keyOf(mutant));
      // A static mutant that is left out today was tried before.
      if (again && earlier !== undefined && (isNoticed(earlier) || status === 'Ignored')) continue;
      merged.set(keyOf(mutant), mutant);
    }
    known[file] = { source, mutants: [...merged.values()] };
  }
  writeFileSync(KNOWN, JSON.stringify(known));
}

const count = mutants => {
  const of = state => mutants.filter(({ status }) => status === state).length;
  const [killed, timedOut] = [of('Killed'), of('Timeout')];
  const [survived, uncovered] = [of('Survived'), of('NoCoverage')];
  const all = killed + timedOut + survived + uncovered;
  const score = all === 0 ? 'none' : `${(((killed + timedOut) / all) * 100).toFixed(1)} %`;
  return { mutants: all, killed, 'timed out': timedOut, survived, 'without a test': uncovered, score };
};

const wanted = new Set([...files, ...targets.map(target => target.split(':')[0])]);
const shown = Object.entries(known).filter(([file]) => wanted.has(file));
for (const [file, { mutants, source }] of shown) {
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
  ...Object.fromEntries(shown.map(([file, { mutants }]) => [file, count(mutants)])),
  [folder]: count(shown.flatMap(([, { mutants }]) => mutants)),
});
