/** Records with bytes or values changed at random: said in words and in time, never repaired in silence, never lost. */
import * as fc from 'fast-check';
import { afterAll, beforeAll, describe, it } from 'vitest';
import { lineHash } from '../../src/record/chain.ts';
import { parameters } from './budget.ts';
import {
  Clinic,
  expectOnlyAppended,
  expectSound,
  expectUntouched,
  type Files,
  removeHome,
  WRITING,
} from './clinic.ts';
import { soundRecord } from './files.ts';
import { changes, mutated, NUMBERS } from './mutate.ts';

const READING: readonly string[] = [
  'record show',
  'record show --json',
  'record show --open',
  'record verify',
  'record verify --json',
  'record trend bain-1',
  'record trend y-piece-1 --json',
  'record suspects',
  'record export --format csv',
  'record export --format jsonl',
  'due',
  'due --format json',
  'due --format csv',
  'due --format ics',
  'due --format markdown',
  'stock',
  'stock --json',
  'plan 6.8kg --species dog --case A-17',
  'chart --format csv',
  'plan 31kg --minutes 60 --agent isoflurane --setting 2 --json',
];

const APPENDING: readonly string[] = [
  'hold bain-1 --machine theatre-1 --from 20 --to 20 --seconds 10 --pop-off open',
  'reading theatre-1-charcoal 220g',
  'sign-off bain-1 inner-tube --id 20261125-081403000-abcdef',
  'withdraw bain-1 --because cracked',
  'usage theatre-1 --circuit bain-1 --minutes 30',
];

const commands = fc.oneof(
  { arbitrary: fc.constantFrom(...READING), weight: 4 },
  { arbitrary: fc.constantFrom(...APPENDING), weight: 1 },
);

let sound: Files = {};
let names: string[] = [];

beforeAll(async () => {
  sound = await soundRecord();
  names = Object.keys(sound).filter(name => name.endsWith('.jsonl'));
});

afterAll(removeHome);

async function play(name: string, changed: Buffer, command: string): Promise<void> {
  const clinic = new Clinic({ ...sound, [name]: changed });
  try {
    const before = clinic.tree();
    const ran = await clinic.run(command.split(' '));
    expectSound(ran);
    const after = clinic.tree();
    // A torn tail is set aside before it is known whether the entry can be taken.
    if (WRITING.has(command.split(' ')[0] ?? '')) expectOnlyAppended(before, after, command);
    else expectUntouched(ran, before, after);
  } finally {
    clinic.remove();
  }
}

describe('a record that was changed', () => {
  it(
    'at its bytes is answered in words and in time, and loses nothing more',
    () =>
      fc.assert(
        fc.asyncProperty(fc.nat(), changes, commands, async (which, made, command) => {
          const name = names[which % names.length] ?? '';
          await play(name, mutated(Buffer.from(sound[name] ?? ''), made), command);
        }),
        parameters(0.15),
      ),
    0,
  );

  it(
    'at its values with every hash put right again is answered in words and in time, and loses nothing more',
    () =>
      fc.assert(
        fc.asyncProperty(
          fc.nat(),
          fc.array(
            fc.record({
              line: fc.nat(),
              leaf: fc.nat(),
              value: fc.oneof(fc.constantFrom(...NUMBERS), words),
            }),
            {
              minLength: 1,
              maxLength: 3,
            },
          ),
          commands,
          async (which, made, command) => {
            const name = names[which % names.length] ?? '';
            const lines = Buffer.from(sound[name] ?? '')
              .toString()
              .trimEnd()
              .split('\n');
            for (const { line, leaf, value } of made) {
              const at = line % lines.length;
              lines[at] = withLeaf(lines[at] ?? '', leaf, value);
            }
            await play(name, Buffer.from(rechained(lines)), command);
          },
        ),
        parameters(0.15),
      ),
    0,
  );
});

/** Values as JSON. */
const words = fc
  .oneof(
    fc.constantFrom(
      '',
      '__proto__',
      'constructor',
      'toString',
      '=1+1',
      '\u001b[2J',
      '\u202e',
      'bain-1',
      'theatre-1',
    ),
    fc.constantFrom(
      '2026-02-30',
      '2026-11-25T08:14:03Z',
      '9999-12-31T23:59:59+14:00',
      '0000-01-01T00:00:00Z',
      'pass',
    ),
    fc.string({ unit: 'binary', maxLength: 20 }),
  )
  .map(text => JSON.stringify(text));

/** The line with one of its values replaced by another JSON text. Not by way of objects: 1e309 and -0 would not survive. */
function withLeaf(line: string, leaf: number, value: string): string {
  const leaves = [...line.matchAll(/(?<=":)("(?:[^"\\]|\\.)*"|-?[\d.]+|true|false)/g)];
  const chosen = leaves[leaf % leaves.length];
  if (chosen === undefined) return line;
  return line.slice(0, chosen.index) + value + line.slice(chosen.index + chosen[0].length);
}

function rechained(lines: readonly string[]): string {
  let head = '0'.repeat(64);
  return lines
    .map(line => {
      const mended = line.replace(/"prev":"[0-9a-f]{64}"/, `"prev":"${head}"`);
      head = lineHash(Buffer.from(mended));
      return `${mended}\n`;
    })
    .join('');
}
