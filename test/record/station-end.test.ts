/** What the next entry follows, where the end of the station is not as this computer left it. */
import { appendFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { lineHash } from '../../src/record/chain.ts';
import { TestRecord, usage } from './store-kit.ts';

const hashOf = (line = ''): string => lineHash(Buffer.from(line));
const IN_2027 = new Date('2027-02-01T08:00:00Z');
const IN_2028 = new Date('2028-02-01T08:00:00Z');

/** The codes of what the next entry is written with. */
async function cautionsOf(record: TestRecord, now = new Date('2026-11-26T08:00:00Z')): Promise<string[]> {
  return (await record.append(usage(), { now })).cautions.map(({ code }) => code);
}

/** Written on another computer, of which this one remembers nothing. */
const elsewhere = (record: TestRecord) => ({ stateDir: path.join(record.home, 'elsewhere') });

describe('the end of a station', () => {
  it('is the last line there is, past the files of new years that stayed empty', async () => {
    const record = new TestRecord();
    await record.append();
    await record.append(usage(), { now: IN_2027 });
    writeFileSync(record.file(2028), '');
    const { entry } = await record.append(usage(), { now: IN_2028 });
    expect(entry).toMatchObject({ n: 3, prev: hashOf(record.lines(2027)[0]) });
  });

  it('has its torn tail set aside also where this computer remembers nothing of the station', async () => {
    const record = new TestRecord();
    await record.fill(2);
    const whole = record.bytes();
    appendFileSync(record.file(), '{"v":1');
    const { cautions } = await record.append(usage(), elsewhere(record));
    expect(cautions).toMatchObject([{ code: 'torn_tail_set_aside' }]);
    expect(record.bytes().subarray(0, whole.length)).toEqual(whole);
  });

  it('is no entry with its newline gone where more stands behind that entry', async () => {
    // A newline put there would leave a line that nobody wrote as the last.
    const record = new TestRecord();
    await record.fill(2);
    writeFileSync(record.file(), Buffer.concat([record.bytes().subarray(0, -1), Buffer.from('{"v":1')]));
    expect(await cautionsOf(record)).toEqual(['torn_tail_set_aside', 'last_head_missing']);
    expect(record.lines()).toHaveLength(2);
  });

  it('may be the line of another computer at the same byte of a newer file', async () => {
    const record = new TestRecord();
    await record.append();
    await record.append(usage(), { ...elsewhere(record), now: IN_2027 });
    expect(await cautionsOf(record, IN_2027)).toEqual([]);
    // What is remembered now stands in the second of two files.
    await record.append(usage(), { ...elsewhere(record), now: IN_2027 });
    expect(await cautionsOf(record, IN_2027)).toEqual([]);
  });
});

describe('the entry that this computer saw last', () => {
  /** One entry of this computer, one of another behind it, and what then happens to the first. */
  async function behindAnother(change: (line: string) => string): Promise<string[]> {
    const record = new TestRecord();
    await record.append(usage({ minutes: 45 }));
    await record.append(usage(), elsewhere(record));
    const [first = '', second = ''] = record.lines();
    record.write([change(first), second]);
    return cautionsOf(record);
  }

  it('is missed where its line was changed, although others came after it', async () => {
    expect(await behindAnother(line => line)).toEqual([]);
    expect(await behindAnother(line => line.replace('"minutes":45', '"minutes":54'))).toEqual([
      'last_head_missing',
    ]);
    expect(await behindAnother(line => `${line} `)).toEqual(['last_head_missing']);
  });

  it('is missed where the file of its year has gone, although a newer one is there', async () => {
    const record = new TestRecord();
    await record.append();
    await record.append(usage(), { ...elsewhere(record), now: IN_2027 });
    rmSync(record.file(2026));
    expect(await cautionsOf(record, IN_2027)).toEqual(['last_head_missing']);
  });

  it('is told by no number where its line had none', async () => {
    const record = new TestRecord();
    await record.append();
    const { n: _, ...bare } = JSON.parse(record.lines()[0] ?? '');
    record.write([JSON.stringify(bare)]);
    await record.append(usage(), elsewhere(record));
    rmSync(path.join(record.stateDir), { recursive: true });
    await record.append();
    record.write(record.lines().slice(0, 1));
    const { cautions } = await record.append();
    expect(cautions).toMatchObject([
      { code: 'last_head_missing', message: expect.stringContaining('(line ? of the station)') },
    ]);
  });
});
