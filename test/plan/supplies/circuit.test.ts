import { describe, expect, it } from 'vitest';
import { kg, ml } from '../../../src/quantity/units.ts';
import { larkhill } from '../../record/entries.ts';
import { messages, plan, supplies } from './case.ts';

const inventory = larkhill();

describe('wash-in of a plan', () => {
  it('counts the inside of the machine for a circle, and the circuit and the bag', () => {
    const { washIn } = supplies(inventory, []);
    // 3200 in theatre-1, 700 in coaxial-1, 1000 in the bag; 500 mL/min.
    expect(washIn).toMatchObject({ volumeMl: 4900, timeConstantMin: 9.8, t63Min: 9.8, missing: [] });
    expect(washIn.t95Min).toBeCloseTo(29.4, 9);
  });

  it('counts no inside of the machine for a Bain', () => {
    expect(supplies(inventory, [], { weightKg: kg(6) }).washIn.volumeMl).toBe(450 + 1000);
  });

  it('names each volume that is missing and the line where it would stand', () => {
    const circuits = inventory.circuits.map(circuit =>
      circuit.id === 'y-piece-1' ? { ...circuit, volumeMl: null } : circuit,
    );
    const forced = { machine: 'dental', circuit: 'y-piece-1' };
    const { washIn } = supplies({ ...inventory, circuits }, [], forced);
    expect(washIn).toMatchObject({ volumeMl: null, timeConstantMin: null, t95Min: null });
    expect(washIn.missing).toMatchObject([
      {
        add: 'internal_volume_ml',
        path: '/machines/1/internal_volume_ml',
        line: inventory.placeOf('/machines/1').line,
      },
      { add: 'volume_ml', path: '/circuits/3/volume_ml' },
    ]);
  });

  it('lacks the tidal volume where no bag can be chosen for the species', () => {
    const { washIn, breathing, deadSpace } = supplies(inventory, [], {
      weightKg: kg(3),
      species: 'rabbit',
      breathsPerMin: 40,
    });
    for (const { missing } of [washIn, breathing, deadSpace])
      expect(missing.map(({ add }) => add)).toEqual(['rabbit: [LOW, HIGH]']);
  });
});

describe('breathing and dead space of a plan', () => {
  const bain = { weightKg: kg(6) };

  it('gives the minute volume at the low end, by the ideal weight, and the flow as a multiple of it', () => {
    expect(supplies(inventory, [], { ...bain, breathsPerMin: 20 }).breathing).toMatchObject({
      minuteVolumeMlPerMin: 1200,
      flowOverMinuteVolume: 1.25,
    });
    const ideal = { ...bain, idealWeightKg: kg(5), breathsPerMin: 20 };
    expect(supplies(inventory, [], ideal).breathing.minuteVolumeMlPerMin).toBe(1000);
  });

  it('cautions above the practice’s fraction, not at it', () => {
    const at = (adapterMl: number) => plan(inventory, [], { ...bain, adapterMl: ml(adapterMl) });
    // 6 mL in the Bain; a fifth of 60 mL is 12.
    expect(messages(at(6), 'dead_space_high')).toEqual([]);
    expect(messages(at(7), 'dead_space_high')).toEqual([
      '13 mL of dead space is 22 % of a 60 mL breath (limit 20 %)',
    ]);
    expect(at(6).supplies?.deadSpace.fraction).toBeCloseTo(0.2, 12);
  });

  it('names the circuit’s dead space where it is missing', () => {
    expect(supplies(inventory, []).deadSpace.missing).toMatchObject([
      {
        add: 'dead_space_ml',
        path: '/circuits/2/dead_space_ml',
        line: inventory.placeOf('/circuits/2').line,
      },
    ]);
  });
});
