/** What is said of each kind of damage: where, what was expected, what was found, and what to do. */
import { appendFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { RECORD_STORE_CODES } from '../../src/problem/codes/record-store.ts';
import { FIRST_PREV, lineHash } from '../../src/record/chain.ts';
import { readRecord } from '../../src/record/read.ts';
import { verifyRecord } from '../../src/record/verify.ts';
import { TestRecord, TIME_ZONE, usage } from './store-kit.ts';

const prevOf = (line = '{}'): string => JSON.parse(line).prev;
const hashOf = (line = ''): string => lineHash(Buffer.from(line));
const damageOf = (record: TestRecord, stateDir: string | null = null) =>
  verifyRecord(record.dir, { stateDir }).damage;
const wordsOf = (record: TestRecord) => damageOf(record).map(({ code, message }) => `${code}: ${message}`);

/** A record of so many lines. */
async function recordOf(count: number): Promise<[record: TestRecord, lines: string[]]> {
  const record = new TestRecord();
  await record.fill(count);
  return [record, record.lines()];
}

describe('damage', () => {
  it('names file, line, byte and remedy of a changed line', async () => {
    const [record, lines] = await recordOf(4);
    const changed = (lines[1] ?? '').replace('"minutes":2', '"minutes":9');
    record.write(lines.with(1, changed));
    expect(damageOf(record)).toEqual([
      {
        code: 'damage_line_changed',
        station: 'prep',
        file: record.file(),
        line: 2,
        column: null,
        byte: (lines[0] ?? '').length + 1,
        message: 'line 2 is not as it was written: the line after it holds another hash',
        remedy: RECORD_STORE_CODES.damage_line_changed.remedy,
        expected: prevOf(lines[2]),
        found: hashOf(changed),
      },
    ]);
  });

  it('says that it cannot tell a change from a removal where lines bear no numbers', async () => {
    const [record, lines] = await recordOf(4);
    const bare: string[] = [];
    for (const line of lines) {
      const { n: _, ...entry } = JSON.parse(line);
      bare.push(JSON.stringify({ ...entry, prev: bare.length === 0 ? FIRST_PREV : hashOf(bare.at(-1)) }));
    }
    record.write(bare);
    expect(damageOf(record)).toEqual([]);
    record.write(bare.toSpliced(1, 1));
    expect(wordsOf(record)).toEqual([
      'damage_line_changed: line 1 is not as it was written: the line after it holds another hash, or lines after it were removed',
    ]);
  });

  it('names a prev that was changed, where the rest goes on', async () => {
    const [record, lines] = await recordOf(3);
    record.write(lines.with(1, (lines[1] ?? '').replace(prevOf(lines[1]), 'f'.repeat(64))));
    expect(damageOf(record)).toMatchObject([
      {
        code: 'damage_line_changed',
        line: 2,
        message: 'line 2 is not as it was written: its prev was changed',
        expected: hashOf(lines[0]),
        found: 'f'.repeat(64),
      },
    ]);
    record.write(lines.with(0, (lines[0] ?? '').replace(FIRST_PREV, 'f'.repeat(64))));
    expect(damageOf(record)).toMatchObject([{ line: 1, expected: FIRST_PREV, found: 'f'.repeat(64) }]);
  });

  it('counts lines that are missing, from the beginning and in between', async () => {
    const [record, lines] = await recordOf(6);
    record.write(lines.toSpliced(2, 1));
    expect(damageOf(record)).toMatchObject([
      {
        code: 'damage_lines_removed',
        line: 3,
        message: 'a line is missing between line 2 and line 3',
        expected: `prev ${hashOf(lines[1])}`,
        found: `prev ${hashOf(lines[2])} in line 3`,
      },
    ]);
    record.write(lines.slice(2));
    expect(damageOf(record)).toMatchObject([
      {
        code: 'damage_lines_removed',
        line: 1,
        message: '2 lines are missing between the beginning and line 1',
        expected: `prev ${FIRST_PREV}`,
        found: `prev ${hashOf(lines[1])} in line 1`,
      },
    ]);
    // A line that was changed to no entry, and one taken out beside it.
    record.write(lines.toSpliced(2, 2, 'hello'));
    expect(wordsOf(record)).toEqual([
      'damage_line_changed: line 3 is not as it was written: not JSON',
      'damage_lines_removed: a line is missing between line 2 and line 4',
    ]);
  });

  it('says of a first line without a number that it is not the first, or was changed', async () => {
    const [record, lines] = await recordOf(1);
    const { n: _, ...entry } = JSON.parse(lines[0] ?? '');
    record.write([JSON.stringify({ ...entry, prev: 'f'.repeat(64) })]);
    expect(damageOf(record)).toMatchObject([
      {
        code: 'damage_lines_removed',
        message: 'line 1 is not the first that was written, or its prev was changed',
        expected: `prev ${FIRST_PREV}`,
        found: `prev ${'f'.repeat(64)}`,
      },
    ]);
  });

  it('names a line that stands twice, beside itself and in another year', async () => {
    const [record, lines] = await recordOf(3);
    record.write(lines.toSpliced(3, 0, lines[0] ?? ''));
    expect(damageOf(record)).toMatchObject([
      {
        code: 'damage_line_repeated',
        line: 4,
        message: 'line 4 stands twice: it is the same as line 1',
        expected: `prev ${hashOf(lines[2])}`,
        found: `prev ${FIRST_PREV}`,
      },
    ]);
    record.write(lines);
    await record.append(usage(), { now: new Date('2027-01-02T10:00:00Z') });
    appendFileSync(record.file(2027), `${lines[1]}\n`);
    expect(wordsOf(record)).toEqual([
      'damage_line_repeated: line 2 stands twice: it is the same as line 2 of 2026.jsonl',
    ]);
  });

  it('names a line in the wrong place, and what it follows', async () => {
    const [record, lines] = await recordOf(4);
    const [a = '', b = '', c = '', d = ''] = lines;
    // b follows a again, which the walk has not forgotten.
    record.write([a, c, b, d]);
    expect(wordsOf(record)).toEqual([
      'damage_line_moved: line 2 stands in the wrong place: it follows line 3',
      'damage_line_moved: line 4 stands in the wrong place: it follows line 2',
    ]);
    expect(damageOf(record)[0]).toMatchObject({
      line: 2,
      expected: `prev ${hashOf(a)}`,
      found: `prev ${hashOf(b)}`,
    });
  });

  it('names two lines that follow the same one', async () => {
    const [record, lines] = await recordOf(2);
    await record.append(usage({ note: 'here' }));
    const here = record.lines().at(-1) ?? '';
    record.write(lines);
    await record.append(usage({ note: 'there' }));
    record.write([...lines, here, ...record.lines().slice(2)]);
    expect(damageOf(record)).toMatchObject([
      {
        code: 'damage_fork',
        line: 4,
        message: 'two entries follow line 2: line 3 and line 4; two writers used this station apart',
        expected: `prev ${hashOf(here)}`,
        found: `prev ${hashOf(lines[1])}`,
      },
    ]);
  });

  it('names a line that is no entry, and a file that ends in the middle of one', async () => {
    const [record, lines] = await recordOf(2);
    record.write(lines.toSpliced(1, 0, 'hello'));
    expect(damageOf(record)).toMatchObject([
      {
        code: 'damage_foreign_line',
        line: 2,
        byte: (lines[0] ?? '').length + 1,
        message: 'line 2 is no entry of the record: not JSON',
        expected: 'an entry',
        found: 'not JSON',
      },
    ]);
    record.write(lines);
    const { length } = record.bytes();
    appendFileSync(record.file(), '{"v":1');
    expect(damageOf(record)).toMatchObject([
      {
        code: 'damage_torn_tail',
        station: 'prep',
        line: 3,
        byte: length,
        message: 'the file ends in the middle of line 3, after 6 bytes of it',
        expected: 'a newline at the end',
        found: '6 bytes without a newline',
      },
    ]);
  });

  it('names what an entry says against the line before it', async () => {
    const [record, lines] = await recordOf(2);
    const entry = JSON.parse(lines[1] ?? '');
    record.write([lines[0] ?? '', JSON.stringify({ ...entry, n: 7 })]);
    expect(damageOf(record)).toMatchObject([
      {
        code: 'damage_contradiction',
        line: 2,
        message: 'line 2 contradicts itself or the line before: expected line number 2, found line number 7',
        expected: 'line number 2',
        found: 'line number 7',
      },
    ]);
  });

  it('stands in the order of the lines', async () => {
    const [record, lines] = await recordOf(8);
    const changed = (lines[5] ?? '').replace('"minutes":6', '"minutes":66');
    record.write(lines.with(5, changed).toSpliced(2, 0, 'hello'));
    expect(damageOf(record).map(({ line }) => line)).toEqual([3, 7]);
  });

  it('says of a head that was given and is nowhere what there is instead', async () => {
    const [record, lines] = await recordOf(3);
    const head = 'e'.repeat(64);
    const given = (station: string | null, hash = head) =>
      verifyRecord(record.dir, { stateDir: null, heads: [{ station, head: hash }] }).damage;
    const place = { file: null, line: null, byte: null, code: 'damage_cut_tail' };
    expect(given(null)).toMatchObject([
      {
        ...place,
        station: null,
        message: `no line of the record has the hash ${head}: lines were cut off or changed`,
        expected: head,
        found: `prep ${hashOf(lines[2])}`,
      },
    ]);
    expect(given('prep')).toMatchObject([
      { ...place, station: 'prep', message: expect.stringContaining('no line of station prep has the hash') },
    ]);
    // One that stands in it, though not at its end, is witness enough; of another station it is not.
    expect(given(null, hashOf(lines[1]))).toEqual([]);
    expect(given('ward', hashOf(lines[1]))).toHaveLength(1);
    expect(given(null, FIRST_PREV)).toEqual([]);
  });

  it('says which remembered head to delete where lines were taken out on purpose', async () => {
    const [record, lines] = await recordOf(3);
    record.write(lines.slice(0, 2));
    const [cut] = damageOf(record, record.stateDir);
    expect(cut?.remedy.startsWith(RECORD_STORE_CODES.damage_cut_tail.remedy)).toBe(true);
    expect(cut?.remedy).toMatch(/ If they were taken out on purpose, delete .*-prep\.head\.$/);
    rmSync(path.join(record.dir, 'prep'), { recursive: true });
    expect(damageOf(record, record.stateDir)).toMatchObject([
      {
        station: 'prep',
        file: null,
        message: 'station prep is gone with all its lines',
        expected: hashOf(lines[2]),
        found: 'no folder',
        remedy: cut?.remedy,
      },
    ]);
  });
});

describe('a record that is read without its chain', () => {
  const read = (record: TestRecord) => readRecord(record.dir, { timeZone: TIME_ZONE, checkChain: false });

  it('gives what are entries, their places, and what is none', async () => {
    const [record, lines] = await recordOf(3);
    record.write(lines.with(1, 'hello'));
    appendFileSync(record.file(), '{"v"');
    const { entries, places, stations, damage } = read(record);
    expect(entries.map(({ id }) => id)).toEqual([lines[0], lines[2]].map(line => JSON.parse(line ?? '').id));
    expect(places).toEqual([
      { file: record.file(), line: 1, byte: 0 },
      { file: record.file(), line: 3, byte: (lines[0] ?? '').length + 1 + 'hello\n'.length },
    ]);
    expect(stations).toEqual([{ station: 'prep', head: hashOf(lines[2]), entries: 2 }]);
    expect(damage).toMatchObject([
      { code: 'damage_foreign_line', station: 'prep', line: 2, found: 'not JSON' },
      { code: 'damage_torn_tail', line: 4, message: 'the file ends in the middle of line 4' },
    ]);
  });

  it('notices no broken chain, which the other way does', async () => {
    const [record, lines] = await recordOf(3);
    record.write(lines.toSpliced(1, 1));
    expect(read(record).damage).toEqual([]);
    expect(readRecord(record.dir, { timeZone: TIME_ZONE }).damage).toHaveLength(1);
    writeFileSync(record.file(), '');
    expect(read(record).stations).toEqual([{ station: 'prep', head: FIRST_PREV, entries: 0 }]);
  });
});
