/** Verify against every change of one byte and of one line that there is. */
import { closeSync, openSync, writeSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { verifyRecord } from '../../src/record/verify.ts';
import { TestRecord } from './store-kit.ts';

const LINES = 50;
const NEWLINE = 0x0a;
const SPACE = 0x20;

describe('verify', () => {
  it('notices every change of a single byte', async () => {
    const record = new TestRecord();
    await record.fill(LINES);
    const bytes = record.bytes();
    const missed: string[] = [];
    const fd = openSync(record.file(), 'r+');
    for (const [at, byte] of bytes.entries()) {
      // A flipped bit, a newline, a space in turn.
      const changed = [byte ^ (1 << (at % 8)), NEWLINE, SPACE][at % 3] ?? 0;
      if (changed === byte) continue;
      writeSync(fd, Buffer.of(changed), 0, 1, at);
      if (verifyRecord(record.dir, record).damage.length === 0) missed.push(`${changed} at ${at}`);
      writeSync(fd, Buffer.of(byte), 0, 1, at);
    }
    closeSync(fd);
    expect(missed).toEqual([]);
    expect(verifyRecord(record.dir, record).damage).toEqual([]);
  });

  it('notices every removal, swap and duplication of single lines, and calls them by name', async () => {
    const record = new TestRecord();
    await record.fill(LINES);
    const lines = record.lines();
    const codes = (changed: string[]) => {
      record.write(changed);
      return verifyRecord(record.dir, record).damage.map(({ code }) => code);
    };
    for (let i = 0; i < LINES; i++) {
      const last = i === LINES - 1;
      expect(codes(lines.toSpliced(i, 1)), `removal of line ${i + 1}`).toEqual([
        last ? 'damage_cut_tail' : 'damage_lines_removed',
      ]);
      for (let at = 0; at <= LINES; at++) {
        const found = codes(lines.toSpliced(at, 0, lines[i] ?? ''));
        // Beside itself it is the same record whichever of the two is the copy.
        expect(found, `line ${i + 1} again at ${at + 1}`).toContain('damage_line_repeated');
      }
      for (let j = i + 1; j < LINES; j++) {
        const swapped = lines.with(i, lines[j] ?? '').with(j, lines[i] ?? '');
        const found = codes(swapped);
        expect(found.length, `lines ${i + 1} and ${j + 1} swapped`).toBeGreaterThan(0);
        expect(
          found.every(code => code === 'damage_line_moved'),
          `${i + 1} ${j + 1}: ${found}`,
        ).toBe(true);
      }
    }
  });
});
