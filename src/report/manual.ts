/** The manual page in roff, from the command tree. `man -l` renders it. */
import type { Command, Help } from 'commander';

/** What the page says beside the commands. */
export interface ManualTexts {
  readonly version: string;
  /** YYYY-MM-DD. */
  readonly date: string;
}

/** @example renderManual(program, { version: '1.0.0', date: '2026-11-25' }) //=> '.TH HOLDFAST 1 …' */
export function renderManual(program: Command, { version, date }: ManualTexts): string {
  const help = program.createHelp();
  return `${[
    `.TH HOLDFAST 1 ${date} "holdfast ${version}" "General Commands Manual"`,
    '.SH NAME',
    `holdfast \\- ${roff(lowerFirst(firstSentence(program.description())))}`,
    '.SH SYNOPSIS',
    '.B holdfast',
    '.I command',
    '[options]',
    '.SH DESCRIPTION',
    roff(program.description()),
    '.SH COMMANDS',
    ...help.visibleCommands(program).flatMap(command => commandSection(command, 'holdfast')),
    ...FIXED,
  ].join('\n')}\n`;
}

function commandSection(command: Command, above: string): string[] {
  if (command.name() === 'help') return [];
  const help = command.createHelp();
  const inner = help.visibleCommands(command).filter(one => one.name() !== 'help');
  const path = `${above} ${command.name()}`;
  const own =
    inner.length > 0
      ? []
      : [
          `.SS ${roff(`${path} ${argumentWords(command)}`.trim())}`,
          roff(command.description() || command.summary()),
          ...parameters(command, help),
        ];
  return [...own, ...inner.flatMap(one => commandSection(one, path))];
}

function argumentWords(command: Command): string {
  return command.registeredArguments
    .map(argument => {
      const name = argument.variadic ? `${argument.name()}...` : argument.name();
      return argument.required ? `<${name}>` : `[${name}]`;
    })
    .join(' ');
}

function parameters(command: Command, help: Help): string[] {
  const rows = [
    ...help.visibleArguments(command).map(one => [one.name(), help.argumentDescription(one)]),
    ...help.visibleOptions(command).map(one => [one.flags, help.optionDescription(one)]),
  ];
  return rows.flatMap(([term, about]) => ['.TP', `.B ${roff(term ?? '')}`, roff(about ?? '')]);
}

const FIXED = [
  '.SH EXIT STATUS',
  '.TP',
  '.B 0',
  'done, nothing to act on',
  '.TP',
  '.B 1',
  'done, something to act on: overdue, a failed leak test, a stop in a plan, damage found',
  '.TP',
  '.B 2',
  'not done: the command line or an input file',
  '.TP',
  '.B 3',
  'not done: the record could not be trusted or written',
  '.TP',
  '.B 4',
  'a fault in the program itself',
  '.SH ENVIRONMENT',
  '.TP',
  '.B HOLDFAST_INVENTORY, HOLDFAST_RECORD',
  'the inventory and the record, where no option names them',
  '.TP',
  '.B HOLDFAST_STATION, HOLDFAST_BY',
  'the name of this workplace, and who enters',
  '.TP',
  '.B NO_COLOR, FORCE_COLOR',
  'no colour, colour always',
  '.SH FILES',
  '.TP',
  '.B inventory.yaml',
  'what the practice owns, its rules and its checks; written by a person',
  '.TP',
  '.B record/STATION/YEAR.jsonl',
  'what was done, one JSON object a line, only ever appended',
  '.SH SAFETY',
  roff(
    "A calculation aid. It does not replace the veterinarian in charge, the makers' instructions, or local codes. Never flush oxygen into a non-rebreathing circuit with a patient attached. Never test with a patient attached. Open the pop-off after every test.",
  ),
];

function firstSentence(text: string): string {
  return text.split('. ')[0]?.replace(/\.$/, '') ?? '';
}

function lowerFirst(text: string): string {
  return text.slice(0, 1).toLowerCase() + text.slice(1);
}

/** Backslashes and hyphens as roff wants them; a line must not begin with its control characters. */
function roff(text: string): string {
  return text
    .replaceAll('\\', '\\e')
    .replaceAll('-', '\\-')
    .replace(/^([.'])/gm, '\\&$1');
}
