/** What the tests of the store share: a record in a folder of its own, entries, and ways to damage it. */
import { closeSync, ftruncateSync, mkdtempSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { onTestFinished } from 'vitest';
import { type Appended, type AppendRequest, appendEntry } from '../../src/record/append.ts';
import type { EntryDraft } from '../../src/record/draft.ts';

export const INVENTORY = '0123456789abcdef0123456789abcdef01234567';
export const NOW = new Date('2026-11-25T08:14:03Z');
export const TIME_ZONE = 'Europe/Dublin';

/** A folder that goes when the test is over. */
export function tempFolder(): string {
  const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-test-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A record that is not there yet, and a place to remember heads. */
export class TestRecord {
  readonly home = tempFolder();
  readonly dir = path.join(this.home, 'record');
  readonly stateDir = path.join(this.home, 'state', 'holdfast');

  append(draft: EntryDraft = usage(), more: Partial<AppendRequest> = {}): Promise<Appended> {
    const { dir: recordDir, stateDir } = this;
    return appendEntry({
      recordDir,
      station: 'prep',
      draft,
      now: NOW,
      timeZone: TIME_ZONE,
      stateDir,
      ...more,
    });
  }

  /** Appends so many entries, each of its own minute. */
  async fill(count: number, more: Partial<AppendRequest> = {}): Promise<void> {
    for (let i = 0; i < count; i++) {
      await this.append(usage({ minutes: i + 1 }), { now: new Date(NOW.getTime() + i * 60_000), ...more });
    }
  }

  file(year = 2026, station = 'prep'): string {
    return path.join(this.dir, station, `${year}.jsonl`);
  }

  bytes(year = 2026, station = 'prep'): Buffer {
    return readFileSync(this.file(year, station));
  }

  lines(year = 2026, station = 'prep'): string[] {
    return this.bytes(year, station).toString('utf8').split('\n').slice(0, -1);
  }

  write(lines: readonly string[], year = 2026, station = 'prep'): void {
    // In place: a file cut to nothing and written anew is flushed to the disk at once, thousands of times in these tests.
    const fd = openSync(this.file(year, station), 'r+');
    const bytes = Buffer.from(lines.map(line => `${line}\n`).join(''));
    writeSync(fd, bytes, 0, bytes.length, 0);
    ftruncateSync(fd, bytes.length);
    closeSync(fd);
  }
}

export function usage(more: Partial<Extract<EntryDraft, { kind: 'usage' }>> = {}): EntryDraft {
  return {
    kind: 'usage',
    by: 'A. Byrne',
    machine: 'theatre-1',
    circuit: 'bain-1',
    minutes: 45,
    flow_ml_min: 1750,
    inventory: INVENTORY,
    ...more,
  };
}

export function withdraw(
  asset: string,
  more: Partial<Extract<EntryDraft, { kind: 'withdraw' }>> = {},
): EntryDraft {
  return { kind: 'withdraw', by: 'A. Byrne', asset, because: 'cracked', inventory: INVENTORY, ...more };
}
