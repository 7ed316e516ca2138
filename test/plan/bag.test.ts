import { describe, expect, it } from 'vitest';
import { chooseBag } from '../../src/plan/bag.ts';
import { NO_RECORD } from '../../src/plan/request.ts';
import { kg, type Ml, ml } from '../../src/quantity/units.ts';
import { codesOf, knowing, planFor } from '../support/plan.ts';
import { practice } from '../support/practice.ts';

const usual = practice();
const bagFor = (weight: number, inventory = usual) => chooseBag(inventory, NO_RECORD, kg(weight), null, null);

describe('chooseBag', () => {
  it.each([
    // size / 90 mL/kg: each bag's edge at just below, at, and just above.
    [5.55, 500],
    [500 / 90, 500],
    [5.56, 1000],
    [11.11, 1000],
    [1000 / 90, 1000],
    [11.12, 2000],
    [22.22, 2000],
    [2000 / 90, 2000],
    [22.23, 3000],
    [33.33, 3000],
    [3000 / 90, 3000],
  ])('%f kg → %i mL', (weight, size) => {
    expect(bagFor(weight)).toMatchObject({ sizeMl: size, notStocked: false });
  });

  it('takes the largest there is where none is large enough, and says so', () => {
    expect(bagFor(33.34)).toMatchObject({ sizeMl: 3000, notStocked: true });
    expect(codesOf(planFor(usual, 33.34))).toContain('bag_not_stocked');
    expect(codesOf(planFor(usual, 33.33))).not.toContain('bag_not_stocked');
  });

  it('says whether it covers the high end', () => {
    // 6 × 20 mL/kg: 500 mL cover 4.166 kg.
    expect(bagFor(4.16)).toMatchObject({ sizeMl: 500, coversHigh: true });
    expect(bagFor(500 / 120)).toMatchObject({ sizeMl: 500, coversHigh: true });
    expect(bagFor(4.17)).toMatchObject({ sizeMl: 500, coversHigh: false });
  });

  it('is larger for more tidal volumes, and of another size where another is stocked', () => {
    const inventory = practice({ rules: { reservoir_bag: { tidal_volumes: 5 } }, bags: [450, 2000] });
    expect(bagFor(6, inventory)).toMatchObject({ wantedMl: 450, sizeMl: 450 });
    expect(bagFor(6.01, inventory)).toMatchObject({ sizeMl: 2000 });
  });

  it('chooses from the smallest up, whatever the order in the inventory', () => {
    expect(bagFor(4, practice({ bags: [3000, 500, 1000] }))?.sizeMl).toBe(500);
  });

  it('has nothing to hang where nothing is stocked', () => {
    const none = practice({ bags: [] });
    expect(bagFor(4, none)).toMatchObject({ sizeMl: null, coversHigh: false, notStocked: true });
    expect(codesOf(planFor(none, 4))).toContain('bag_not_stocked');
    // A size of which there is none counts for nothing.
    expect(bagFor(4, practice({ bags: [{ size_ml: 500, count: 0 }, 1000] }))?.sizeMl).toBe(1000);
  });

  it('leaves out a size of which every bag is out of service', () => {
    const named = practice({ bags: [{ size_ml: 500, count: 2, ids: ['small-a', 'small-b'] }, 1000] });
    const one = knowing({ outOfService: { 'small-a': 'torn' } });
    const both = knowing({ outOfService: { 'small-a': 'torn', 'small-b': 'lost' } });
    expect(chooseBag(named, one, kg(4), null, null)?.sizeMl).toBe(500);
    expect(chooseBag(named, both, kg(4), null, null)?.sizeMl).toBe(1000);
  });

  it('hangs what was named, and cautions where it is too small or not there', () => {
    expect(codesOf(planFor(usual, 20, { bagMl: ml(3000) }))).not.toContain('bag_too_small');
    expect(codesOf(planFor(usual, 20, { bagMl: ml(1000) }))).toContain('bag_too_small');
    expect(codesOf(planFor(usual, 20, { bagMl: ml(1000) }))).not.toContain('bag_not_stocked');
    expect(codesOf(planFor(usual, 20, { bagMl: ml(2500) }))).toContain('bag_not_stocked');
    expect(planFor(usual, 20, { bagMl: ml(1000) }).bag?.sizeMl).toBe(1000);
  });

  it('notes a bag of half a litre and less', () => {
    expect(codesOf(planFor(usual, 5.5))).toContain('small_bag');
    expect(codesOf(planFor(usual, 5.6))).not.toContain('small_bag');
  });
});

describe('the tidal volume of a species', () => {
  it('is the general one for dogs, cats and species not given', () => {
    for (const species of ['dog', 'cat', null] as const) {
      expect(planFor(usual, 4, { species }).bag).toMatchObject({ wantedLowMl: 240, wantedMl: 360 });
    }
  });

  it.each(['rabbit', 'ferret', 'other'] as const)(
    'is not guessed for a species without its own: %s',
    species => {
      const plan = planFor(usual, 2, { species });
      expect(plan.bag).toBeNull();
      expect(plan.cautions[0]).toMatchObject({ code: 'tidal_volume_unknown', level: 'stop' });
      expect(plan.cautions[0]?.message).toContain(
        `tidal_volume_by_species_ml_kg: { ${species}: [low, high] }`,
      );
      expect(plan.main?.flows?.phases.maintenance.setMlPerMin).toBe(600);
      expect(codesOf(plan)).not.toContain('dead_space_high');
    },
  );

  it('is the species’ own where the practice has one, and the bag is sized at its middle', () => {
    const inventory = practice({ rules: { tidal_volume_by_species_ml_kg: { rabbit: [4, 6] } } });
    expect(planFor(inventory, 4, { species: 'rabbit' }).bag).toMatchObject({
      wantedLowMl: 96,
      wantedMl: 120,
      wantedHighMl: 144,
    });
    // Also for a dog: size_at_ml_kg is not used then.
    const dogs = practice({
      rules: { tidal_volume_by_species_ml_kg: { dog: [8, 12] }, reservoir_bag: { size_at_ml_kg: 20 } },
    });
    expect(planFor(dogs, 10, { species: 'dog' }).bag?.wantedMl).toBe(600);
    expect(planFor(dogs, 7, { species: 'cat' }).bag?.wantedMl).toBe(840);
  });
});

describe('the ideal weight', () => {
  it('chooses the bag, while the flow goes by the actual weight', () => {
    const plan = planFor(usual, 31, { idealWeightKg: kg(26) });
    expect(plan.bag?.wantedMl).toBe(2340);
    expect(plan.main?.flows?.phases.maintenance.lowMlPerMin).toBe(620);
  });
});

describe('the reasons of the bag', () => {
  const reasonOf = (figure: string, weight: number, named: Ml | null = null, inventory = usual) =>
    chooseBag(inventory, NO_RECORD, kg(weight), null, named)?.reasons.find(
      one => one.figure === `reservoir_bag.${figure}`,
    );

  it.each([
    [5, null, 'the smallest stocked size at or above 450 mL', 500],
    [40, null, 'nothing stocked at or above 3600 mL: the largest there is', 3000],
    [5, ml(2000), 'named on the command line', 2000],
  ])('%d kg, named %s: %s', (weight, named, formula, value) => {
    expect(reasonOf('size_ml', weight, named)).toMatchObject({
      formula,
      value,
      inputs: { stocked_ml: '500, 1000, 2000, 3000' },
    });
  });

  it('point at the bag that was chosen, and at all of them where none was', () => {
    const second = reasonOf('size_ml', 10)?.rules[0];
    expect(second).toMatchObject({ path: '/bags/1' });
    const none = reasonOf('size_ml', 10, null, practice({ bags: [] }));
    expect(none).toMatchObject({ formula: 'no bag in stock', value: null });
    expect(none?.rules[0]).toMatchObject({ path: '/bags' });
  });

  it('say whether the high end is covered', () => {
    expect(reasonOf('covers_high', 4)?.formula).toBe('500 mL is at least 480 mL');
    expect(reasonOf('covers_high', 5)?.formula).toBe('500 mL is less than 600 mL');
    expect(reasonOf('covers_high', 5, null, practice({ bags: [] }))?.formula).toBe('no bag');
  });

  it('give formula, inputs and rules of what is wanted', () => {
    const rule = (path: string) => expect.objectContaining({ path, from: 'default', line: null });
    expect(reasonOf('wanted_low_ml', 6.8)).toEqual({
      figure: 'reservoir_bag.wanted_low_ml',
      value: expect.closeTo(408, 9),
      formula: '6 × 10 mL/kg × 6.8 kg',
      inputs: { tidal_volumes: 6, ml_kg: 10, weight_kg: 6.8 },
      rules: [rule('/rules/tidal_volume_ml_kg'), rule('/rules/reservoir_bag/tidal_volumes')],
      source: expect.stringContaining('; '),
    });
    expect(reasonOf('wanted_high_ml', 6.8)).toMatchObject({
      value: expect.closeTo(816, 9),
      formula: '6 × 20 mL/kg × 6.8 kg',
      rules: [rule('/rules/tidal_volume_ml_kg'), rule('/rules/reservoir_bag/tidal_volumes')],
    });
    expect(reasonOf('wanted_ml', 6.8)).toMatchObject({
      value: expect.closeTo(612, 9),
      formula: '6 × 15 mL/kg × 6.8 kg',
      inputs: { tidal_volumes: 6, ml_kg: 15, weight_kg: 6.8 },
      rules: [rule('/rules/reservoir_bag/size_at_ml_kg'), rule('/rules/reservoir_bag/tidal_volumes')],
    });
  });

  it('give inputs, rules and source of the size and of what it covers', () => {
    expect(reasonOf('size_ml', 6.8)).toMatchObject({
      value: 1000,
      inputs: { wanted_ml: expect.closeTo(612, 9), stocked_ml: '500, 1000, 2000, 3000' },
      rules: [
        {
          path: '/bags/1',
          line: usual.placeOf('/bags/1').line,
          from: 'inventory',
          source: 'as the practice wrote it down',
        },
      ],
      source: "the practice's own stock",
    });
    expect(reasonOf('covers_high', 6.8)).toMatchObject({
      value: true,
      formula: '1000 mL is at least 816 mL',
      inputs: { size_ml: 1000, wanted_high_ml: expect.closeTo(816, 9) },
      rules: [{ path: '/rules/tidal_volume_ml_kg' }, { path: '/rules/reservoir_bag/tidal_volumes' }],
      source: 'arithmetic',
    });
    // A size that was named and is not stocked points at the stock as a whole.
    expect(reasonOf('size_ml', 6.8, ml(1500))?.rules).toMatchObject([{ path: '/bags' }]);
  });

  it('go by the species’ own range where the practice has one', () => {
    const rabbits = practice({ rules: { tidal_volume_by_species_ml_kg: { rabbit: [4, 6] } } });
    const chosen = chooseBag(rabbits, NO_RECORD, kg(4), 'rabbit', null);
    expect(chosen?.reasons.slice(0, 3).map(({ formula }) => formula)).toEqual([
      '6 × 4 mL/kg × 4 kg',
      '6 × 6 mL/kg × 4 kg',
      '6 × 5 mL/kg × 4 kg',
    ]);
    for (const { rules } of chosen?.reasons.slice(0, 3) ?? [])
      expect(rules[0]?.path).toBe('/rules/tidal_volume_by_species_ml_kg/rabbit');
  });

  it('know a bag that was named', () => {
    expect(bagFor(5)?.named).toBe(false);
    expect(chooseBag(usual, NO_RECORD, kg(5), null, ml(2000))?.named).toBe(true);
  });
});
