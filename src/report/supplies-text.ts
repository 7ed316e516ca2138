/**
 * The supplies on the screen of a plan, for a case whose length is given: one line each, the figure first. Of several
 * limits only the earliest stands here.
 */
import type { ChalkInstance } from 'chalk';
import type { CalendarDate } from '../calendar/zone.ts';
import type { Plan } from '../plan/plan.ts';
import type { AbsorbentPart } from '../plan/supplies/absorbent.ts';
import type { Lacking } from '../plan/supplies/case.ts';
import type { CharcoalPart } from '../plan/supplies/charcoal.ts';
import type { OxygenPart } from '../plan/supplies/oxygen.ts';
import type { Supplies } from '../plan/supplies/supplies.ts';
import { formatFlow, formatNumber, formatToward } from '../quantity/format.ts';
import { LABEL_WIDTH, type Row, wideRow } from './plan-answer.ts';
import { safeText } from './safe-text.ts';
import { padEnd, wrap } from './text.ts';

/** The block for the screen; empty where the length of the case was not given. What cannot be worked out says what is missing. */
export function suppliesBlock(
  { supplies, request, inventory, at }: Plan,
  chalk: ChalkInstance,
  width: number,
): string[] {
  if (supplies === null || request.minutes === null) return [];
  const { absorbent, charcoal } = supplies;
  const rows: Row[] = [
    supplyLine(supplies.oxygen, at.slice(0, 10)),
    ...(absorbent === null ? [] : [absorbentLine(absorbent, inventory.file)]),
    ...agentLine(supplies, inventory.file),
    ...(charcoal === null ? [] : [charcoalLine(charcoal, inventory.file)]),
    washInLine(supplies, inventory.file),
  ];
  return rows.map(({ label, figure, detail }) =>
    figure === ''
      ? wrap(safeText(detail), width, `${padEnd(label, LABEL_WIDTH)} `, ' '.repeat(LABEL_WIDTH + 1))
      : wideRow({ label, figure, detail: safeText(detail) }, chalk, width),
  );
}

function supplyLine(
  { supply, leftL, useL, minutesLeftAtSet, readAt, missing }: OxygenPart,
  today: CalendarDate,
): Row {
  const label = 'SUPPLY';
  if (supply === null) return { label, figure: 'none in service', detail: '' };
  const takes = `case takes ${formatToward('up', useL ?? 0, 0)} L`;
  if (supply.kind !== 'cylinder')
    return { label, figure: supply.id, detail: `${takes}, from a ${supply.kind}` };
  if (leftL === null || minutesLeftAtSet === null || readAt === null) {
    const gap = missing.find(each => each.in === 'record');
    return { label, figure: '', detail: `not known: ${gap?.add ?? 'read the gauge'}; ${takes}` };
  }
  return {
    label,
    figure: `${formatToward('down', leftL, 0)} L, ${formatToward('down', minutesLeftAtSet, 0)} min left`,
    detail: `in ${supply.id}, read ${readWords(readAt, today)}; ${takes}`,
  };
}

/** The time of a reading of today, the date of an older one. */
function readWords(readAt: string, today: CalendarDate): string {
  if (!readAt.startsWith(today)) return readAt.slice(0, 10);
  return readAt.length > today.length ? readAt.slice(11, 16) : 'today';
}

function absorbentLine(part: AbsorbentPart, file: string): Row {
  const { absorber, limit, hoursUsed, check, due } = part;
  const label = 'ABSORBENT';
  if (due !== null) return { label, figure: 'to be changed', detail: `${due.check}: ${due.words}` };
  if (absorber === null || limit === null) return { label, ...unknown(part, file) };
  const used = `${formatNumber(hoursUsed ?? 0, 1)} h used`;
  const of = limit.by === 'rule' ? `of ${formatNumber(check?.after.hoursInUse ?? 0)} h` : 'by its capacity';
  return {
    label,
    figure: `${formatToward('down', limit.hoursLeft, 1)} h left`,
    detail: `${used} ${of}`,
  };
}

function agentLine({ agent }: Supplies, file: string): Row[] {
  // Nobody asked: a plan for oxygen alone says nothing of agent.
  if (agent.agent === null) return [];
  const label = 'AGENT';
  if (agent.liquidMl === null || agent.mlPerHour === null) return [{ label, ...unknown(agent, file) }];
  const figure = `${formatNumber(agent.liquidMl, 1)} mL ${agent.agent}`;
  const at = `at ${formatNumber(agent.settingPercent ?? 0)} % throughout`;
  return [{ label, figure, detail: `${at}; ${formatNumber(agent.mlPerHour, 1)} mL/h in maintenance` }];
}

function charcoalLine(part: CharcoalPart, file: string): Row {
  const label = 'CHARCOAL';
  const { hoursLeft, gainGSoFar, gainAtLeastG, limitG, limitedBy, hoursUsed, expectedG, gainBy } = part;
  if (hoursLeft === null) return { label, ...unknown(part, file) };
  const figure = `${formatToward('down', hoursLeft, 1)} h left`;
  if (limitedBy === 'hours_in_use')
    return { label, figure, detail: `${formatNumber(hoursUsed ?? 0, 1)} h in use` };
  const estimated = gainBy === null || gainBy === 'scale' ? '' : ' (estimate)';
  const atLeast = gainGSoFar === null ? 'at least ' : '';
  const gained = `${atLeast}${formatNumber(gainGSoFar ?? gainAtLeastG, 1)} of ${formatNumber(limitG ?? 0)} g${estimated}`;
  const adds = expectedG === null ? '' : `; case adds ${formatNumber(expectedG, 1)} g`;
  return { label, figure, detail: `${gained}${adds}` };
}

function washInLine({ washIn }: Supplies, file: string): Row {
  const label = 'DIAL';
  if (washIn.t63Min === null || washIn.t95Min === null || washIn.volumeMl === null)
    return { label, ...unknown(washIn, file) };
  return {
    label,
    figure: `95 % after ${formatNumber(washIn.t95Min, 0)} min`,
    detail: `63 % after ${formatNumber(washIn.t63Min, 0)} min; ${formatNumber(washIn.volumeMl / 1000, 1)} L at ${formatFlow(washIn.flowMlPerMin)}`,
  };
}

/** What the part lacks first, and where it would stand; without a figure, so that it has the whole line. */
function unknown({ missing }: Lacking, file: string): Omit<Row, 'label'> {
  const [first] = missing;
  if (first === undefined) return { figure: '', detail: 'not worked out' };
  const where = first.line === null ? '' : ` in ${file}:${first.line}`;
  return { figure: '', detail: `not known: ${first.add}${where}` };
}
