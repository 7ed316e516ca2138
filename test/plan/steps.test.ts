import { describe, expect, it } from 'vitest';
import { CIRCUIT_KINDS } from '../../src/inventory/inventory.ts';
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
