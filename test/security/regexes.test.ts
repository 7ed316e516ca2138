/** Every regular expression that ships, ours and the libraries', looked at for catastrophic backtracking. */
import { readFileSync } from 'node:fs';
import { parse } from 'acorn';
import { check } from 'recheck';
import { describe, expect, it } from 'vitest';

/**
 * Those that take time by the square of a run of equal characters, and why no run gets long enough. None may take more than
 * that. `hurt.test.ts` holds the first group against files of a megabyte.
 */
const KNOWN: Readonly<Record<string, string>> = {
  // Runs of blanks in an inventory or a list end at 256: blanks_too_long.
  '/(?<=^ *)\\t(?=[\\t ]*[^\\s#])/gm': 'tabs in the indentation; looked for only where no run is longer',
  '/^[ \\t]+|[ \\t]+$/g': 'YAML, blanks around the lines of a quoted text',
  '/[ \\t]+$/': 'YAML, the same',
  // What they read is not from outside, or short.
  '/-+$/': "a host's name, cut to 40 characters before",
  '/[\\s]*[^\\s]+/g': 'the words of our own help',
  '/[\\n\\r]+$/': "YAML, the library's own frame of an error, of at most two lines",
  '/000000\\d*$/': 'YAML 1.1 timestamps; only 1.2 is read',
};

/** Formats of JSON Schema that no schema of ours uses: they come along in a table, and are never run. */
const UNUSED = /^\/\^\(\?:https\?\|ftp\)/;

const expressions = new Map<string, { readonly source: string; readonly flags: string }>();
parse(readFileSync('dist/holdfast.cjs', 'latin1'), {
  ecmaVersion: 'latest',
  onToken: token => {
    if (token.type.label !== 'regexp' || !('value' in token)) return;
    const { value } = token;
    const { pattern, flags } = value as { readonly pattern: string; readonly flags: string };
    expressions.set(`/${pattern}/${flags}`, { source: pattern, flags });
  },
});

describe('the regular expressions that ship', () => {
  it('take no more than linear time, but for those that never see much', async () => {
    expect(expressions.size).toBeGreaterThan(100);
    const found: string[] = [];
    for (const [text, { source, flags }] of expressions) {
      if (UNUSED.test(text)) continue;
      const result = await check(source, flags, { timeout: 60_000 });
      if (result.status === 'safe') continue;
      const kind = result.status === 'vulnerable' ? result.complexity.type : 'not known';
      if (!(text in KNOWN && kind === 'polynomial')) found.push(`${kind}: ${text}`);
    }
    expect(found).toEqual([]);
  }, 300_000);

  it('are named above only where they exist', () => {
    expect(Object.keys(KNOWN).filter(text => !expressions.has(text))).toEqual([]);
  });

  it('check formats of dates alone, so that those of links and hosts never run', () => {
    const formats = ['inventory', 'record'].flatMap(name =>
      [...readFileSync(`schemas/${name}.schema.json`, 'utf8').matchAll(/"format":\s*"([^"]+)"/g)].map(
        ([, format]) => format,
      ),
    );
    expect([...new Set(formats)].filter(format => format !== 'date' && format !== 'date-time')).toEqual([]);
  });
});
