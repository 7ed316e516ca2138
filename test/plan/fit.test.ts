import { describe, expect, it } from 'vitest';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { misfitsOf, wrongClass } from '../../src/plan/fit.ts';
import type { EquipmentState } from '../../src/plan/request.ts';
import { kg } from '../../src/quantity/units.ts';
import { larkhill } from '../record/entries.ts';
import { knowing } from '../support/plan.ts';
import { circuit, flowmeter, machine, practice } from '../support/practice.ts';

function misfits(
  inventory: Inventory,
  circuitId: string,
  weight: number,
  equipment: EquipmentState = knowing(),
) {
  const found = inventory.circuits.find(({ id }) => id === circuitId);
  const [on] = inventory.machines;
  if (found === undefined || on === undefined) throw new Error(`no ${circuitId}, or no machine`);
  const weights = { actualKg: kg(weight), classKg: kg(weight) };
  return misfitsOf({ circuit: found, machine: on }, { inventory, equipment, weights });
}

const usual = practice();

describe('misfitsOf', () => {
  it('finds nothing against a pair that fits', () => {
    expect(misfits(usual, 'bain-1', 6)).toEqual([]);
    expect(misfits(usual, 'y-piece-1', 20)).toEqual([]);
  });

  it('names the machine that is out of service', () => {
    expect(misfits(usual, 'bain-1', 6, knowing({ outOfService: { 'theatre-1': 'no power' } }))).toEqual([
      {
        code: 'machine_out_of_service',
        part: 'machine',
        caution: 'circuit_withdrawn',
        reason: 'theatre-1 is out of service: no power',
      },
    ]);
  });

  it('keeps circles, and only these, from a machine whose absorber is out of service', () => {
    const inventory = larkhill();
    const known = knowing({ outOfService: { 'theatre-1-absorber': 'seal torn' } });
    const circle = inventory.circuits.find(({ kind }) => kind === 'circle_y')?.id ?? '';
    expect(misfits(inventory, circle, 20, known)).toEqual([
      {
        code: 'machine_out_of_service',
        part: 'machine',
        caution: 'circuit_withdrawn',
        reason: 'theatre-1-absorber is out of service: seal torn',
      },
    ]);
    expect(misfits(inventory, 'bain-1', 6, known)).toEqual([]);
  });

  it('names what a machine does not drive', () => {
    const inventory = practice({
      machines: [machine('theatre-1', { drives: ['circle'] }), machine('far')],
    });
    expect(misfits(inventory, 'bain-1', 6)).toEqual([
      expect.objectContaining({
        code: 'not_driven',
        part: 'pair',
        caution: 'circuit_not_driven',
        reason: expect.stringMatching(/^theatre-1 does not drive a Bain/i),
      }),
    ]);
  });

  it('names the weight below which no circle is used', () => {
    expect(misfits(usual, 'y-piece-1', 2.9)).toEqual([
      {
        code: 'too_small_for_circle',
        part: 'circuit',
        caution: 'circle_too_small_patient',
        reason: 'is a circle; none is used below 3 kg',
      },
    ]);
  });

  it('names the machine that has no oxygen', () => {
    expect(misfits(usual, 'bain-1', 6, knowing({ outOfService: { wall: 'shut off' } }))).toEqual([
      {
        code: 'oxygen_out_of_service',
        part: 'machine',
        caution: 'oxygen_out_of_service',
        reason: 'no oxygen supply of theatre-1 is in service',
      },
    ]);
  });

  it('names the flow that the flowmeter cannot give, and where it ends', () => {
    const inventory = practice({ machines: [machine('theatre-1', { flowmeter: flowmeter(1000, 100) })] });
    expect(misfits(inventory, 'bain-1', 6)).toEqual([
      expect.objectContaining({
        code: 'flow_above_flowmeter',
        part: 'pair',
        caution: 'flow_above_maximum',
        reason: expect.stringMatching(/^needs 1\.\d+ L\/min; the flowmeter of theatre-1 ends at 1 L\/min$/),
      }),
    ]);
  });

  it('tells what the failed leak test of the pair was', () => {
    expect(misfits(usual, 'bain-1', 6, knowing({ holds: { 'bain-1 theatre-1': 'failed' } }))).toEqual([
      {
        code: 'hold_failed',
        part: 'pair',
        caution: 'hold_failed',
        reason: 'failed its leak test on theatre-1: fell from 20 to 14 cmH2O in 10 s',
      },
    ]);
    const untold: EquipmentState = {
      ...knowing(),
      hold: () => ({ state: 'failed', last: null, because: null }),
    };
    expect(misfits(usual, 'bain-1', 6, untold)).toEqual([
      expect.objectContaining({ reason: 'failed its leak test on theatre-1' }),
    ]);
  });

  it('names the class that was wanted', () => {
    const rest = { code: 'wrong_class', part: 'circuit', caution: 'class_forced' };
    expect(wrongClass('rebreathing')).toEqual({ ...rest, reason: 'not a rebreathing circuit' });
    expect(wrongClass('non_rebreathing')).toEqual({ ...rest, reason: 'not a non-rebreathing circuit' });
  });

  it('finds a concentrator’s end', () => {
    const inventory = practice({
      machines: [machine('theatre-1', { oxygen: ['conc'] })],
      supplies: [{ id: 'conc', kind: 'concentrator', max_ml_min: 1000, since: '2026-01-01' }],
      circuits: [circuit('bain-1', 'bain')],
    });
    expect(misfits(inventory, 'bain-1', 6)).toEqual([
      expect.objectContaining({
        code: 'flow_above_supply',
        part: 'pair',
        caution: 'flow_above_maximum',
        reason: expect.stringMatching(/^needs 1\.\d+ L\/min; conc gives at most 1 L\/min$/),
      }),
    ]);
  });
});
