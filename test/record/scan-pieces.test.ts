import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { literalOf, Pieces } from '../../src/record/scan/pieces.ts';

/** A cursor at the beginning of a block that goes on behind what is read. */
function at(bytes: string | Uint8Array): Pieces {
  const pieces = new Pieces();
  pieces.takeBlock(Buffer.concat([Buffer.from(bytes as string), Buffer.from('"}\n'), Buffer.alloc(64, 'x')]));
  return pieces;
}

const two = (n: number) => String(n).padStart(2, '0');

describe('Pieces', () => {
  it('takes for hexadecimal just 0-9 and a-f, at every place', () => {
    for (let place = 0; place < 8; place++) {
      for (let byte = 0; byte < 256; byte++) {
        const bytes = Buffer.from('0a9f3e7b');
        bytes[place] = byte;
        expect(at(bytes).hex(8), `byte ${byte} at ${place}`).toBe(
          /^[0-9a-f]$/.test(String.fromCharCode(byte)),
        );
      }
    }
    expect(at(Buffer.from([0xff, 0xff, 0xff, 0xff])).hex(4)).toBe(false);
    expect(at(Buffer.from([0x80, 0x30, 0x30, 0x30])).hex(4)).toBe(false);
  });

  it('compares texts of every length by each of their bytes', () => {
    for (let length = 1; length <= 40; length++) {
      const text = 'abcdefghijklmnopqrstuvwxyz0123456789-":,'.slice(0, length);
      expect(at(text).literal(literalOf(text))).toBe(true);
      for (let place = 0; place < length; place++) {
        for (const byte of [0, 0x7f, 0x80, 0xff, text.charCodeAt(place) ^ 0x80, text.charCodeAt(place) + 1]) {
          const bytes = Buffer.from(text);
          bytes[place] = byte;
          expect(at(bytes).literal(literalOf(text)), `byte ${byte} at ${place} of ${length}`).toBe(false);
        }
      }
    }
    const pieces = at('ab');
    pieces.takeBlock(Buffer.from('abcdefg\n'));
    expect(pieces.literal(literalOf('abcdefg\nh'))).toBe(false);
  });

  it('reads numbers as JSON does', () => {
    const figure = fc.oneof(
      fc.double({ min: 0, max: 1e6, noNaN: true }).map(String),
      fc.stringMatching(/^[0-9.e-]{1,17}$/),
    );
    fc.assert(
      fc.property(figure, text => {
        const pieces = at(text);
        if (!pieces.number(0, 1e300)) return;
        // What stands behind it is looked at next.
        const read = text.slice(0, pieces.at);
        expect(JSON.parse(read)).toBe(pieces.value);
      }),
      { numRuns: 5000 },
    );
    for (const text of ['0', '45', '0.1', '61.37', '1812.5', '123456789012345', '0.3', '9007199254.74099']) {
      const pieces = at(text);
      expect(pieces.number(0, 1e300)).toBe(true);
      expect(pieces.value).toBe(Number(text));
    }
    for (const text of ['', '.5', '1.', '01', '-1', '1234567890123456', '1e5']) {
      const pieces = at(text);
      expect(pieces.number(0, 1e300) && pieces.at === text.length, text).toBe(false);
    }
  });

  it('reads times as the clock does, also one after another', () => {
    const part = fc.record({
      year: fc.constantFrom(0, 50, 1900, 1969, 2000, 2024, 2026, 2100, 9999),
      month: fc.integer({ min: 0, max: 13 }),
      day: fc.integer({ min: 0, max: 32 }),
      hour: fc.integer({ min: 0, max: 25 }),
      minute: fc.constantFrom(0, 59, 60),
      second: fc.constantFrom(0, 59, 60),
      offset: fc.constantFrom('+00:00', '-00:00', '+05:45', '-11:30', '+23:59', '+24:00', '+00:60'),
    });
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 4 }), times => {
        const pieces = new Pieces();
        const texts = times.map(
          ({ year, month, day, hour, minute, second, offset }) =>
            `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}T${two(hour)}:${two(minute)}:${two(second)}${offset}`,
        );
        pieces.takeBlock(Buffer.from(`${texts.join('')}\n${'x'.repeat(64)}`));
        for (const [i, text] of texts.entries()) {
          pieces.at = i * 25;
          const ms = Date.parse(text);
          const midnight = Date.parse(`${text.slice(0, 10)}T00:00:00Z`);
          const isDay =
            !Number.isNaN(midnight) && new Date(midnight).toISOString().slice(0, 10) === text.slice(0, 10);
          // 24:00 is a time to the clock, and none to the record.
          const isTime = isDay && !Number.isNaN(ms) && text.slice(11, 13) !== '24';
          expect(pieces.instant(), text).toBe(isTime);
          if (isTime) expect(pieces.ms, text).toBe(ms);
        }
      }),
      { numRuns: 5000 },
    );
  });
});
