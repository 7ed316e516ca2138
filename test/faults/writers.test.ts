/** Several writers on one station: none gets in beside another, whatever is killed, paused, or of another version. */
import { chmodSync, mkdtempSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { FaultRecord, pause, RunningDriver, runDriver, useDriver } from './kit.ts';

const driver = useDriver();
/** Another version of Node, to be tried against this one: HOLDFAST_OTHER_NODE=/path/to/node. */
const otherNode = process.env.HOLDFAST_OTHER_NODE;

const NOBODY = 65534;

function newRecord(): FaultRecord {
  return new FaultRecord(mkdtempSync(path.join(driver.folder, 'record-')));
}

describe('writers on one station', () => {
  it('8 processes write 200 entries each: none is lost, torn or forked', async () => {
    const record = newRecord();
    const writers = Array.from(
      { length: 8 },
      () => new RunningDriver(driver.script, [...record.args, '200', '--wait', '120000']),
    );
    await Promise.all(writers.map(({ ended }) => ended));
    const said = writers.flatMap(writer => writer.said);
    expect(said.filter(line => !line.startsWith('recorded '))).toEqual([]);
    expect(new Set(record.ids())).toEqual(new Set(said.map(line => line.split(' ')[1])));
    expect(record.lines()).toHaveLength(1600);
    record.expectSound();
  });

  it('writers are killed at random times, 200 times: what was said to be recorded is, and nothing forks', async () => {
    const record = newRecord();
    const start = () => new RunningDriver(driver.script, [...record.args, '100000', '--wait', '60000']);
    const writers = Array.from({ length: 4 }, start);
    const said: string[] = [];
    for (let round = 0; round < 200; round++) {
      await pause(20 + Math.random() * 200);
      const victim = Math.floor(Math.random() * writers.length);
      await writers[victim]?.kill();
      said.push(...(writers[victim]?.said ?? []));
      writers[victim] = start();
    }
    for (const writer of writers) {
      await writer.kill();
      said.push(...writer.said);
    }
    const ids = new Set(record.ids());
    expect(said.filter(line => !line.startsWith('recorded '))).toEqual([]);
    expect(said.length).toBeGreaterThan(200);
    expect(said.filter(line => !ids.has(line.split(' ')[1] ?? ''))).toEqual([]);
    // At most the one entry that a killed writer had written and not yet spoken of.
    expect(ids.size - said.length).toBeLessThanOrEqual(204);
    // A tail may be torn at this moment; the next writer sets it aside.
    expect(runDriver(driver.script, [...record.args, '1']).said).toHaveLength(1);
    record.expectSound();
  });

  it('the next writer is in within 2 s of the death of the holder', async () => {
    const record = newRecord();
    const holder = new RunningDriver(driver.script, [...record.args, '--hold', '600000']);
    await holder.saying('holding');
    const next = new RunningDriver(driver.script, [...record.args, '1']);
    await pause(500);
    expect(next.said).toEqual([]);
    const killed = performance.now();
    await holder.kill();
    await next.ended;
    expect(performance.now() - killed).toBeLessThan(2000);
    expect(next.said).toMatchObject([expect.stringMatching(/^recorded /)]);
  });

  it('a holder that is paused keeps the station, and a waiting writer gives up with exit 3', async () => {
    const record = newRecord();
    const holder = new RunningDriver(driver.script, [...record.args, '--hold', '600000']);
    await holder.saying('holding');
    holder.child.kill('SIGSTOP');
    const began = performance.now();
    const { said, status } = runDriver(driver.script, [...record.args, '1']);
    expect(performance.now() - began).toBeGreaterThan(10_000);
    expect({ said, status }).toEqual({ said: ['refused 3 record_busy'], status: 3 });
    expect(record.lines()).toEqual([]);
    await holder.kill();
  });

  it.skipIf(process.getuid?.() !== 0)('a record of another user is refused for writing, and read', () => {
    const record = newRecord();
    runDriver(driver.script, [...record.args, '1']);
    for (const folder of [driver.folder, path.dirname(record.dir)]) chmodSync(folder, 0o755);
    const before = record.lines();
    const { said, status } = runDriver(driver.script, [...record.args, '1'], { uid: NOBODY });
    expect({ said, status }).toEqual({ said: ['refused 3 record_read_only'], status: 3 });
    chmodSync(record.folder, 0o700);
    expect(runDriver(driver.script, [...record.args, '1'], { uid: NOBODY }).said).toEqual([
      'refused 3 record_not_readable',
    ]);
    expect(record.lines()).toEqual(before);
  });

  it.skipIf(otherNode === undefined)('two versions of Node exclude each other', async () => {
    const pairs = [
      [process.execPath, otherNode],
      [otherNode, process.execPath],
    ] as const;
    for (const [holding, waiting] of pairs) {
      const record = newRecord();
      const holder = new RunningDriver(driver.script, [...record.args, '--hold', '600000'], holding);
      await holder.saying('holding');
      const tried = runDriver(driver.script, [...record.args, '1', '--wait', '500'], { node: waiting ?? '' });
      expect(tried.said, `${holding} holds, ${waiting} waits`).toEqual(['refused 3 record_busy']);
      await holder.kill();
      expect(runDriver(driver.script, [...record.args, '1'], { node: waiting ?? '' }).said).toHaveLength(1);
      record.expectSound();
    }
  });
});
