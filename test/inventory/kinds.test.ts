/** Every circuit kind and every check unit is known in every place that must know it, whatever the type checker sees. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { INTERVAL_UNITS } from '../../src/calendar/interval.ts';
import { CIRCUIT_KINDS, driveOf } from '../../src/inventory/inventory.ts';
import { RESERVED_WORDS } from '../../src/inventory/select.ts';
import { drawing } from '../../src/report/card/drawing.ts';
import { planFor } from '../support/plan.ts';
import { circuit, machine, practice } from '../support/practice.ts';

const { definitions, properties } = JSON.parse(readFileSync('schemas/inventory.schema.json', 'utf8'));

describe('schemas/inventory.schema.json', () => {
  it('takes every circuit kind and no other', () => {
    expect(definitions.circuit.properties.kind.enum).toEqual([...CIRCUIT_KINDS]);
    const { items, maxItems } = definitions.machine.properties.drives;
    expect(items.enum.toSorted()).toEqual([...new Set(CIRCUIT_KINDS.map(driveOf))].sort());
    expect(maxItems).toBe(items.enum.length);
    const holdRules = Object.entries<{ $ref?: string }>(properties.rules.properties.leak_hold.properties)
      .filter(([, rule]) => rule.$ref === '#/definitions/holdRule')
      .map(([kind]) => kind);
    expect(holdRules.sort()).toEqual([...CIRCUIT_KINDS].sort());
  });

  it('takes every check unit and no other', () => {
    expect(Object.keys(definitions.check.properties.every.properties)).toEqual([...INTERVAL_UNITS]);
  });
});

describe.each(CIRCUIT_KINDS)('the circuit kind %s', kind => {
  const inventory = practice({
    rules: { leak_hold: { [kind]: { seconds: 17 } } },
    machines: [machine('m', { drives: [driveOf(kind)] })],
    circuits: [circuit('c', kind)],
    checks: [{ id: 'of-kind', of: kind, every: { weeks: 1 } }],
  });

  it('can be entered, has a rule of its own, and checks of it', () => {
    expect(inventory.rules.leakHold[kind].seconds.value).toBe(17);
    expect(inventory.checks[0]?.assets).toEqual(['c']);
    expect(RESERVED_WORDS).toContain(kind);
  });

  it('is planned with steps of its own and drawn in a way of its own', () => {
    const { steps } = planFor(inventory, 7.5, { circuit: 'c' });
    expect(steps?.connect.length).toBeGreaterThan(2);
    const others = CIRCUIT_KINDS.filter(other => other !== kind);
    expect(others.map(drawing)).not.toContain(drawing(kind));
  });
});

describe.each(INTERVAL_UNITS)('the check unit %s', unit => {
  it('is read as it is written', () => {
    const { checks } = practice({ checks: [{ id: 'c', of: 'machine', every: { [unit]: 3 } }] });
    expect(checks[0]?.every).toEqual({ unit, count: 3 });
  });
});
