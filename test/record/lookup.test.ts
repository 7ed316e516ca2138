import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { FIRST_PREV, lineHash } from '../../src/record/chain.ts';
import { MOST_FINDINGS } from '../../src/record/chain-walk.ts';
import { lookUp } from '../../src/record/lookup.ts';
import { TestRecord } from './store-kit.ts';

const hashOf = (line = ''): string => lineHash(Buffer.from(line));

describe('lookUp', () => {
  it('tells where the lines stand that have a hash, and those that follow it, and of no others', async () => {
    const record = new TestRecord();
    await record.fill(3);
    const [first = '', second = '', third = ''] = record.lines();
    const older = path.join(path.dirname(record.file()), '2025.jsonl');
    writeFileSync(older, `hello\n${second}\n`);
    const { lines, followers } = lookUp([older, record.file()], new Set([hashOf(second)]));
    const hash = hashOf(second);
    expect([...lines]).toEqual([
      [
        hash,
        [
          { file: older, line: 2, byte: 6, index: 1, hash },
          { file: record.file(), line: 2, byte: first.length + 1, index: 3, hash },
        ],
      ],
    ]);
    const byte = first.length + second.length + 2;
    expect([...followers]).toEqual([
      [hash, [{ file: record.file(), line: 3, byte, index: 4, hash: hashOf(third) }]],
    ]);
  });

  it('keeps so many of those that have a hash and no more: every line may be the same', async () => {
    const record = new TestRecord();
    await record.fill(1);
    const [line = ''] = record.lines();
    record.write(Array.from({ length: MOST_FINDINGS + 2 }, () => line));
    const { lines, followers } = lookUp([record.file()], new Set([hashOf(line), FIRST_PREV]));
    expect(lines.get(hashOf(line))?.map(({ line }) => line)).toEqual(
      Array.from({ length: MOST_FINDINGS }, (_, i) => i + 1),
    );
    expect(followers.get(FIRST_PREV)).toHaveLength(MOST_FINDINGS);
  });
});
