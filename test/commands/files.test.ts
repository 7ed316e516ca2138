import { describe, expect, it } from 'vitest';
import type { Context } from '../../src/commands/context.ts';
import { recordToRead } from '../../src/commands/files.ts';
import { Refusal } from '../../src/problem/problem.ts';

const context = { env: {}, cwd: process.cwd() } as unknown as Context;

describe('a record that was named to be read', () => {
  it('is refused where it is not there', () => {
    expect(() => recordToRead(context, { record: 'nowhere' }, 'inventory.yaml')).toThrow(Refusal);
  });

  it.each([
    ['a folder', 'test'],
    ['a file', 'package.json'],
    ['no name that a file can have', 'a\u0000b'],
    ['a name that is too long', 'a'.repeat(5000)],
  ])('is left to whoever opens it where it is %s', (_, record) => {
    expect(recordToRead(context, { record }, 'inventory.yaml')).toBe(record);
  });
});
