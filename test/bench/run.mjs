/** Bundles the bench and runs it: `node test/bench/run.mjs [--quick] [PART…]`. What it does stands in main.ts. */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { build } from 'esbuild';

const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-bench-'));
// Records of a million lines must not stay behind when somebody has had enough.
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
const outfile = path.join(folder, 'main.cjs');
await build({
  entryPoints: ['test/bench/main.ts'],
  outfile,
  bundle: true,
  format: 'cjs',
  platform: 'node',
  target: 'node20',
});

// Extra certificates slow every start of Node, and what a person has set up must neither be used nor written to.
const { NODE_EXTRA_CA_CERTS: _, NODE_OPTIONS: __, ...kept } = process.env;
const env = {
  ...Object.fromEntries(Object.entries(kept).filter(([name]) => !name.startsWith('HOLDFAST_'))),
  HOLDFAST_STATION: 'prep',
  XDG_STATE_HOME: path.join(folder, 'state'),
};
const bench = spawn(process.execPath, [outfile, 'run', folder, ...process.argv.slice(2)], {
  stdio: 'inherit',
  env,
});
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => bench.kill(signal));
bench.on('close', status => {
  process.exitCode = status ?? 1;
});
