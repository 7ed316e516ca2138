import {
  chmodSync,
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { Refusal } from '../../src/problem/problem.ts';
import { writeFileWhole } from '../../src/report/out-file.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'out-file-'));
afterAll(() => rmSync(folder, { recursive: true }));
const at = (name: string) => path.join(folder, name);

describe('writeFileWhole', () => {
  it('writes a new file, and replaces one with its permissions kept', () => {
    writeFileWhole(at('report.txt'), 'first\n');
    chmodSync(at('report.txt'), 0o640);
    writeFileWhole(at('report.txt'), 'second \u{1F43E}\n');
    expect(readFileSync(at('report.txt'), 'utf8')).toBe('second \u{1F43E}\n');
    expect(statSync(at('report.txt')).mode & 0o777).toBe(0o640);
    expect(readdirSync(folder)).toEqual(['report.txt']);
  });

  it('leaves a reader the old file that it has open', () => {
    writeFileWhole(at('report.txt'), 'old\n');
    const before = statSync(at('report.txt')).ino;
    writeFileWhole(at('report.txt'), 'new\n');
    expect(statSync(at('report.txt')).ino).not.toBe(before);
  });

  it('follows a link and keeps it', () => {
    writeFileSync(at('real.txt'), 'old\n');
    symlinkSync('real.txt', at('link.txt'));
    writeFileWhole(at('link.txt'), 'new\n');
    expect(readFileSync(at('real.txt'), 'utf8')).toBe('new\n');
    expect(readFileSync(at('link.txt'), 'utf8')).toBe('new\n');
    rmSync(at('link.txt'));
  });

  it('never takes the place of an inventory or a file of a record, by name, by link or by content', () => {
    copyFileSync('inventory.example.yaml', at('clinic.conf'));
    mkdirSync(at('prep'));
    writeFileSync(at('prep/2026.jsonl'), '{}\n');
    symlinkSync('prep/2026.jsonl', at('harmless.txt'));
    for (const name of ['clinic.conf', 'prep/2026.jsonl', 'prep/2027.jsonl', 'harmless.txt']) {
      expect(() => writeFileWhole(at(name), 'x')).toThrow(Refusal);
    }
    expect(readFileSync(at('clinic.conf'))).toEqual(readFileSync('inventory.example.yaml'));
    expect(readFileSync(at('prep/2026.jsonl'), 'utf8')).toBe('{}\n');
    expect(readdirSync(at('prep'))).toEqual(['2026.jsonl']);
    for (const name of ['clinic.conf', 'prep', 'harmless.txt']) rmSync(at(name), { recursive: true });
  });

  it('refuses a folder, a device, a link to nowhere and a folder that is not there, and leaves nothing behind', () => {
    mkdirSync(at('folder'));
    symlinkSync('nowhere.txt', at('dangling.txt'));
    const before = readdirSync(folder).sort();
    for (const file of [
      at('folder'),
      '/dev/null',
      at('dangling.txt'),
      at('none/report.txt'),
      at('report.txt/x'),
    ]) {
      expect(() => writeFileWhole(file, 'x')).toThrow(Refusal);
    }
    expect(readdirSync(folder).sort()).toEqual(before);
    expect(statSync('/dev/null').isCharacterDevice()).toBe(true);
  });
});
