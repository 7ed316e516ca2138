import { describe, expect, it } from 'vitest';
import type { Context } from '../../src/commands/context.ts';
import { run } from '../../src/commands/run.ts';
import { CODE_FAMILIES } from '../../src/problem/codes.ts';

/** A world of its own for one command line, with all that was printed. */
function world(changes: Partial<Context> = {}) {
  const printed = { out: '', err: '' };
  const context: Context = {
    env: {},
    cwd: process.cwd(),
    hostname: 'prep-room',
    now: () => new Date('2026-11-25T09:00:00Z'),
    out: text => {
      printed.out += text;
    },
    err: text => {
      printed.err += text;
    },
    width: 80,
    colour: false,
    terminal: null,
    exitCode: 0,
    ...changes,
  };
  return { context, printed };
}

const ALL = CODE_FAMILIES.flatMap(({ rows }) => Object.entries(rows));

describe('explain', () => {
  it('explains every code, with its level and what to do', async () => {
    for (const [code, row] of ALL) {
      const { context, printed } = world();
      expect(await run(['explain', code], context)).toBe(0);
      const text = printed.out.replaceAll(/\s+/g, ' ');
      expect(text).toContain(row.means);
      expect(text).toContain(`→ ${row.remedy}`);
      if ('level' in row) expect(text).toContain(`${row.level}:`);
    }
  });

  it('lists all codes by family', async () => {
    const { context, printed } = world();
    expect(await run(['explain'], context)).toBe(0);
    const first = printed.out.split('\n').map(line => line.trim().split(' ')[0]);
    expect(ALL.map(([code]) => code).filter(code => !first.includes(code))).toEqual([]);
    for (const { heading, rows } of CODE_FAMILIES) {
      if (Object.keys(rows).length > 0) expect(printed.out).toMatch(new RegExp(`^${heading}$`, 'm'));
    }
  });

  it('refuses an unknown code with the names near it', async () => {
    const { context, printed } = world();
    expect(await run(['explain', 'hold-neded', '--json'], context)).toBe(2);
    expect(printed.err).toContain("unknown option '--json'");
    const plain = world();
    expect(await run(['explain', 'hold-neded'], plain.context)).toBe(2);
    expect(plain.printed.err).toContain('code_unknown');
    expect(plain.printed.err).toContain('did you mean hold_needed');
  });
});

describe('a fault of the program', () => {
  it('says that it is one, with exit code 4', async () => {
    const { context, printed } = world({
      out: () => {
        throw new Error('the printer burns');
      },
    });
    expect(await run(['explain', 'internal'], context)).toBe(4);
    expect(printed.err).toContain('a fault in the program itself (internal)');
    expect(printed.err).toContain('the printer burns');
  });
});
