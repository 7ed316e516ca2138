/** Bundles a benchmark and runs it: `node test/bench/run.mjs NAME`. The environment's extra certificates slow every start. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { build } from 'esbuild';

const [name = 'record'] = process.argv.slice(2);
const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-bench-'));
const outfile = path.join(folder, `${name}.cjs`);
await build({
  entryPoints: [`test/bench/${name}.ts`],
  outfile,
  bundle: true,
  format: 'cjs',
  platform: 'node',
  target: 'node20',
});
const { NODE_EXTRA_CA_CERTS: _, ...env } = process.env;
const { status } = spawnSync(process.execPath, [outfile, folder], { stdio: 'inherit', env });
rmSync(folder, { recursive: true, force: true });
process.exitCode = status ?? 1;
