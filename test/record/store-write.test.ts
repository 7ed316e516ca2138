import { execFileSync } from 'node:child_process';
import { chmodSync, closeSync, constants, mkdirSync, openSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { readRecord } from '../../src/record/read.ts';
import { fileEnd, lastLine } from '../../src/record/tail.ts';
import { verifyRecord } from '../../src/record/verify.ts';
import { writeLine } from '../../src/record/write.ts';
import { refusalBy } from './refused.ts';
import { TestRecord, TIME_ZONE, tempFolder, usage } from './store-kit.ts';

const LINE = Buffer.from('{"v":1}\n');
const isLinux = process.platform === 'linux';

function refusalOf(work: () => unknown): {
  code: string | undefined;
  exitCode: number;
  remedy: string | undefined;
} {
  const { problems, exitCode } = refusalBy(work);
  return { code: problems[0]?.code, exitCode, remedy: problems[0]?.remedy };
}

function opened(file: string, flags: number): number {
  const fd = openSync(file, flags);
  onTestFinished(() => {
    try {
      closeSync(fd);
    } catch {
      // The test closed it.
    }
  });
  return fd;
}

describe('writeLine', () => {
  it.skipIf(!isLinux)('says that the disk is full', () => {
    const fd = opened('/dev/full', constants.O_WRONLY);
    expect(refusalOf(() => writeLine(fd, '/dev/full', 0, LINE, 'id'))).toMatchObject({
      code: 'record_disk_full',
      exitCode: 3,
    });
  });

  it('says that it could not write', () => {
    const file = path.join(tempFolder(), '2026.jsonl');
    writeFileSync(file, '');
    const fd = openSync(file, 'a');
    closeSync(fd);
    expect(refusalOf(() => writeLine(fd, file, 0, LINE, 'id'))).toMatchObject({
      code: 'record_not_written',
      exitCode: 3,
    });
  });

  it.skipIf(!isLinux)(
    'says that it is not certain, and how to find out, where it can neither keep nor cut back',
    () => {
      // A pipe takes the line, and can neither be synced nor cut.
      const file = path.join(tempFolder(), 'pipe');
      execFileSync('mkfifo', [file]);
      const fd = opened(file, constants.O_RDWR);
      expect(refusalOf(() => writeLine(fd, file, 0, LINE, '20261125-x'))).toMatchObject({
        code: 'record_write_unsure',
        exitCode: 3,
        remedy: expect.stringContaining('--id 20261125-x'),
      });
    },
  );

  it('notices that another program wrote past the lock', () => {
    const file = path.join(tempFolder(), '2026.jsonl');
    writeFileSync(file, 'somebody else\n');
    const fd = opened(file, constants.O_RDWR | constants.O_APPEND);
    expect(refusalOf(() => writeLine(fd, file, 0, LINE, 'id'))).toMatchObject({
      code: 'record_disturbed',
      exitCode: 3,
    });
    expect(readFileSync(file, 'utf8')).toBe('somebody else\n{"v":1}\n');
  });
});

describe('lastLine', () => {
  it('finds the last line and the torn tail behind it, however long they are', () => {
    const file = path.join(tempFolder(), '2026.jsonl');
    const lengths = [0, 1, 4094, 4095, 4096, 4097, 9000];
    for (const before of [null, ...lengths]) {
      for (const last of lengths) {
        for (const torn of lengths) {
          const head = before === null ? '' : `${'a'.repeat(before)}\n`;
          writeFileSync(file, `${head}${'b'.repeat(last)}\n${'c'.repeat(torn)}`);
          const fd = openSync(file, 'r');
          const end = fileEnd(fd);
          const line = lastLine(fd, end);
          closeSync(fd);
          expect(end.size - end.completeBytes).toBe(torn);
          expect(line?.byte).toBe(head.length);
          expect(line?.bytes.toString()).toBe('b'.repeat(last));
        }
      }
    }
    writeFileSync(file, 'c'.repeat(5000));
    const fd = openSync(file, 'r');
    expect(lastLine(fd, fileEnd(fd))).toBeNull();
    closeSync(fd);
  });
});

describe('reading what should not be there', () => {
  it('refuses a folder in place of a file, and a record that is missing', async () => {
    const record = new TestRecord();
    expect(refusalOf(() => verifyRecord(record.dir, record))).toMatchObject({
      code: 'record_missing',
      exitCode: 3,
    });
    await record.append();
    mkdirSync(record.file(2027));
    expect(refusalOf(() => verifyRecord(record.dir, record))).toMatchObject({
      code: 'record_not_file',
      exitCode: 3,
    });
  });

  it.skipIf(!isLinux)('refuses a pipe without waiting for it', async () => {
    const record = new TestRecord();
    await record.append();
    execFileSync('mkfifo', [record.file(2027)]);
    expect(refusalOf(() => verifyRecord(record.dir, record))).toMatchObject({
      code: 'record_not_file',
      exitCode: 3,
    });
    await expect(record.append(usage())).rejects.toMatchObject({ problems: [{ code: 'record_not_file' }] });
  });

  it.skipIf(process.getuid?.() === 0)('refuses a file that it may not read', async () => {
    const record = new TestRecord();
    await record.append();
    chmodSync(record.file(), 0);
    expect(refusalOf(() => readRecord(record.dir, { timeZone: TIME_ZONE }))).toMatchObject({
      code: 'record_not_readable',
      exitCode: 3,
    });
  });
});
