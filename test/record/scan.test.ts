import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { practiceDue } from '../../src/due/practice-due.ts';
import { lineText } from '../../src/record/line-text.ts';
import { readRecord } from '../../src/record/read.ts';
import { scanRecord } from '../../src/record/scan/scan.ts';
import { seenIn } from '../due/seen.ts';
import { correct, giveBack, withdraw } from './entries.ts';
import { history, scanInventory, type Written, writeRecord } from './scan-kit.ts';

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
