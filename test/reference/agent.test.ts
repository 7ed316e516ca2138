/** Liquid agent, vapour and saturation, beside published figures and the gas law. */
import { describe, it } from 'vitest';
import { AGENT_PROPERTIES, saturationPercent } from '../../src/inventory/agent-properties.ts';
import type { Agent } from '../../src/inventory/inventory.ts';
import { liquidMlPerHour } from '../../src/plan/supplies/agent.ts';
import { fraction, mlPerMin } from '../../src/quantity/units.ts';
import { molarVolumeL } from '../support/gas.ts';
import { check } from './check.ts';

const BIRO = 'Biro, Acta Anaesthesiol Scand 2014';
const DHULKHED = 'Dhulkhed et al., Indian J Anaesth 2013;57:455-463';

const perHour = (agent: Agent, litresPerMin: number, percent: number) =>
  liquidMlPerHour(agent, mlPerMin(litresPerMin * 1000), fraction(percent / 100));

describe('liquid agent', () => {
  it('V1: mL/h = 3 × L/min × %, 3.3 for sevoflurane', () => {
    check({
      id: 'V1',
      figure: 'isoflurane 2 % at 1 L/min by the rule of thumb, mL/h',
      ours: perHour('isoflurane', 1, 2),
      theirs: 6,
      tolerance: 0.2,
      source: DHULKHED,
      how: 'seen',
    });
    check({
      id: 'V1',
      figure: 'sevoflurane 1 % at 1 L/min by the rule of thumb, mL/h',
      ours: perHour('sevoflurane', 1, 1),
      theirs: 3.3,
      tolerance: 0.05,
      source: DHULKHED,
      how: 'seen',
    });
  });

  it.each([
    ['isoflurane', 195],
    ['sevoflurane', 184],
    ['desflurane', 210],
    ['halothane', 229],
  ] as const)('V2: 1 mL of liquid %s gives %i mL of vapour', (agent, vapour) => {
    check({
      id: 'V2',
      figure: `vapour of 1 mL of ${agent}, mL`,
      ours: AGENT_PROPERTIES[agent].vapourMlPerMl,
      theirs: vapour,
      source: BIRO,
      how: 'seen',
    });
  });

  it('V2: isoflurane 2 % at 1 L/min is 6.15 mL/h, sevoflurane 3 % at 2 L/min 19.57', () => {
    const row = { id: 'V2', source: BIRO, how: 'exact' as const, tolerance: 0.005 };
    check({
      ...row,
      figure: 'isoflurane 2 % at 1 L/min, mL/h',
      ours: perHour('isoflurane', 1, 2),
      theirs: 6.15,
    });
    check({
      ...row,
      figure: 'sevoflurane 3 % at 2 L/min, mL/h',
      ours: perHour('sevoflurane', 2, 3),
      theirs: 19.57,
    });
  });

  it.each([
    ['isoflurane', 1.496],
    ['sevoflurane', 1.52],
  ] as const)('V3: the density of %s is %f g/mL', (agent, density) => {
    check({
      id: 'V3',
      figure: `density of ${agent}, g/mL`,
      ours: AGENT_PROPERTIES[agent].densityGPerMl,
      theirs: density,
      source: 'pharmacopoeia, chemistry',
      how: 'memory',
    });
  });

  it.each([
    ['isoflurane', 184.49],
    ['sevoflurane', 200.05],
    ['desflurane', 168.04],
    ['halothane', 197.38],
  ] as const)(
    'V2 and V3: density, molar mass %s and the gas law give the vapour to within 1 %%',
    (agent, molar) => {
      const { densityGPerMl, vapourMlPerMl } = AGENT_PROPERTIES[agent];
      check({
        id: 'V3',
        figure: `vapour of 1 mL of ${agent} at 20 °C by the gas law, mL`,
        ours: vapourMlPerMl,
        theirs: (densityGPerMl / molar) * molarVolumeL(20) * 1000,
        tolerance: 0.01 * vapourMlPerMl,
        source: `${BIRO}; density and molar mass from memory; ideal gas`,
        how: 'memory',
      });
    },
  );

  it.each([
    ['isoflurane', 31],
    ['sevoflurane', 21],
    ['desflurane', 88],
    ['halothane', 32],
  ] as const)('saturated vapour of %s at 20 °C is about %i %%', (agent, theirs) => {
    check({
      id: 'V',
      figure: `saturated ${agent} at 20 °C and 760 mmHg, %`,
      ours: saturationPercent(agent),
      theirs,
      tolerance: 0.5,
      source: 'textbooks of anaesthetic pharmacology',
      how: 'memory',
    });
  });
});
