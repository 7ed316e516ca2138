/** Texts that mean harm, from the inventory, the record, the list and the options, through every printer. */
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/commands/commands.ts';
import { Clinic, expectSound, removeHome } from '../fuzz/clinic.ts';

const LARKHILL = readFileSync('test/record/larkhill.yaml', 'utf8');

const ESCAPES = '\u001b[2J\u001b]0;x\u0007\u009b31m\u202egnp.exe\u202c\r\u0008\u0085\u2028end';
const FORMULAS = ['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1', ' =1', '\uff1d1+1', '=HYPERLINK("x")'];

/** Every way of printing that says what a person once typed into record or inventory. */
const PRINTERS: readonly string[] = [
  'record show',
  'record show --json',
  'record show --open',
  'record show --open --json',
  'record export --format csv',
  'record export --format jsonl',
  'record verify',
  'record suspects',
  'record suspects --json',
  'record trend bain-1',
  'record trend bain-1 --json',
  'due',
  'due --json',
  'due --format markdown',
  'due --format csv',
  'due --format ics',
  'stock',
  'stock --json',
  'plan 6.8kg',
  'plan 6.8kg --json',
  'plan 6.8kg --steps --reasons --card card.svg',
  'plan 6.8kg --card card.html',
  'inventory list',
  'inventory list --json',
  'round opening theatre-1 --list',
  ...(COMMANDS.some(({ name }) => name === 'chart')
    ? ['chart', 'chart --format csv', 'chart --format json', 'chart --format svg', 'chart --format html']
    : []),
];

let clinic: Clinic;

/** What the record's own reader takes: everything that JSON can hold. */
beforeAll(async () => {
  // The inventory refuses control characters; what else a person may write there is markup and formulas.
  const inventory = LARKHILL.replace(
    'name: Larkhill Animal Clinic',
    () => 'name: "=1+1<script>alert(1)</script>&|`*_"',
  )
    .replace('since: 2023-02-06', 'since: 2023-02-06\n    location: "@SUM(A1)<b>\'"')
    .replace('every: { days: 30 },', 'every: { days: 30 }, text: "=1+1 | <img src=x onerror=alert(1)>",');
  clinic = new Clinic({ 'inventory.yaml': inventory });
  const say = async (...argv: string[]) => {
    const ran = await clinic.run(argv);
    expectSound(ran);
    expect(ran.exitCode, ran.err).toBeLessThan(2);
  };
  await say('withdraw', 'coaxial-1', '--because', ESCAPES, '--by', ESCAPES, '--note', ESCAPES);
  await say('withdraw', 'dental-sevo', '--because', `=1+1${ESCAPES}`, '--by', '@x');
  await say('sign-off', 'theatre-1-iso', 'vaporizer-service', '--failed', '--note', ESCAPES);
  await say(
    ...'hold bain-1 --machine theatre-1 --from 20 --to 12 --seconds 10 --pop-off open'.split(' '),
    '--note',
    ESCAPES,
    '--case',
    ESCAPES,
  );
  await say(...'reading theatre-1-charcoal 210g --new'.split(' '), '--note', ESCAPES);
  for (const text of FORMULAS) await say('sign-off', 'bain-1', 'inner-tube', '--by', text, '--note', text);
});

afterAll(removeHome);

describe('every printer', () => {
  it.each(PRINTERS)('%s prints nothing that a terminal obeys', async command => {
    const ran = await clinic.run(command.split(' '));
    expectSound(ran);
    expect(ran.exitCode).toBeLessThan(2);
  });

  it.each(PRINTERS.filter(command => command.endsWith('csv')))(
    '%s has no cell that a spreadsheet runs',
    async command => {
      const { out } = await clinic.run(command.split(' '));
      const cells = cellsOf(out);
      expect(cells.length).toBeGreaterThan(100);
      const isFormula = (cell: string) =>
        /^\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]/.test(cell) && !/^-?\d+(\.\d+)?$/.test(cell);
      expect(cells.filter(isFormula)).toEqual([]);
    },
  );

  it.each(['card.svg', 'card.html'])('a %s holds no markup of others', file => {
    const text = clinic.tree().get(file) ?? '';
    expect(text).toMatch(/&lt;script&gt;/);
    expect(text).not.toMatch(/<script>alert|<b>'|<img/);
  });

  it('names the texts of options in problems without what a terminal obeys', async () => {
    const options =
      '--species --ideal-weight --machine --circuit --bag --minutes --agent --setting --breaths --adapter-ml'.split(
        ' ',
      );
    for (const option of [...options, '--inventory', '--record', ESCAPES, `--${ESCAPES}`]) {
      for (const words of [
        ['plan', '6.8kg', option, ESCAPES],
        ['plan', ESCAPES, option],
        [ESCAPES, option],
      ]) {
        expectSound(await clinic.run(words));
        expectSound(await clinic.run([...words, '--json']));
      }
    }
    for (const words of [
      'explain',
      'inventory check',
      'record trend',
      'record verify --head',
      'due --as-of',
      'hold',
      'correct',
    ])
      expectSound(await clinic.run([...words.split(' '), ESCAPES]));
    for (const key of [
      'HOLDFAST_STATION',
      'HOLDFAST_BY',
      'HOLDFAST_INVENTORY',
      'HOLDFAST_RECORD',
      'XDG_STATE_HOME',
    ])
      expectSound(
        await clinic.run('sign-off bain-1 inner-tube'.split(' '), {
          [key]: ESCAPES.replaceAll('\u0000', ''),
        }),
      );
  });
});

/** RFC 4180, read by a reader of its own. */
function cellsOf(csv: string): string[] {
  const cells: string[] = [];
  for (const [, quoted, plain] of csv.matchAll(/(?:^|,|\r\n)(?:"((?:[^"]|"")*)"|([^",\r\n]*))/g))
    cells.push(quoted?.replaceAll('""', '"') ?? plain ?? '');
  return cells;
}
