/** `holdfast chart`: the practice's own wall chart, and what would change if something were lost or bought. */
import path from 'node:path';
import { Command, Option } from 'commander';
import { timestampIn, todayIn } from '../calendar/zone.ts';
import { type Chart, chartOf, hasGap } from '../chart/chart.ts';
import { changesBetween, type Equipped, findingsBeyond } from '../chart/compare.ts';
import { edgesOfAll } from '../chart/edges.ts';
import type { ChartRequest } from '../chart/outcome.ts';
import { labelStepFor } from '../chart/span.ts';
import { withoutAssets } from '../chart/take-away.ts';
import { type Asset, type Inventory, SPECIES, type Species } from '../inventory/inventory.ts';
import { ensureInventory } from '../inventory/load.ts';
import { plausibleKg } from '../plan/patient.ts';
import { didYouMean } from '../problem/nearest.ts';
import { refuse } from '../problem/problem.ts';
import { parseWeight } from '../quantity/parse.ts';
import { type Kg, kg } from '../quantity/units.ts';
import { renderChartCsv } from '../report/chart-csv.ts';
import { renderChartHtml } from '../report/chart-html.ts';
import { renderChartJson } from '../report/chart-json.ts';
import { type Paper, renderChartSvg } from '../report/chart-svg.ts';
import { type ChartView, renderChart, renderWhatIf, type WhatIf } from '../report/chart-text.ts';
import { writeFileWhole } from '../report/out-file.ts';
import type { Context } from './context.ts';
import { equipmentState, warnOfFuture } from './equipment-state.ts';
import { type FileOptions, inventoryOption, openInventory, recordOption } from './files.ts';

const FORMATS = ['text', 'json', 'csv', 'svg', 'html'] as const;
type Format = (typeof FORMATS)[number];

interface ChartOptions extends FileOptions {
  from?: string;
  to?: string;
  species?: Species;
  machine?: string;
  format?: Format;
  json?: boolean;
  paper: Paper;
  out?: string;
  without?: string[];
  withDraft?: string;
}

const LEAST: Kg = kg(0.5);
const GREATEST: Kg = kg(80);

const EXAMPLES = `
Exit code: 0 every weight has a circuit, 1 some weight has none or the record is
damaged, 2 or 3 not done.

Examples:
  the chart to print and hang up:
  holdfast chart --format html --out chart.html
  what if bain-1 were lost?
  holdfast chart --without bain-1
  what would the inventory of next year change?
  holdfast chart --with-draft next-year.yaml`;

export function command(context: Context): Command {
  const chart = new Command('chart')
    .description(
      'Draws up what plans say at every weight: bands with circuit, machine, flow, bag and leak test, with exact edges; gaps, and what everything depends on.',
    )
    .option('--from <weight>', 'the least weight; else 0.5kg, or the least of the species')
    .option('--to <weight>', 'the greatest weight; else 80kg, or the greatest of the species')
    .addOption(new Option('--species <species>', 'the species').choices(SPECIES))
    .option('--machine <id>', 'what this machine alone serves')
    .addOption(new Option('--format <format>', 'how to print it; else text').choices(FORMATS))
    .option('--json', 'the same as --format json')
    .addOption(new Option('--paper <size>', 'of svg and html').choices(['a4', 'a3']).default('a4'))
    .option('--out <file>', 'write it into a file, whole or not at all')
    .option('--without <id>', 'what would change without this asset; repeat it', collect)
    .option('--with-draft <file>', 'what would change with this inventory')
    .addHelpText('after', EXAMPLES)
    .action((options: ChartOptions) => runChart(options, context));
  return recordOption(inventoryOption(chart));
}

function runChart(options: ChartOptions, context: Context): void {
  const now = context.now();
  const format = readFormat(options);
  const inventory = openInventory(context, options, now);
  const request = readRequest(options, inventory);
  const at = timestampIn(inventory.practice.timeZone, now);
  const present: Equipped = { inventory, equipment: equipmentState(context, options, inventory, null, now) };
  if (format === 'csv') warnOfFuture(present.equipment, context);
  const supposed = suppose(present, options, context, now);
  if (supposed === null) {
    const chart = chartOf(inventory, present.equipment, request, at);
    finish(render(chart, format, options, context), chart, options, context);
    return;
  }
  if (format !== 'text' && format !== 'json') {
    refuse(
      'options_clash',
      `--format ${format} shows the present chart only: on a wall a supposed one would be taken for true`,
      'print what would change as text or json, or draw the chart of the other file with --inventory',
    );
  }
  // Both to the same decimals: what is told of one and not of the other must differ in more than that.
  const labelStepG = labelStepFor(edgesOfAll([inventory, supposed.inventory], request));
  const chart = chartOf(inventory, present.equipment, request, at, labelStepG);
  const then = chartOf(supposed.inventory, supposed.equipment, request, at, labelStepG);
  const whatIf: WhatIf = {
    present: chart,
    supposed: then,
    without: options.without ?? [],
    draft: options.withDraft ?? null,
    changes: changesBetween(present, supposed, request, at),
    newFindings: findingsBeyond(then.findings, chart.findings),
    goneFindings: findingsBeyond(chart.findings, then.findings),
  };
  const text =
    format === 'json' ? renderChartJson(then, whatIf) : renderWhatIf(whatIf, viewOf(options, context));
  finish(text, then, options, context);
}

/** What is asked for instead of the present equipment; null where nothing is. */
function suppose(present: Equipped, options: ChartOptions, context: Context, now: Date): Equipped | null {
  const { without = [], withDraft } = options;
  if (without.length === 0 && withDraft === undefined) return null;
  const drafted = withDraft === undefined ? present : draftOf(withDraft, present, options, context, now);
  for (const id of without) ensureCanGo(id, drafted.inventory);
  return { inventory: drafted.inventory, equipment: withoutAssets(drafted.equipment, without) };
}

/** The other inventory with what the present record says of it: what is in both stays in or out of service. */
function draftOf(
  file: string,
  present: Equipped,
  options: ChartOptions,
  context: Context,
  now: Date,
): Equipped {
  const inventory = ensureInventory(path.resolve(context.cwd, file), zone => todayIn(zone, now));
  // What is to be said of the record has been said once.
  const quiet: Context = { ...context, err: () => {} };
  return {
    inventory,
    equipment: equipmentState(quiet, options, inventory, null, now, present.inventory.file),
  };
}

/** Plans choose by circuits, machines, supplies and bags; without anything else they would say the same, which proves nothing. */
const CHOSEN_BY: readonly Asset['type'][] = ['circuit', 'machine', 'supply', 'bag'];

function ensureCanGo(id: string, { assets }: Inventory): void {
  const asset = assets.get(id);
  if (asset === undefined)
    refuse('asset_unknown', `the inventory has no '${id}'`, didYouMean(id, [...assets.keys()]));
  if (!CHOSEN_BY.includes(asset.type)) {
    refuse(
      'asset_not_charted',
      `${id} is a part of a machine, and plans do not choose by it`,
      'name the machine that cannot work without it, or a circuit, an oxygen supply or a bag',
    );
  }
}

function readRequest(options: ChartOptions, inventory: Inventory): ChartRequest {
  const species = options.species ?? null;
  const [least, greatest] = (species === null ? null : plausibleKg(species)) ?? [LEAST, GREATEST];
  const fromKg = readWeight(options.from) ?? least;
  const toKg = readWeight(options.to) ?? (greatest > GREATEST ? GREATEST : greatest);
  if (fromKg > toKg) refuse('options_clash', '--from is above --to', 'give the lower weight with --from');
  const { machine = null } = options;
  if (machine !== null && !inventory.machines.some(({ id }) => id === machine)) {
    const ids = inventory.machines.map(({ id }) => id);
    refuse('asset_unknown', `the inventory has no machine '${machine}'`, didYouMean(machine, ids));
  }
  return { fromKg, toKg, species, machine };
}

function readWeight(text: string | undefined): Kg | null {
  if (text === undefined) return null;
  const parsed = parseWeight(text);
  return parsed.ok
    ? parsed.value
    : refuse('weight_not_understood', parsed.message, `write it as ${parsed.forms}`);
}

function readFormat({ format, json }: ChartOptions): Format {
  if (json && format !== undefined && format !== 'json')
    refuse('options_clash', `--json and --format ${format} ask for two formats`, 'leave one out');
  return json ? 'json' : (format ?? 'text');
}

function render(chart: Chart, format: Format, options: ChartOptions, context: Context): string {
  switch (format) {
    case 'text':
      return renderChart(chart, viewOf(options, context));
    case 'json':
      return renderChartJson(chart);
    case 'csv':
      return renderChartCsv(chart);
    case 'svg':
      return renderChartSvg(chart, options.paper);
    case 'html':
      return renderChartHtml(chart, options.paper);
  }
}

/** A file is read anywhere: plain, and no wider than usual. */
function viewOf({ out }: ChartOptions, { width, colour }: Context): ChartView {
  return out === undefined ? { width, colour } : { width: 80, colour: false };
}

function finish(text: string, chart: Chart, { out }: ChartOptions, context: Context): void {
  if (out === undefined) context.out(text);
  else {
    writeFileWhole(path.resolve(context.cwd, out), text);
    const findings = chart.findings.length;
    context.out(
      `${out}: ${chart.bands.length} bands, ${findings === 1 ? '1 thing stands' : `${findings} things stand`} out\n`,
    );
  }
  context.exitCode = hasGap(chart) || chart.record === 'damaged' ? 1 : 0;
}

function collect(value: string, before: string[] = []): string[] {
  return [...before, value];
}
