/** What is left, for a person: a bar for each thing that is used up, the emptiest first. And as JSON. */
import { weekdayOf } from '../calendar/open-days.ts';
import type { StockDocument } from '../generated/stock-document.ts';
import { roundTo } from '../quantity/compare.ts';
import { formatNumber } from '../quantity/format.ts';
import type { Stock, StockItem } from '../stock/stock.ts';
import { safeJson, safeText } from './safe-text.ts';
import { wrap } from './text.ts';

const BAR = 20;

/** @param width columns of the terminal */
export function renderStock(stock: Stock, width: number): string {
  const known = stock.items
    .filter(({ level }) => level !== null)
    .sort((a, b) => (a.level ?? 0) - (b.level ?? 0));
  const unknown = stock.items.filter(({ missing }) => missing !== null);
  const endless = stock.items.filter(({ level, missing }) => level === null && missing === null);
  const days = new Set(known.flatMap(({ perDayDays }) => perDayDays ?? []));
  // One number of days for all is said once, at the end; else each says its own.
  const overDays = days.size > 1 ? null : ([...days][0] ?? stock.recentDays);
  const blocks = [
    `${safeText(stock.practice)}, ${day(stock.asOf)}: what is left`,
    ...known.map(
      item => `${title(item)}\n${wrap(levelLine(item, overDays === null), width, '  ', ' '.repeat(BAR + 6))}`,
    ),
    ...unknown.map(item => `${title(item)}\n${wrap(`not known: ${item.missing}`, width, '  ', '    ')}`),
    ...endless.map(item => `${title(item)}\n${wrap(endlessLine(item), width, '  ', '    ')}`),
    ...footer(stock, overDays).map(text => wrap(text, width)),
  ];
  return `${blocks.join('\n\n')}\n`;
}

function title({ asset, what, outOfService }: StockItem): string {
  return `${asset} (${what}${outOfService ? ', OUT OF SERVICE' : ''})`;
}

function footer({ record, recentDays }: Stock, overDays: number | null): string[] {
  if (record === 'damaged') return [];
  if (overDays === null)
    return [
      `Ends are reckoned from the mean use a day over the days that stand there, at most ${recentDays}.`,
    ];
  if (overDays === recentDays)
    return [`Ends are reckoned from the mean use a day over the last ${recentDays} days.`];
  return [`Ends are reckoned from the mean use a day over ${overDays} days: the use on record is no older.`];
}

function levelLine(
  { level, left, full, unit, perDay, perDayDays, endsOn }: StockItem,
  isDaysSaid: boolean,
): string {
  const share = level ?? 0;
  const filled = Math.floor(share * BAR + 1e-9);
  const bar = `[${'#'.repeat(filled)}${'.'.repeat(BAR - filled)}]`;
  const amount = `${Math.floor(share * 100 + 1e-9)} %, ${down(left)} of ${down(full)} ${unit}`;
  if (left === 0) return `${bar} ${amount}; USED UP`;
  if (perDay === null) return `${bar} ${amount}; no recent use`;
  const end = endsOn === null ? '' : `, until ${day(endsOn)}`;
  const over = isDaysSaid ? ` over ${perDayDays} days` : '';
  return `${bar} ${amount}; at ${formatNumber(perDay, 1)} ${unit} a day${over}${end}`;
}

/** What is left is rounded down: better a litre too few than one too many. */
function down(value: number | null): string {
  return value === null ? '?' : String(value >= 100 ? Math.floor(value) : Math.floor(value * 10 + 1e-9) / 10);
}

function endlessLine({ perDay }: StockItem): string {
  return `no figure for what is left${perDay === null ? '' : `; ${formatNumber(perDay, 1)} L a day`}`;
}

function day(date: string): string {
  const name = weekdayOf(date);
  return `${name.slice(0, 1).toUpperCase()}${name.slice(1, 3)} ${date}`;
}

/** The document for a stock; `schemas/stock.schema.json` is its shape. */
export function renderStockJson({ practice, asOf, record, recentDays, items }: Stock): string {
  const document: StockDocument = {
    format: 'holdfast.stock/1',
    practice,
    as_of: asOf,
    record,
    recent_days: recentDays,
    items: items.map(item => ({
      asset: item.asset,
      what: item.what,
      level: rounded(item.level, 0.001),
      left: rounded(item.left, 0.01),
      full: rounded(item.full, 0.01),
      unit: item.unit,
      per_day: rounded(item.perDay, 0.01),
      per_day_days: item.perDayDays,
      ends_on: item.endsOn,
      missing: item.missing,
      out_of_service: item.outOfService,
    })),
  };
  return `${safeJson(document, 2)}\n`;
}

function rounded(value: number | null, step: 0.01 | 0.001): number | null {
  return value === null ? null : roundTo(value, step);
}
