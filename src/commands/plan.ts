/** holdfast plan WEIGHT: one case from the weight of the patient. */
import path from 'node:path';
import { Command, Option } from 'commander';
import { timestampIn } from '../calendar/zone.ts';
import { AGENTS, type Agent, type Inventory, SPECIES, type Species } from '../inventory/inventory.ts';
import { hasStop, type Plan, planCase } from '../plan/plan.ts';
import type { PlanRequest } from '../plan/request.ts';
import { settingProblem } from '../plan/supplies/agent.ts';
import { didYouMean } from '../problem/nearest.ts';
import { refuse } from '../problem/problem.ts';
import {
  type Parsed,
  parseMinutes,
  parseMl,
  parsePercent,
  parseVolume,
  parseWeight,
} from '../quantity/parse.ts';
import { type Kg, ml, type Percent } from '../quantity/units.ts';
import { renderCard } from '../report/card/card.ts';
import { writeFileWhole } from '../report/out-file.ts';
import { planDocument } from '../report/plan-json.ts';
import { renderPlan } from '../report/plan-text.ts';
import { safeJson } from '../report/safe-text.ts';
import type { Context } from './context.ts';
import { equipmentState } from './equipment-state.ts';
import { type FileOptions, inventoryOption, openInventory, recordOption } from './files.ts';

interface PlanOptions extends FileOptions {
  species?: Species;
  idealWeight?: string;
  machine?: string;
  circuit?: string;
  bag?: string;
  minutes?: string;
  agent?: Agent;
  setting?: string;
  breaths?: string;
  adapterMl?: string;
  case?: string;
  confirmWeight?: boolean;
  steps?: boolean;
  reasons?: boolean;
  card?: string;
  json?: boolean;
}

export function command(context: Context): Command {
  const plan = new Command('plan')
    .description(
      'Plan a case: circuit, machine, oxygen flow, reservoir bag and leak test for a patient of this weight.',
    )
    .argument('<weight...>', '6.8kg, 6.8 (kg), 850g, 15lb or 24oz')
    .addOption(new Option('--species <species>', 'the species').choices([...SPECIES]))
    .option('--ideal-weight <weight>', 'chooses class, circuit and bag; the flow goes by the actual weight')
    .option('--machine <id>', 'use this machine')
    .option('--circuit <id>', 'use this circuit')
    .option('--bag <size>', 'hang this bag: 500mL, 1L')
    .option('--minutes <n>', 'how long the case lasts, for oxygen and agent')
    .addOption(new Option('--agent <name>', 'the agent').choices([...AGENTS]))
    .option('--setting <percent>', 'the dial, with --agent')
    .option('--breaths <per-minute>', 'breaths a minute')
    .option('--adapter-ml <n>', 'dead space of adapters at the patient end, in mL')
    .option('--case <ref>', "the practice's reference of the case")
    .option('--confirm-weight', 'the weight is right although hardly possible for the species')
    .option('--steps', 'print the steps: connect, leak test, watch, back')
    .option('--reasons', 'print where every figure comes from')
    .option('--card <file>', 'write a card for the trolley: FILE.svg or FILE.html')
    .option('--json', 'print the plan as holdfast.plan/1')
    .addHelpText('after', EXAMPLES)
    .action((weight: string[], options: PlanOptions) => runPlan(weight.join(' '), options, context));
  return recordOption(inventoryOption(plan));
}

const EXAMPLES = `
Examples:
  holdfast plan 6.8kg --species dog --steps
  holdfast plan 31kg --ideal-weight 26kg --minutes 90 --agent isoflurane --setting 2`;

function runPlan(weight: string, options: PlanOptions, context: Context): void {
  const now = context.now();
  const weightKg = readWeight(weight);
  const inventory = openInventory(context, options, now);
  const request = readRequest(weightKg, options, inventory);
  const equipment = equipmentState(context, options, inventory, request.caseRef, now);
  const plan = planCase(inventory, equipment, request, timestampIn(inventory.practice.timeZone, now));
  if (options.card !== undefined) writeCard(plan, options.card, context);
  if (options.json) context.out(`${safeJson(planDocument(plan), 2)}\n`);
  else context.out(renderPlan(plan, { ...options, width: context.width, colour: context.colour }));
  context.exitCode = hasStop(plan) ? 1 : 0;
}

/** A card lies about for hours; one that tells to stop, or of nothing, is not printed. */
function writeCard(plan: Plan, file: string, context: Context): void {
  const format = path.extname(file).slice(1).toLowerCase();
  if (format !== 'svg' && format !== 'html') {
    refuse('option_value', `--card '${file}' is neither .svg nor .html`, 'name it card.svg or card.html');
  }
  const pair = plan.main?.choice.pair;
  const stop = plan.cautions.find(({ level }) => level === 'stop');
  if (!pair || stop !== undefined) {
    context.err(`no card: ${stop === undefined ? 'no circuit fits' : stop.message}\n`);
    return;
  }
  writeFileWhole(path.resolve(context.cwd, file), renderCard(plan, pair, format));
  context.err(`card written: ${file}\n`);
}

function readRequest(weightKg: Kg, options: PlanOptions, inventory: Inventory): PlanRequest {
  if (options.setting !== undefined && options.agent === undefined) {
    refuse('options_clash', '--setting needs --agent', 'add --agent NAME');
  }
  return {
    weightKg,
    species: options.species ?? null,
    idealWeightKg: options.idealWeight === undefined ? null : readWeight(options.idealWeight),
    machine: knownId('machine', options.machine, inventory.machines),
    circuit: knownId('circuit', options.circuit, inventory.circuits),
    bagMl: positive('--bag', optional(options.bag, parseVolume)),
    minutes: positive('--minutes', optional(options.minutes, parseMinutes)),
    agent: options.agent ?? null,
    settingPercent: readSetting(options),
    breathsPerMin: positive('--breaths', optional(options.breaths, parseCount)),
    adapterMl: optional(options.adapterMl, parseMl) ?? ml(0),
    caseRef: options.case ?? null,
    weightConfirmed: options.confirmWeight ?? false,
  };
}

/** A dial that could be set so: above zero, and not above what the vapour of the agent can reach. */
function readSetting({ agent, setting }: PlanOptions): Percent | null {
  const settingPercent = positive('--setting', optional(setting, parsePercent));
  const impossible =
    agent === undefined || settingPercent === null ? null : settingProblem(agent, settingPercent);
  if (impossible !== null) refuse(impossible.code, impossible.message, impossible.remedy);
  return settingPercent;
}

function readWeight(text: string): Kg {
  const parsed = parseWeight(text);
  return parsed.ok
    ? parsed.value
    : refuse('weight_not_understood', parsed.message, `write it as ${parsed.forms}`);
}

function optional<T>(text: string | undefined, parse: (text: string) => Parsed<T>): T | null {
  if (text === undefined) return null;
  const parsed = parse(text);
  return parsed.ok
    ? parsed.value
    : refuse('quantity_not_understood', parsed.message, `write it as ${parsed.forms}`);
}

function positive<T extends number>(option: string, value: T | null): T | null {
  return value === null || value > 0
    ? value
    : refuse('quantity_not_understood', `${option} is zero`, 'give more than zero');
}

/** Breaths a minute; a plain number. */
function parseCount(text: string): Parsed<number> {
  if (/^\d{1,3}$/.test(text)) return { ok: true, value: Number(text) };
  return { ok: false, message: `breaths '${text}' is not a whole number`, forms: '12' };
}

function knownId(what: string, id: string | undefined, known: readonly { id: string }[]): string | null {
  if (id === undefined) return null;
  if (known.some(asset => asset.id === id)) return id;
  return refuse(
    'asset_unknown',
    `the inventory has no ${what} '${id}'`,
    didYouMean(
      id,
      known.map(asset => asset.id),
    ),
  );
}
