/** Tidal volumes and reservoir bags; rows T1 to T3 and G1 to G4. */
import { describe, expect, it } from 'vitest';
import { chooseBag, tidalVolumeRule } from '../../src/plan/bag.ts';
import { NO_RECORD } from '../../src/plan/request.ts';
import { kg } from '../../src/quantity/units.ts';
import { planFor } from '../support/plan.ts';
import { practice } from '../support/practice.ts';
import { check } from './check.ts';

const AAFP = 'AAFP Feline Anesthesia Guidelines, J Feline Med Surg 2018;20:602-634, Table 4';
const STAHL = 'Stahl, J Appl Physiol 1967;22:453-460';

const usual = practice();
const bag = (weight: number, inventory = usual) => {
  const chosen = chooseBag(inventory, NO_RECORD, kg(weight), null, null);
  if (chosen === null) throw new Error('no bag');
  return chosen;
};

describe('tidal volume', () => {
  it('T1: 10 to 20 mL/kg', () => {
    const row = {
      id: 'T1',
      source: 'Donati et al., J Vet Sci 2019;20:e21 (literature range, dogs)',
      how: 'seen',
    } as const;
    const [low, high] = tidalVolumeRule(usual, 'dog')?.value ?? [0, 0];
    check({ ...row, figure: 'dogs, low end, mL/kg', ours: low, theirs: 10 });
    check({ ...row, figure: 'dogs, high end, mL/kg', ours: high, theirs: 20 });
  });

  it('T2: by body size, 7.69 kg^1.04 mL: below the default range, which is by weight and holds under anaesthesia', () => {
    // 84.3 mL. The formula itself is no part of the program.
    const theirs = 7.69 * 10 ** 1.04;
    const row = { id: 'T2', source: STAHL, how: 'memory' } as const;
    const [low] = usual.rules.tidalVolumeMlPerKg.value;
    check({
      ...row,
      figure: 'dog of 10 kg, low end, mL',
      ours: low * 10,
      theirs,
      misfit: 'the default begins at 10 mL/kg, the literature range of dogs (T1)',
    });
    // A practice that goes by it writes 8.43 mL/kg for this size.
    const own = practice({
      rules: { tidal_volume_ml_kg: [8.43, 8.43], reservoir_bag: { tidal_volumes: 6 } },
    });
    check({
      ...row,
      figure: 'six tidal volumes at 10 kg, mL',
      ours: bag(10, own).wantedLowMl,
      theirs: 6 * theirs,
      tolerance: 0.5,
      rules: '8.43 mL/kg',
    });
  });

  it('T3: ferrets about 10.5 mL/kg, rabbits 4 to 6, by entries of their own', () => {
    const own = practice({ rules: { tidal_volume_by_species_ml_kg: { ferret: [10, 11], rabbit: [4, 6] } } });
    const ferret = planFor(own, 1, { species: 'ferret' }).bag;
    const rabbit = planFor(own, 3, { species: 'rabbit' }).bag;
    const row = { id: 'T3', rules: 'entries of its own for the species' } as const;
    check({
      ...row,
      figure: 'ferret of 1 kg, six tidal volumes, mL',
      ours: ferret?.wantedMl ?? 0,
      theirs: 6 * 10.5,
      source: 'respiratory mechanics study',
      how: 'seen',
    });
    check({
      ...row,
      figure: 'rabbit of 3 kg, six tidal volumes, low end, mL',
      ours: rabbit?.wantedLowMl ?? 0,
      theirs: 72,
      source: 'veterinary teaching',
      how: 'memory',
    });
    check({
      ...row,
      figure: 'rabbit of 3 kg, six tidal volumes, high end, mL',
      ours: rabbit?.wantedHighMl ?? 0,
      theirs: 108,
      source: 'veterinary teaching',
      how: 'memory',
    });
    // Nothing is guessed without them.
    expect(planFor(usual, 1, { species: 'ferret' }).bag).toBeNull();
  });
});

describe('reservoir bag', () => {
  it.each([
    [5, 450, 500],
    [6, 540, 1000],
    [20, 1800, 2000],
  ])('G1: six tidal volumes, rounded up: %i kg wants %i mL and gets %i mL', (weight, wanted, size) => {
    const row = { id: 'G1', source: 'common practice', how: 'practice' } as const;
    check({ ...row, figure: `${weight} kg, wanted, mL`, ours: bag(weight).wantedMl, theirs: wanted });
    check({ ...row, figure: `${weight} kg, bag, mL`, ours: bag(weight).sizeMl ?? 0, theirs: size });
  });

  it('G2: cats: 0.5 L to 5 kg, 1 L from 6 to 10 kg', () => {
    const row = { id: 'G2', source: AAFP, how: 'seen' } as const;
    for (const weight of [1, 2, 3, 4, 5])
      check({
        ...row,
        figure: `cat of ${weight} kg, bag, L`,
        ours: (bag(weight).sizeMl ?? 0) / 1000,
        theirs: 0.5,
      });
    for (const weight of [6, 7, 8, 9, 10])
      check({
        ...row,
        figure: `cat of ${weight} kg, bag, L`,
        ours: (bag(weight).sizeMl ?? 0) / 1000,
        theirs: 1,
      });
  });

  it('G3: 60 mL/kg: 1 L to 15 kg, 2 L to 30 kg, and 3 L at exactly 50 kg', () => {
    const sixty = practice({ rules: { reservoir_bag: { tidal_volumes: 6, size_at_ml_kg: 10 } } });
    const row = { id: 'G3', rules: '60 mL/kg' } as const;
    const teaching = { source: 'veterinary teaching', how: 'quoted' } as const;
    const size = (weight: number) => (bag(weight, sixty).sizeMl ?? 0) / 1000;
    for (const weight of [10, 12, 15])
      check({ ...row, ...teaching, figure: `${weight} kg, bag, L`, ours: size(weight), theirs: 1 });
    for (const weight of [17, 20, 30])
      check({ ...row, ...teaching, figure: `${weight} kg, bag, L`, ours: size(weight), theirs: 2 });
    check({
      ...row,
      figure: '50 kg, wanted, mL',
      ours: bag(50, sixty).wantedMl,
      theirs: 3000,
      source: 'arithmetic',
      how: 'exact',
    });
    check({ ...row, figure: '50 kg, bag, L', ours: size(50), theirs: 3, source: 'arithmetic', how: 'exact' });
  });

  it('G4: a 0.5 L bag with the pop-off shut at 2 L/min: 17 s to 30 cmH2O (median)', () => {
    const note = planFor(usual, 3).cautions.find(({ code }) => code === 'small_bag')?.message ?? '';
    const row = {
      id: 'G4',
      source: 'study of 75 reservoir bags, Vet Anaesth Analg, S1467-2987(20)30265-8',
      how: 'seen',
    } as const;
    const number = (pattern: RegExp) => Number(pattern.exec(note)?.[1]);
    check({ ...row, figure: 'seconds that the note names', ours: number(/in (\d+) s/), theirs: 17 });
    check({ ...row, figure: 'pressure that the note names, cmH2O', ours: number(/(\d+) cmH2O/), theirs: 30 });
    check({ ...row, figure: 'flow that the note names, L/min', ours: number(/at (\d+) L\/min/), theirs: 2 });
  });
});
