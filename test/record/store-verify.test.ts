import { mkdirSync, renameSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { memoryFile, recallHead } from '../../src/record/head.ts';
import { verifyRecord } from '../../src/record/verify.ts';
import { TestRecord, usage } from './store-kit.ts';

describe('verify', () => {
  it('finds nothing in a record as it was written, over several years', async () => {
    const record = new TestRecord();
    await record.fill(5);
    await record.append(usage(), { now: new Date('2027-01-02T10:00:00Z') });
    const { damage, stations } = verifyRecord(record.dir, record);
    expect(damage).toEqual([]);
    expect(stations).toMatchObject([{ station: 'prep', entries: 6 }]);
  });

  it('tells an edited line from a removed one, and says where', async () => {
    const record = new TestRecord();
    await record.fill(10);
    const lines = record.lines();
    record.write(lines.with(4, (lines[4] ?? '').replace('"minutes":5', '"minutes":500')));
    const byte = lines.slice(0, 4).join('\n').length + 1;
    expect(verifyRecord(record.dir, record).damage).toMatchObject([
      {
        code: 'damage_line_changed',
        station: 'prep',
        file: record.file(),
        line: 5,
        byte,
        expected: prevOf(lines[5]),
      },
    ]);
    record.write(lines.toSpliced(4, 2));
    expect(verifyRecord(record.dir, record).damage).toMatchObject([
      { code: 'damage_lines_removed', line: 5, message: '2 lines are missing between line 4 and line 5' },
    ]);
  });

  it('finds a changed prev in the line that carries it', async () => {
    const record = new TestRecord();
    await record.fill(10);
    const lines = record.lines();
    for (const i of [0, 5, 9]) {
      record.write(lines.with(i, (lines[i] ?? '').replace(prevOf(lines[i]), 'f'.repeat(64))));
      expect(verifyRecord(record.dir, record).damage, `line ${i + 1}`).toMatchObject([
        { code: 'damage_line_changed', line: i + 1 },
      ]);
    }
  });

  it('names a last line that was edited, by the head remembered', async () => {
    const record = new TestRecord();
    await record.fill(10);
    const lines = record.lines();
    record.write(lines.with(9, (lines[9] ?? '').replace('"minutes":10', '"minutes":11')));
    expect(verifyRecord(record.dir, record).damage).toMatchObject([
      { code: 'damage_line_changed', line: 10 },
    ]);
    record.write(lines.with(9, 'gone'));
    expect(verifyRecord(record.dir, record).damage).toMatchObject([
      { code: 'damage_line_changed', line: 10 },
    ]);
  });

  it('names a fork where two clones wrote on one station', async () => {
    const record = new TestRecord();
    await record.fill(4);
    const base = record.bytes();
    await record.append(usage({ note: 'here' }));
    const here = record.lines().at(-1) ?? '';
    writeFileSync(record.file(), base);
    await record.append(usage({ note: 'there' }));
    const there = record.lines().slice(4);
    for (const merged of [
      [here, ...there],
      ['<<<<<<< HEAD', here, '=======', ...there, '>>>>>>> there'],
    ]) {
      record.write([...base.toString().trimEnd().split('\n'), ...merged]);
      const codes = verifyRecord(record.dir, { stateDir: null }).damage.map(({ code }) => code);
      expect(codes).toContain('damage_fork');
      expect(codes.filter(code => code === 'damage_foreign_line')).toHaveLength(merged.length - 2);
    }
  });

  it('names a fork at the very beginning', async () => {
    const record = new TestRecord();
    await record.append(usage({ note: 'here' }), { stateDir: null });
    const here = record.lines();
    rmSync(record.file());
    await record.append(usage({ note: 'there' }), { stateDir: null });
    record.write([...here, ...record.lines()]);
    expect(verifyRecord(record.dir, record).damage).toMatchObject([{ code: 'damage_fork', line: 2 }]);
  });

  it('notices a cut tail by the head remembered and by one given', async () => {
    const record = new TestRecord();
    await record.fill(10);
    const head = verifyRecord(record.dir, record).stations[0]?.head ?? '';
    record.write(record.lines().slice(0, 7));
    expect(verifyRecord(record.dir, record).damage).toMatchObject([
      { code: 'damage_cut_tail', message: expect.stringContaining('the last 3 entries'), expected: head },
    ]);
    expect(verifyRecord(record.dir, { stateDir: null }).damage).toEqual([]);
    expect(
      verifyRecord(record.dir, { stateDir: null, heads: [{ station: null, head }] }).damage,
    ).toMatchObject([{ code: 'damage_cut_tail', expected: head }]);
  });

  it('goes on reporting a cut tail when entries were added after it', async () => {
    const record = new TestRecord();
    await record.fill(10);
    record.write(record.lines().slice(0, 7));
    const { cautions } = await record.append(usage(), { now: new Date('2026-11-26T08:00:00Z') });
    expect(cautions).toMatchObject([{ code: 'last_head_missing' }]);
    await record.fill(5, { now: new Date('2026-11-27T08:00:00Z') });
    expect(verifyRecord(record.dir, record).damage).toMatchObject([{ code: 'damage_cut_tail' }]);
  });

  it('notices a station and a year that are gone', async () => {
    const record = new TestRecord();
    await record.fill(3);
    await record.append(usage(), { now: new Date('2027-03-01T08:00:00Z') });
    await record.append(usage(), { now: new Date('2028-03-01T08:00:00Z') });
    const middle = record.bytes(2027);
    rmSync(record.file(2027));
    expect(verifyRecord(record.dir, record).damage).toMatchObject([
      { code: 'damage_lines_removed', file: record.file(2028), line: 1 },
    ]);
    writeFileSync(record.file(2027), middle);
    rmSync(record.file(2028));
    expect(verifyRecord(record.dir, record).damage).toMatchObject([{ code: 'damage_cut_tail' }]);
    rmSync(`${record.dir}/prep`, { recursive: true });
    expect(verifyRecord(record.dir, record).damage).toMatchObject([
      { code: 'damage_cut_tail', station: 'prep' },
    ]);
  });

  it('names a foreign line in the middle and at the end', async () => {
    const record = new TestRecord();
    await record.fill(6);
    const lines = record.lines();
    for (const at of [0, 3, 6]) {
      for (const foreign of ['', 'hello', '{"v":1}', '[]', '{"v":1,"kind":"spell"}']) {
        record.write(lines.toSpliced(at, 0, foreign));
        expect(verifyRecord(record.dir, record).damage, `${foreign} at ${at}`).toMatchObject([
          { code: 'damage_foreign_line', line: at + 1 },
        ]);
      }
    }
  });

  it('names a torn tail, and none once it was set aside', async () => {
    const record = new TestRecord();
    await record.fill(3);
    const whole = record.bytes();
    writeFileSync(record.file(), Buffer.concat([whole, Buffer.from('{"v":1,"id":"2026')]));
    expect(verifyRecord(record.dir, record).damage).toMatchObject([
      { code: 'damage_torn_tail', line: 4, byte: whole.length },
    ]);
    await record.append();
    const { damage, setAside } = verifyRecord(record.dir, record);
    expect(damage).toEqual([]);
    expect(setAside).toHaveLength(1);
  });

  it('names a line in the chain that cannot be true', async () => {
    const record = new TestRecord();
    await record.fill(3);
    record.write(record.lines());
    mkdirSync(`${record.dir}/ward`);
    renameSync(record.file(), record.file(2026, 'ward'));
    rmSync(`${record.dir}/prep`, { recursive: true });
    const codes = verifyRecord(record.dir, { stateDir: null }).damage.map(({ code }) => code);
    expect(codes).toEqual(['damage_contradiction', 'damage_contradiction', 'damage_contradiction']);
  });

  it('counts what it does not list when every line was changed', async () => {
    const record = new TestRecord();
    await record.fill(1);
    const line = record.lines()[0] ?? '';
    record.write(Array.from({ length: 1500 }, () => `${line}\r`));
    const { damage, more } = verifyRecord(record.dir, { stateDir: null });
    expect(damage.length + more).toBeGreaterThanOrEqual(1499);
    expect(damage.length).toBeLessThanOrEqual(1001);
  });
});

describe('what verify remembers', () => {
  it('is nothing of a sound station as long as anything else of the record is damaged', async () => {
    const record = new TestRecord();
    await record.fill(2);
    await record.append(usage(), { station: 'ward', stateDir: null });
    record.write(record.lines().slice(0, 1));
    expect(verifyRecord(record.dir, record).damage).toMatchObject([{ code: 'damage_cut_tail' }]);
    expect(recallHead(record.stateDir, record.dir, 'ward')).toBeNull();
  });

  it('is nothing, and nothing is said of it, where no folder for it is given', async () => {
    const record = new TestRecord();
    await record.fill(1, { stateDir: null });
    const { damage, cautions } = verifyRecord(record.dir, { stateDir: null });
    expect({ damage, cautions }).toEqual({ damage: [], cautions: [] });
  });

  it('is nothing of a station without a line', async () => {
    const record = new TestRecord();
    await record.append();
    mkdirSync(path.join(record.dir, 'ward'));
    expect(verifyRecord(record.dir, record)).toMatchObject({
      stations: [{ station: 'prep' }, { station: 'ward', entries: 0 }],
      damage: [],
      cautions: [],
    });
    expect(recallHead(record.stateDir, record.dir, 'ward')).toBeNull();
  });

  it('is not written again where it is the same', async () => {
    const record = new TestRecord();
    await record.fill(2);
    const file = memoryFile(record.stateDir, record.dir, 'prep');
    const longAgo = new Date('2020-01-01T00:00:00Z');
    utimesSync(file, longAgo, longAgo);
    expect(verifyRecord(record.dir, record)).toMatchObject({ damage: [], cautions: [] });
    expect(statSync(file).mtime).toEqual(longAgo);
  });

  it('tells of no station that is gone where it is not legible', async () => {
    const record = new TestRecord();
    await record.append();
    await record.append(usage(), { station: 'ward' });
    writeFileSync(memoryFile(record.stateDir, record.dir, 'ward'), 'not as it was sealed');
    rmSync(path.join(record.dir, 'ward'), { recursive: true });
    expect(verifyRecord(record.dir, record).damage).toEqual([]);
  });
});

describe('what verify says to do', () => {
  it('is to name the record where there is none', () => {
    const { dir, stateDir } = new TestRecord();
    expect(() => verifyRecord(dir, { stateDir })).toThrow(
      expect.objectContaining({
        problems: [
          {
            code: 'record_missing',
            file: dir,
            line: null,
            column: null,
            message: `there is no record in ${dir}`,
            remedy: 'name it with --record DIR',
          },
        ],
      }),
    );
  });

  it('is to delete what is remembered where entries were taken out on purpose, and nowhere else', async () => {
    const record = new TestRecord();
    await record.fill(3);
    const lines = record.lines();
    const deletion = `delete ${memoryFile(record.stateDir, record.dir, 'prep')}.`;
    record.write(lines.slice(0, 2));
    expect(verifyRecord(record.dir, record).damage).toMatchObject([
      { code: 'damage_cut_tail', remedy: expect.stringContaining(deletion) },
    ]);
    record.write(lines.with(1, (lines[1] ?? '').replace('"minutes":2', '"minutes":3')));
    expect(verifyRecord(record.dir, record).damage).toMatchObject([
      { code: 'damage_line_changed', remedy: expect.not.stringContaining('delete') },
    ]);
  });
});

describe('a head that is given', () => {
  it('is looked for in its own station alone, and where it is not, the heads that are there are named', async () => {
    const record = new TestRecord();
    await record.append();
    await record.append(usage(), { station: 'ward' });
    const [prep, ward] = verifyRecord(record.dir, record).stations.map(({ head }) => head);
    const damageWith = (station: string, head = '') =>
      verifyRecord(record.dir, { stateDir: null, heads: [{ station, head }] }).damage;
    expect(damageWith('prep', prep)).toEqual([]);
    expect(damageWith('ward', prep)).toMatchObject([
      {
        code: 'damage_cut_tail',
        station: 'ward',
        message: `no line of station ward has the hash ${prep}: lines were cut off or changed`,
        expected: prep,
        found: `prep ${prep}, ward ${ward}`,
      },
    ]);
  });
});

function prevOf(line: string | undefined): string {
  return JSON.parse(line ?? '{}').prev;
}
