/** What a person is told where an entry cannot be written, or is written with a caution, and what verify says of the end. */
import { appendFileSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { FIRST_PREV, lineHash } from '../../src/record/chain.ts';
import { memoryFile, recallHead, recallStations, rememberHead, stateFolder } from '../../src/record/head.ts';
import { readRecord } from '../../src/record/read.ts';
import { verifyRecord } from '../../src/record/verify.ts';
import { refusalIn } from './refused.ts';
import { NOW, TestRecord, TIME_ZONE, tempFolder, usage, withdraw } from './store-kit.ts';

const ID = '20261125-081403127-abcdef';
const hashOf = (line = ''): string => lineHash(Buffer.from(line));

async function refusalOf(promise: Promise<unknown>) {
  const { problems, exitCode } = await refusalIn(promise);
  const [first] = problems;
  return { exitCode, code: first?.code, message: first?.message, remedy: first?.remedy };
}

describe('an entry that is refused', () => {
  it('because its id is taken', async () => {
    const record = new TestRecord();
    await record.append(usage({ note: 'x' }), { id: ID });
    expect(await refusalOf(record.append(usage({ note: 'y' }), { id: ID }))).toEqual({
      exitCode: 2,
      code: 'entry_id_taken',
      message: `the entry ${ID} is in ${record.file()} already and says something else`,
      remedy: 'leave --id out',
    });
  });

  it('because its own reader would not take it', async () => {
    const record = new TestRecord();
    expect(await refusalOf(record.append(usage({ minutes: -1 })))).toEqual({
      exitCode: 2,
      code: 'entry_not_valid',
      message: expect.stringMatching(/^not recorded: minutes must be/),
      remedy: 'mend what the message names',
    });
  });

  it('because the last line is not as it was written, and why', async () => {
    const record = new TestRecord();
    await record.fill(2);
    const lines = record.lines();
    const [first = '', second = ''] = lines;
    const edited = second.replace('"minutes":2', '"minutes":3');
    for (const [last, why] of [
      ['hello', 'not JSON'],
      ['', 'an empty line'],
      [second.replace('"station":"prep"', '"station":"ward"'), 'it is of station ward'],
      [edited, `its hash was ${hashOf(second)} and is ${hashOf(edited)}`],
    ]) {
      record.write([first, last ?? '']);
      expect(await refusalOf(record.append())).toEqual({
        exitCode: 3,
        code: 'last_line_damaged',
        message: `not recorded: the last line of ${record.file()} (byte ${first.length + 1}) is not as it was written: ${why}`,
        remedy: 'run holdfast record verify, copy the file aside, and restore it from git or a backup',
      });
      expect(record.lines()).toHaveLength(2);
    }
    // Without anything remembered only what the line itself says can be seen.
    record.write([first, edited]);
    await record.append(usage(), { stateDir: null });
    expect(record.lines()).toHaveLength(3);
  });

  it('because the folder that should hold the record is not there', async () => {
    const record = new TestRecord();
    const system = record.append(usage(), { recordDir: path.join(record.home, 'none', 'record') });
    expect(await refusalOf(system)).toMatchObject({ exitCode: 3, code: 'record_missing' });
  });
});

describe('an entry that is written with a caution', () => {
  const told = async (record: TestRecord, more = {}) =>
    (await record.append(usage(), more)).cautions.map(({ code, file, message, remedy }) => ({
      code,
      file,
      message,
      remedy,
    }));

  it('because a torn tail was set aside', async () => {
    const record = new TestRecord();
    await record.fill(1);
    appendFileSync(record.file(), '{"v":1');
    const [caution] = await told(record);
    const [aside = ''] = readdirSync(path.dirname(record.file())).filter(name => name.includes('torn'));
    expect(caution).toEqual({
      code: 'torn_tail_set_aside',
      file: path.join(path.dirname(record.file()), aside),
      message: `${record.file()} ended in the middle of a line; its last 6 bytes were set aside in ${aside}`,
      remedy: 'if the command that wrote them did not report success, enter it anew',
    });
    expect(aside).toMatch(/^2026\.jsonl\.torn-20261125-081403000-[0-9a-z]{6}$/);
  });

  it('because a newline was put back', async () => {
    const record = new TestRecord();
    await record.fill(2);
    writeFileSync(record.file(), record.bytes().subarray(0, -1));
    expect(await told(record)).toEqual([
      {
        code: 'newline_restored',
        file: record.file(),
        message: `the newline behind the last entry of ${record.file()} had gone and was put back`,
        remedy: 'find the program that changed the file',
      },
    ]);
    // What is as long as the last entry, and is another text, is a torn tail.
    const other = new TestRecord();
    await other.fill(2);
    const whole = other.bytes().subarray(0, -1);
    writeFileSync(other.file(), Buffer.concat([whole.subarray(0, -1), Buffer.from('X')]));
    expect((await told(other)).map(({ code }) => code)).toContain('torn_tail_set_aside');
  });

  it('because the entry that was seen last is gone, as long as nobody puts it right', async () => {
    const record = new TestRecord();
    await record.fill(3);
    const lines = record.lines();
    record.write(lines.slice(0, 1));
    expect(await told(record)).toEqual([
      {
        code: 'last_head_missing',
        file: record.file(),
        message: 'the entry that this computer saw last (line 3 of the station) is no longer in the record',
        remedy:
          'run holdfast record verify, copy the file aside, and restore the missing lines from git or a backup',
      },
    ]);
    // Remembered on, also after the next entry, which is there.
    expect(await told(record)).toEqual([]);
    expect(recallHead(record.stateDir, record.dir, 'prep')?.missing).toMatchObject([
      { head: hashOf(lines[2]), n: 3, file: '2026.jsonl' },
    ]);
  });

  it('because a whole station is gone, or its files are empty', async () => {
    const record = new TestRecord();
    await record.fill(2);
    rmSync(record.file());
    expect((await told(record)).map(({ code, file }) => [code, file])).toEqual([
      ['last_head_missing', record.dir],
    ]);
    const emptied = new TestRecord();
    await emptied.fill(2);
    writeFileSync(emptied.file(), '');
    expect((await told(emptied)).map(({ code, file }) => [code, file])).toEqual([
      ['last_head_missing', emptied.file()],
    ]);
    expect(JSON.parse(emptied.lines()[0] ?? '')).toMatchObject({ n: 1, prev: FIRST_PREV });
  });

  it('not where lines of another computer came after the one that was seen last', async () => {
    const record = new TestRecord();
    await record.fill(2);
    await record.append(usage(), { stateDir: path.join(record.home, 'elsewhere') });
    expect(await told(record)).toEqual([]);
    // Also where they stand in a new year.
    const later = { now: new Date('2027-02-01T08:00:00Z') };
    await record.append(usage(), { ...later, stateDir: path.join(record.home, 'elsewhere') });
    expect(await told(record, later)).toEqual([]);
  });

  it('because its head could not be remembered', async () => {
    const record = new TestRecord();
    const stateDir = path.join(record.home, 'file', 'x');
    writeFileSync(path.join(record.home, 'file'), '');
    expect(await told(record, { stateDir })).toEqual([
      {
        code: 'head_not_kept',
        file: stateDir,
        message: expect.stringMatching(/^the record's head could not be remembered in .*x \(ENOTDIR\)$/),
        remedy: 'make that folder writable, or set XDG_STATE_HOME to one that is',
      },
    ]);
  });
});

describe('the number and the file of an entry', () => {
  it('goes on from the last one, from an older year too, and is left out where that has none', async () => {
    const record = new TestRecord();
    await record.fill(2);
    writeFileSync(record.file(2027), '');
    const { entry, file } = await record.append(usage(), { now: new Date('2027-01-02T08:00:00Z') });
    expect({ n: entry.n, prev: entry.prev, file }).toEqual({
      n: 3,
      prev: hashOf(record.lines(2026)[1]),
      file: record.file(2027),
    });
    const bare = new TestRecord();
    await bare.append();
    const { n: _, ...first } = JSON.parse(bare.lines()[0] ?? '');
    bare.write([JSON.stringify(first)]);
    const next = await bare.append(usage(), { stateDir: null });
    expect('n' in next.entry).toBe(false);
  });

  it('is remembered with its place', async () => {
    const record = new TestRecord();
    await record.fill(2);
    const [first = '', second = ''] = record.lines();
    expect(recallHead(record.stateDir, record.dir, 'prep')).toEqual({
      last: {
        head: hashOf(second),
        n: 2,
        file: '2026.jsonl',
        byte: first.length + 1,
        length: second.length,
      },
      missing: [],
    });
    const { entry, file, already } = await record.append(withdraw('bain-1'), { id: ID });
    expect({ id: entry.id, file, already }).toEqual({ id: ID, file: record.file(), already: false });
    const again = await record.append(withdraw('bain-1'), { id: ID, station: 'ward' });
    expect(again).toEqual({ entry, file, already: true, cautions: [] });
  });
});

describe('what is remembered of heads', () => {
  it('lies in the folder for the state of programs', () => {
    expect(stateFolder({ XDG_STATE_HOME: '/var/lib/state' })).toBe('/var/lib/state/holdfast');
    expect(stateFolder({ XDG_STATE_HOME: 'relative', HOME: '/home/a' })).toBe(
      '/home/a/.local/state/holdfast',
    );
    expect(stateFolder({ HOME: '/home/a' })).toBe('/home/a/.local/state/holdfast');
    for (const env of [{}, { HOME: '' }])
      expect(stateFolder(env)).toBe(path.join(homedir(), '.local/state/holdfast'));
  });

  it('is one file per station, under a name that the record’s path gives', async () => {
    const record = new TestRecord();
    await record.append();
    await record.append(usage(), { station: 'ward' });
    expect(recallStations(record.stateDir, record.dir).sort()).toEqual(['prep', 'ward']);
    const other = new TestRecord();
    await other.append(usage(), { stateDir: record.stateDir });
    expect(recallStations(record.stateDir, record.dir).sort()).toEqual(['prep', 'ward']);
    expect(recallStations(path.join(record.home, 'nothing'), record.dir)).toEqual([]);
    expect(recallStations(record.stateDir, path.join(record.home, 'nothing'))).toEqual([]);
    writeFileSync(memoryFile(record.stateDir, record.dir, 'No Station'), '');
    writeFileSync(`${memoryFile(record.stateDir, record.dir, 'x')}.new`, '');
    expect(recallStations(record.stateDir, record.dir).sort()).toEqual(['prep', 'ward']);
    expect(memoryFile(record.stateDir, record.dir, 'prep')).toMatch(/\/[0-9a-f]{16}-prep\.head$/);
  });

  it('is not believed where its own hash does not agree, or a part is no head', async () => {
    const record = new TestRecord();
    await record.fill(2);
    const file = memoryFile(record.stateDir, record.dir, 'prep');
    const text = readFileSync(file, 'utf8');
    expect(text.length % 512).toBe(0);
    expect(text.endsWith('\n')).toBe(true);
    writeFileSync(file, text.replace('"n":2', '"n":3'));
    expect(recallHead(record.stateDir, record.dir, 'prep')).toBeNull();
    writeFileSync(file, '');
    expect(recallHead(record.stateDir, record.dir, 'prep')).toBeNull();
    const sealed = (content: unknown) => {
      const json = JSON.stringify(content);
      writeFileSync(file, `${hashOf(json)} ${json}\n`);
      return recallHead(record.stateDir, record.dir, 'prep');
    };
    const last = { head: 'a'.repeat(64), n: 2, file: '2026.jsonl', byte: 0, length: 9 };
    expect(sealed({ last, missing: [] })).toEqual({ last, missing: [] });
    expect(sealed({ last: { ...last, n: null } })).toEqual({ last: { ...last, n: null }, missing: [] });
    expect(sealed({ last, missing: [last, 7, { head: 1 }] })).toEqual({ last, missing: [last] });
    for (const bad of [
      null,
      7,
      {},
      { last: null },
      { last: 'x' },
      { last: { ...last, head: 7 } },
      { last: { ...last, file: 7 } },
      { last: { ...last, file: '../2026.jsonl' } },
      { last: { ...last, byte: '0' } },
      { last: { ...last, length: null } },
    ])
      expect(sealed(bad), JSON.stringify(bad)).toBeNull();
  });

  it('goes along with the record when what it was remembered as grows', async () => {
    const record = new TestRecord();
    await record.append();
    const last = { head: 'a'.repeat(64), n: 1, file: '2026.jsonl', byte: 0, length: 9 };
    for (const count of [0, 1, 9, 2]) {
      const memory = { last, missing: Array.from({ length: count }, () => last) };
      expect(rememberHead(record.stateDir, record.dir, 'prep', memory)).toBeNull();
      expect(recallHead(record.stateDir, record.dir, 'prep')).toEqual(memory);
    }
    expect(readdirSync(record.stateDir)).toHaveLength(1);
  });
});

describe('what verify says of the end of a station', () => {
  const damageOf = (record: TestRecord) =>
    verifyRecord(record.dir, record).damage.map(({ code, line, message, expected, found }) => ({
      code,
      line,
      message,
      expected,
      found,
    }));
  const GONE = 'gone from the end of station prep, or';
  const NOT_THERE = 'changed: the head that was last seen is not there';

  it('that one entry, or several, are gone', async () => {
    const record = new TestRecord();
    await record.fill(4);
    const lines = record.lines();
    record.write(lines.slice(0, 3));
    expect(damageOf(record)).toEqual([
      {
        code: 'damage_cut_tail',
        line: 3,
        message: `the last entry is ${GONE} was ${NOT_THERE}`,
        expected: hashOf(lines[3]),
        found: hashOf(lines[2]),
      },
    ]);
    record.write(lines.slice(0, 2));
    expect(damageOf(record)[0]?.message).toBe(`the last 2 entries are ${GONE} were ${NOT_THERE}`);
    writeFileSync(record.file(), '');
    expect(damageOf(record)).toEqual([
      {
        code: 'damage_cut_tail',
        line: null,
        message: `the last 4 entries are ${GONE} were ${NOT_THERE}`,
        expected: hashOf(lines[3]),
        found: 'no line',
      },
    ]);
  });

  it('that the last line is another than was seen', async () => {
    const record = new TestRecord();
    await record.fill(3);
    const lines = record.lines();
    const edited = (lines[2] ?? '').replace('"minutes":3', '"minutes":4');
    record.write(lines.with(2, edited));
    expect(damageOf(record)).toEqual([
      {
        code: 'damage_line_changed',
        line: 3,
        message: 'line 3 is not as it was written: the head that was last seen is another',
        expected: hashOf(lines[2]),
        found: hashOf(edited),
      },
    ]);
    record.write(lines.with(2, 'hello'));
    expect(damageOf(record)).toMatchObject([
      { code: 'damage_line_changed', line: 3, found: hashOf('hello') },
    ]);
    // Behind what was seen there stands what is no entry.
    record.write([...lines, 'hello', 'world']);
    expect(damageOf(record).map(({ code, line }) => `${code} ${line}`)).toEqual([
      'damage_foreign_line 4',
      'damage_foreign_line 5',
    ]);
  });

  it('that the lines from one on were written anew', async () => {
    const record = new TestRecord();
    await record.fill(3);
    const lines = record.lines();
    record.write(lines.slice(0, 2));
    for (let i = 0; i < 3; i++) await record.append(usage({ note: 'anew' }), { stateDir: null });
    expect(damageOf(record)).toEqual([
      {
        code: 'damage_cut_tail',
        line: 5,
        message:
          'the entry that was line 3 of station prep is gone: the lines from there on were written anew',
        expected: hashOf(lines[2]),
        found: hashOf(record.lines()[4]),
      },
    ]);
  });

  it('that only the newline behind the last entry is gone', async () => {
    const record = new TestRecord();
    await record.fill(2);
    const whole = record.bytes();
    writeFileSync(record.file(), whole.subarray(0, -1));
    const length = (record.lines()[0] ?? '').length;
    expect(damageOf(record)).toEqual([
      {
        code: 'damage_torn_tail',
        line: 2,
        message: 'the newline behind the last entry is gone (line 2)',
        expected: 'a newline at the end',
        found: `${whole.length - length - 2} bytes without a newline`,
      },
    ]);
  });

  it('counts entries and bytes, and remembers what it saw of a sound record', async () => {
    const record = new TestRecord();
    await record.fill(3, { stateDir: null });
    await record.append(usage(), { now: new Date('2027-01-02T08:00:00Z'), stateDir: null });
    expect(recallHead(record.stateDir, record.dir, 'prep')).toBeNull();
    const { stations, damage, more, setAside, cautions } = verifyRecord(record.dir, record);
    const [last = ''] = record.lines(2027);
    expect(stations).toEqual([
      {
        station: 'prep',
        head: hashOf(last),
        entries: 4,
        bytes: record.bytes(2026).length + record.bytes(2027).length,
      },
    ]);
    expect({ damage, more, setAside, cautions }).toEqual({ damage: [], more: 0, setAside: [], cautions: [] });
    expect(recallHead(record.stateDir, record.dir, 'prep')).toEqual({
      last: { head: hashOf(last), n: 4, file: '2027.jsonl', byte: 0, length: last.length },
      missing: [],
    });
    // Of a damaged one it remembers nothing new.
    const before = readFileSync(memoryFile(record.stateDir, record.dir, 'prep'), 'utf8');
    await record.append(usage(), { now: NOW, stateDir: null });
    record.write(['hello', ...record.lines(2026)]);
    expect(verifyRecord(record.dir, record).damage).not.toEqual([]);
    expect(readFileSync(memoryFile(record.stateDir, record.dir, 'prep'), 'utf8')).toBe(before);
  });

  it('says where its head could not be remembered, and reads the record all the same', async () => {
    const record = new TestRecord();
    await record.fill(1, { stateDir: null });
    writeFileSync(path.join(record.home, 'file'), '');
    const stateDir = path.join(record.home, 'file', 'x');
    const { cautions, damage } = verifyRecord(record.dir, { stateDir });
    expect(damage).toEqual([]);
    expect(cautions.map(({ code }) => code)).toEqual(['head_not_kept']);
    expect(readRecord(record.dir, { timeZone: TIME_ZONE, stateDir }).entries).toHaveLength(1);
  });

  it('knows the record again under another path that leads to it', async () => {
    const record = new TestRecord();
    await record.fill(2);
    const moved = path.join(tempFolder(), 'record');
    renameSync(record.dir, moved);
    expect(recallHead(record.stateDir, moved, 'prep')).toBeNull();
    renameSync(moved, record.dir);
    expect(recallHead(record.stateDir, `${record.dir}/.`, 'prep')).not.toBeNull();
  });
});
