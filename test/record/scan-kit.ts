/** Made-up records for the scan: entries of every kind, and the many ways in which a line may be written. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import fc from 'fast-check';
import type { Entry } from '../../src/generated/entry.ts';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { ensureInventory } from '../../src/inventory/load.ts';
import { lineText } from '../../src/record/line-text.ts';
import {
  compliance,
  correct,
  giveBack,
  hold,
  reading,
  signOff,
  supplyHold,
  usage,
  withdraw,
} from './entries.ts';

const MORE_CHECKS = `
  - { id: gauge, of: cylinder, every: { days: 1 }, done_by: reading }
  - { id: machine-service, of: machine, every: { years: 1 }, after: { hours_in_use: 3 } }
  - { id: vaporizer-hours, of: vaporizer, after: { hours_in_use: 2 } }
`;

/** The clinic of due.yaml, with checks by reading and more checks by hours. */
export function scanInventory(): Inventory {
  const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-scan-'));
  try {
    const file = path.join(folder, 'inventory.yaml');
    writeFileSync(file, readFileSync('test/scenarios/fixtures/due.yaml', 'utf8').trimEnd() + MORE_CHECKS);
    return ensureInventory(file, () => '2026-11-25');
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const STATIONS = ['prep', 'theatre', 'ward-2'] as const;
const two = (n: number) => String(n).padStart(2, '0');

/** Times come close together, so that orders tie and cross; some are of the next days, which have not come. */
const instant = fc
  .tuple(
    fc.constantFrom('2025-12-30', '2026-11-23', '2026-11-24', '2026-11-25', '2026-11-26', '2026-02-28'),
    fc.integer({ min: 0, max: 23 }),
    fc.constantFrom(0, 30),
    fc.constantFrom('+00:00', '+00:00', '+00:00', '+01:00', '-05:30'),
  )
  .map(([date, hour, minute, offset]) => `${date}T${two(hour)}:${two(minute)}:00${offset}`);

const asset = fc.constantFrom(
  'theatre-1',
  'theatre-1-absorber',
  'theatre-1-charcoal',
  'theatre-1-iso',
  'bain-1',
  'y-piece-1',
  'ward-e-1',
  'gone-1',
  'gone-2',
);
const circuit = fc.constantFrom('bain-1', 'y-piece-1', 't-piece-1', 'gone-1');
const machine = fc.constantFrom('theatre-1', 'theatre-1', 'theatre-1', 'gone-2');
const check = fc.constantFrom(
  'inner-tube',
  'absorbent-change',
  'canister-change',
  'vaporizer-service',
  'machine-service',
  'vaporizer-hours',
  'ready',
  'unheard-of',
);
const result = fc.constantFrom('pass', 'pass', 'fail') as fc.Arbitrary<'pass' | 'fail'>;
const popOff = fc.constantFrom('open', 'open', 'shut', 'stuck') as fc.Arbitrary<'open' | 'shut' | 'stuck'>;
const measured = fc.constantFrom(
  {},
  { fall: undefined, taut: { steady: true, seconds: 10 } },
  { make_up: { flow_ml_min: 120.5, at_cmh2o: 20 } },
  { bag: { size_ml: 1000, id: 'bag-1' }, case: 'Fall "7"', leak: { ml_min: 31.25, at_least: true } },
);
const used = fc.record(
  {
    minutes: fc.constantFrom(45, 30, 22.5, 61.37, 120),
    agent: fc.constantFrom('isoflurane' as const, 'sevoflurane' as const),
    setting_percent: fc.constantFrom(0, 2, 2.5),
    case: fc.constantFrom('C-1', 'Müller 2'),
  },
  { requiredKeys: ['minutes'] },
);
const read = fc.oneof(
  fc.record({ psi: fc.constantFrom(1450, 0, 1812.5), new: fc.boolean() }),
  fc.record({ g: fc.constantFrom(800, 812.25, 851, 0), new: fc.boolean() }),
);

type Make = (on: string) => Entry;

const something: fc.Arbitrary<Make> = fc.oneof(
  fc.tuple(asset, check, result).map(
    ([a, c, r]): Make =>
      on =>
        signOff(on, a, c, r),
  ),
  fc.tuple(circuit, machine, popOff, result, measured).map(
    ([c, m, pop_off, r, more]): Make =>
      on =>
        hold(on, c, m, { ...more, pop_off, result: r } as object),
  ),
  fc.tuple(machine, circuit, used).map(
    ([m, c, more]): Make =>
      on =>
        usage(on, m, c, more),
  ),
  fc.tuple(machine, circuit, used).map(
    ([m, c, more]): Make =>
      on =>
        usage(on, m, c, more),
  ),
  fc.tuple(asset, read).map(
    ([a, more]): Make =>
      on =>
        reading(on, a, more),
  ),
  fc.constant<Make>(on => reading(on, 'theatre-1-charcoal', { g: 801.5, new: true })),
  fc.tuple(asset, result).map(
    ([a, r]): Make =>
      on =>
        supplyHold(on, a, r),
  ),
  asset.map(
    (a): Make =>
      on =>
        withdraw(on, a, 'cracked "valve"'),
  ),
  asset.map(
    (a): Make =>
      on =>
        giveBack(on, a),
  ),
  fc.tuple(circuit, machine).map(
    ([c, m]): Make =>
      on =>
        compliance(on, c, m),
  ),
);

const note = fc.constantFrom(
  undefined,
  undefined,
  'geprüft – übergeben 🐈',
  'says "pass"\\',
  '{"v":1,"kind":"correct","entry":"entry-000001"}',
  '","kind":"correct","entry":"x',
  'line\nbreak\u2028\u009b',
  'a\u0000b',
);

/** How the line of an entry is written, or made into something that is none. */
type Style = (entry: Entry) => string;

export const asWritten: Style = entry => {
  // The order in which the store writes its keys.
  const { v, id, at, station, kind, by, on, note, inventory, tool, prev, ...content } = entry;
  const noted = note === undefined ? {} : { note };
  return lineText({ v, id, at, station, kind, by, on, ...noted, ...content, n: 7, inventory, tool, prev });
};
const escaped = (text: string, from: string): string =>
  text.replace(from, [...from].map(c => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`).join(''));
const with_ =
  (change: (line: string) => string): Style =>
  entry =>
    change(asWritten(entry));
const changed =
  (more: object): Style =>
  entry =>
    asWritten({ ...entry, ...more } as Entry);

const oddStyles: readonly Style[] = [
  entry => JSON.stringify(Object.fromEntries(Object.entries(entry).toReversed())),
  entry => JSON.stringify(entry, null, 1).replaceAll('\n', ' '),
  entry => JSON.stringify(entry),
  entry => escaped(asWritten(entry), `"${entry.id.slice(0, 3)}`.slice(1)),
  entry => escaped(asWritten(entry), entry.kind),
  with_(line => escaped(line, 'kind')),
  with_(line => escaped(line, 'asset')),
  with_(line => line.replace('{', '{"kind":"correct","entry":"entry-000002",')),
  with_(line => line.replace('"v":1', '"v":1,"result":"fail"')),
  with_(line => `${line} \t`),
  with_(line => `${line}\r`),
  with_(line => ` ${line}`),
  with_(line => line.replace('"minutes":45', '"minutes":4.5e1').replace('"psi":1450', '"psi":1450.0')),
  with_(line => line.replace('"n":7,', '')),
  changed({ by: 'ä'.repeat(200) }),
  changed({ note: 'é'.repeat(4000) }),
];

const noEntries: readonly Style[] = [
  with_(line => line.slice(0, -5)),
  with_(line => line.replace('"v":1', '"v":2')),
  with_(line => line.replace('"by"', '"By"')),
  with_(line => line.replace('"tool"', '"extra":1,"tool"')),
  with_(line => line.replace(/"prev":"./, '"prev":"G')),
  with_(line => line.replace(/"inventory":"./, '"inventory":"')),
  with_(line => line.replace('"n":7', '"n":0')),
  with_(line => line.replace('"n":7', '"n":07')),
  with_(line => line.replace('"n":7', '"n":7.5')),
  with_(line => line.replace('"minutes":', '"minutes":-')),
  with_(line => line.replace('"minutes":', '"minutes":2000')),
  with_(line => line.replace('"from_cmh2o":', '"from_cmh2o":9')),
  with_(line => line.replace('"result":"pass"', '"result":"passed"')),
  with_(line => line.replace('"asset":"', '"asset":"9')),
  with_(line => line.replace('"station":"', '"station":"-')),
  with_(line => line.replaceAll('T0', 'T6')),
  with_(line => line.replace('"on":"2026-02-28', '"on":"2026-02-30')),
  with_(line => line.replaceAll('2026-11-2', '2026-13-2')),
  with_(line => line.replace('"note":"', '"note":"\t')),
  changed({ by: '' }),
  changed({ by: 'ä'.repeat(201) }),
  changed({ note: 'e'.repeat(4001) }),
  changed({ id: 'short' }),
  () => '',
  () => 'null',
  () => '{"v":1}',
  () => '<<<<<<< ours',
];

export interface Written {
  readonly entry: Entry;
  readonly line: string;
}

interface Plan {
  readonly make: Make | 'correct';
  readonly at: string;
  readonly doneAt: string | null;
  readonly isBareDate: boolean;
  readonly note: string | undefined;
  readonly station: number;
  readonly style: Style;
  readonly target: number;
}

const plan = (corrections: number, strange: number): fc.Arbitrary<Plan> =>
  fc.record({
    make: fc.oneof(
      { weight: 20, arbitrary: something as fc.Arbitrary<Make | 'correct'> },
      { weight: corrections, arbitrary: fc.constant('correct' as const) },
    ),
    at: instant,
    doneAt: fc.option(instant, { freq: 3 }),
    isBareDate: fc.boolean(),
    note,
    station: fc.integer({ min: 0, max: 2 }),
    style: fc.oneof(
      { weight: 20, arbitrary: fc.constant(asWritten) },
      { weight: strange, arbitrary: fc.constantFrom(...oddStyles) },
      { weight: strange, arbitrary: fc.constantFrom(...noEntries) },
    ),
    target: fc.nat(),
  });

/** Lines of a record in the order in which they were written; corrections cancel one of the others, or one another. */
export function history(size: { minLength: number; maxLength: number }): fc.Arbitrary<Written[]> {
  const plans = fc
    .record({ corrections: fc.constantFrom(0, 2, 20), strange: fc.constantFrom(0, 3) })
    .chain(({ corrections, strange }) => fc.array(plan(corrections, strange), size));
  return plans.map(all => {
    const entries: Entry[] = [];
    for (const [i, { make, at, doneAt, isBareDate, note: text, station, target }] of all.entries()) {
      const on = doneAt ?? at;
      const bare = isBareDate && make !== 'correct' && doneAt !== null ? on.slice(0, 10) : on;
      const made =
        make === 'correct'
          ? correct(bare, `entry-${String(target % all.length).padStart(6, '0')}`)
          : make(bare);
      const id = `entry-${String(i).padStart(6, '0')}`;
      const noted = text === undefined ? {} : { note: text };
      entries.push({ ...made, id, at, on: bare, station: STATIONS[station] ?? 'prep', ...noted } as Entry);
    }
    return entries.map((entry, i) => ({ entry, line: all[i]?.style(entry) ?? '' }));
  });
}

/** Writes a record of a folder per station and a file per year. @param tail - bytes behind the last newline of each file. */
export function writeRecord(dir: string, lines: readonly Written[], tail: string): void {
  const files = new Map<string, string[]>();
  for (const { entry, line } of lines) {
    const file = path.join(dir, entry.station, `${entry.at.slice(0, 4)}.jsonl`);
    files.set(file, [...(files.get(file) ?? []), line]);
  }
  mkdirSync(dir, { recursive: true });
  for (const [file, own] of files) {
    mkdirSync(path.dirname(file), { recursive: true });
    writeFileSync(file, own.map(line => `${line}\n`).join('') + tail);
  }
}
