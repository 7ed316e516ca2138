/** Laws that hold for any case, whatever the figures. */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  AGENT_PROPERTIES,
  liquidG,
  liquidMl,
  saturationPercent,
} from '../../../src/inventory/agent-properties.ts';
import { type Agent, PHASES } from '../../../src/inventory/inventory.ts';
import { absorbentHours } from '../../../src/plan/supplies/absorbent.ts';
import { liquidMlPerHour } from '../../../src/plan/supplies/agent.ts';
import { charcoalHours } from '../../../src/plan/supplies/charcoal.ts';
import { co2Made, oxygenUse } from '../../../src/plan/supplies/metabolism.ts';
import { cylinderLeftL, minutesAt } from '../../../src/plan/supplies/oxygen.ts';
import { phaseMinutes } from '../../../src/plan/supplies/phase-minutes.ts';
import { timeConstant } from '../../../src/plan/supplies/wash-in.ts';
import { isAbove, isAtLeast } from '../../../src/quantity/compare.ts';
import {
  fraction,
  grams,
  kg,
  litres,
  minutes,
  ml,
  mlPerMin,
  percent,
  psi,
} from '../../../src/quantity/units.ts';
import { caughtG } from '../../../src/record/gain.ts';
import { larkhill, reading, signOff, usage } from '../../record/entries.ts';
import { plan, supplies } from './case.ts';

const inventory = larkhill();
const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const agents = fc.constantFrom<Agent>('isoflurane', 'sevoflurane', 'desflurane', 'halothane');
const weights = between(8.6, 100);
const durations = between(0.1, 600);
const gauges = between(0, 2470);
const flows = between(50, 10_000);

const near = (a: number, b: number) => expect(isAtLeast(a, b) && isAtLeast(b, a), `${a} and ${b}`).toBe(true);

describe('oxygen', () => {
  it('parts any length into phases that sum to it, none negative and none longer for a shorter case', () => {
    fc.assert(
      fc.property(durations, durations, (a, b) => {
        const [shorter, longer] = [Math.min(a, b), Math.max(a, b)].map(n =>
          phaseMinutes(inventory.rules, minutes(n)),
        );
        if (shorter === undefined || longer === undefined) throw new Error('two lengths');
        near(
          PHASES.reduce((sum, phase) => sum + longer[phase], 0),
          Math.max(a, b),
        );
        for (const phase of PHASES) {
          expect(shorter[phase]).toBeGreaterThanOrEqual(0);
          expect(isAtLeast(longer[phase], shorter[phase])).toBe(true);
        }
      }),
    );
  });

  it('more minutes never leave more, and what is not enough for fewer minutes is not enough for more', () => {
    fc.assert(
      fc.property(weights, gauges, durations, durations, (weight, gauge, a, b) => {
        const entries = [reading('07:50', 'ward-e-1', { psi: gauge })];
        const leaving = (n: number) => {
          const { oxygen } = supplies(inventory, entries, { weightKg: kg(weight), minutes: minutes(n) });
          if (oxygen.leftL === null || oxygen.useL === null) throw new Error('the gauge was read');
          return { rest: oxygen.leftL - oxygen.useL, enough: oxygen.enough };
        };
        const [fewer, more] = [leaving(Math.min(a, b)), leaving(Math.max(a, b))];
        expect(isAtLeast(fewer.rest, more.rest)).toBe(true);
        if (fewer.enough === false) expect(more.enough).toBe(false);
      }),
      { numRuns: 60 },
    );
  });

  it('says enough exactly where nothing stops for oxygen', () => {
    fc.assert(
      fc.property(weights, gauges, durations, (weight, gauge, n) => {
        const entries = [reading('07:50', 'ward-e-1', { psi: gauge })];
        const made = plan(inventory, entries, { weightKg: kg(weight), minutes: minutes(n) });
        const isShort = made.cautions.some(({ code }) => code === 'oxygen_short');
        expect(made.supplies?.oxygen.enough).toBe(!isShort);
      }),
      { numRuns: 60 },
    );
  });

  it('a use never leaves more, and what was used and what is left make up what was read', () => {
    fc.assert(
      fc.property(gauges, between(1, 300), between(50, 8000), (gauge, n, flow) => {
        const read = reading('07:50', 'ward-e-1', { psi: gauge });
        const use = usage('09:00', 'theatre-1', 'bain-1', { minutes: n, flow_ml_min: flow });
        const before = supplies(inventory, [read]).oxygen.leftL ?? Number.NaN;
        const after = supplies(inventory, [read, use]).oxygen.leftL ?? Number.NaN;
        near(after, Math.max(0, before - (n * flow) / 1000));
      }),
      { numRuns: 60 },
    );
  });

  it('a higher gauge never holds less; what is left lies between nothing and the capacity', () => {
    const cylinder = { capacityL: litres(660), fullPsi: psi(1900), reservePsi: psi(200) };
    fc.assert(
      fc.property(gauges, gauges, (a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)].map(n => cylinderLeftL(cylinder, psi(n)));
        expect(low).toBeLessThanOrEqual(high ?? Number.NaN);
        expect(low).toBeGreaterThanOrEqual(0);
        expect(high).toBeLessThanOrEqual(660);
      }),
    );
  });

  it('doubling the flow halves the minutes, the time constant and the hours of the charcoal, and doubles the liquid', () => {
    fc.assert(
      fc.property(flows, between(1, 7000), agents, between(0.1, 8), (flow, amount, agent, setting) => {
        const [once, twice] = [mlPerMin(flow), mlPerMin(2 * flow)];
        near(2 * minutesAt(litres(amount), twice), minutesAt(litres(amount), once));
        near(2 * timeConstant(ml(amount), twice), timeConstant(ml(amount), once));
        const perHour = (by: typeof once) => liquidMlPerHour(agent, by, fraction(setting / 100));
        near(perHour(twice), 2 * perHour(once));
        const hoursAt = (by: typeof once) =>
          charcoalHours(grams(50), grams(10), liquidG(agent, ml(perHour(by)))) ?? Number.NaN;
        near(2 * hoursAt(twice), hoursAt(once));
      }),
    );
  });
});

describe('agent', () => {
  it('is lost nowhere between liquid, vapour and charcoal', () => {
    fc.assert(
      fc.property(agents, flows, between(0.1, 20), between(1, 600), (agent, flow, setting, n) => {
        const vapour = (flow * n * setting) / 100;
        const liquid = liquidMl(agent, ml(vapour));
        near(liquid * AGENT_PROPERTIES[agent].vapourMlPerMl, vapour);
        const caught = caughtG({
          agent,
          settingPercent: percent(setting),
          flowMlPerMin: mlPerMin(flow),
          minutes: minutes(n),
        });
        near((caught ?? Number.NaN) / AGENT_PROPERTIES[agent].densityGPerMl, liquid);
        near(liquidMlPerHour(agent, mlPerMin(flow), fraction(setting / 100)) * (n / 60), liquid);
      }),
    );
  });

  it('that a plan expects is what the record then says was caught, where the case runs as planned', () => {
    fc.assert(
      fc.property(weights, durations, between(0.1, 8), (weight, n, setting) => {
        const request = {
          weightKg: kg(weight),
          minutes: minutes(n),
          agent: 'isoflurane' as const,
          settingPercent: percent(setting),
        };
        const fresh = reading('06:00', 'theatre-1-charcoal', { g: 800, new: true });
        const planned = supplies(inventory, [fresh], request);
        const meanFlow = ((planned.oxygen.useL ?? Number.NaN) * 1000) / n;
        const done = usage('09:00', 'theatre-1', 'coaxial-1', {
          minutes: n,
          flow_ml_min: meanFlow,
          agent: 'isoflurane',
          setting_percent: setting,
        });
        near(
          supplies(inventory, [fresh, done], request).charcoal?.gainGSoFar ?? Number.NaN,
          planned.charcoal?.expectedG ?? Number.NaN,
        );
      }),
      { numRuns: 60 },
    );
  });

  it('saturates below all gas there is', () => {
    fc.assert(
      fc.property(agents, agent => {
        expect(saturationPercent(agent)).toBeGreaterThan(20);
        expect(saturationPercent(agent)).toBeLessThan(100);
      }),
    );
  });
});

describe('the patient', () => {
  it('makes more carbon dioxide than 0.8 of the oxygen it uses, and less than all of it', () => {
    fc.assert(
      fc.property(between(0.2, 200), weight => {
        expect(co2Made(kg(weight))).toBeGreaterThan(0.8 * oxygenUse(kg(weight)));
        expect(co2Made(kg(weight))).toBeLessThan(oxygenUse(kg(weight)));
      }),
    );
  });

  it('wears absorbent by its weight: twice the absorbent lasts twice as long, a heavier patient shorter', () => {
    fc.assert(
      fc.property(between(100, 3000), between(5, 26), between(3, 100), between(3, 100), (g, perG, a, b) => {
        const last = (absorbent: number, weight: number) =>
          absorbentHours(grams(absorbent), perG, co2Made(kg(weight)));
        near(last(2 * g, a), 2 * last(g, a));
        if (isAbove(b, a)) expect(last(g, a)).toBeGreaterThan(last(g, b));
      }),
    );
  });

  it('has one limit on its absorbent, and never one that is later than another', () => {
    fc.assert(
      fc.property(weights, between(0, 1000), (weight, used) => {
        const changed = signOff('06:00', 'theatre-1-absorber', 'absorbent-change');
        const use = usage('07:00', 'theatre-1', 'y-piece-1', { minutes: used });
        const entries = used === 0 ? [changed] : [changed, use];
        const { absorbent } = supplies(inventory, entries, { weightKg: kg(weight) });
        const lefts = [absorbent?.hoursLeftByRule, absorbent?.hoursLeftByCapacity];
        for (const left of lefts) {
          expect(left).toBeGreaterThanOrEqual(0);
          expect(absorbent?.limit?.hoursLeft).toBeLessThanOrEqual(left ?? Number.NaN);
        }
        expect(lefts).toContain(absorbent?.limit?.hoursLeft);
      }),
      { numRuns: 60 },
    );
  });
});
