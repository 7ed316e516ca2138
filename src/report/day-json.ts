/** A day's plan as holdfast.day/1. Figures are rounded here and nowhere before. */
import { timestampIn } from '../calendar/zone.ts';
import type { Day, ExplainedClash, PlannedCase, UnplannedCase } from '../day/day.ts';
import { endOf } from '../day/day-case.ts';
import type { MorningItem } from '../day/morning.ts';
import type { Remedy } from '../day/remedies.ts';
import type { SupplyDay } from '../day/supplies.ts';
import type {
  DayCaseDocument,
  DayClashDocument,
  DayDocument,
  DayItemDocument,
  DayRemedyDocument,
  DaySupplyDocument,
} from '../generated/day-document.ts';
import { roundTo } from '../quantity/compare.ts';
import { planDocument } from './plan-json.ts';
import { safeJson } from './safe-text.ts';
import { SAFETY_LINE } from './safety.ts';

/** The document for a day; `schemas/day.schema.json` is its shape. */
export function dayDocument(day: Day): DayDocument {
  const { inventory, date, at, record } = day;
  const when = (instant: Date) => timestampIn(inventory.practice.timeZone, instant);
  return {
    format: 'holdfast.day/1',
    at,
    date,
    inventory: { file: inventory.file, blob: inventory.blob, practice: inventory.practice.name },
    record,
    turnover_minutes: inventory.rules.turnoverMinutes.value,
    cases: day.cases.map(one => caseDocument(one, when)),
    clashes: day.clashes.map(clash => clashDocument(clash, when)),
    supplies: day.supplies.map(supplyDocument),
    opening: day.opening.map(({ machine, circuits }) => ({ machine, circuits: [...circuits] })),
    morning: day.morning.map(({ ref, start, items }) => ({
      before: ref,
      start: when(start),
      items: items.map(itemDocument),
    })),
    cautions: day.cautions.map(({ code, level, ref, message }) => ({ code, level, case: ref, message })),
    safety: SAFETY_LINE,
  };
}

export function renderDayJson(day: Day): string {
  return `${safeJson(dayDocument(day), 2)}\n`;
}

function caseDocument(one: PlannedCase | UnplannedCase, when: (instant: Date) => string): DayCaseDocument {
  const { dayCase, plan, state } = one;
  const pair = state === 'planned' ? (plan.main?.choice.pair ?? null) : null;
  const bag = state === 'planned' ? one.bag : null;
  return {
    ref: dayCase.ref,
    line: dayCase.line,
    start: when(dayCase.start),
    end: when(endOf(dayCase)),
    minutes: roundTo(dayCase.minutes, 0.01),
    state,
    machine: pair?.machine.id ?? null,
    circuit: pair?.circuit.id ?? null,
    bag:
      bag === null
        ? null
        : { size_ml: bag.sizeMl, wanted_size_ml: bag.wantedSizeMl, which: bag.which, of: bag.of },
    preference: state === 'planned' ? { rank: one.rank, of: one.ranks } : null,
    plan: { ...planDocument(plan) },
  };
}

function clashDocument(
  { refs, part, isSmallest, isSearched, remedies }: ExplainedClash,
  when: (instant: Date) => string,
): DayClashDocument {
  return {
    cases: [...refs],
    over: part,
    proved_smallest: isSmallest,
    all_remedies_tried: isSearched,
    remedies: remedies.map(remedy => remedyDocument(remedy, when)),
  };
}

function remedyDocument(remedy: Remedy, when: (instant: Date) => string): DayRemedyDocument {
  const none = { case: null, start: null, shift_minutes: null, asset: null, size_ml: null };
  switch (remedy.kind) {
    case 'start':
      return {
        ...none,
        kind: 'start',
        case: remedy.ref,
        start: when(remedy.start),
        shift_minutes: remedy.shiftMinutes,
      };
    case 'one_more':
      return remedy.what === 'bag'
        ? { ...none, kind: 'one_more_bag', size_ml: remedy.sizeMl }
        : {
            ...none,
            kind: remedy.what === 'machine' ? 'one_more_machine' : 'one_more_circuit',
            asset: remedy.id,
          };
    case 'leave_out_name':
      return { ...none, kind: 'leave_out_name', case: remedy.ref, asset: remedy.id };
    case 'other_class':
      return { ...none, kind: 'other_class', case: remedy.ref, asset: remedy.circuit };
  }
}

function supplyDocument({
  asset,
  unit,
  used,
  left,
  changeBefore,
  neverEnough,
  missing,
}: SupplyDay): DaySupplyDocument {
  return {
    asset: asset.id,
    unit,
    used: used === null ? null : roundTo(used, 0.01),
    left: left === null ? null : roundTo(left, 0.01),
    change_before: [...changeBefore],
    not_enough_when_fresh: [...neverEnough],
    missing: [...missing],
  };
}

function itemDocument(item: MorningItem): DayItemDocument {
  const none = {
    asset: null,
    circuit: null,
    machine: null,
    check: null,
    text: null,
    blocks: false,
    because: null,
  };
  const hold = { pressure_cmh2o: null, seconds: null, watch: null };
  switch (item.what) {
    case 'connect':
      return { ...none, ...hold, what: 'connect', circuit: item.circuit, machine: item.machine };
    case 'change':
      return { ...none, ...hold, what: 'change', asset: item.asset };
    case 'hold': {
      const { circuit, machine, pressureCmH2O, seconds, watch, because } = item;
      return {
        ...none,
        what: 'hold',
        circuit,
        machine,
        because,
        pressure_cmh2o: pressureCmH2O,
        seconds,
        watch,
      };
    }
    case 'check': {
      const { asset, check, text, blocks, because } = item;
      return { ...none, ...hold, what: 'check', asset, check, text, blocks, because };
    }
  }
}
