import {
  appendFileSync,
  closeSync,
  ftruncateSync,
  openSync,
  readdirSync,
  readFileSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { lineHash } from '../../src/record/chain.ts';
import { readBlocks, readLines, type TornTail } from '../../src/record/lines.ts';
import { fileEnd, lastLine, readExactly, setTornTailAside } from '../../src/record/tail.ts';
import { tempFolder } from './store-kit.ts';

const MIB = 1024 * 1024;

/** Opens a file with this in it. */
function opened<T>(content: string | Buffer, work: (fd: number, file: string) => T, flags = 'r'): T {
  const file = path.join(tempFolder(), '2026.jsonl');
  writeFileSync(file, content);
  const fd = openSync(file, flags);
  try {
    return work(fd, file);
  } finally {
    closeSync(fd);
  }
}

/** Lines with number and place, and what is left behind the last newline. */
function linesOf(content: string | Buffer): { lines: [string, number, number][]; tail: TornTail | null } {
  return opened(content, fd => {
    const lines: [string, number, number][] = [];
    const tail = readLines(fd, (bytes, text, line, byte) => {
      expect(bytes.toString()).toBe(text);
      lines.push([text, line, byte]);
    });
    return { lines, tail };
  });
}

describe('readLines', () => {
  it('gives each line with its number and its first byte', () => {
    expect(linesOf('one\n\nzwölf\n')).toEqual({
      lines: [
        ['one', 1, 0],
        ['', 2, 4],
        ['zwölf', 3, 5],
      ],
      tail: null,
    });
    expect(linesOf('')).toEqual({ lines: [], tail: null });
  });

  it('tells of what stands behind the last newline: where, how long, and its hash', () => {
    expect(linesOf('one\ntwo\nthr')).toEqual({
      lines: [
        ['one', 1, 0],
        ['two', 2, 4],
      ],
      tail: { line: 3, byte: 8, length: 3, hash: lineHash(Buffer.from('thr')) },
    });
    expect(linesOf('x').tail).toEqual({ line: 1, byte: 0, length: 1, hash: lineHash(Buffer.from('x')) });
  });

  it.each([1023, 1024, 1025, 262_143, 262_144, 262_145, 600_000])(
    'gives lines of %i bytes whole, across blocks',
    length => {
      const long = 'a'.repeat(length);
      const { lines, tail } = linesOf(`x\n${long}\ny\n${long}\n${long}`);
      expect(lines.map(([text, line, byte]) => [text.length, line, byte])).toEqual([
        [1, 1, 0],
        [length, 2, 2],
        [1, 3, length + 3],
        [length, 4, length + 5],
      ]);
      expect(tail).toMatchObject({ line: 5, byte: 2 * length + 6, length });
    },
  );

  it('gives many short lines in their order', () => {
    const many = Array.from({ length: 20_000 }, (_, i) => `line ${i}`);
    const { lines, tail } = linesOf(`${many.join('\n')}\n`);
    expect(lines).toHaveLength(many.length);
    expect(lines.every(([text, line], i) => text === many[i] && line === i + 1)).toBe(true);
    expect(lines.at(-1)?.[2]).toBe(many.join('\n').length - 'line 19999'.length);
    expect(tail).toBeNull();
  });

  it('shows a line that is too long cut off, once, and goes on behind it', () => {
    const content = Buffer.concat([
      Buffer.from('first\n'),
      Buffer.alloc(40 * MIB, 'a'),
      Buffer.from('\nsecond\nthird\n'),
    ]);
    const lines = opened(content, fd => {
      const seen: [number, number, number][] = [];
      expect(readLines(fd, (bytes, _, line, byte) => seen.push([bytes.length, line, byte]))).toBeNull();
      return seen;
    });
    expect(lines).toHaveLength(4);
    expect(lines[0]).toEqual([5, 1, 0]);
    expect(lines[1]?.slice(1)).toEqual([2, 6]);
    // Enough to see that it is none, and no more than may be kept in memory.
    expect(lines[1]?.[0]).toBe(16 * MIB);
    expect(lines.slice(2)).toEqual([
      [6, 3, 40 * MIB + 7],
      [5, 4, 40 * MIB + 14],
    ]);
  });

  it('waits once for the rest of a line that is being written at this moment', () => {
    opened('one\ntw', (fd, file) => {
      const wait = vi.spyOn(Atomics, 'wait').mockReturnValue('timed-out');
      onTestFinished(() => wait.mockRestore());
      // After the first pause there is more; after the second there is not, and it is not waited for again.
      wait.mockImplementationOnce(() => {
        appendFileSync(file, 'o\nthree\nfo');
        return 'timed-out';
      });
      const lines: string[] = [];
      expect(readLines(fd, (_, text) => lines.push(text))).toMatchObject({ line: 4, byte: 14, length: 2 });
      expect(lines).toEqual(['one', 'two', 'three']);
      expect(wait).toHaveBeenCalledTimes(2);
    });
  });

  it('takes a line for torn that is too long and never ends', () => {
    const tail = opened(Buffer.alloc(20 * MIB, 'a'), fd => readLines(fd, () => undefined));
    expect(tail).toMatchObject({ line: 1 });
  });

  it('leaves a line to whoever takes it, and visits the others', () => {
    opened('aa\nbbb\nc\n', fd => {
      const taken: [number, number, number][] = [];
      const visited: [string, number, number][] = [];
      readLines(
        fd,
        (_, text, line, byte) => visited.push([text, line, byte]),
        (block, start, line, byte) => {
          if (block[start] !== 'b'.charCodeAt(0)) return -1;
          taken.push([start, line, byte]);
          return block.indexOf(0x0a, start);
        },
      );
      expect(taken).toEqual([[3, 2, 3]]);
      expect(visited).toEqual([
        ['aa', 1, 0],
        ['c', 3, 7],
      ]);
    });
  });
});

describe('readBlocks', () => {
  it('gives runs of whole lines, and reads nothing from a given byte on', () => {
    const blocks = (until?: number) =>
      opened('one\ntwo\nthree\n', fd => {
        const seen: [string, number, number][] = [];
        const tail = readBlocks(
          fd,
          {
            block(block, line, byte) {
              seen.push([block.toString(), line, byte]);
              return block.toString().split('\n').length - 1;
            },
            tooLong: () => expect.fail('no line is that long'),
          },
          until,
        );
        return { seen, tail };
      });
    expect(blocks()).toEqual({ seen: [['one\ntwo\nthree\n', 1, 0]], tail: null });
    expect(blocks(8)).toEqual({ seen: [['one\ntwo\n', 1, 0]], tail: null });
    expect(blocks(10)).toMatchObject({ seen: [['one\ntwo\n', 1, 0]], tail: { line: 3, byte: 8, length: 2 } });
  });

  it('gives no run without a line while it looks for the end of a long one', () => {
    const runs = (content: Buffer) =>
      opened(content, fd => {
        const seen: [number, number][] = [];
        const block = (bytes: Buffer, line: number) => {
          seen.push([bytes.length, line]);
          return bytes.filter(byte => byte === 0x0a).length;
        };
        readBlocks(fd, { block, tooLong: () => undefined });
        return seen;
      });
    const long = Buffer.from(`${'a'.repeat(600_000)}\n`);
    expect(runs(Buffer.concat([Buffer.from('x\n'), long]))).toEqual([
      [2, 1],
      [600_001, 2],
    ]);
    expect(runs(Buffer.concat([Buffer.alloc(17 * MIB, 'a'), Buffer.from('\nx\n')]))).toEqual([[2, 2]]);
  });
});

describe('the end of a file', () => {
  const endOf = (content: string) =>
    opened(content, fd => {
      const end = fileEnd(fd);
      const line = lastLine(fd, end);
      const { size, completeBytes, lastBlock } = end;
      return {
        size,
        completeBytes,
        block: lastBlock.length,
        last: line === null ? null : [line.bytes.toString(), line.byte],
      };
    });

  it('is where the last newline stands, and what stands before it the last line', () => {
    expect(endOf('one\ntwo\nthr')).toEqual({ size: 11, completeBytes: 8, block: 11, last: ['two', 4] });
    expect(endOf('one\n')).toEqual({ size: 4, completeBytes: 4, block: 4, last: ['one', 0] });
    expect(endOf('\n')).toEqual({ size: 1, completeBytes: 1, block: 1, last: ['', 0] });
    expect(endOf('')).toEqual({ size: 0, completeBytes: 0, block: 0, last: null });
    expect(endOf('one')).toEqual({ size: 3, completeBytes: 0, block: 3, last: null });
    expect(endOf('\n\n')).toMatchObject({ completeBytes: 2, last: ['', 1] });
  });

  it('is found across blocks of 4096 bytes, however the lines lie over them', () => {
    for (const last of [0, 1, 4094, 4095, 4096, 4097, 9000])
      for (const torn of [0, 1, 4095, 4096, 4097, 9000]) {
        const line = 'b'.repeat(last);
        expect(endOf(`aaa\n${line}\n${'c'.repeat(torn)}`)).toMatchObject({
          completeBytes: 5 + last,
          last: [line, 4],
        });
        expect(endOf(`${line}\n${'c'.repeat(torn)}`)).toMatchObject({
          completeBytes: 1 + last,
          last: [line, 0],
        });
      }
    expect(endOf('c'.repeat(9000))).toMatchObject({ completeBytes: 0, block: 4096, last: null });
  });

  it('is read as far as it goes', () => {
    opened('0123456789', fd => {
      expect(readExactly(fd, 2, 4).toString()).toBe('2345');
      expect(readExactly(fd, 8, 10).toString()).toBe('89');
      expect(readExactly(fd, 20, 10)).toHaveLength(0);
      expect(readExactly(fd, 0, 0)).toHaveLength(0);
    });
  });

  it('is an error, and no line, where the file is cut while its last line is looked for', () => {
    opened(
      `aaa\n${'b'.repeat(9000)}\n`,
      fd => {
        const end = fileEnd(fd);
        ftruncateSync(fd, 100);
        expect(() => lastLine(fd, end)).toThrow('the file was cut while it was read');
      },
      'r+',
    );
  });

  it('leaves the torn tail where it is, and no half copy of it, where it cannot be copied', () => {
    // Open for writing alone: the copy is begun, and then nothing can be read for it.
    opened(
      'one\ntwo',
      (fd, file) => {
        const end = { size: 7, completeBytes: 4, lastBlock: Buffer.from('one\ntwo') };
        expect(() => setTornTailAside(fd, file, end, 'some-id')).toThrow(/EBADF/);
        expect(readdirSync(path.dirname(file))).toEqual(['2026.jsonl']);
        expect(readFileSync(file, 'utf8')).toBe('one\ntwo');
      },
      'a',
    );
  });

  it.each([1, 65_535, 65_536, 65_537, 200_000])('is cut of a torn tail of %i bytes, which is kept', torn => {
    const tail = Buffer.alloc(torn, 'c');
    opened(
      Buffer.concat([Buffer.from('one\n'), tail]),
      (fd, file) => {
        const aside = setTornTailAside(fd, file, fileEnd(fd), 'some-id');
        expect(aside).toBe(`${file}.torn-some-id`);
        const kept = openSync(aside, 'r');
        expect(readExactly(kept, 0, torn + 10).equals(tail)).toBe(true);
        closeSync(kept);
        expect(readExactly(fd, 0, 100).toString()).toBe('one\n');
        // Never over another that was set aside.
        expect(() => setTornTailAside(fd, file, fileEnd(fd), 'some-id')).toThrow(/EEXIST/);
      },
      'r+',
    );
  });
});
