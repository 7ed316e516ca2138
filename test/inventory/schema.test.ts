/** The schema as an editor reads it, and the example as a practice that has a little of everything. */
import { readFileSync } from 'node:fs';
import Ajv from 'ajv';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';

interface Node {
  readonly description?: string;
  readonly type?: string | string[];
  readonly $ref?: string;
  readonly enum?: readonly unknown[];
  readonly items?: Node;
  readonly properties?: Readonly<Record<string, Node>>;
  readonly definitions?: Readonly<Record<string, Node>>;
}

const SCHEMA: Node = JSON.parse(readFileSync('schemas/inventory.schema.json', 'utf8'));

/** A node with what its reference says. */
function resolved(node: Node): Node {
  const name = node.$ref?.replace('#/definitions/', '');
  return name === undefined ? node : { ...SCHEMA.definitions?.[name], ...node };
}

/** Every property on the way through the schema, by its path; lists are passed through. */
function* properties(node: Node, path: string): Generator<{ path: string; node: Node }> {
  const here = resolved(node);
  if (here.items !== undefined) yield* properties(here.items, path);
  for (const [key, inner] of Object.entries(here.properties ?? {})) {
    yield { path: `${path}/${key}`, node: inner };
    yield* properties(inner, `${path}/${key}`);
  }
}

/** Every path that a value has, and at its end the value itself. */
function* paths(value: unknown, path: string): Generator<string> {
  if (Array.isArray(value)) for (const item of value) yield* paths(item, path);
  else if (typeof value === 'object' && value !== null) {
    for (const [key, inner] of Object.entries(value)) {
      yield `${path}/${key}`;
      yield* paths(inner, `${path}/${key}`);
    }
  } else yield `${path}=${value}`;
}

const ALL = [...properties(SCHEMA, '')];

describe('schemas/inventory.schema.json', () => {
  it('is a schema that the strictest reading takes', () => {
    const ajv = new Ajv({ strict: true, strictTypes: false, strictRequired: false, allowUnionTypes: true });
    addFormats(ajv, ['date']);
    expect(() =>
      ajv.compile(JSON.parse(readFileSync('schemas/inventory.schema.json', 'utf8'))),
    ).not.toThrow();
  });

  it('describes every key, with its unit where it has one', () => {
    expect(ALL.length).toBeGreaterThan(120);
    expect(ALL.filter(({ node }) => (node.description ?? '').length < 10).map(({ path }) => path)).toEqual(
      [],
    );
    const units = {
      _kg: 'kg',
      _ml: 'mL',
      _ml_min: 'mL/min',
      _ml_kg: 'mL/kg',
      _ml_kg_min: 'mL/kg/min',
      _cmh2o: 'cmH2O',
      _psi: 'psi',
      _bar: 'bar',
      _g: 'g',
    };
    for (const { path, node } of ALL) {
      const suffix = /(_ml_kg_min|_ml_kg|_ml_min|_ml_cmh2o|_cmh2o|_ml|_kg|_psi|_bar|_100_g|_g)$/.exec(
        path,
      )?.[1];
      const unit = Object.entries(units).find(([end]) => end === suffix)?.[1];
      const isGroup = Object.keys(resolved(node).properties ?? {}).length > 0;
      if (unit !== undefined && !isGroup) expect(node.description, path).toMatch(new RegExp(`\\b${unit}\\b`));
    }
  });
});

describe('inventory.example.yaml', () => {
  const used = new Set(paths(parse(readFileSync('inventory.example.yaml', 'utf8')), ''));

  it('has every key that there is', () => {
    // The species for which a practice need not decide anything.
    const others = /tidal_volume_by_species_ml_kg\/(dog|cat|other)$/;
    expect(ALL.map(({ path }) => path).filter(path => !used.has(path) && !others.test(path))).toEqual([]);
  });

  it('has every kind of thing, and every way of doing one', () => {
    const choices = ALL.flatMap(({ path, node }) => {
      const { items, ...own } = resolved(node);
      const allowed = own.enum ?? (items === undefined ? [] : (resolved(items).enum ?? []));
      return allowed.map(value => `${path}=${value}`);
    });
    // One practice has one way; agents and days are not all in use.
    const single = /valid_for|boundary\/between|agent=(desflurane|halothane)|open_days=sun/;
    expect(choices.length).toBeGreaterThan(35);
    expect(choices.filter(choice => !used.has(choice) && !single.test(choice))).toEqual([]);
  });
});
