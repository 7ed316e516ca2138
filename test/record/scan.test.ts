import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { practiceDue } from '../../src/due/practice-due.ts';
import type { Entry } from '../../src/generated/entry.ts';
import { lineText } from '../../src/record/line-text.ts';
import { readRecord } from '../../src/record/read.ts';
import { scanRecord } from '../../src/record/scan/scan.ts';
import { seenIn } from '../due/seen.ts';
import { correct, giveBack, reading, signOff, usage, withdraw } from './entries.ts';
import { asWritten, history, scanInventory, type Written, writeRecord } from './scan-kit.ts';

const TODAY = '2026-11-25';
const inventory = scanInventory();

/** Everything that a due report shows of a record, read the plain way or scanned. */
function reportOf(dir: string, asOf: string, { pruneAt }: { pruneAt: number | undefined }) {
  const scan = scanRecord(dir, { inventory, today: TODAY, asOf, pruneAt });
  const plain = readRecord(dir, { timeZone: inventory.practice.timeZone, checkChain: false });
  const seen = seenIn(inventory, plain.entries, { today: TODAY, asOf });
  const common = {
    inventory,
    today: TODAY,
    asOf,
    soonDays: 7,
    filter: { assets: [], checks: [], states: [] },
  };
  const shown = (read: typeof scan | typeof plain, said: typeof seen) => ({
    due: practiceDue({
      ...common,
      record: {
        folder: 'larkhill/record',
        state: 'read',
        damage: [],
        stations: read.stations,
        standing: said.standing,
        future: said.future,
      },
    }),
    damage: read.damage,
    cautions: read.cautions,
    exists: read.exists,
  });
  return { scanned: shown(scan, scan), plain: shown(plain, seen), entries: plain.entries.length };
}

function inFolder<T>(work: (dir: string) => T): T {
  const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-scan-'));
  try {
    return work(path.join(folder, 'record'));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function expectSame(lines: readonly Written[], { asOf, tail, pruneAt }: Given): number {
  return inFolder(dir => {
    writeRecord(dir, lines, tail);
    const { scanned, plain, entries } = reportOf(dir, asOf, { pruneAt });
    expect(scanned).toEqual(plain);
    return entries;
  });
}

interface Given {
  readonly asOf: string;
  readonly tail: string;
  readonly pruneAt: number | undefined;
}

const given: fc.Arbitrary<Given> = fc.record({
  asOf: fc.constantFrom(TODAY, TODAY, '2026-11-24', '2026-03-01', '2026-12-24'),
  tail: fc.constantFrom(...Array.from({ length: 30 }, () => ''), '{"v":1,"id":"entry-9', '{}'),
  pruneAt: fc.constantFrom(undefined, 1, 4),
});

describe('scanRecord', () => {
  it('says of any record what the plain reader says', () => {
    fc.assert(
      fc.property(history({ minLength: 1, maxLength: 60 }), given, (lines, how) => {
        expectSame(lines, how);
      }),
      { numRuns: 400 },
    );
  });

  it('says the same of long records, whose lines stand across blocks', () => {
    fc.assert(
      fc.property(history({ minLength: 2000, maxLength: 3000 }), given, (lines, how) => {
        expect(expectSame(lines, how)).toBeGreaterThan(1000);
      }),
      { numRuns: 2 },
    );
  });

  it('knows of a gap in what it kept of an asset, also where another station fills in what came before', () => {
    // One station returns it six times, and the last four are cancelled; what is kept of them is those four. The other
    // station withdrew it before all that, so that without what was dropped it would still be out of service.
    const at = (hour: number) => `2026-11-24T${String(hour).padStart(2, '0')}:00:00+00:00`;
    const returns = [10, 11, 12, 13, 14, 15].map(hour => ({
      ...giveBack(at(hour), 'bain-1'),
      station: 'prep',
    }));
    const cancelled = returns.slice(-4).map(({ id }) => ({ ...correct(at(16), id), station: 'prep' }));
    const before = [giveBack(at(7), 'bain-1'), withdraw(at(8), 'bain-1')].map(entry => ({
      ...entry,
      station: 'theatre',
    }));
    const lines = [...returns, ...cancelled, ...before].map(entry => ({ entry, line: lineText(entry) }));
    expectSame(lines, { asOf: TODAY, tail: '', pruneAt: 6 });
  });

  // What follows needs the record read a second time, since what was let go of counts after all.
  const at = (hour: number) => `2026-11-24T${String(hour).padStart(2, '0')}:00:00+00:00`;
  const inOneStation = (entries: readonly Entry[]): Written[] =>
    entries.map(entry => ({ ...entry, station: 'prep' })).map(entry => ({ entry, line: asWritten(entry) }));

  it('finds what stood before the newest answers of a check, where these are all cancelled', () => {
    const passes = [7, 8, 9, 10, 11, 12].map(hour => signOff(at(hour), 'bain-1', 'inner-tube'));
    const cancelled = passes.slice(1).map(({ id }) => correct(at(14), id));
    expectSame(inOneStation([...passes, ...cancelled]), { asOf: TODAY, tail: '', pruneAt: undefined });
  });

  it('finds a withdrawal before the last returns, where these are all cancelled', () => {
    const returns = [9, 10, 11, 12].map(hour => giveBack(at(hour), 'bain-1'));
    const lines = [
      withdraw(at(8), 'bain-1', 'a split hose'),
      ...returns,
      ...returns.map(({ id }) => correct(at(14), id)),
    ];
    inFolder(dir => {
      writeRecord(dir, inOneStation(lines), '');
      const { standing } = scanRecord(dir, { inventory, today: TODAY, asOf: TODAY, pruneAt: 5 });
      expect(standing.assets.get('bain-1')?.withdrawn).toEqual({
        done: { order: 0, date: '2026-11-24' },
        because: 'a split hose',
      });
    });
    expectSame(inOneStation(lines), { asOf: TODAY, tail: '', pruneAt: 5 });
  });

  it('finds uses and weighings before the last renewals, where these are cancelled', () => {
    const used = (hour: number) =>
      usage(at(hour), 'theatre-1', 'y-piece-1', { minutes: 200, agent: 'isoflurane', setting_percent: 2 });
    const renewed = (hour: number) => [
      signOff(at(hour), 'theatre-1-absorber', 'absorbent-change'),
      signOff(at(hour), 'theatre-1-iso', 'vaporizer-hours'),
      signOff(at(hour), 'theatre-1', 'machine-service'),
      reading(at(hour), 'theatre-1-charcoal', { new: true, g: 800 }),
    ];
    const second = renewed(9);
    const third = renewed(11);
    const first = [...renewed(6), used(7), used(8), reading(at(8), 'theatre-1-charcoal', { g: 812 })];
    const lines = [...first, ...second, used(10), ...third, used(12), used(13)];
    const cancelled = [...second, ...third].map(({ id }) => correct(at(14), id));
    inFolder(dir => {
      writeRecord(dir, inOneStation([...lines, ...cancelled]), '');
      const { standing } = scanRecord(dir, { inventory, today: TODAY, asOf: TODAY, pruneAt: 1 });
      for (const id of ['theatre-1', 'theatre-1-absorber', 'theatre-1-iso', 'theatre-1-charcoal'])
        expect(standing.assets.get(id)?.uses, id).toHaveLength(5);
      expect(standing.assets.get('theatre-1-charcoal')?.readings.map(({ g }) => g)).toEqual([800, 812]);
    });
    for (const pruneAt of [1, 2, 4, undefined]) {
      expectSame(inOneStation([...lines, ...cancelled]), { asOf: TODAY, tail: '', pruneAt });
      expectSame(inOneStation(lines), { asOf: TODAY, tail: '', pruneAt });
    }
  });

  it('numbers the last complete line of a station as its head, whatever stands behind or around it', () => {
    const line = asWritten({ ...signOff(at(7), 'bain-1', 'inner-tube'), station: 'prep' });
    const long = 'x'.repeat(300_000);
    // Longer than any line that is read at all.
    const endless = 'x'.repeat(17 * 1024 * 1024);
    for (const texts of [
      [`${line}\n`, ''],
      [`${line}\n`, '{"v":1,"id":"entry-9'],
      [`${line}\n${long}\n`, ''],
      [`${long}\n`, ''],
      [`${line}\n${endless}\n`, ''],
      [`${endless}\n${line}\n`, ''],
      [`${long}\n${line}\n${long}`, ''],
      ['{"v":1', '{"v":1'],
      ['', ''],
      ['', `${line}\n`],
    ])
      inFolder(dir => {
        mkdirSync(path.join(dir, 'prep'), { recursive: true });
        for (const [i, text] of texts.entries())
          writeFileSync(path.join(dir, 'prep', `${2026 + i}.jsonl`), text);
        const { scanned, plain } = reportOf(dir, TODAY, { pruneAt: undefined });
        expect(scanned).toEqual(plain);
      });
  });

  it('says of a folder that is not there that there is no record', () => {
    inFolder(dir => {
      const { scanned, plain } = reportOf(dir, TODAY, { pruneAt: undefined });
      expect(scanned).toEqual(plain);
      expect(scanned.exists).toBe(false);
    });
  });

  it('takes bytes that are no UTF-8 as the plain reader does', () => {
    fc.assert(
      fc.property(
        history({ minLength: 5, maxLength: 20 }),
        fc.uint8Array({ min: 0x0b, minLength: 1 }),
        (lines, bytes) => {
          inFolder(dir => {
            const text = lines.map(({ line }) => line.replace('"by":"', '"by":"@'));
            const file = path.join(dir, 'prep', '2026.jsonl');
            mkdirSync(path.dirname(file), { recursive: true });
            const parts = `${text.join('\n')}\n`.split('@');
            writeFileSync(
              file,
              Buffer.concat(
                parts.flatMap((part, i) => (i === 0 ? [Buffer.from(part)] : [bytes, Buffer.from(part)])),
              ),
            );
            const { scanned, plain } = reportOf(dir, TODAY, { pruneAt: undefined });
            expect(scanned).toEqual(plain);
          });
        },
      ),
      { numRuns: 60 },
    );
  });
});
