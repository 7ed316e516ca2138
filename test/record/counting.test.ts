import { describe, expect, it } from 'vitest';
import { hasGauge } from '../../src/inventory/inventory.ts';
import { isProof } from '../../src/record/counting.ts';
import { failedHold, hold, larkhill } from './entries.ts';

const inventory = larkhill();
const TAUT = { fall: undefined, taut: { steady: true, seconds: 10 } } as object;
const pairs = inventory.circuits.flatMap(circuit =>
  inventory.machines.map(machine => ({ circuit, machine, isGauged: hasGauge(circuit, machine) })),
);

describe('a leak test that acquits', () => {
  it('is a taut bag just where the pair, and no other, has no gauge: it shows a leak late or not at all', () => {
    expect(new Set(pairs.map(({ isGauged }) => isGauged)).size).toBe(2);
    for (const { circuit, machine, isGauged } of pairs) {
      const of = `${circuit.id} on ${machine.id}`;
      expect(isProof(hold('08:00', circuit.id, machine.id, TAUT), inventory), of).toBe(!isGauged);
      expect(isProof(hold('08:00', circuit.id, machine.id), inventory), of).toBe(true);
      expect(isProof(failedHold('08:00', circuit.id, machine.id), inventory), of).toBe(false);
      expect(isProof(hold('08:00', circuit.id, machine.id, { pop_off: 'shut' }), inventory), of).toBe(false);
    }
  });

  it('is any pass of a circuit or on a machine that the inventory has no more: nobody knows its gauge', () => {
    expect(isProof(hold('08:00', 'sold-1', 'theatre-1', TAUT), inventory)).toBe(true);
    expect(isProof(hold('08:00', 'bain-1', 'sold-2', TAUT), inventory)).toBe(true);
  });
});
