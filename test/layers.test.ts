/**
 * The layers of DEVELOPERS.md, read from the imports of every source file:
 * commands → report → plan, due → record, inventory → quantity, calendar, problem; never up, never sideways.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import path from 'node:path';
import { describe, expect, it } from 'vitest';

/** Which folders a folder may import from, besides itself. A folder that is not named here fails the test. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  '.': ['commands', 'calendar'],
  commands: [
    'report',
    'plan',
    'due',
    'day',
    'chart',
    'stock',
    'round',
    'record',
    'inventory',
    'quantity',
    'calendar',
    'problem',
    'generated',
  ],
  report: [
    'plan',
    'due',
    'day',
    'chart',
    'stock',
    'round',
    'record',
    'inventory',
    'quantity',
    'calendar',
    'problem',
    'generated',
  ],
  day: ['plan', 'due', 'record', 'inventory', 'quantity', 'calendar', 'problem'],
  round: ['record', 'inventory', 'calendar'],
  stock: ['plan', 'record', 'inventory', 'quantity', 'calendar', 'generated'],
  chart: ['plan', 'inventory', 'quantity', 'calendar', 'problem'],
  plan: ['record', 'inventory', 'quantity', 'calendar', 'problem'],
  due: ['record', 'inventory', 'quantity', 'calendar', 'problem', 'generated'],
  record: ['inventory', 'quantity', 'calendar', 'problem', 'generated'],
  // '..' are the schemas, which the program carries along.
  inventory: ['quantity', 'calendar', 'problem', 'generated', '..'],
  calendar: [],
  quantity: [],
  problem: [],
  generated: [],
};

/** Of the inventory, the record may use the domain model and its helpers, not the way from text to it. */
const DOMAIN_MODEL = /^inventory\/(inventory|agent-properties)\.ts$/;
/** The only importers of a library. */
const OWNERS: Readonly<Record<string, string>> = {
  yaml: 'inventory',
  ajv: 'inventory',
};
/** No file, no network, no process: these compute. */
const PURE = ['plan', 'due', 'calendar', 'quantity', 'problem', 'day', 'chart', 'stock', 'round'];

interface Import {
  readonly file: string;
  readonly from: string;
  /** Gone at run time. */
  readonly typeOnly: boolean;
  /** Loaded when it is wanted, not at start. */
  readonly lazy: boolean;
}

const SRC = path.resolve('src');
const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' }).filter(name => name.endsWith('.ts'));
const sources = new Map(
  files.map(file => [file.replaceAll(path.sep, '/'), readFileSync(path.join(SRC, file), 'utf8')]),
);
const own = [...sources].filter(([file]) => !file.startsWith('generated/'));
const imports = own.flatMap(([file, text]) => importsOf(file, text));

function importsOf(file: string, text: string): Import[] {
  const code = withoutComments(text);
  const stated = /(?:^|\n)\s*(?:import|export)\s+(type\s+)?(?:[\w*{][^'";]*?\sfrom\s+)?'([^']+)'/g;
  const called = /\b(?:import|require)\(\s*['"`]([^'"`]+)['"`]\s*\)/g;
  return [
    ...[...code.matchAll(stated)].map(match => ({
      file,
      from: match[2] ?? '',
      typeOnly: match[1] !== undefined,
      lazy: false,
    })),
    ...[...code.matchAll(called)].map(match => ({ file, from: match[1] ?? '', typeOnly: false, lazy: true })),
  ];
}

/** Without comments, and without what stands in template strings that could look like code. Positions do not matter here. */
function withoutComments(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|[^:'"`])\/\/[^\n]*/g, '$1');
}

const folderOf = (file: string): string => (file.includes('/') ? (file.split('/')[0] ?? '') : '.');
/** The kernel's compiler knows no extensions. */
const KERNEL = /^record\/scan\/kernel\//;
const resolved = ({ file, from }: Import): string =>
  path.posix.join(path.posix.dirname(file), KERNEL.test(file) ? `${from}.ts` : from);
const isRelative = ({ from }: Import): boolean => from.startsWith('.');

describe('layers', () => {
  it('finds the imports it is to judge', () => {
    expect(imports.length).toBeGreaterThan(200);
    expect(imports).toContainEqual({
      file: 'main.ts',
      from: './commands/run.ts',
      typeOnly: false,
      lazy: true,
    });
    expect(imports).toContainEqual({
      file: 'inventory/parse.ts',
      from: 'yaml',
      typeOnly: false,
      lazy: false,
    });
  });

  it('import downwards only', () => {
    const wrong = imports.filter(isRelative).filter(one => {
      const [here, there] = [folderOf(one.file), folderOf(resolved(one))];
      // Version and other files at the top are for everybody.
      return here !== there && there !== '.' && !MAY_IMPORT[here]?.includes(there);
    });
    expect(wrong).toEqual([]);
  });

  it('has no folder that the layers do not know', () => {
    const folders = [...new Set([...sources.keys()].map(folderOf))];
    expect(folders.filter(folder => MAY_IMPORT[folder] === undefined)).toEqual([]);
  });

  it('lets the record use the domain model of the inventory alone', () => {
    const inside = imports.filter(
      one => folderOf(one.file) === 'record' && folderOf(resolved(one)) === 'inventory',
    );
    expect(inside.filter(one => isRelative(one) && !DOMAIN_MODEL.test(resolved(one)))).toEqual([]);
  });

  it('names files with their extension, and they exist', () => {
    const missing = imports.filter(isRelative).filter(one => {
      const target = resolved(one);
      return !/^(generated|\.\.\/schemas)\//.test(target) && !sources.has(target);
    });
    expect(missing).toEqual([]);
  });

  it.each(Object.entries(OWNERS))('%s is imported by %s alone', (library, owner) => {
    const importers = imports.filter(({ from }) => from === library || from.startsWith(`${library}/`));
    expect(importers.filter(({ file }) => folderOf(file) !== owner)).toEqual([]);
  });

  it('keeps what computes away from files, network and processes', () => {
    const nodes = imports.filter(({ file, from }) => PURE.includes(folderOf(file)) && isBuiltIn(from));
    expect(nodes).toEqual([]);
  });

  it('opens no socket of a network family and starts no process', () => {
    const barred = [
      'http',
      'https',
      'http2',
      'tls',
      'dgram',
      'dns',
      'child_process',
      'cluster',
      'worker_threads',
      'inspector',
    ];
    expect(imports.filter(({ from }) => barred.includes(from.replace(/^node:/, '')))).toEqual([]);
  });

  it('touches the process in main alone, and ends it nowhere', () => {
    const touching = own
      .filter(([, text]) => /(?<![\w.'"-])process\s*[.[]/.test(withoutStrings(text)))
      .map(([file]) => file);
    expect(touching).toEqual(['main.ts']);
    expect(imports.filter(({ from, file }) => /^(node:)?process$/.test(from) && file !== 'main.ts')).toEqual(
      [],
    );
    expect(own.filter(([, text]) => /process\s*\.\s*exit\s*\(/.test(withoutStrings(text)))).toEqual([]);
  });

  it('reads the clock in main alone', () => {
    const reading = own
      .filter(([, text]) => /new Date\(\)|Date\.now\(/.test(withoutStrings(text)))
      .map(([file]) => file);
    expect(reading).toEqual(['main.ts']);
  });

  it('has no circle of imports', () => {
    expect(circle()).toBeNull();
  });
});

function isBuiltIn(from: string): boolean {
  return from.startsWith('node:') || builtinModules.includes(from);
}

function withoutStrings(text: string): string {
  return withoutComments(text)
    .replace(/'(?:[^'\\\n]|\\.)*'/g, "''")
    .replace(/"(?:[^"\\\n]|\\.)*"/g, '""');
}

/** The first chain of imports that comes back to where it began; types and what is loaded late do not count. */
function circle(): readonly string[] | null {
  const next = new Map<string, string[]>();
  for (const one of imports) {
    if (!isRelative(one) || one.typeOnly || one.lazy) continue;
    next.set(one.file, [...(next.get(one.file) ?? []), resolved(one)]);
  }
  const done = new Set<string>();
  function visit(file: string, way: readonly string[]): readonly string[] | null {
    if (way.includes(file)) return [...way.slice(way.indexOf(file)), file];
    if (done.has(file)) return null;
    for (const to of next.get(file) ?? []) {
      const found = visit(to, [...way, file]);
      if (found !== null) return found;
    }
    done.add(file);
    return null;
  }
  for (const file of next.keys()) {
    const found = visit(file, []);
    if (found !== null) return found;
  }
  return null;
}
