/** Command lines from the program's own command tree, every option with every kind of value. */
import type { Command } from 'commander';
import * as fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/commands/commands.ts';
import type { Context } from '../../src/commands/context.ts';
import { buildProgram } from '../../src/commands/program.ts';
import { parameters } from './budget.ts';
import { Clinic, expectSound, expectUntouched, type Files, removeHome } from './clinic.ts';
import { LISTS, soundRecord } from './files.ts';
import { NUMBERS, TOKENS } from './mutate.ts';

let sound: Files = {};

beforeAll(async () => {
  sound = { ...(await soundRecord()), ...LISTS };
});

afterAll(removeHome);

const SOUND_VALUES: readonly string[] = [
  ...[
    '6.8kg',
    '31',
    '15lb',
    '20',
    '30cmH2O',
    '3kPa',
    '10',
    '30',
    '120mL/min',
    '1.5L/min',
    '1500psi',
    '210g',
    '2%',
  ],
  ...[
    '1L',
    '500mL',
    '45min',
    '1.5h',
    'dog',
    'cat',
    'rabbit',
    'isoflurane',
    'bain-1',
    'y-piece-1',
    't-piece-1',
  ],
  ...[
    'theatre-1',
    'dental',
    'ward-e-1',
    'wall',
    'theatre-1-charcoal',
    'inner-tube',
    'leak-hold',
    'open',
    'shut',
  ],
  ...[
    'opening',
    'all',
    'csv',
    'json',
    'ics',
    'markdown',
    'text',
    'jsonl',
    'house',
    't_piece',
    'bain',
    'Europe/Dublin',
  ],
  ...[
    '2026-11-25',
    '2026-11-24T09:30',
    '2027-01-01',
    '0',
    '7',
    'overdue',
    'machine',
    'bash',
    'plan',
    'hold_too_short',
  ],
  ...['a=1', 'theatre-1-charcoal=215g', 'prep-room', '20261125-081403000-abcdef', 'M. Quill', 'A-17'],
];

const NASTY_VALUES: readonly string[] = [
  ...['__proto__', 'constructor', 'toString', 'valueOf', 'hasOwnProperty', 'prototype', '__defineGetter__'],
  ...[
    '',
    ' ',
    '-',
    '--',
    '-1',
    '-5kg',
    '1e3',
    '0x10',
    '1.2.3',
    '6,8kg',
    '٣kg',
    '200.0001kg',
    '1e400',
    'nan',
    'Infinity',
  ],
  ...[
    '2026-02-30',
    '0000-00-00',
    '99999-01-01',
    '2026-11-25T24:00',
    '2026-03-29T01:30',
    '1970-01-01',
    '9999-12-31',
  ],
  ...[
    'Etc/GMT+5',
    'UTC+1',
    'constructor',
    '../x',
    '..',
    '.',
    '%s%n',
    '$(id)',
    '`id`',
    '=1+1',
    '@x',
    "'",
    '"',
    '\\',
  ],
  ...[
    '\u0000',
    '\u001b]0;x\u0007',
    '\u202e',
    '\ud83d',
    'x'.repeat(5000),
    '9'.repeat(400),
    'a='.repeat(99),
    ','.repeat(50),
  ],
];

/** Paths lie within the clinic, or where nothing can be written; every other text has its slashes taken out. */
const PATHS: readonly string[] = [
  ...[
    'inventory.yaml',
    './inventory.yaml',
    'record',
    'record/',
    'record/theatre',
    'record/theatre/2026.jsonl',
    'report.txt',
    'list.csv',
    'list.yaml',
  ],
  ...[
    'card.svg',
    'card.html',
    'new.yaml',
    '.',
    '..',
    '../..',
    '',
    'none/none/report.txt',
    '/dev/null',
    '/proc/self/status',
  ],
  ...[
    'x'.repeat(300),
    'a\u0000b',
    '\u001b[2J.svg',
    '-',
    '--',
    '__proto__',
    'constructor.svg',
    'inventory.yaml/x',
    '~',
    'a\nb',
  ],
];

const value = fc
  .oneof(
    { arbitrary: fc.constantFrom(...SOUND_VALUES), weight: 4 },
    {
      arbitrary: fc.constantFrom(...NASTY_VALUES, ...NUMBERS, ...TOKENS.filter(token => token.length < 1000)),
      weight: 2,
    },
    { arbitrary: fc.string({ unit: 'binary', maxLength: 30 }), weight: 1 },
  )
  .map(text => text.replaceAll('/', text.startsWith('Europe') || /L\/min$/.test(text) ? '/' : '_'));
const file = fc.oneof(fc.constantFrom(...PATHS), fc.stringMatching(/^[a-zà-ÿ .-]{1,20}$/u));

/** What can be said to a command: its words, its options and its arguments, as the program declares them. */
interface Shape {
  readonly words: readonly string[];
  readonly options: readonly { readonly flag: string; readonly takes: 'nothing' | 'value' | 'path' }[];
  readonly takesFiles: boolean;
}

async function shapes(): Promise<Shape[]> {
  // Building the tree asks nothing of the world but the width.
  const program = await buildProgram({ width: 80 } as Context, () => true);
  const found: Shape[] = [];
  const walk = (command: Command, words: readonly string[]) => {
    found.push({
      words,
      options: command.options.map(({ long, short, required, optional, flags }) => ({
        flag: long ?? short ?? '',
        takes:
          !required && !optional ? 'nothing' : /<(file|dir)>|\[(file|dir)\]/.test(flags) ? 'path' : 'value',
      })),
      takesFiles: command.registeredArguments.some(argument => /file|dir|list/.test(argument.name())),
    });
    for (const inner of command.commands) walk(inner, [...words, inner.name()]);
  };
  for (const command of program.commands) walk(command, [command.name()]);
  return found;
}

function commandLines(shape: Shape): fc.Arbitrary<string[]> {
  const argument = shape.takesFiles ? fc.oneof(file, value) : value;
  const option = ({ flag, takes }: Shape['options'][number]): fc.Arbitrary<string[]> => {
    if (takes === 'nothing') return fc.constant([flag]);
    const given = takes === 'path' ? file : value;
    return fc.oneof(
      given.map(text => [flag, text]),
      given.map(text => [`${flag}=${text}`]),
    );
  };
  return fc
    .record({
      positional: fc.array(argument, { maxLength: 3 }),
      options:
        shape.options.length === 0
          ? fc.constant([])
          : fc.array(fc.oneof(...shape.options.map(option)), { maxLength: 8 }),
      odd: fc.oneof(
        { arbitrary: fc.constant([]), weight: 9 },
        { arbitrary: value.map(text => [text]), weight: 1 },
      ),
    })
    .map(({ positional, options, odd }) => [...shape.words, ...positional, ...options.flat(), ...odd]);
}

const environment = fc.oneof(
  { arbitrary: fc.constant({}), weight: 8 },
  {
    arbitrary: fc.record(
      {
        HOLDFAST_STATION: value,
        HOLDFAST_BY: value,
        HOLDFAST_INVENTORY: file,
        HOLDFAST_RECORD: file,
        XDG_STATE_HOME: value,
      },
      { requiredKeys: [] },
    ),
    weight: 1,
  },
);

describe('any command line', async () => {
  const all = await shapes();

  it('is drawn from every command there is', () => {
    expect(new Set(all.map(({ words }) => words[0]))).toEqual(new Set(COMMANDS.map(({ name }) => name)));
  });

  it(
    'is answered in words and in time, and writes to the record only what was recorded',
    () =>
      fc.assert(
        fc.asyncProperty(fc.oneof(...all.map(commandLines)), environment, async (argv, env) => {
          const clinic = new Clinic(sound);
          try {
            const before = clinic.tree();
            const ran = await clinic.run(argv, env);
            expectSound(ran);
            expectUntouched(ran, before, clinic.tree());
          } finally {
            clinic.remove();
          }
        }),
        parameters(0.3),
      ),
    0,
  );
});
