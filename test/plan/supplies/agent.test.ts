import { describe, expect, it } from 'vitest';
import { saturationPercent } from '../../../src/inventory/agent-properties.ts';
import { settingProblem } from '../../../src/plan/supplies/agent.ts';
import { charcoalHours } from '../../../src/plan/supplies/charcoal.ts';
import { grams, kg, minutes, mlPerMin, percent } from '../../../src/quantity/units.ts';
import { larkhill, reading, signOff, usage, withdraw } from '../../record/entries.ts';
import { messages, plan, supplies, withCircleFlows, withMachine } from './case.ts';

const inventory = larkhill();
const ISO = { agent: 'isoflurane', settingPercent: percent(2) } as const;
const fresh = reading('06:00', 'theatre-1-charcoal', { g: 800, new: true });
const weighed = (g: number) => reading('07:00', 'theatre-1-charcoal', { g });

describe('agent of a plan', () => {
  it('gives liquid an hour at the set flow, and over the phases of the case', () => {
    const { agent } = supplies(inventory, [], { ...ISO, minutes: minutes(45) });
    expect(agent.mlPerHour).toBeCloseTo((60 * 500 * 0.02) / 195, 9);
    expect(agent.liquidMl).toBeCloseTo((27_500 * 0.02) / 195, 9);
    expect(agent.missing).toEqual([]);
  });

  it('takes nothing at 0 %', () => {
    const { agent, charcoal } = supplies(inventory, [fresh], {
      agent: 'isoflurane',
      settingPercent: percent(0),
      minutes: minutes(45),
    });
    expect(agent).toMatchObject({ liquidMl: 0, mlPerHour: 0 });
    expect(charcoal).toMatchObject({ expectedG: 0, hoursLeft: 12, limitedBy: 'hours_in_use' });
  });

  it('says what is missing', () => {
    expect(supplies(inventory, []).agent.missing.map(({ add }) => add)).toEqual([
      '--agent NAME',
      '--setting PERCENT',
      '--minutes N',
    ]);
  });

  it('refuses a setting above saturated vapour', () => {
    for (const agent of ['isoflurane', 'sevoflurane', 'desflurane', 'halothane'] as const) {
      const most = saturationPercent(agent);
      expect(settingProblem(agent, most)).toBeNull();
      expect(settingProblem(agent, percent(most + 0.1))?.code).toBe('setting_above_saturation');
    }
  });

  it('says of a refused setting how far vapour goes, and what to do', () => {
    expect(settingProblem('sevoflurane', percent(30))).toMatchObject({
      code: 'setting_above_saturation',
      message: expect.stringMatching(
        /^30 % of sevoflurane cannot be: its vapour saturates at 2\d(\.\d)? % \(.+\)$/,
      ),
      remedy: 'read the dial again, and mind the decimal point',
    });
  });

  it('stops where the machine has no vaporizer for the agent, or only one out of service', () => {
    expect(messages(plan(inventory, [], { agent: 'desflurane' }), 'agent_not_fitted')).toEqual([
      'theatre-1 has no vaporizer in service for desflurane',
    ]);
    expect(messages(plan(inventory, [], ISO), 'agent_not_fitted')).toEqual([]);
    const out = plan(inventory, [withdraw('07:00', 'theatre-1-iso', 'a leak at the filler')], ISO);
    expect(messages(out, 'agent_not_fitted')).toEqual([
      'theatre-1 has no vaporizer in service for isoflurane: theatre-1-iso is out of service, a leak at the filler',
    ]);
  });

  it("cautions below the vaporizer's least flow, of the agent's vaporizer alone", () => {
    const [theatre] = inventory.machines;
    const vaporizers = (theatre?.vaporizers ?? []).map(vaporizer => ({
      ...vaporizer,
      minFlowMlPerMin: mlPerMin(vaporizer.agent === 'isoflurane' ? 600 : 500),
    }));
    const fitted = withMachine(inventory, 'theatre-1', { vaporizers });
    expect(messages(plan(fitted, [], ISO), 'vaporizer_flow_low')).toEqual([
      '500 mL/min in maintenance is below the least flow of theatre-1-iso, 600 mL/min',
    ]);
    expect(messages(plan(fitted, [], { agent: 'sevoflurane' }), 'vaporizer_flow_low')).toEqual([]);
  });
});

describe('charcoal of a plan', () => {
  it('adds what the case lets through and gives the earlier of its limits', () => {
    const { charcoal } = supplies(inventory, [fresh, weighed(820)], { ...ISO, minutes: minutes(45) });
    const perHour = ((60 * 500 * 0.02) / 195) * 1.496;
    expect(charcoal?.expectedG).toBeCloseTo(((27_500 * 0.02) / 195) * 1.496, 9);
    expect(charcoal?.hoursLeft).toBeCloseTo(Math.min(30 / perHour, 12), 9);
    expect(charcoal).toMatchObject({ gainGSoFar: 20, limitG: 50, gainBy: 'scale' });
  });

  it('is limited by the practice’s hours where they end first', () => {
    const use = usage('06:30', 'theatre-1', 'bain-1', {
      minutes: 660,
      agent: 'isoflurane',
      setting_percent: 0,
    });
    expect(supplies(inventory, [fresh, use], ISO).charcoal).toMatchObject({
      hoursLeft: 1,
      limitedBy: 'hours_in_use',
    });
    const made = plan(inventory, [fresh, use], { ...ISO, minutes: minutes(61) });
    expect(messages(made, 'charcoal_near_full')).toEqual([
      "theatre-1-charcoal has 11 h in use; 1 h left by the practice's limit",
    ]);
  });

  it('shows no limit while another that holds is not known: it might be the earlier one', () => {
    expect(supplies(inventory, [fresh]).charcoal?.hoursLeft).toBeNull();
    const signedOnly = signOff('06:00', 'theatre-1-charcoal', 'canister-change');
    const { charcoal } = supplies(inventory, [signedOnly], ISO);
    expect(charcoal).toMatchObject({ hoursLeft: null, gainGSoFar: null, hoursLeftByRule: 12 });
    expect(charcoal?.missing[0]?.add).toBe('holdfast reading theatre-1-charcoal GRAMS --new');
  });

  it('cautions at the limit, and where the case would pass it', () => {
    const near = (g: number, settings: object) =>
      messages(plan(inventory, [fresh, weighed(g)], settings), 'charcoal_near_full');
    expect(near(849, {})).toEqual([]);
    expect(near(850, {})).toEqual(['theatre-1-charcoal has gained 50 g of 50 g']);
    expect(near(849, { ...ISO, minutes: minutes(45) })).toEqual([
      'theatre-1-charcoal has gained 49 g of 50 g; this case adds about 4.2 g',
    ]);
  });

  it('cautions by the part that is known where some uses say nothing of agent', () => {
    const entries = [
      fresh,
      usage('07:00', 'theatre-1', 'bain-1', { minutes: 600, agent: 'isoflurane', setting_percent: 2 }),
      usage('08:00', 'theatre-1', 'bain-1', { minutes: 30 }),
    ];
    const made = plan(inventory, entries);
    expect(made.supplies?.charcoal).toMatchObject({ gainGSoFar: null, hoursLeft: 0, limitedBy: 'gain' });
    expect(messages(made, 'charcoal_near_full')).toEqual([
      'theatre-1-charcoal has gained at least 92.1 g of 50 g',
    ]);
  });

  it('is absent where the waste gas goes elsewhere', () => {
    expect(supplies(inventory, [], { machine: 'dental', circuit: 'y-piece-1' }).charcoal).toBeNull();
  });

  it('is full at once where nothing is left, and never fills with nothing coming in', () => {
    expect(charcoalHours(grams(50), grams(51), 0)).toBe(0);
    expect(charcoalHours(grams(50), grams(0), 0)).toBeNull();
  });
});

describe('flows against the patient', () => {
  it('cautions below twice the oxygen that the patient uses', () => {
    const closed = withCircleFlows(
      inventory,
      { induction: [50, 100], maintenance: [5, 10], recovery: [50, 100] },
      50,
    );
    // 40 kg use 159 mL/min; the mark is 250.
    expect(messages(plan(closed, [], { weightKg: kg(40) }), 'flow_near_oxygen_use')).toEqual([
      '250 mL/min in maintenance is below twice the 159 mL/min of oxygen that this patient uses',
    ]);
    expect(messages(plan(inventory, []), 'flow_near_oxygen_use')).toEqual([]);
  });

  it('notes a Bain below twice the minute volume, with breaths only, and never a circle', () => {
    const bain = { weightKg: kg(6) };
    expect(messages(plan(inventory, [], bain), 'flow_below_breathing')).toEqual([]);
    // 60 mL × 13 = 780 mL/min: 1500 is 1.92 of it.
    expect(messages(plan(inventory, [], { ...bain, breathsPerMin: 12 }), 'flow_below_breathing')).toEqual([]);
    expect(
      messages(plan(inventory, [], { ...bain, breathsPerMin: 13 }), 'flow_below_breathing'),
    ).toHaveLength(1);
    expect(messages(plan(inventory, [], { breathsPerMin: 40 }), 'flow_below_breathing')).toEqual([]);
  });
});
