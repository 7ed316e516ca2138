/** What is published: its files, that it installs without a network and runs, and what it gives other programs. */
import { execFileSync, spawnSync } from 'node:child_process';
import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { build } from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = mkdtempSync(path.join(tmpdir(), 'holdfast-package-'));
const project = path.join(root, 'clinic');
const installed = path.join(project, 'node_modules', 'holdfast');

interface Packed {
  readonly filename: string;
  readonly size: number;
  readonly unpackedSize: number;
  readonly files: readonly { readonly path: string }[];
}

let packed: Packed;

/** A network namespace of its own has no network; where the system gives none, npm is told to be offline all the same. */
const withoutNetwork = spawnSync('unshare', ['-rn', 'true']).status === 0 ? ['unshare', '-rn'] : [];

/** Of what npm and tests of other programs leave in the environment, nothing reaches the command. */
const env: NodeJS.ProcessEnv = {
  ...Object.fromEntries(
    Object.entries(process.env).filter(([key]) => !/^(npm_|NODE_|HOLDFAST_|VITEST)/i.test(key)),
  ),
  npm_config_cache: path.join(root, 'empty-cache'),
  npm_config_offline: 'true',
  npm_config_audit: 'false',
  npm_config_fund: 'false',
  npm_config_update_notifier: 'false',
  XDG_STATE_HOME: path.join(root, 'state'),
};

function inProject(...words: readonly string[]) {
  const [command = '', ...args] = [...withoutNetwork, ...words];
  return spawnSync(command, args, { cwd: project, encoding: 'utf8', env });
}

/** The build ran before the tests; a second one could change what others run just now. */
beforeAll(() => {
  const json = execFileSync('npm', ['pack', '--ignore-scripts', '--json', '--pack-destination', root], {
    encoding: 'utf8',
    env,
  });
  const all: readonly Packed[] = JSON.parse(json);
  if (all[0] === undefined) throw new Error(json);
  packed = all[0];
  mkdirSync(project);
  writeFileSync(path.join(project, 'package.json'), '{ "private": true, "type": "module" }\n');
  cpSync('inventory.example.yaml', path.join(project, 'inventory.yaml'));
  const { status, stderr } = inProject('npm', 'install', path.join(root, packed.filename));
  if (status !== 0) throw new Error(stderr);
}, 120_000);

afterAll(() => rmSync(root, { recursive: true }));

describe('the package', () => {
  it('has what is needed and nothing else', () => {
    const schemas = readdirSync('schemas');
    const expected = [
      ...[
        'CHANGELOG.md',
        'LICENSE',
        'README.md',
        'package.json',
        'inventory.example.yaml',
        'bin/holdfast.cjs',
      ],
      ...['dist/THIRD-PARTY.txt', 'dist/holdfast.cache', 'dist/holdfast.cjs'],
      ...schemas.map(name => `schemas/${name}`),
      ...schemas.map(name => `dist/types/${name.replace('.schema.json', '.d.ts')}`),
    ];
    expect(packed.files.map(file => file.path).sort()).toEqual(expected.sort());
  });

  it('is small: under 1 MB to fetch, under 3 MB on the disk', () => {
    console.log(`${packed.filename}: ${packed.size} bytes packed, ${packed.unpackedSize} unpacked`);
    expect(packed.size).toBeLessThan(1_000_000);
    expect(packed.unpackedSize).toBeLessThan(3_000_000);
  });

  it('installs into an empty project without a network, and brings nothing else along', () => {
    expect(readdirSync(path.join(project, 'node_modules')).filter(name => !name.startsWith('.'))).toEqual([
      'holdfast',
    ]);
    expect(readdirSync(path.join(project, 'node_modules', '.bin'))).toEqual(['holdfast']);
  });

  it('plans a case by npx', () => {
    const { status, stdout, stderr } = inProject(
      'npx',
      '--no-install',
      'holdfast',
      'plan',
      '6.8kg',
      '--species',
      'dog',
      '--json',
    );
    expect(stderr).toBe('');
    expect(status).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({ format: 'holdfast.plan/1', patient: { weight_kg: 6.8 } });
  });

  it('says its version, which the list of changes begins with', () => {
    const { version } = JSON.parse(readFileSync('package.json', 'utf8')) as { version: string };
    expect(inProject('npx', '--no-install', 'holdfast', '--version').stdout).toBe(`${version}\n`);
    expect(/^## (\S+)/m.exec(readFileSync(path.join(installed, 'CHANGELOG.md'), 'utf8'))?.[1]).toBe(version);
  });
});

describe('the code cache', () => {
  const plan = () =>
    inProject(
      'node',
      path.join('node_modules', 'holdfast', 'bin', 'holdfast.cjs'),
      'plan',
      '6.8kg',
      '--reasons',
    );
  const cache = path.join(installed, 'dist', 'holdfast.cache');

  it.each([
    ['of another V8', (bytes: Buffer) => bytes.map((byte, i) => (i >= 64 && i < 120 ? byte ^ 0xff : byte))],
    ['that was cut off', (bytes: Buffer) => bytes.subarray(0, bytes.length / 2)],
    ['that is empty', () => Buffer.alloc(0)],
    ['that is something else', () => Buffer.from('not a cache at all')],
    ['that is not there', () => null],
  ] as const)('%s is ignored without a word', (_, changed) => {
    const sound = plan();
    expect(sound.status).toBe(0);
    const bytes = readFileSync(cache);
    try {
      const other = changed(bytes);
      if (other === null) rmSync(cache);
      else writeFileSync(cache, other);
      const { status, stdout, stderr } = plan();
      // The time of the plan is the only thing that may differ.
      const timeless = (text: string) => text.replace(/\d\d:\d\d/g, '00:00');
      expect({ status, stderr, stdout: timeless(stdout) }).toEqual({
        status: 0,
        stderr: sound.stderr,
        stdout: timeless(sound.stdout),
      });
    } finally {
      writeFileSync(cache, bytes);
    }
  });
});

describe('for other programs', () => {
  it('gives a type for every document, which fits what is printed', () => {
    const { stdout } = inProject('npx', '--no-install', 'holdfast', 'plan', '6.8kg', '--json');
    writeFileSync(
      path.join(project, 'printed.ts'),
      `import type { PlanDocument } from 'holdfast/plan';\nexport const printed: PlanDocument = ${stdout};\n`,
    );
    writeFileSync(
      path.join(project, 'uses.ts'),
      `import type { ChartDocument } from 'holdfast/chart';
import type { DayDocument } from 'holdfast/day';
import type { DueDocument } from 'holdfast/due';
import type { InventoryFile } from 'holdfast/inventory';
import type { PlanDocument } from 'holdfast/plan';
import type { Entry } from 'holdfast/record';
import type { StockDocument } from 'holdfast/stock';
import schema from 'holdfast/schemas/plan.schema.json' with { type: 'json' };
import { printed } from './printed.ts';
export const title: string = schema.title;
export const flow: number | null | undefined = printed.fresh_gas_flow?.set_ml_min;
export type All = [ChartDocument, DayDocument, DueDocument, InventoryFile, PlanDocument, Entry, StockDocument];
// @ts-expect-error: a key that no plan has
export const none = printed.fresh_gas_flov;
`,
    );
    const options =
      '--noEmit --strict --module nodenext --target es2023 --resolveJsonModule --allowImportingTsExtensions --types node'.split(
        ' ',
      );
    const tsc = spawnSync(
      process.execPath,
      [
        path.resolve('node_modules/typescript/bin/tsc'),
        ...options,
        '--typeRoots',
        path.resolve('node_modules/@types'),
        'uses.ts',
      ],
      { cwd: project, encoding: 'utf8' },
    );
    expect(tsc.stdout).toBe('');
    expect(tsc.status).toBe(0);
  });

  it('exports every schema there is, and a type beside each', () => {
    const manifest = JSON.parse(readFileSync('package.json', 'utf8')) as { exports: Record<string, unknown> };
    for (const name of readdirSync('schemas').map(file => file.replace('.schema.json', ''))) {
      expect(manifest.exports[`./${name}`]).toEqual({ types: `./dist/types/${name}.d.ts` });
      expect(statSync(path.join(installed, 'schemas', `${name}.schema.json`)).isFile()).toBe(true);
    }
  });
});

describe('licences', () => {
  const text = () => readFileSync(path.join(installed, 'dist', 'THIRD-PARTY.txt'), 'utf8');

  it('of every package in the bundle go with it', async () => {
    const { metafile } = await build({
      entryPoints: ['src/main.ts'],
      bundle: true,
      write: false,
      metafile: true,
      format: 'cjs',
      platform: 'node',
      logLevel: 'error',
      outdir: root,
    });
    const names = Object.keys(metafile.inputs).flatMap(
      file => /node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(file)?.[1] ?? [],
    );
    expect(names.length).toBeGreaterThan(3);
    // Ajv's helpers come in by way of the validators that it wrote.
    for (const name of new Set([...names, 'ajv', 'ajv-formats', 'fast-deep-equal']))
      expect(text()).toMatch(new RegExp(`^${name} \\d+\\.\\d+\\.\\d+`, 'm'));
  });

  it('allow it: all of them ask for their text alone, or for their notice as well, which is there', () => {
    const kinds = [...text().matchAll(/^[@\w/.-]+ \d+\.\d+\.\d+ \((.+)\)$/gm)].map(([, kind]) => kind ?? '');
    expect(kinds.length).toBeGreaterThan(5);
    expect(
      kinds.filter(kind => !['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0'].includes(kind)),
    ).toEqual([]);
    expect(kinds.filter(kind => kind === 'Apache-2.0').length).toBe(1);
    expect(text()).toContain(readFileSync('node_modules/assemblyscript/NOTICE', 'utf8').trim());
    expect(text().match(/permission|Permission/g)?.length).toBeGreaterThanOrEqual(kinds.length);
  });
});
