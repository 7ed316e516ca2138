/** A test of the high-pressure side: a cylinder shut, its gauge watched. */
import type { Cylinder } from '../../inventory/inventory.ts';
import { parseMinutes, parseSupplyPressure } from '../../quantity/parse.ts';
import { judgeSupplyHold, type SupplyMark, type SupplySeen } from '../../record/judge-supply.ts';
import { wrap } from '../../report/text.ts';
import type { Desk } from '../entering.ts';
import type { HoldOptions } from '../hold.ts';

const LONGEST_MIN = 1440;

export async function runSupplyHold(desk: Desk, supplyId: string, options: HoldOptions): Promise<void> {
  const { context } = desk;
  const cylinders = desk.inventory.supplies.filter(supply => supply.kind === 'cylinder');
  const cylinder = findCylinder(desk, supplyId, cylinders);
  const { leakHold } = desk.inventory.rules;
  const mark: SupplyMark = {
    fallPsi: leakHold.highPressureFallPsi.value,
    minutes: leakHold.highPressureMinutes.value,
  };
  const { inventory, ...signed } = desk.sign([cylinder]);
  const seen = await see(desk, cylinder, mark, options);
  desk.ensureSound();
  if (cylinder === null || seen === null) return;

  const judgement = judgeSupplyHold(seen, mark, cylinder);
  if (judgement.outcome === 'refused') {
    desk.problems.push(...judgement.problems);
    desk.ensureSound();
    return;
  }
  const { outcome, because } = judgement;
  const verdict = `${outcome === 'pass' ? 'PASS' : 'FAIL'}: the high-pressure side of ${cylinder.id}. ${because.charAt(0).toUpperCase()}${because.slice(1)}.`;
  const isBlocking = desk.inventory.checks.some(
    ({ doneBy, blocks, assets }) => doneBy === 'supply_hold' && blocks && assets.includes(cylinder.id),
  );
  const look = `Look, with soapy water on each joint, at: 1 the yoke and its washer or the regulator's seat, 2 the gauge's own joint, 3 the hose to the machine. Plans that draw on ${cylinder.id} ${isBlocking ? 'stop' : 'caution'} until a later test passes.`;
  const lines = [
    wrap(verdict, context.width, '', '  '),
    ...(outcome === 'fail' ? [wrap(look, context.width, '', '  ')] : []),
  ];
  await desk.write(
    {
      kind: 'supply_hold',
      ...signed,
      supply: cylinder.id,
      from_psi: seen.fromPsi,
      to_psi: seen.toPsi,
      minutes: seen.minutes,
      rule: { fall_psi: mark.fallPsi, minutes: mark.minutes },
      result: outcome,
      inventory,
    },
    `${lines.join('\n')}\n`,
    { judgement: { outcome, because } },
  );
  context.exitCode = outcome === 'pass' ? 0 : 1;
}

function findCylinder(desk: Desk, id: string, cylinders: readonly Cylinder[]): Cylinder | null {
  const asset = desk.inventory.assets.get(id);
  if (asset?.type === 'supply' && asset.kind !== 'cylinder') {
    const known = cylinders.map(one => one.id).join(', ');
    desk.problem(
      'asset_kind',
      `${id} is a ${asset.kind}, which has no high-pressure side to test`,
      known === '' ? 'the inventory has no cylinder' : `cylinders: ${known}`,
    );
    return null;
  }
  return desk.oneOf(id, cylinders, 'cylinder');
}

async function see(
  desk: Desk,
  cylinder: Cylinder | null,
  mark: SupplyMark,
  options: HoldOptions,
): Promise<SupplySeen | null> {
  const { terminal } = desk.context;
  const isGiven = [options.from, options.to, options.minutes].some(value => value !== undefined);
  if (!isGiven && terminal !== null && cylinder !== null && !options.json) {
    desk.ensureSound();
    const { guideSupplyHold } = await import('./guide-supply.ts');
    return guideSupplyHold(desk, cylinder, mark, terminal);
  }
  const from = desk.quantity('--from', options.from, parseSupplyPressure);
  const to = desk.quantity('--to', options.to, parseSupplyPressure);
  const minutes = desk.quantity('--minutes', options.minutes, parseMinutes);
  const missing = [
    options.from === undefined ? '--from P' : null,
    options.to === undefined ? '--to P' : null,
    options.minutes === undefined ? '--minutes N' : null,
  ].filter(Boolean);
  if (missing.length > 0)
    desk.problem(
      'usage',
      `missing: ${missing.join(', ')}`,
      'read the gauge, shut the cylinder, and read it again',
    );
  if (minutes === 0)
    desk.problem(
      'entry_value',
      '--minutes: a gauge is watched longer than nothing',
      'write it as --minutes 5',
    );
  desk.within('--minutes', minutes, 0, LONGEST_MIN, 'min');
  return from === undefined || to === undefined || minutes === undefined
    ? null
    : { fromPsi: from, toPsi: to, minutes };
}
