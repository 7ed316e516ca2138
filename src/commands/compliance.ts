/** `holdfast compliance`: the compliance of a pair, measured by a timed rise. It turns a fall into a leak, and is no hold. */
import { Command } from 'commander';
import { hasGauge } from '../inventory/inventory.ts';
import { isAtLeast, roundTo } from '../quantity/compare.ts';
import { formatNumber } from '../quantity/format.ts';
import { parseCircuitPressure, parseFlow, parseSeconds } from '../quantity/parse.ts';
import { complianceOfRise, gasCompliance, knownVolumeMl } from '../record/leak.ts';
import type { Context } from './context.ts';
import { Desk, type WritingOptions, writingOptions } from './entering.ts';

interface ComplianceOptions extends WritingOptions {
  readonly machine: string;
  readonly flow: string;
  readonly from: string;
  readonly to: string;
  readonly seconds: string;
}

const HIGHEST_CMH2O = 60;
const LONGEST_S = 600;
const MOST_ML_CMH2O = 10_000;

const EXAMPLES = `
Patient end blocked, pop-off shut, a known flow on: time the rise between two
readings of the gauge. A leaking pair reads too high. Open the pop-off
afterwards.

Examples:
  holdfast compliance y-piece-1 --machine theatre-1 --flow 1L/min --from 10 --to 30 --seconds 9.6 --by "M. Quill"
  holdfast compliance bain-1 --machine theatre-1 --flow 500mL/min --from 5 --to 20 --seconds 4 --by "M. Quill"`;

export function command(context: Context): Command {
  const compliance = new Command('compliance')
    .description(
      'Records how much gas a pair takes up as the pressure rises, so that a fall can be told as a leak.',
    )
    .argument('<circuit>', 'the circuit')
    .requiredOption('--machine <id>', 'the machine')
    .requiredOption('--flow <flow>', 'the flow that was on: 1L/min, 500mL/min')
    .requiredOption('--from <pressure>', 'the pressure at the start: 10, 10cmH2O, 1kPa')
    .requiredOption('--to <pressure>', 'the pressure at the end')
    .requiredOption('--seconds <s>', 'how long that took')
    .action((circuit: string, options: ComplianceOptions) => runCompliance(circuit, options, context));
  return writingOptions(compliance).addHelpText('after', EXAMPLES);
}

async function runCompliance(circuitId: string, options: ComplianceOptions, context: Context): Promise<void> {
  const desk = new Desk(context, options, { timeNeeded: true });
  const circuit = desk.oneOf(circuitId, desk.inventory.circuits, 'circuit');
  const machine = desk.oneOf(options.machine, desk.inventory.machines, 'machine');
  const flow = desk.quantity('--flow', options.flow, parseFlow);
  const from = desk.quantity('--from', options.from, parseCircuitPressure);
  const to = desk.quantity('--to', options.to, parseCircuitPressure);
  const seconds = desk.quantity('--seconds', options.seconds, parseSeconds);
  if (circuit !== null && machine !== null && !hasGauge(circuit, machine)) {
    const message = 'the inventory knows no gauge that shows the pressure of this pair';
    desk.problem('hold_without_gauge', message, 'add pressure_gauge: true to the circuit, if it has one');
  }
  for (const value of [from, to]) {
    if (value !== undefined && value > HIGHEST_CMH2O) {
      const message = `${formatNumber(value)} cmH2O is above ${HIGHEST_CMH2O} cmH2O`;
      desk.problem('hold_pressure_too_high', message, 'read the gauge again, and mind the unit');
    }
  }
  if (from !== undefined && to !== undefined && to <= from) {
    const message = `the pressure went from ${formatNumber(from)} to ${formatNumber(to)} cmH2O, which is no rise`;
    desk.problem('compliance_no_rise', message, 'shut the pop-off, set the flow, and time the rise');
  }
  if (flow === 0 || seconds === 0) {
    desk.problem(
      'entry_value',
      'without flow or time there is nothing to measure',
      'write --flow and --seconds above zero',
    );
  }
  desk.within('--seconds', seconds, 0, LONGEST_S, 's');
  if (machine !== null) desk.within('--flow', flow, 0, machine.flowmeter.maxMlPerMin, 'mL/min');
  const { inventory, ...signed } = desk.sign([circuit, machine]);
  desk.ensureSound();
  if (
    circuit === null ||
    machine === null ||
    flow === undefined ||
    from === undefined ||
    to === undefined ||
    seconds === undefined
  )
    return;

  const measured = complianceOfRise({ flowMlPerMin: flow, fromCmH2O: from, toCmH2O: to, seconds });
  desk.within('the compliance', measured, 0, MOST_ML_CMH2O, 'mL/cmH2O');
  const volume = knownVolumeMl(circuit, machine, null);
  if (volume !== null && !isAtLeast(measured, gasCompliance(volume))) {
    const message = `${formatNumber(measured)} mL/cmH2O is less than the gas alone takes up in the ${formatNumber(volume)} mL that are known (${formatNumber(gasCompliance(volume))})`;
    desk.problem(
      'compliance_too_low',
      message,
      'check flow and time, and measure again; if they are right, correct the volumes in the inventory',
    );
  }
  const rounded = roundTo(measured, 0.001);
  const told = `MEASURED: ${circuit.id} on ${machine.id} takes up ${formatNumber(measured)} mL/cmH2O. Open the pop-off.\n`;
  await desk.write(
    {
      kind: 'compliance',
      ...signed,
      circuit: circuit.id,
      machine: machine.id,
      flow_ml_min: flow,
      from_cmh2o: from,
      to_cmh2o: to,
      seconds,
      compliance_ml_cmh2o: rounded,
      inventory,
    },
    told,
  );
}
