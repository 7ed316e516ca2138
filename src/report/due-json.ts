/** The due report as holdfast.due/1. Figures are rounded here and nowhere before. */
import type { DueItem, DueReport, PracticeDue } from '../due/item.ts';
import type { DueDocument, DueItemDocument, DuePracticeDocument } from '../generated/due-document.ts';
import { roundTo } from '../quantity/compare.ts';
import { safeJson } from './safe-text.ts';

/** The document for a report; `schemas/due.schema.json` is its shape. */
export function dueDocument({ asOf, practices }: DueReport): DueDocument {
  return { format: 'holdfast.due/1', as_of: asOf, practices: practices.map(practiceDocument) };
}

/** The document as text, indented, with a line break at the end. */
export function renderDueJson(report: DueReport): string {
  return `${safeJson(dueDocument(report), 2)}\n`;
}

function practiceDocument(due: PracticeDue): DuePracticeDocument {
  return {
    practice: due.practice,
    inventory: { ...due.inventory },
    as_of: due.asOf,
    record: due.record,
    stations: due.stations.map(({ station, head, entries }) => ({ station, head, entries })),
    items: due.items.map(itemDocument),
    counts: { ...due.counts },
    cautions: due.cautions.map(({ code, message }) => ({ code, message })),
  };
}

function itemDocument(item: DueItem): DueItemDocument {
  return {
    asset: item.asset.id,
    check: item.check.id,
    state: item.state,
    due_on: item.dueOn,
    limit: item.limit,
    days_overdue: item.daysOverdue,
    last_done_on: item.lastDoneOn,
    failed_on: item.failedOn,
    blocks: item.check.blocks,
    used: usedDocument(item),
    because: item.because,
  };
}

function usedDocument({ used }: DueItem): DueItemDocument['used'] {
  if (used === null) return null;
  const { hoursInUse, gainG } = used;
  return {
    hours_in_use: rounded(hoursInUse?.value),
    hours_in_use_limit: hoursInUse?.limit ?? null,
    gain_g: rounded(gainG?.value),
    gain_g_limit: gainG?.limit ?? null,
  };
}

function rounded(value: number | null | undefined): number | null {
  return value == null ? null : roundTo(value, 0.01);
}
