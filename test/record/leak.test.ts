import { describe, expect, it } from 'vitest';
import { cmH2O, ml, mlPerCmH2O, mlPerMin, seconds } from '../../src/quantity/units.ts';
import {
  complianceOfPair,
  complianceOfRise,
  gasCompliance,
  knownVolumeMl,
  leakFromFall,
  leakOfHold,
} from '../../src/record/leak.ts';
import { foldStanding } from '../../src/record/standing.ts';
import { compliance, larkhill } from './entries.ts';

const inventory = larkhill();
const FALL = { fromCmH2O: cmH2O(30), toCmH2O: cmH2O(25), seconds: seconds(10) };

function circuit(id: string) {
  const found = inventory.circuits.find(one => one.id === id);
  if (found === undefined) throw new Error(`Larkhill has ${id}`);
  return found;
}

function machine(id: string) {
  const found = inventory.machines.find(one => one.id === id);
  if (found === undefined) throw new Error(`Larkhill has ${id}`);
  return found;
}

describe('the leak from a fall', () => {
  it('is compliance × fall ÷ seconds × 60', () => {
    expect(leakFromFall(FALL, { mlPerCmH2O: mlPerCmH2O(8), atLeast: false, source: '' })).toBe(240);
  });

  it('takes the compliance that was measured last on the pair, then that of the inventory', () => {
    const pair = foldStanding(inventory, [
      compliance('08:00', 'y-piece-1', 'theatre-1', 7),
      compliance('09:00', 'y-piece-1', 'theatre-1', 7.5),
    ]).pairs.get('y-piece-1 theatre-1');
    const from = (given: typeof pair) =>
      complianceOfPair(given, circuit('y-piece-1'), machine('theatre-1'), null);
    expect(from(pair)).toMatchObject({ mlPerCmH2O: 7.5, atLeast: false, source: 'measured on 2026-11-25' });
    expect(from(undefined)).toMatchObject({ mlPerCmH2O: 8, atLeast: false });
  });

  it('is else at least that of the gas in the volume that is known', () => {
    // Coaxial circle 700 mL, absorber and pipes 3200 mL, bag 2000 mL: 5900 / 1033 mL/cmH2O.
    const gas = complianceOfPair(undefined, circuit('coaxial-1'), machine('theatre-1'), ml(2000));
    expect(gas?.mlPerCmH2O).toBeCloseTo(5900 / 1033, 12);
    expect(leakOfHold(FALL, gas)).toEqual({ ml_min: 171.3, at_least: true });
  });

  it('is never less than that of the gas alone, whoever gave the figure: a leak would look harmless', () => {
    const pair = foldStanding(inventory, [compliance('08:00', 'y-piece-1', 'theatre-1', 0.08)]).pairs.get(
      'y-piece-1 theatre-1',
    );
    const y = circuit('y-piece-1');
    const floor = complianceOfPair(pair, y, machine('theatre-1'), null);
    const volume = knownVolumeMl(y, machine('theatre-1'), null) ?? Number.NaN;
    expect(floor).toEqual({
      mlPerCmH2O: volume / 1033,
      atLeast: true,
      source: `the gas alone in the ${volume} mL that are known; the figure measured on 2026-11-25 is less`,
    });
    const written = { ...y, complianceMlPerCmH2O: mlPerCmH2O(1) };
    expect(complianceOfPair(undefined, written, machine('theatre-1'), null)).toMatchObject({
      mlPerCmH2O: volume / 1033,
      atLeast: true,
    });
    // With no volume known nothing speaks against it.
    const bare = { ...circuit('bain-1'), volumeMl: null, complianceMlPerCmH2O: mlPerCmH2O(1) };
    expect(complianceOfPair(undefined, bare, machine('theatre-1'), null)).toMatchObject({ mlPerCmH2O: 1 });
  });

  it("counts the machine's inside for circles only", () => {
    expect(knownVolumeMl(circuit('bain-1'), machine('theatre-1'), null)).toBe(450);
    expect(knownVolumeMl(circuit('coaxial-1'), machine('dental'), null)).toBe(700);
    expect(knownVolumeMl({ ...circuit('bain-1'), volumeMl: null }, machine('theatre-1'), null)).toBeNull();
  });

  it('is not given where nothing fell or nothing is known', () => {
    const eight = { mlPerCmH2O: mlPerCmH2O(8), atLeast: false, source: '' };
    expect(leakOfHold({ ...FALL, toCmH2O: cmH2O(30) }, eight)).toBeUndefined();
    expect(leakOfHold(FALL, null)).toBeUndefined();
    expect(leakOfHold(undefined, eight)).toBeUndefined();
  });
});

describe('what the compliance of a pair comes from', () => {
  it('is said: measured, of the inventory, or the gas alone', () => {
    const source = (id: string, on: string, bagMl: number | null) =>
      complianceOfPair(undefined, circuit(id), machine(on), bagMl === null ? null : ml(bagMl));
    expect(source('y-piece-1', 'theatre-1', null)).toEqual({
      mlPerCmH2O: 8,
      atLeast: false,
      source: 'compliance_ml_cmh2o of y-piece-1 in the inventory',
    });
    expect(source('coaxial-1', 'theatre-1', 2000)).toEqual({
      mlPerCmH2O: expect.closeTo(5900 / 1033, 12),
      atLeast: true,
      source: 'the gas alone in the 5900 mL that are known',
    });
    expect(gasCompliance(ml(1033))).toBe(1);
    const unknown = { ...circuit('bain-1'), volumeMl: null };
    expect(complianceOfPair(undefined, unknown, machine('theatre-1'), null)).toBeNull();
    // A bag alone is something.
    expect(complianceOfPair(undefined, unknown, machine('theatre-1'), ml(1000))?.source).toBe(
      'the gas alone in the 1000 mL that are known',
    );
  });

  it('gives the leak to a tenth, and says whether it is at least that', () => {
    const three = { mlPerCmH2O: mlPerCmH2O(1 / 3), atLeast: false, source: '' };
    // 1/3 × 5 / 10 × 60 = 10.
    expect(leakOfHold(FALL, three)).toEqual({ ml_min: 10, at_least: false });
    expect(leakOfHold({ ...FALL, seconds: seconds(7) }, three)).toEqual({ ml_min: 14.3, at_least: false });
    expect(leakOfHold({ ...FALL, toCmH2O: cmH2O(31) }, three)).toBeUndefined();
  });
});

describe('complianceOfRise', () => {
  it('is the gas that flowed in ÷ the rise', () => {
    expect(
      complianceOfRise({
        flowMlPerMin: mlPerMin(1000),
        fromCmH2O: cmH2O(10),
        toCmH2O: cmH2O(30),
        seconds: seconds(9.6),
      }),
    ).toBeCloseTo(8, 12);
  });
});
