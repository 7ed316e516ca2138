import {
  chmodSync,
  closeSync,
  mkdirSync,
  openSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  codeOf,
  ensureInPlace,
  ensureStationFolder,
  ensureStationInPlace,
  openRecord,
  openStation,
  openToRead,
  writeRefusal,
} from '../../src/record/folder.ts';
import { refusalBy } from './refused.ts';
import { tempFolder } from './store-kit.ts';

/** What is refused, and with which exit code. */
function refusalOf(work: () => unknown) {
  const { problems, exitCode } = refusalBy(work);
  const [first] = problems;
  return { exitCode, code: first?.code, file: first?.file, message: first?.message, remedy: first?.remedy };
}

/** A record with the stations prep and ward, each with two years. */
function record(): string {
  const dir = path.join(tempFolder(), 'record');
  for (const station of ['ward', 'prep']) {
    mkdirSync(path.join(dir, station), { recursive: true });
    for (const year of [2027, 2026]) writeFileSync(path.join(dir, station, `${year}.jsonl`), '');
  }
  return dir;
}

describe('openRecord', () => {
  it('lists stations and years in their order, and what was set aside', () => {
    const dir = record();
    writeFileSync(path.join(dir, 'prep', '2026.jsonl.torn-20261125-x'), '');
    writeFileSync(path.join(dir, 'prep', '.hidden'), '');
    writeFileSync(path.join(dir, '.gitattributes'), '');
    const at = (...names: string[]) => path.join(dir, ...names);
    const { stations, ...rest } = openRecord(dir);
    expect(rest).toEqual({ dir, exists: true, cautions: [] });
    expect(stations).toEqual([
      {
        station: 'prep',
        folder: at('prep'),
        files: [at('prep', '2026.jsonl'), at('prep', '2027.jsonl')],
        setAside: [at('prep', '2026.jsonl.torn-20261125-x')],
      },
      {
        station: 'ward',
        folder: at('ward'),
        files: [at('ward', '2026.jsonl'), at('ward', '2027.jsonl')],
        setAside: [],
      },
    ]);
    expect(openStation(dir, 'prep')).toEqual(stations[0]);
  });

  it('knows nothing where there is no folder', () => {
    const dir = path.join(tempFolder(), 'none');
    expect(openRecord(dir)).toEqual({ dir, exists: false, stations: [], cautions: [] });
  });

  it.each([
    ['a file beside the stations', ['notes.txt']],
    ['a station’s name on a file', ['prep-2']],
    ['a copy of a year', ['prep', '2026 (1).jsonl']],
    ['a year of five digits', ['prep', '12026.jsonl']],
    ['a year with something behind', ['prep', '2026.jsonl.bak']],
    ['a torn tail under another name', ['prep', 'x2026.jsonl.torn-a']],
    ['a torn tail with other letters', ['prep', '2026.jsonl.torn-A']],
  ])('names what is no part of it: %s', (_, names) => {
    const dir = record();
    const stray = path.join(dir, ...names);
    writeFileSync(stray, '');
    const { cautions, stations } = openRecord(dir);
    expect(cautions).toMatchObject([
      {
        code: 'stray_file',
        file: stray,
        message: `${stray} is no part of the record and is not read`,
        remedy: 'move it away',
      },
    ]);
    expect(stations.map(({ files, setAside }) => files.length + setAside.length)).toEqual([2, 2]);
  });

  it('names a folder that can be no station', () => {
    const dir = record();
    mkdirSync(path.join(dir, 'Theatre One'));
    expect(openRecord(dir).cautions).toMatchObject([{ code: 'stray_file' }]);
    expect(openRecord(dir).stations).toHaveLength(2);
  });

  it.skipIf(process.platform === 'win32')('cautions of folders that every user may write to', () => {
    const dir = record();
    const prep = path.join(dir, 'prep');
    chmodSync(prep, 0o777);
    expect(openRecord(dir).cautions).toMatchObject([
      {
        code: 'record_world_writable',
        file: prep,
        message: `every user of this computer may write to ${prep}`,
        remedy: `chmod o-w ${prep}`,
      },
    ]);
    // In a folder like that of temporary files nobody can touch what is another's.
    chmodSync(prep, 0o1777);
    expect(openRecord(dir).cautions).toEqual([]);
    chmodSync(prep, 0o775);
    expect(openRecord(dir).cautions).toEqual([]);
  });
});

describe('what stands in the place of a folder or file', () => {
  it('is refused where it is a link', () => {
    const dir = record();
    const link = path.join(path.dirname(dir), 'link');
    symlinkSync(dir, link);
    const refused = (place: string) => ({
      exitCode: 3,
      code: 'record_symlink',
      file: place,
      message: `${place} is a symbolic link`,
      remedy: 'put the real folder or file in its place',
    });
    expect(refusalOf(() => openRecord(link))).toEqual(refused(link));
    expect(refusalOf(() => openRecord(`${link}/`))).toMatchObject({ code: 'record_symlink' });
    symlinkSync(path.join(dir, 'prep'), path.join(dir, 'alias'));
    expect(refusalOf(() => openRecord(dir))).toEqual(refused(path.join(dir, 'alias')));
    const file = path.join(dir, 'prep', 'link');
    symlinkSync(path.join(dir, 'prep', '2026.jsonl'), file);
    expect(refusalOf(() => openToRead(file))).toEqual(refused(file));
  });

  it('is refused where it is no folder, or no file', () => {
    const dir = record();
    const file = path.join(dir, 'prep', '2026.jsonl');
    expect(refusalOf(() => openRecord(file))).toEqual({
      exitCode: 3,
      code: 'record_not_folder',
      file,
      message: `${file} is no folder`,
      remedy: 'move it away, or name another with --record',
    });
    expect(refusalOf(() => openRecord(path.join(file, 'below')))).toMatchObject({
      code: 'record_not_folder',
      file,
    });
    const prep = path.join(dir, 'prep');
    expect(refusalOf(() => openToRead(prep))).toEqual({
      exitCode: 3,
      code: 'record_not_file',
      file: prep,
      message: `${prep} is no regular file`,
      remedy: 'move it away',
    });
  });

  it('is refused where it cannot be read', () => {
    const gone = path.join(record(), 'prep', '2030.jsonl');
    expect(refusalOf(() => openToRead(gone))).toEqual({
      exitCode: 3,
      code: 'record_not_readable',
      file: gone,
      message: `${gone} cannot be read (ENOENT)`,
      remedy: 'check its permissions and the disk',
    });
    const long = path.join(record(), 'x'.repeat(5000));
    expect(refusalOf(() => openRecord(long))).toMatchObject({
      code: 'record_not_readable',
      message: `${long} cannot be read (ENAMETOOLONG)`,
    });
  });
});

describe('ensureStationFolder', () => {
  it('makes what is missing, and leaves what is there', () => {
    const dir = path.join(tempFolder(), 'record');
    const folder = path.join(dir, 'prep');
    expect(ensureStationFolder(dir, 'prep')).toBe(folder);
    writeFileSync(path.join(folder, '2026.jsonl'), 'x');
    expect(ensureStationFolder(dir, 'prep')).toBe(folder);
    expect(ensureStationFolder(dir, 'ward')).toBe(path.join(dir, 'ward'));
    expect(openRecord(dir).stations.map(({ station }) => station)).toEqual(['prep', 'ward']);
  });

  it('refuses where the folder above is missing, or something else stands there', () => {
    const lost = path.join(tempFolder(), 'none', 'record');
    expect(refusalOf(() => ensureStationFolder(lost, 'prep'))).toMatchObject({
      exitCode: 3,
      code: 'record_missing',
      message: `not recorded: ${path.dirname(lost)} is not there, so no record is begun in it`,
    });
    const dir = record();
    writeFileSync(path.join(dir, 'file'), '');
    expect(refusalOf(() => ensureStationFolder(dir, 'file'))).toMatchObject({ code: 'record_not_folder' });
  });
});

describe('ensureInPlace', () => {
  it('gives the size of what still stands under its path, and refuses what was put aside', () => {
    const dir = record();
    const file = path.join(dir, 'prep', '2026.jsonl');
    const open = () => openSync(file, 'r+');
    const fd = open();
    expect(ensureInPlace(fd, file, null)).toBe(statSync(file).size);
    const { dev, ino } = statSync(path.dirname(file), { bigint: true });
    expect(ensureInPlace(fd, file, { dev, ino })).toBe(statSync(file).size);
    closeSync(fd);
    const moved = open();
    renameSync(file, `${file}.old`);
    writeFileSync(file, '');
    const disturbed = {
      exitCode: 3,
      code: 'record_disturbed',
      file,
      message: `not recorded: ${file} was put aside while it was opened`,
      remedy: 'see which program moves it, and type the command again',
    };
    expect(refusalOf(() => ensureInPlace(moved, file, null))).toEqual(disturbed);
    // It is closed then.
    expect(() => closeSync(moved)).toThrow(/EBADF/);
    const lost = open();
    rmSync(path.join(dir, 'prep'), { recursive: true });
    expect(refusalOf(() => ensureInPlace(lost, file, null))).toEqual(disturbed);
  });

  it('refuses where a folder on the way became a link', () => {
    const dir = record();
    const file = path.join(dir, 'prep', '2026.jsonl');
    const fd = openSync(file, 'r+');
    renameSync(path.join(dir, 'prep'), path.join(dir, 'real'));
    symlinkSync(path.join(dir, 'real'), path.join(dir, 'prep'));
    expect(refusalOf(() => ensureInPlace(fd, file, null))).toMatchObject({ code: 'record_symlink' });
  });

  it('refuses a folder that is not the one that was locked, though the file is in it', () => {
    const dir = record();
    const station = path.join(dir, 'prep');
    const file = path.join(station, '2026.jsonl');
    const locked = statSync(station, { bigint: true });
    renameSync(station, path.join(dir, 'aside'));
    mkdirSync(station);
    writeFileSync(file, 'x\n');
    const fd = openSync(file, 'r+');
    expect(refusalOf(() => ensureInPlace(fd, file, locked))).toMatchObject({ code: 'record_disturbed' });
    expect(() => closeSync(fd)).toThrow(/EBADF/);
    const other = openSync(file, 'r+');
    const { ino } = statSync(station, { bigint: true });
    const elsewhere = { dev: locked.dev + 1n, ino };
    expect(refusalOf(() => ensureInPlace(other, file, elsewhere))).toMatchObject({
      code: 'record_disturbed',
    });
  });
});

describe('ensureStationInPlace', () => {
  it('passes the folder that was locked, and refuses a link, another one, and none', () => {
    const dir = record();
    const station = path.join(dir, 'prep');
    const file = path.join(station, '2027.jsonl');
    const locked = statSync(station, { bigint: true });
    expect(() => ensureStationInPlace(file, locked)).not.toThrow();
    renameSync(station, path.join(dir, 'aside'));
    expect(refusalOf(() => ensureStationInPlace(file, locked))).toMatchObject({
      code: 'record_disturbed',
      file,
    });
    symlinkSync(path.join(dir, 'aside'), station);
    expect(refusalOf(() => ensureStationInPlace(file, locked))).toMatchObject({ code: 'record_symlink' });
    rmSync(station);
    mkdirSync(station);
    expect(refusalOf(() => ensureStationInPlace(file, locked))).toMatchObject({ code: 'record_disturbed' });
  });
});

describe('a write that failed', () => {
  const failed = (code: string) =>
    refusalOf(() => {
      throw writeRefusal(Object.assign(new Error('failed'), { code }), '/r/prep/2026.jsonl');
    });

  it.each(['EACCES', 'EPERM', 'EROFS'])('by %s is one without permission', system => {
    expect(failed(system)).toEqual({
      exitCode: 3,
      code: 'record_read_only',
      file: '/r/prep/2026.jsonl',
      message: `not recorded: /r/prep/2026.jsonl may not be written (${system})`,
      remedy: 'run it as the user who owns the record, or correct the permissions',
    });
  });

  it('by anything else is named with the system’s code', () => {
    expect(failed('EIO')).toEqual({
      exitCode: 3,
      code: 'record_not_written',
      file: '/r/prep/2026.jsonl',
      message: 'not recorded: /r/prep/2026.jsonl could not be written (EIO)',
      remedy: 'check the disk, then type the command again',
    });
  });

  it.each(['ENOSPC', 'EDQUOT', 'EFBIG'])('by %s is a full disk', system => {
    expect(failed(system)).toEqual({
      exitCode: 3,
      code: 'record_disk_full',
      file: '/r/prep/2026.jsonl',
      message: `not recorded: there is no room for /r/prep/2026.jsonl (${system})`,
      remedy: 'make room, then type the command again',
    });
  });

  it('through a link is refused as a link', () => {
    expect(failed('ELOOP')).toMatchObject({ code: 'record_symlink' });
  });

  it('is named by the system’s code, else by its words', () => {
    expect(codeOf(Object.assign(new Error('x'), { code: 'EIO' }))).toBe('EIO');
    expect(codeOf(Object.assign(new Error('x'), { code: 7 }))).toBe('x');
    expect(codeOf(new Error('words'))).toBe('words');
    expect(codeOf('a text')).toBe('a text');
  });
});
