import { describe, expect, it } from 'vitest';
import { CIRCUIT_KINDS } from '../../src/inventory/inventory.ts';
import { isLimit } from '../../src/plan/steps/hold.ts';
import type { Steps } from '../../src/plan/steps.ts';
import { planFor } from '../support/plan.ts';
import { circuit, machine, practice } from '../support/practice.ts';

const KINDS = CIRCUIT_KINDS;
const OUTLETS = ['at_machine', 'at_circle', 'switch'] as const;
const FLUSHES = ['outlet', 'circle', 'none'] as const;

function steps(kind: string, machineKeys: Record<string, unknown> = {}, circuitKeys = {}): Steps {
  const inventory = practice({
    machines: [machine('m', machineKeys)],
    circuits: [circuit('c', kind, circuitKeys)],
  });
  const found = planFor(inventory, 7.5, { circuit: 'c' }).steps;
  if (found === null) throw new Error('no steps');
  return found;
}

const says = (lines: readonly string[], ...patterns: RegExp[]) => {
  const text = lines.join('\n');
  for (const pattern of patterns) expect(text).toMatch(pattern);
};
const where = (lines: readonly string[], pattern: RegExp) => lines.findIndex(line => pattern.test(line));

describe('connecting', () => {
  it('a Y-piece: one hose on each valve, either way round', () => {
    says(steps('circle_y').connect, /one hose on each valve, either way round/);
  });

  it('a coaxial circle: the inner tube on the inspiratory valve', () => {
    says(
      steps('circle_coaxial').connect,
      /inner tube on the inspiratory valve and the outer one on the expiratory/,
    );
  });

  it('a circle: the fresh gas runs to the circle', () => {
    says(
      steps('circle_y', { fresh_gas_outlet: 'at_machine' }).connect,
      /fresh-gas hose runs from the outlet to the circle/,
    );
    says(
      steps('circle_y', { fresh_gas_outlet: 'at_circle' }).connect,
      /fresh-gas hose is on the circle's inlet/,
    );
    says(steps('circle_y', { fresh_gas_outlet: 'switch' }).connect, /switch to the circle/);
  });

  it.each(['t_piece', 'bain'])('a %s: the fresh gas comes off the circle, and goes back there', kind => {
    const open = steps(kind, { fresh_gas_outlet: 'at_machine' });
    says(open.connect, /own fresh-gas hose off the outlet/, /fresh-gas hose of c on the outlet/);
    says(open.back, /own fresh-gas hose back on/);
    const atCircle = steps(kind, { fresh_gas_outlet: 'at_circle' });
    says(atCircle.connect, /hose off the inlet of the circle/, /Join the fresh-gas hose of c to that hose/);
    says(atCircle.back, /back on the inlet of the circle/);
    const lever = steps(kind, { fresh_gas_outlet: 'switch' });
    says(lever.connect, /second outlet/, /Turn the outlet switch from the circle/);
    says(lever.back, /Turn the outlet switch back to the circle/);
  });

  it.each(['t_piece', 'bain'])(
    'a %s: scavenging moves, bag and pop-off are its own, the circle is out of use',
    kind => {
      says(
        steps(kind).connect,
        /Move the scavenging hose/,
        /Bag and pop-off are the circuit's own/,
        /Circle valves, absorber and the gauge of the machine are out of use/,
      );
      says(
        steps(kind).back,
        /Scavenging hose back/,
        /2 L\/min and see the bag of the circle fill/,
        /new leak test/,
      );
    },
  );

  it('warns of the live flush wherever the inventory does not say otherwise, and only on that hose', () => {
    for (const outlet of OUTLETS) {
      for (const flush of FLUSHES) {
        for (const kind of KINDS) {
          const live = kind === 't_piece' || kind === 'bain' ? flush === 'outlet' : false;
          const { connect } = steps(kind, { fresh_gas_outlet: outlet, flush_to: flush });
          expect(
            connect.some(line => line.includes('flush is live on that hose: never press it')),
            `${kind} ${outlet} ${flush}`,
          ).toBe(live);
        }
      }
    }
    // Nothing said is as if it blew there.
    says(steps('bain').connect, /flush is live/);
  });

  it('has no way back for a circle', () => {
    expect(steps('circle_y').back).toEqual([]);
    expect(steps('circle_coaxial').back).toEqual([]);
  });
});

describe('the leak test', () => {
  it.each(KINDS)('%s: in the order that keeps people alive', kind => {
    const { hold } = steps(kind, {}, { pressure_gauge: true });
    const order = [
      /No patient attached/,
      /Block the patient end/,
      /Fill/,
      /Watch the gauge/,
      /THEN OPEN THE POP-OFF/,
      /Press what is left/,
    ];
    const at = order.map(pattern => where(hold, pattern));
    expect(at.every(position => position >= 0)).toBe(true);
    expect(at).toEqual([...at].sort((a, b) => a - b));
    says(hold, /Vaporizer filled above its low mark, filler shut, dial off/, /with the end still blocked/);
  });

  it('never fills a T-piece or Bain by the flush', () => {
    for (const kind of ['t_piece', 'bain'])
      says(steps(kind).hold, /Fill by the flowmeter, never by the flush/);
    says(steps('circle_y').hold, /short presses on the oxygen flush/);
    says(steps('circle_y', { flush_to: 'none' }).hold, /Fill by the flowmeter/);
  });

  it('reads a T-piece or Bain on its own gauge, since that of the machine is out of use', () => {
    says(steps('bain', {}, { pressure_gauge: true }).hold, /20 cmH2O on the gauge of the circuit/);
    says(steps('bain').hold, /until the bag is taut/, /Watch the bag for 30 s/, /see the bag empty/);
  });

  it('tests the inner tube apart, and says what holding does not prove', () => {
    for (const kind of ['bain', 'circle_coaxial'])
      says(
        steps(kind).hold,
        /block only the inner tube .*; the float must dip/,
        /does not prove the inner tube/,
      );
    for (const kind of ['t_piece', 'circle_y'])
      expect(steps(kind).hold.join('\n')).not.toMatch(/inner tube/i);
    for (const kind of KINDS) says(steps(kind).hold, /a free way/, /the vaporizer/, /the scavenging/);
    for (const kind of ['circle_y', 'circle_coaxial']) says(steps(kind).hold, /the valve discs/);
  });

  it('goes by the rules of the practice', () => {
    const inventory = practice({
      rules: { leak_hold: { bain: { pressure_cmh2o: 25, seconds: 15, drop_cmh2o: 2, make_up_ml_min: 120 } } },
      circuits: [circuit('c', 'bain', { pressure_gauge: true })],
    });
    says(
      planFor(inventory, 6).steps?.hold ?? [],
      /to 25 cmH2O/,
      /for 15 s: it may fall by 2 cmH2O at most/,
      /holds 25 cmH2O steady: at most 120 mL\/min/,
    );
  });
});

describe('watching', () => {
  it.each(KINDS)('%s', kind => {
    const { watch } = steps(kind);
    says(
      watch,
      /in sight/,
      /20–30 cmH2O by manometer/,
      /Pop-off open again after the cuff check/,
      /Disconnect the patient .* before turning/,
    );
    if (kind === 't_piece' || kind === 'bain') says(watch, /uncovered, unkinked, open/);
  });
});

describe('word for word', () => {
  const CHARCOAL = { scavenging: { id: 'canister', kind: 'charcoal', limit_gain_g: 50 } };
  const CHARCOAL_LOOK = 'Waste gas goes to canister: its holes free, its weight known.';
  const OUT_OF_USE = 'Circle valves, absorber and the gauge of the machine are out of use.';
  const OWN_BAG = "Hang the bag on the circuit. Bag and pop-off are the circuit's own.";
  const NECK = 'Hang the bag on its neck. Scavenging hose on the outlet of the pop-off of the circle.';
  const INNER_LOOK = 'Look through the patient end: the inner tube must sit firmly at both ends.';

  it('a Bain on the outlet of the machine, with the flush live', () => {
    expect(
      steps('bain', { fresh_gas_outlet: 'at_machine', flush_to: 'outlet', ...CHARCOAL }).connect,
    ).toEqual([
      "m: take the machine's own fresh-gas hose off the outlet.",
      'Push the fresh-gas hose of c on the outlet, with a twist.',
      'The oxygen flush is live on that hose: never press it with a patient attached.',
      OWN_BAG,
      INNER_LOOK,
      "Move the scavenging hose from the pop-off of the circle to the outlet of the circuit's own pop-off.",
      CHARCOAL_LOOK,
      OUT_OF_USE,
    ]);
  });

  it('a T-piece at the inlet of the circle, with a flush that goes elsewhere', () => {
    expect(
      steps('t_piece', { fresh_gas_outlet: 'at_circle', flush_to: 'circle', ...CHARCOAL }).connect,
    ).toEqual([
      'm: take the fresh-gas hose off the inlet of the circle.',
      'Join the fresh-gas hose of c to that hose.',
      'The oxygen flush goes to the circle here, not to this hose. Leave it alone all the same.',
      OWN_BAG,
      'Move the scavenging hose from the pop-off of the circle to the outlet at the end of the bag.',
      CHARCOAL_LOOK,
      OUT_OF_USE,
    ]);
  });

  it('a T-piece behind a switch, without a flush and without scavenging in the inventory', () => {
    expect(steps('t_piece', { fresh_gas_outlet: 'switch', flush_to: 'none' }).connect).toEqual([
      'm: push the fresh-gas hose of c on the second outlet.',
      'Turn the outlet switch from the circle to that outlet.',
      OWN_BAG,
      'Move the scavenging hose from the pop-off of the circle to the outlet at the end of the bag.',
      'See where the waste gas goes: the inventory names no scavenging here.',
      OUT_OF_USE,
    ]);
  });

  it('circles', () => {
    const active = (airBreak: boolean) => ({
      scavenging: { id: 'pump', kind: 'active', air_break: airBreak },
    });
    expect(steps('circle_y', { fresh_gas_outlet: 'at_machine', ...active(true) }).connect).toEqual([
      'm: see that its own fresh-gas hose runs from the outlet to the circle.',
      'Push one hose on each valve, either way round, with a twist.',
      NECK,
      'Waste gas goes to pump: pump on, its air break open and free.',
    ]);
    expect(steps('circle_coaxial', { fresh_gas_outlet: 'switch', ...active(false) }).connect).toEqual([
      'm: turn the outlet switch to the circle.',
      'Push the hose of the inner tube on the inspiratory valve and the outer one on the expiratory valve.',
      INNER_LOOK,
      NECK,
      'Waste gas goes to pump: it has no air break; see that it does not pull the bag flat.',
    ]);
    expect(steps('circle_y', { fresh_gas_outlet: 'at_circle' }).connect[0]).toBe(
      "m: see that the fresh-gas hose is on the circle's inlet.",
    );
  });

  it('the way back to a circle', () => {
    const last = [
      'Scavenging hose back on the pop-off of the circle.',
      'Set 2 L/min and see the bag of the circle fill.',
      'Do a new leak test with the circle that is used next.',
    ];
    for (const [outlet, first] of [
      [
        'at_machine',
        "Circuit's hose off the outlet; the machine's own fresh-gas hose back on, with a twist.",
      ],
      ['at_circle', "Circuit's hose off; the fresh-gas hose back on the inlet of the circle."],
      ['switch', 'Turn the outlet switch back to the circle.'],
    ])
      expect(steps('bain', { fresh_gas_outlet: outlet }).back).toEqual([first, ...last]);
  });

  const READY = [
    'No patient attached. Vaporizer filled above its low mark, filler shut, dial off.',
    'Block the patient end with a thumb or a plug, and shut the pop-off.',
  ];
  const PRESS_OUT = 'Press what is left in the bag out into the scavenging.';
  const INNER_TEST =
    'Inner tube, a test of its own: 2 L/min, block only the inner tube at the patient end; the float must dip.';
  const REST =
    'a free way (squeeze the bag, feel it at the patient end), the vaporizer (suction-bulb test), or the scavenging (look at it).';
  const OPEN = (seen: string) => `THEN OPEN THE POP-OFF with the end still blocked, and see ${seen}.`;

  it('the leak test of a Bain with a gauge of its own', () => {
    expect(steps('bain', {}, { pressure_gauge: true }).hold).toEqual([
      ...READY,
      'Fill by the flowmeter, never by the flush, to 20 cmH2O on the gauge of the circuit; then all flow off.',
      'Watch the gauge for 10 s: it must not fall.',
      'If it falls, find the flow that holds 20 cmH2O steady: at most 150 mL/min passes.',
      OPEN('the gauge fall to zero'),
      PRESS_OUT,
      INNER_TEST,
      `This does not prove the inner tube (test above), ${REST}`,
    ]);
  });

  it('the leak test of a T-piece without a gauge', () => {
    expect(steps('t_piece').hold).toEqual([
      ...READY,
      'Fill by the flowmeter, never by the flush, until the bag is taut; then all flow off.',
      'Watch the bag for 30 s: it must stay taut. Slack fails.',
      OPEN('the bag empty'),
      PRESS_OUT,
      `This does not prove ${REST}`,
    ]);
  });

  it('the leak test of circles', () => {
    const discs = 'the valve discs (breathe through with a second bag), ';
    expect(steps('circle_y').hold).toEqual([
      ...READY,
      'Fill with short presses on the oxygen flush, to 30 cmH2O on the gauge; then all flow off.',
      'Watch the gauge for 10 s: it must not fall.',
      'If it falls, find the flow that holds 30 cmH2O steady: at most 200 mL/min passes.',
      OPEN('the gauge fall to zero'),
      PRESS_OUT,
      `This does not prove ${discs}${REST}`,
    ]);
    const coaxial = steps('circle_coaxial', { flush_to: 'none' }).hold;
    expect(coaxial[2]).toBe('Fill by the flowmeter, to 30 cmH2O on the gauge; then all flow off.');
    expect(coaxial.slice(-2)).toEqual([
      INNER_TEST,
      `This does not prove the inner tube (test above), ${discs}${REST}`,
    ]);
  });

  it('the last line of a leak test, and only that, is none to do', () => {
    for (const kind of KINDS)
      expect(steps(kind).hold.map(isLimit)).toEqual(
        steps(kind).hold.map((_, i, all) => i === all.length - 1),
      );
  });

  it('watching', () => {
    const always = [
      'Cuff: the least volume that seals, 20–30 cmH2O by manometer. Pop-off open again after the cuff check.',
      'Disconnect the patient from the circuit before turning it.',
    ];
    for (const kind of ['t_piece', 'bain'])
      expect(steps(kind).watch).toEqual([
        'Bag and pop-off of the circuit in sight: uncovered, unkinked, open.',
        ...always,
      ]);
    for (const kind of ['circle_y', 'circle_coaxial'])
      expect(steps(kind).watch).toEqual([
        'Bag in sight, filling and emptying; pop-off open. See both valve discs move.',
        ...always,
      ]);
  });
});
