/** `holdfast inventory new FILE`: writes a commented inventory to start from. Asks on a terminal, else takes defaults. */
import { closeSync, fsyncSync, openSync, rmSync, writeSync } from 'node:fs';
import { Command } from 'commander';
import { type CalendarDate, todayIn } from '../../calendar/zone.ts';
import { CIRCUIT_KINDS } from '../../inventory/inventory.ts';
import { understandInventory } from '../../inventory/load.ts';
import { RULE_SETS, type RuleSet } from '../../inventory/rule-sets.ts';
import { Source } from '../../inventory/source.ts';
import { renderStarter, type StarterWishes } from '../../inventory/starter.ts';
import { fileProblem, Refusal, refuse } from '../../problem/problem.ts';
import { safeText } from '../../report/safe-text.ts';
import { counted, wrap } from '../../report/text.ts';
import type { Context } from '../context.ts';
import { type Answers, FAULTS, isCircuitKind } from './answers.ts';
import { askAll } from './ask.ts';

const EXAMPLES = `
Examples:
  holdfast inventory new inventory.yaml
  holdfast inventory new inventory.yaml --rules cats-2018 --machine theatre-1 --circuit t_piece --circuit bain`;

interface NewOptions {
  readonly rules: string;
  readonly name?: string;
  readonly timeZone?: string;
  readonly machine?: readonly string[];
  readonly circuit?: readonly string[];
}

export function newCommand(context: Context): Command {
  const several = (value: string, before: readonly string[] = []) => [...before, value];
  return new Command('new')
    .summary('write an inventory to start from')
    .description(
      'Writes a commented inventory to start from. Asks on a terminal for what no option says. Never overwrites a file.',
    )
    .argument('<file>', 'the file to write')
    .option(
      '--rules <set>',
      `${RULE_SETS.map(({ name, summary }) => `${name}: ${summary}`).join('; ')}`,
      'house',
    )
    .option('--name <name>', "the practice's name")
    .option('--time-zone <zone>', 'IANA time zone, for example Europe/Dublin')
    .option('--machine <id>', "a machine's id; may be given several times", several)
    .option('--circuit <kind>', `a circuit: ${CIRCUIT_KINDS.join(', ')}; may be given several times`, several)
    .addHelpText('after', EXAMPLES)
    .action((file: string, options: NewOptions) => startInventory(file, options, context));
}

async function startInventory(file: string, options: NewOptions, context: Context): Promise<void> {
  const now = context.now();
  const ruleSet = ruleSetNamed(options.rules);
  const given: Partial<Answers> = {
    ...(options.name === undefined ? {} : { name: options.name }),
    ...(options.timeZone === undefined ? {} : { timeZone: options.timeZone }),
    ...(options.machine === undefined ? {} : { machines: options.machine }),
    ...(options.circuit === undefined ? {} : { circuits: options.circuit }),
  };
  refuseFaults(given, now);
  const defaults: Answers = {
    name: 'Our practice',
    timeZone: new Intl.DateTimeFormat().resolvedOptions().timeZone,
    machines: ['theatre-1'],
    circuits: ['t_piece', 'bain', 'circle_y'],
  };
  const { terminal } = context;
  const answers =
    terminal === null ? { ...defaults, ...given } : await askAll({ given, defaults, now, terminal });
  const text = renderStarter({ ...wishesOf(answers, now), ruleSet });
  ensureSound(file, text, now);
  writeNew(file, text);
  context.out(renderWritten(file, answers, ruleSet, context.width));
}

function ruleSetNamed(name: string): RuleSet {
  const found = RULE_SETS.find(set => set.name === name);
  if (found !== undefined) return found;
  const names = RULE_SETS.map(set => set.name);
  return refuse('option_value', `there are no rules '${name}'`, `known: ${names.join(', ')}`);
}

function refuseFaults({ name, timeZone, machines, circuits }: Partial<Answers>, now: Date): void {
  const faults = {
    '--name': name === undefined ? null : FAULTS.name(name),
    '--time-zone': timeZone === undefined ? null : FAULTS.timeZone(timeZone, now),
    '--machine': machines === undefined ? null : FAULTS.machines(machines),
    '--circuit': circuits === undefined ? null : FAULTS.circuits(circuits),
  };
  for (const [option, fault] of Object.entries(faults)) {
    if (fault !== null) refuse('option_value', `${option}: ${fault}`, 'correct the option, or leave it out');
  }
}

function wishesOf(
  { name, timeZone, machines, circuits }: Answers,
  now: Date,
): Omit<StarterWishes, 'ruleSet'> {
  const today: CalendarDate | null = todayIn(timeZone, now);
  if (today === null)
    return refuse('option_value', `'${timeZone}' is no IANA time zone`, 'name one with --time-zone');
  return { name: name.trim(), timeZone, machines, circuits: circuits.filter(isCircuitKind), today };
}

/** Nothing is written that `inventory check` would not pass, for example two things with one id. */
function ensureSound(file: string, text: string, now: Date): void {
  const read = { source: new Source(file, text), bytes: Buffer.from(text) };
  const understood = understandInventory(read, zone => todayIn(zone, now));
  if (!understood.ok) throw new Refusal(understood.problems);
}

/** @throws Refusal `file_exists` or `file_not_written`; what this call began to write is taken away again. */
function writeNew(file: string, text: string): void {
  let fd: number;
  try {
    fd = openSync(file, 'wx');
  } catch (error) {
    throw notWritten(file, error);
  }
  try {
    const bytes = Buffer.from(text);
    for (let at = 0; at < bytes.length; ) at += writeSync(fd, bytes, at);
    fsyncSync(fd);
    closeSync(fd);
  } catch (error) {
    rmSync(file, { force: true });
    throw notWritten(file, error);
  }
}

function notWritten(file: string, error: unknown): Refusal {
  const code = error instanceof Error && 'code' in error ? String(error.code) : String(error);
  return new Refusal([
    code === 'EEXIST'
      ? fileProblem(
          'file_exists',
          file,
          `${file} is there already`,
          'name another file, or move the old one away',
        )
      : fileProblem(
          'file_not_written',
          file,
          `${file} cannot be written (${code})`,
          'check its folder and the disk',
        ),
  ]);
}

function renderWritten(
  file: string,
  { machines, circuits }: Answers,
  { name }: RuleSet,
  width: number,
): string {
  const counts = `${counted(machines.length, 'machine')}, ${counted(circuits.length, 'circuit')}, rules ${name}`;
  const next = `Put in what the lines marked CHECK ask for, then: holdfast inventory check ${safeText(file)}`;
  return `Wrote ${safeText(file)}: ${counts}.\n${wrap(next, width)}\n`;
}
