/** `holdfast usage`: what a case wore. */
import { Command, Option } from 'commander';
import { AGENTS, type Agent, driveOf } from '../inventory/inventory.ts';
import { formatFlow, formatNumber } from '../quantity/format.ts';
import { parseFlow, parseMinutes, parsePercent } from '../quantity/parse.ts';
import { cancelledIds } from '../record/cancelled.ts';
import { pairHold } from '../record/pair-hold.ts';
import type { Context } from './context.ts';
import { Desk, TEXT_LIMITS, type WritingOptions, writingOptions } from './entering.ts';
import { cautionOfWithdrawn } from './withdrawn.ts';

interface UsageOptions extends WritingOptions {
  readonly circuit: string;
  readonly minutes: string;
  readonly flow: string;
  readonly agent?: Agent;
  readonly setting?: string;
  readonly case?: string;
}

const LONGEST_MIN = 1440;
const HIGHEST_SETTING = 20;

const EXAMPLES = `
A non-rebreathing circuit wears no absorbent. With valid_for: case the pair
needs a new leak test afterwards.

Examples:
  holdfast usage theatre-1 --circuit bain-1 --minutes 45 --flow 1.5L/min --by "M. Quill"
  holdfast usage theatre-1 --circuit y-piece-1 --minutes 1.5h --flow 800mL/min --agent isoflurane --setting 2 --case 4711 --by "M. Quill"`;

export function command(context: Context): Command {
  const usage = new Command('usage')
    .description('Records a case: how long a pair was used, and at what flow.')
    .argument('<machine>', 'the machine')
    .requiredOption('--circuit <id>', 'the circuit')
    .requiredOption('--minutes <n>', 'how long: 45, 45min or 1.5h')
    .requiredOption('--flow <flow>', 'the mean flow of oxygen: 800mL/min, 1.5L/min')
    .addOption(new Option('--agent <name>', 'the inhaled agent').choices(AGENTS))
    .option('--setting <percent>', 'the mean dial setting: 2 or 2%')
    .option('--case <ref>', "the practice's own reference of the case")
    .action((machine: string, options: UsageOptions) => runUsage(machine, options, context));
  return writingOptions(usage).addHelpText('after', EXAMPLES);
}

async function runUsage(machineId: string, options: UsageOptions, context: Context): Promise<void> {
  const desk = new Desk(context, options);
  const machine = desk.oneOf(machineId, desk.inventory.machines, 'machine');
  const circuit = desk.oneOf(options.circuit, desk.inventory.circuits, 'circuit');
  const minutes = desk.quantity('--minutes', options.minutes, parseMinutes);
  const flow = desk.quantity('--flow', options.flow, parseFlow);
  const setting = desk.quantity('--setting', options.setting, parsePercent);
  if (minutes !== undefined && minutes <= 0)
    desk.problem('entry_value', '--minutes: a case lasts longer than nothing', 'write it as --minutes 45');
  desk.within('--minutes', minutes, 0, LONGEST_MIN, 'min');
  desk.within('--setting', setting, 0, HIGHEST_SETTING, '%');
  if (machine !== null) desk.within('--flow', flow, 0, machine.flowmeter.maxMlPerMin, 'mL/min');
  if (setting !== undefined && options.agent === undefined) {
    desk.problem('options_clash', '--setting needs --agent', 'name the agent, or leave the setting out');
  }
  if (options.case !== undefined) desk.text('--case', options.case, TEXT_LIMITS.case);
  cautionOfWithdrawn(desk, [machine?.id ?? null, circuit?.id ?? null]);
  if (machine !== null && circuit !== null && !machine.drives.includes(driveOf(circuit.kind))) {
    desk.caution(
      'pair_not_driven',
      `by the inventory ${machine.id} does not drive ${circuit.id}`,
      'check the ids; correct the entry if one is wrong',
    );
  }
  if (
    machine !== null &&
    options.agent !== undefined &&
    !machine.vaporizers.some(({ agent }) => agent === options.agent)
  ) {
    desk.caution(
      'agent_not_on_machine',
      `by the inventory ${machine.id} has no vaporizer for ${options.agent}`,
      'check the agent; correct the entry if it is wrong',
    );
  }
  if (machine !== null && circuit !== null && !desk.isRetry)
    cautionOfRecord(desk, circuit.id, machine.id, options.case);
  const { inventory, ...signed } = desk.sign([machine, circuit]);
  desk.ensureSound();
  if (minutes === undefined || flow === undefined) return;
  const told = `ENTERED: ${formatNumber(minutes)} min of ${options.circuit} on ${machineId} at ${formatFlow(flow)}.\n`;
  await desk.write(
    {
      kind: 'usage',
      ...signed,
      machine: machineId,
      circuit: options.circuit,
      minutes,
      flow_ml_min: flow,
      ...(options.agent === undefined ? {} : { agent: options.agent }),
      ...(setting === undefined ? {} : { setting_percent: setting }),
      ...(options.case === undefined ? {} : { case: options.case }),
      inventory,
    },
    told,
  );
}

/** What was done is entered; what the record says against it is said. */
function cautionOfRecord(desk: Desk, circuit: string, machine: string, caseRef: string | undefined): void {
  const { state, because } = pairHold(desk.standing, desk.inventory, circuit, machine, {
    today: desk.today,
    caseRef,
  });
  if (state === 'failed') {
    desk.caution(
      'used_though_failed',
      `${circuit} on ${machine} stands failed: ${because}`,
      'correct the entry if an id is wrong; else tell the veterinarian in charge',
    );
  }
  const { entries } = desk.record;
  const cancelled = cancelledIds(entries);
  const same = entries.find(
    entry =>
      entry.kind === 'usage' && caseRef !== undefined && entry.case === caseRef && !cancelled.has(entry.id),
  );
  if (same !== undefined) {
    desk.caution(
      'case_entered_before',
      `case ${caseRef} was entered before, as ${same.id}`,
      `if it is the same case, cancel one: holdfast correct ${same.id} --because TEXT`,
    );
  }
}
