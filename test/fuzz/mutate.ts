/** Changes to the bytes of a file, drawn by fast-check, so that what fails is shrunk and can be played again. */
import * as fc from 'fast-check';

/** What parsers of such files have stumbled over. */
export const TOKENS: readonly string[] = [
  ...[
    '&a ',
    '*a',
    '<<: *a\n',
    '!!js/function x',
    '!!binary ',
    '---\n',
    '...\n',
    '%YAML 1.1\n',
    '? ',
    '- ',
    ': ',
    '\n',
  ],
  ...[
    '{',
    '}',
    '[',
    ']',
    '"',
    "'",
    '#',
    '|',
    '>',
    ',',
    '\t',
    '\r\n',
    '\r',
    '\u0085',
    '\u2028',
    '\ufeff',
    '\\u0000',
  ],
  ...['\u0000', '\u001b[2J', '\u001b]0;x\u0007', '\u009b2J', '\u202e', '\ud83d\udc08', '\u00e9'],
  ...[
    '__proto__: {a: 1}\n',
    '"__proto__":{"a":1},',
    'constructor',
    'toString',
    'hasOwnProperty',
    'prototype',
  ],
  ...['<<<<<<< HEAD\n', '=======\n', '>>>>>>> theirs\n', '=1+1', '@SUM(1)', '-2+3', '+1'],
  ...[
    'null',
    '~',
    'true',
    'no',
    '.inf',
    '.nan',
    'nan',
    'Infinity',
    '-0',
    '0',
    '-1',
    '1e999',
    '1e-999',
    '0x1F',
    '0o17',
  ],
  ...['9'.repeat(400), '1_000', '1,5', '2026-02-30', '9999-12-31', '0000-00-00', '2026-11-25T08:14:03Z'],
  ...['['.repeat(600), '{"a":'.repeat(300), '- '.repeat(400), ' '.repeat(3000), 'x'.repeat(20_000)],
];

export type Change =
  | { readonly kind: 'flip'; readonly at: number; readonly bit: number }
  | { readonly kind: 'byte'; readonly at: number; readonly byte: number }
  | { readonly kind: 'insert'; readonly at: number; readonly text: string }
  | { readonly kind: 'number'; readonly at: number; readonly text: string }
  | { readonly kind: 'delete'; readonly at: number; readonly length: number }
  | { readonly kind: 'repeat'; readonly at: number; readonly length: number }
  | { readonly kind: 'move-line'; readonly at: number; readonly to: number }
  | { readonly kind: 'cut'; readonly at: number };

/** A place as a share of the length, so that shrinking the file keeps it meaningful. */
const place = fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true });
const length = fc.integer({ min: 1, max: 200 });
const token = fc.oneof(fc.constantFrom(...TOKENS), fc.string({ unit: 'binary', maxLength: 12 }));

export const NUMBERS: readonly string[] = [
  ...[
    '0',
    '-1',
    '-0',
    '0.1',
    '1',
    '2',
    '3',
    '1e9',
    '1e308',
    '1e309',
    '1e-309',
    '5e-324',
    '9007199254740993',
    '1e21',
  ],
  ...[
    'null',
    '""',
    '"1"',
    '[]',
    '{}',
    'true',
    '.5',
    '1.',
    '00',
    '4294967296',
    '123456789012345678901234567890',
  ],
];

const change: fc.Arbitrary<Change> = fc.oneof(
  fc.record({ kind: fc.constant('flip' as const), at: place, bit: fc.integer({ min: 0, max: 7 }) }),
  fc.record({ kind: fc.constant('byte' as const), at: place, byte: fc.integer({ min: 0, max: 255 }) }),
  fc.record({ kind: fc.constant('insert' as const), at: place, text: token }),
  fc.record({ kind: fc.constant('number' as const), at: place, text: fc.constantFrom(...NUMBERS) }),
  fc.record({ kind: fc.constant('delete' as const), at: place, length }),
  fc.record({ kind: fc.constant('repeat' as const), at: place, length }),
  fc.record({ kind: fc.constant('move-line' as const), at: place, to: place }),
  fc.record({ kind: fc.constant('cut' as const), at: place }),
);

/** One to five changes: one alone gets deep into a file that is otherwise in order. */
export const changes: fc.Arbitrary<Change[]> = fc.array(change, { minLength: 1, maxLength: 5, size: 'max' });

/** The bytes with all changes made, one after the other. */
export function mutated(bytes: Buffer, all: readonly Change[]): Buffer {
  return all.reduce(apply, bytes);
}

function apply(bytes: Buffer, change: Change): Buffer {
  const at = Math.floor(change.at * bytes.length);
  const spliced = (removed: number, put: Buffer, from = at) =>
    Buffer.concat([bytes.subarray(0, from), put, bytes.subarray(from + removed)]);
  switch (change.kind) {
    case 'flip':
      return spliced(1, Buffer.from([(bytes[at] ?? 0) ^ (1 << change.bit)]));
    case 'byte':
      return spliced(1, Buffer.from([change.byte]));
    case 'insert':
      return spliced(0, Buffer.from(change.text));
    case 'number': {
      const found = /\d+(\.\d+)?/.exec(bytes.toString('latin1', at));
      return found === null ? bytes : spliced(found[0].length, Buffer.from(change.text), at + found.index);
    }
    case 'delete':
      return spliced(change.length, Buffer.alloc(0));
    case 'repeat':
      return spliced(0, bytes.subarray(at, at + change.length));
    case 'move-line': {
      const lines = bytes.toString('latin1').split('\n');
      const [line = ''] = lines.splice(Math.floor(change.at * lines.length), 1);
      lines.splice(Math.floor(change.to * lines.length), 0, line);
      return Buffer.from(lines.join('\n'), 'latin1');
    }
    case 'cut':
      return bytes.subarray(0, at);
  }
}
