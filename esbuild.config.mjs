/**
 * The build: types and validators from the schemas, one bundle, and V8's code cache for it.
 *
 *   schemas/*.json ──> src/generated/*.ts (types), src/generated/validate-*.js (validators)
 *   src/record/scan/kernel/*.ts ──> src/generated/line-kernel.ts (WebAssembly)
 *   src/main.ts    ──> dist/holdfast.cjs ──> dist/holdfast.cache
 *
 * For other programs: schemas/*.json ──> dist/types/*.d.ts. For the libraries in the bundle: dist/THIRD-PARTY.txt.
 */
import { execFileSync } from 'node:child_process';
import crypto from 'node:crypto';
import {
  appendFileSync,
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import Ajv from 'ajv';
import standaloneCode from 'ajv/dist/standalone/index.js';
import addFormats from 'ajv-formats';
import asc from 'assemblyscript/asc';
import { build } from 'esbuild';
import { compile } from 'json-schema-to-typescript';

const version = JSON.parse(readFileSync('package.json', 'utf8')).version;

/** Each schema, the type it becomes, and whether the program validates with it. */
const SCHEMAS = [
  { file: 'inventory', types: 'inventory-file', validator: 'validate-inventory' },
  // record/parse-line.ts checks these itself, against values it knows: as patterns they cost more than all the rest.
  {
    file: 'record',
    types: 'entry',
    validator: 'validate-entry',
    withoutPatterns: ['prev', 'inventory', 'station', 'on'],
  },
  { file: 'plan', types: 'plan-document' },
  { file: 'due', types: 'due-document' },
  { file: 'day', types: 'day-document' },
  { file: 'chart', types: 'chart-document' },
  { file: 'stock', types: 'stock-document' },
];

/** Four megabytes, which never grow: the kernel's room for a block, its rows, and names. */
const KERNEL_PAGES = 64;

/** What the bundle has in place of modules that most commands do not need, but would load at every start. */
const INSTEAD = {
  // Nothing is started at run time, although commander could.
  'node:child_process': 'module.exports = {};',
  // Whether there is colour is decided by main; chalk need not look for itself.
  '#supports-color': 'export default { stdout: false, stderr: false };',
  // Loaded when one of these is first called; the build fails where another is imported.
  'node:crypto': ['createHash', 'hash', 'randomBytes', 'randomUUID']
    .map(name => `export const ${name} = (...words) => require('crypto').${name}(...words);`)
    .join('\n'),
};

const instead = {
  name: 'instead',
  setup({ onResolve, onLoad }) {
    const filter = new RegExp(`^(${Object.keys(INSTEAD).join('|')})$`);
    onResolve({ filter }, ({ path }) => ({ path, namespace: 'instead' }));
    onLoad({ filter, namespace: 'instead' }, ({ path }) => ({ contents: INSTEAD[path] }));
  },
};

/** Folders of the packages that the bundle takes something from: node_modules/yaml. */
const bundled = new Set();

mkdirSync('src/generated', { recursive: true });
mkdirSync('dist/types', { recursive: true });
for (const { file, types, validator, withoutPatterns = [] } of SCHEMAS) {
  const schema = JSON.parse(readFileSync(`schemas/${file}.schema.json`, 'utf8'));
  await generateTypes(schema, types, file);
  for (const definition of Object.values(schema.definitions ?? {})) {
    for (const key of withoutPatterns) delete definition.properties?.[key]?.pattern;
  }
  if (validator !== undefined) await generateValidator(schema, validator);
}
await generateKernel();
await bundle();
writeFileSync('dist/THIRD-PARTY.txt', thirdParty());
makeCodeCache();

/** The types once for our own sources and once, under the schema's name, for other programs. */
async function generateTypes(schema, name, file) {
  const options = {
    bannerComment: '// Made from the schema by esbuild.config.mjs.',
    format: false,
    ignoreMinAndMaxItems: false,
  };
  const types = await compile(withoutCombinations(schema), schema.title, options);
  writeFileSync(`src/generated/${name}.ts`, types);
  writeFileSync(`dist/types/${file}.d.ts`, types);
}

/** Rules on which keys go together do not shape the types: kinds are told apart by their `kind`. */
function withoutCombinations(schema) {
  const plain = structuredClone(schema);
  for (const definition of Object.values(plain.definitions ?? {})) {
    delete definition.allOf;
    delete definition.anyOf;
    delete definition.oneOf;
  }
  return plain;
}

async function generateValidator(schema, name) {
  const ajv = new Ajv({
    allErrors: true,
    strictTypes: false,
    allowUnionTypes: true,
    discriminator: true,
    inlineRefs: false,
    code: { source: true, lines: true },
  });
  addFormats(ajv, ['date', 'date-time']);
  const source = standaloneCode(ajv, ajv.compile(withoutWords(schema)));
  // Ajv's output still calls require for its helpers; one esbuild pass folds them in.
  const { outputFiles, metafile } = await build({
    metafile: true,
    stdin: { contents: source, resolveDir: '.', loader: 'js' },
    bundle: true,
    write: false,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    // Nobody reads it, and every start reads all of the bundle.
    minify: true,
    logLevel: 'error',
  });
  noteBundled(metafile);
  writeFileSync(`src/generated/${name}.js`, outputFiles[0].contents);
  writeFileSync(
    `src/generated/${name}.d.ts`,
    "import type { ErrorObject } from 'ajv';\n" +
      'declare const validate: ((value: unknown) => boolean) & { errors?: ErrorObject[] | null };\n' +
      'export default validate;\n',
  );
}

async function generateKernel() {
  const { error, stderr } = await asc.main([
    'src/record/scan/kernel/index.ts',
    ...['--outFile', 'src/generated/line-kernel.wasm'],
    ...['-O3', '--noAssert', '--runtime', 'stub', '--use', 'abort=', '--enable', 'simd'],
    ...['--initialMemory', `${KERNEL_PAGES}`, '--maximumMemory', `${KERNEL_PAGES}`],
  ]);
  if (error) throw new Error(`the kernel: ${error.message}\n${stderr}`);
  if (stderr.toString() !== '') throw new Error(`the kernel: ${stderr}`);
  const bytes = readFileSync('src/generated/line-kernel.wasm');
  rmSync('src/generated/line-kernel.wasm');
  // Its library takes and moves the kernel's memory.
  bundled.add('node_modules/assemblyscript');
  writeFileSync(
    'src/generated/line-kernel.ts',
    `// Made from src/record/scan/kernel by esbuild.config.mjs.\nexport default '${bytes.toString('base64')}';\n`,
  );
}

/** Without the descriptions, which are for editors: the validator would carry them along. */
function withoutWords(schema) {
  return JSON.parse(JSON.stringify(schema), (key, value) =>
    key === 'description' && typeof value === 'string' ? undefined : value,
  );
}

/**
 * The bundle ends with its own hash, and the cache begins with it: V8 tells a cache that was made of another text by the
 * length of the text alone, and would go on with figures of the old one.
 */
async function bundle() {
  rmSync('dist/holdfast.cache', { force: true });
  const { metafile } = await build({
    metafile: true,
    entryPoints: ['src/main.ts'],
    outfile: 'dist/holdfast.cjs',
    bundle: true,
    format: 'cjs',
    platform: 'node',
    target: 'node20',
    define: { __VERSION__: JSON.stringify(version) },
    // As the launcher calls it: wrapping one and a half megabytes there would copy them at every start.
    banner: { js: '(function (exports, require, module, __filename, __dirname) {' },
    footer: { js: '})' },
    plugins: [instead],
    // A third less to read at every start. Names stay, for the lines that a fault in the program prints.
    minifyWhitespace: true,
    // Whole licences stand in THIRD-PARTY.txt.
    legalComments: 'none',
    logLevel: 'error',
  });
  noteBundled(metafile);
  const bytes = readFileSync('dist/holdfast.cjs');
  appendFileSync('dist/holdfast.cjs', `//${crypto.createHash('sha256').update(bytes).digest('hex')}`);
  const strange = bytes.findIndex(byte => byte > 0x7f);
  if (strange !== -1)
    throw new Error(
      `the bundle is not ASCII at byte ${strange}: write an escape (\\u2013) in the regular expression`,
    );
}

/** Notes the packages of which anything came into the output. */
function noteBundled({ inputs }) {
  for (const file of Object.keys(inputs)) {
    const folder = /^.*node_modules\/(?:@[^/]+\/)?[^/]+(?=\/)/.exec(file)?.[0];
    if (folder !== undefined) bundled.add(folder);
  }
}

/** The licences and notices of all that is bundled, as their packages print them: they ask to go wherever their code goes. */
function thirdParty() {
  const texts = [...bundled].sort().map(folder => {
    const { name, version, license } = JSON.parse(readFileSync(`${folder}/package.json`, 'utf8'));
    const file = readdirSync(folder).find(entry => /^licen[cs]e(\.(md|txt))?$/i.test(entry));
    if (file === undefined) throw new Error(`${name} ships no text of its licence`);
    const parts = [file, ...readdirSync(folder).filter(entry => entry === 'NOTICE')];
    const text = parts.map(part => readFileSync(`${folder}/${part}`, 'utf8').trim()).join('\n\n');
    return `${name} ${version} (${license})\n\n${text}\n`;
  });
  return `holdfast carries code of these packages, each under its own licence.\n\n${texts.join(`\n${'-'.repeat(80)}\n\n`)}`;
}

/**
 * Runs the commonest commands once, in a folder that goes away again, and keeps what V8 compiled on the way. A cache of another
 * V8 is ignored by the launcher.
 */
function makeCodeCache() {
  const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-build-'));
  const inventory = path.join(folder, 'inventory.yaml');
  copyFileSync('inventory.example.yaml', inventory);
  const hold = 'hold bain-1 --machine theatre-1 --from 30 --to 30 --seconds 10 --pop-off open --by build';
  const script = `
    const { readFileSync, writeFileSync } = require('node:fs');
    const { Script } = require('node:vm');
    const source = readFileSync('dist/holdfast.cjs', 'latin1');
    const script = new Script(source, { filename: require('node:path').resolve('dist/holdfast.cjs') });
    async function warmUp(...words) {
      process.argv = ['node', 'holdfast', ...words];
      const module_ = { exports: {} };
      script.runInThisContext()(module_.exports, require, module_, __filename, __dirname);
      await new Promise(resolve => setTimeout(resolve, 100));
    }
    (async () => {
      const inventory = ['--inventory', ${JSON.stringify(inventory)}];
      await warmUp('plan', '6.8kg', ...inventory);
      await warmUp('--help');
      await warmUp(...${JSON.stringify(hold.split(' '))}, ...inventory);
      writeFileSync('dist/holdfast.cache', Buffer.concat([Buffer.from(source.slice(-64)), script.createCachedData()]));
      process.exitCode = 0; // a plan with a stop is as good a warm-up
    })();
  `;
  try {
    execFileSync(process.execPath, ['-e', script], {
      stdio: ['ignore', 'ignore', 'inherit'],
      env: { ...process.env, XDG_STATE_HOME: folder },
    });
  } finally {
    rmSync(folder, { recursive: true });
  }
}
