/** The reader that makes no object of a line: what it takes it must take as the parser does, and it must take what the store writes. */
import fc from 'fast-check';
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import { lineText } from '../../src/record/line-text.ts';
import { isEntry, nothingKnown, parseLine } from '../../src/record/parse-line.ts';
import { factsOf, LineFacts } from '../../src/record/scan/facts.ts';
import {
  READING,
  RETURN,
  SIGN_OFF,
  SUPPLY_HOLD,
  USAGE,
  WITHDRAW,
} from '../../src/record/scan/kernel/layout.ts';
import { LineReader } from '../../src/record/scan/line-reader.ts';
import { hashOf, Names } from '../../src/record/scan/names.ts';
import { giveBack, hold, reading, signOff, supplyHold, usage, withdraw } from './entries.ts';

const ON = '2026-11-24T08:30:15+01:00';
const EARLIER = '2026-11-20T18:05:00-05:30';
const doneOn = (date: string) => Date.parse(`${date}T12:00:00Z`);
const doneAt = ({ on }: Entry) => (on.length === 10 ? doneOn(on) : Date.parse(on));

/** What a kind of line has of its own, in the order in which the commands give it to the store. */
const ORDER =
  'circuit machine asset supply check bag case fall taut make_up pop_off from_psi to_psi minutes rule leak psi g new result reason'.split(
    ' ',
  );
const LATER = ['minutes', 'flow_ml_min', 'agent', 'setting_percent'];

function inOrder(kind: string, content: object): object {
  // A use names the machine first and the case last.
  if (kind === 'usage')
    return { ...pick(content, ['machine', 'circuit', ...LATER]), ...pick(content, ['case']) };
  return { ...pick(content, ORDER), ...content };
}

function pick(content: object, keys: readonly string[]): object {
  return Object.fromEntries(keys.flatMap(key => Object.entries(content).filter(([own]) => own === key)));
}

/** The line as the store writes it. */
function written(entry: Entry, n: number | null = 712): string {
  const { v, id, at, station, kind, by, on, note, inventory, tool, prev, ...content } = entry;
  const noted = note === undefined ? {} : { note };
  const numbered = n === null ? {} : { n };
  return `${lineText({ v, id, at, station, kind, by, on, ...noted, ...inOrder(kind, content), ...numbered, inventory, tool, prev })}\n`;
}

/** Of every kind, with all that a line of it may have. */
const LINES: readonly string[] = [
  written(signOff(ON, 'bain-1', 'inner-tube', 'pass')),
  written(signOff('2026-11-24', 'gone-1', 'unheard-of', 'fail'), null),
  written({ ...signOff(ON, 'bain-1', 'inner-tube', 'fail'), at: '2026-11-24T09:00:00+01:00', on: EARLIER }),
  written({ ...signOff(ON, 'bain-1', 'inner-tube', 'pass'), note: 'geprüft, "ja" \\ nein\n\t' }),
  written(hold(ON, 'bain-1', 'theatre-1')),
  written(
    hold(ON, 'y-piece-1', 'theatre-1', {
      bag: { size_ml: 1000, id: 'bag-1' },
      case: 'C "7"',
      taut: { steady: false, seconds: 12.5 },
      make_up: { flow_ml_min: 120.5, at_cmh2o: 20 },
      pop_off: 'stuck',
      rule: { pressure_cmh2o: 20, seconds: 30, drop_cmh2o: 0.5, make_up_ml_min: 150 },
      leak: { ml_min: 31.25, at_least: true },
      result: 'fail',
      reason: 'pop_off_stuck',
    }),
  ),
  written(hold(ON, 'bain-1', 'theatre-1', { pop_off: 'shut', result: 'fail', reason: 'went_slack' })),
  written(usage(ON, 'theatre-1', 'bain-1', { minutes: 61.37, agent: 'sevoflurane', setting_percent: 2.5 })),
  written(usage(ON, 'theatre-1', 'bain-1', { minutes: 45, agent: 'halothane', case: 'Müller 2' })),
  written(usage(ON, 'theatre-1', 'bain-1', { minutes: 45 })),
  written(reading(ON, 'ward-e-1', { psi: 1812.5, new: false })),
  written(reading(ON, 'theatre-1-charcoal', { g: 801.5, new: true })),
  written(supplyHold(ON, 'ward-e-1', 'pass')),
  written(withdraw(ON, 'bain-1', 'cracked "valve"')),
  written(giveBack(ON, 'bain-1')),
];

const ASSETS = ['bain-1', 'y-piece-1', 'theatre-1', 'theatre-1-charcoal', 'ward-e-1', 'gone-1'];
const names = () => ({ assets: new Names(ASSETS), checks: new Names(['ready', 'inner-tube']) });

/** What the report needs of a line; of what its kind does not have, nothing. */
function seen(facts: LineFacts, id: string) {
  const { kind, on, at, date, asset, other, check, isPass, isPopOffOpen, isNew, agent } = facts;
  const isHold = kind === 1;
  return {
    ...{ id, kind, on, at, date, asset },
    ...(isHold ? { other, isPass, isPopOffOpen } : {}),
    ...(kind === SIGN_OFF ? { check, isPass } : {}),
    ...(kind === SUPPLY_HOLD ? { isPass } : {}),
    ...(kind === READING ? { isNew, g: facts.g, idHash: facts.idHash } : {}),
    ...(kind === USAGE
      ? {
          other,
          agent,
          minutes: facts.minutes,
          flow: facts.flowMlPerMin,
          setting: facts.settingPercent,
          idHash: facts.idHash,
        }
      : {}),
  };
}

class Reading {
  readonly words = names();
  readonly facts = new LineFacts();
  readonly reader = new LineReader(this.facts, this.words, doneOn);

  /** Null: it is left to the parser. */
  read(line: string | Buffer) {
    const block = Buffer.from(line as string);
    const newline = this.reader.read(block, 0);
    if (newline === -1) return null;
    expect(newline).toBe(block.indexOf('\n'));
    return seen(this.facts, block.toString('latin1', this.facts.idStart, this.facts.idEnd));
  }

  /** Null: it is no entry. */
  parsed(line: string | Buffer) {
    const entry = parseLine(
      Buffer.from(line as string)
        .toString('utf8')
        .slice(0, -1),
      nothingKnown(),
    );
    if (!isEntry(entry)) return null;
    const facts = new LineFacts();
    factsOf(entry, facts, this.words, doneAt);
    return seen(facts, entry.id);
  }
}

/** Whether the line is taken, and if so, as the parser takes it. */
function isTaken(reading: Reading, line: string | Buffer): boolean {
  const taken = reading.read(line);
  if (taken !== null) expect(taken, line.toString('latin1')).toEqual(reading.parsed(line));
  return taken !== null;
}

describe('LineReader', () => {
  it.each(LINES)('takes what the store writes: %s', line => {
    expect(isTaken(new Reading(), line)).toBe(true);
  });

  it('takes them one after another, in any order, from a block', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...LINES, '{"v":1}\n', '\n'), { minLength: 1 }), lines => {
        const { reader, words, facts } = new Reading();
        const block = Buffer.from(lines.join(''));
        let start = 0;
        for (const line of lines) {
          const newline = reader.read(block, start);
          const one = new Reading();
          if (line.length < 10) expect(newline).toBe(-1);
          else {
            const id = block.toString('latin1', facts.idStart, facts.idEnd);
            expect(seen(facts, id)).toEqual(one.parsed(line));
            expect(block.toString('latin1', facts.prevStart, newline)).toMatch(/^[0-9a-f]{64}"}$/);
            expect(block.toString('latin1', facts.atStart, facts.atStart + 25)).toBe(JSON.parse(line).at);
            expect(facts.station).toBe(JSON.parse(line).station);
            expect(facts.n).toBe(JSON.parse(line).n ?? Number.NaN);
            expect(facts.isDoneWhenEntered).toBe(JSON.parse(line).at === JSON.parse(line).on);
          }
          start += Buffer.byteLength(line);
        }
        expect(words.assets.texts).toEqual(ASSETS);
      }),
      { numRuns: 300 },
    );
  });

  it('takes no line otherwise than the parser, whichever byte of it is another', () => {
    const reading = new Reading();
    const others = ['"', '\\', '0', '9', 'a', 'Z', ',', '\u0001', '-', '.'].map(text => text.charCodeAt(0));
    let taken = 0;
    for (const line of LINES) {
      const bytes = Buffer.from(line);
      for (let place = 0; place < bytes.length - 1; place++) {
        for (const other of [...others, 0x80, 0xff, (bytes[place] ?? 0) ^ 0x20]) {
          const changed = Buffer.from(bytes);
          changed[place] = other;
          if (isTaken(reading, changed)) taken += 1;
        }
      }
    }
    // Where any text may stand, most changes leave a line as good as before.
    expect(taken).toBeGreaterThan(1000);
  });

  it('takes no line otherwise than the parser, whatever is taken out, doubled or exchanged', () => {
    const reading = new Reading();
    const piece = fc.tuple(fc.constantFrom(...LINES), fc.nat(), fc.nat({ max: 40 }));
    fc.assert(
      fc.property(piece, piece, fc.boolean(), ([line, from, length], [other, start, more], isDoubled) => {
        const at = from % line.length;
        const begin = start % other.length;
        const rest = line.slice(isDoubled ? at : at + length);
        isTaken(
          reading,
          `${(line.slice(0, at) + other.slice(begin, begin + more) + rest).replaceAll('\n', '')}\n`,
        );
      }),
      { numRuns: 3000 },
    );
  });

  it('takes for a hash just 64 of 0-9 and a-f', () => {
    const reading = new Reading();
    const line = Buffer.from(LINES[0] ?? '');
    const from = line.lastIndexOf('"prev":"') + 8;
    for (let place = 0; place < 64; place++) {
      for (let byte = 0; byte < 256; byte++) {
        const changed = Buffer.from(line);
        changed[from + place] = byte;
        const isDigit = /^[0-9a-f]$/.test(String.fromCharCode(byte));
        expect(reading.reader.read(changed, 0) !== -1, `byte ${byte} at ${place}`).toBe(isDigit);
      }
    }
  });

  it('reads figures as JSON does', () => {
    const reading = new Reading();
    const [before = '', after = ''] = (LINES[11] ?? '').split('801.5');
    const figure = fc.oneof(
      fc.double({ min: 0, max: 1e5, noNaN: true }).map(String),
      fc.stringMatching(/^[0-9.e-]{1,17}$/),
    );
    fc.assert(
      fc.property(figure, text => void isTaken(reading, before + text + after)),
      { numRuns: 3000 },
    );
    for (const text of ['0', '45', '0.1', '61.37', '1812.5', '0.3', '12345.6789012345', '99999.99'])
      expect(isTaken(reading, before + text + after), text).toBe(true);
    for (const text of ['', '.5', '1.', '01', '-1', '0.1234567890123456', '1e5', '100001', '1.5.'])
      expect(isTaken(reading, before + text + after), text).toBe(false);
  });

  it('reads times as the clock does, also one after another', () => {
    const two = (n: number) => String(n).padStart(2, '0');
    const reading = new Reading();
    const [before = '', between = '', after = ''] = (LINES[4] ?? '').split(ON);
    const time = fc.record({
      year: fc.constantFrom(0, 50, 1900, 1969, 2000, 2024, 2026, 2100, 9999),
      month: fc.integer({ min: 0, max: 13 }),
      day: fc.integer({ min: 0, max: 32 }),
      hour: fc.integer({ min: 0, max: 25 }),
      minute: fc.constantFrom(0, 59, 60),
      second: fc.constantFrom(0, 59, 60),
      offset: fc.constantFrom('+00:00', '-00:00', '+05:45', '-11:30', '+23:59', '+24:00', '+00:60', 'x00:00'),
    });
    let taken = 0;
    fc.assert(
      fc.property(time, time, (one, other) => {
        const [at, on] = [one, other].map(
          ({ year, month, day, hour, minute, second, offset }) =>
            `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}T${two(hour)}:${two(minute)}:${two(second)}${offset}`,
        );
        const line = (first: string | undefined, second: string | undefined) =>
          `${before}${first}${between}${second}${after}`;
        for (const changed of [line(at, on), line(at, at), line(ON, at), line(ON, at?.slice(0, 10))])
          if (isTaken(reading, changed)) taken += 1;
      }),
      { numRuns: 2000 },
    );
    expect(taken).toBeGreaterThan(1000);
    // No date was read before, and these bytes are none.
    expect(
      new Reading().read(`${before}${'\0'.repeat(10)}T08:00:00+00:00${between}${ON}${after}`),
    ).toBeNull();
  });

  it('leaves a line with a name that is new to the parser, and then knows the name, however many there are', () => {
    const reading = new Reading();
    const lineOf = (asset: string) => written(giveBack(ON, asset));
    const many = [
      ...Array.from({ length: 400 }, (_, i) => `asset-${i}`),
      'az',
      'bY'.toLowerCase(),
      'a'.repeat(40),
    ];
    for (const [i, asset] of many.entries()) {
      expect(reading.read(lineOf(asset)), asset).toBeNull();
      expect(reading.parsed(lineOf(asset))?.asset).toBe(ASSETS.length + i);
      expect(reading.read(lineOf(asset))?.asset).toBe(ASSETS.length + i);
    }
    for (const [i, asset] of many.entries())
      expect(reading.read(lineOf(asset))?.asset).toBe(ASSETS.length + i);
    expect(reading.read(lineOf('a'.repeat(41)))).toBeNull();
    expect(reading.read(lineOf('asset-40'))).not.toEqual(reading.read(lineOf('asset-4')));
  });

  it('takes any name where names make no difference', () => {
    const facts = new LineFacts();
    const reader = new LineReader(facts, null, doneOn);
    for (const line of LINES.map(text => text.replaceAll('bain-1', 'never-heard-of')))
      expect(reader.read(Buffer.from(line), 0)).toBe(Buffer.byteLength(line) - 1);
  });

  it('reads on in blocks that are longer than it takes at once, by bytes or by lines', () => {
    const { reader, facts } = new Reading();
    const lines = [
      ...LINES,
      ...Array.from({ length: 9000 }, () => '\n'),
      ...Array.from({ length: 200 }, () => LINES).flat(),
    ];
    const block = Buffer.from(lines.join(''));
    expect(block.length).toBeGreaterThan(2 * 262_144);
    let start = 0;
    let taken = 0;
    while (start < block.length) {
      const newline = reader.read(block, start);
      if (newline !== -1) taken += 1;
      start = (newline === -1 ? block.indexOf('\n', start) : newline) + 1;
    }
    expect(taken).toBe(201 * LINES.length);
    expect(facts.kind).toBe(RETURN);
  });

  it('leaves a line that is longer than it takes at once, and takes the next', () => {
    const { reader, facts } = new Reading();
    const long = `${'x'.repeat(300_000)}\n`;
    const block = Buffer.from(long + (LINES[13] ?? ''));
    expect(reader.read(block, 0)).toBe(-1);
    expect(reader.read(block, long.length)).toBe(block.length - 1);
    expect(facts.kind).toBe(WITHDRAW);
  });

  it('reads where it is told to, back and forth, and anew in every block', () => {
    const { reader, facts } = new Reading();
    const [one = '', other = ''] = [LINES[0], LINES[14]];
    const block = Buffer.from(one + other);
    for (const start of [0, one.length, one.length, 0, one.length]) {
      expect(reader.read(block, start)).toBe(start === 0 ? one.length - 1 : block.length - 1);
      expect(facts.kind).toBe(start === 0 ? SIGN_OFF : RETURN);
    }
    expect(reader.read(Buffer.from(`${' '.repeat(one.length - 1)}\n${one}`), one.length)).toBe(
      2 * one.length - 1,
    );
  });

  it('reads a block once, many lines at a time', () => {
    const { reader, facts } = new Reading();
    const block = Buffer.from(LINES.join(''));
    let start = reader.read(block, 0) + 1;
    // What is read in one go is not looked at again: a line that is spoilt afterwards is taken as it was.
    const last = block.lastIndexOf('"kind":"return"');
    block.write('"kind":"xxxxxx"', last);
    for (const line of LINES.slice(1))
      start += reader.read(block, start) === -1 ? 0 : Buffer.byteLength(line);
    expect(start).toBe(block.length);
    expect(facts.kind).toBe(RETURN);
  });

  it('gives nothing of one block for a line of another, and nothing of another line, though rows are left', () => {
    const { reader, facts } = new Reading();
    const [first = '', second = '', third = ''] = [LINES[0], LINES[14], LINES[13]];
    const block = Buffer.from(first + second + third);
    expect(reader.read(block, 0)).toBe(first.length - 1);
    expect(reader.read(Buffer.from(first + third), first.length)).toBe(first.length + third.length - 1);
    expect(facts.kind).toBe(WITHDRAW);
    expect(reader.read(block, 0)).toBe(first.length - 1);
    expect(reader.read(block, first.length + second.length)).toBe(block.length - 1);
    expect(facts.kind).toBe(WITHDRAW);
    expect(reader.read(block, 0)).toBe(first.length - 1);
    expect(reader.read(block, 0)).toBe(first.length - 1);
    expect(facts.kind).toBe(SIGN_OFF);
  });

  it('takes as many bytes at once as it has room for, to the byte', () => {
    const room = 262_144;
    const [line = ''] = [LINES[14]];
    for (const [length, isRead] of [
      [room - 1, true],
      [room, true],
      [room + 1, false],
    ] as const) {
      // The last line ends where the room does, or one byte behind it, and is then read with the next run.
      const { reader, facts } = new Reading();
      const before = `${' '.repeat(length - line.length - 1)}\n`;
      const block = Buffer.from(before + line);
      expect(reader.read(block, 0)).toBe(-1);
      block.write('{"v":9', before.length);
      expect(reader.read(block, before.length) !== -1, `${length} bytes`).toBe(isRead);
      if (isRead) expect(facts.kind).toBe(RETURN);
    }
  });

  describe('where the machine runs no kernel', () => {
    afterEach(() => void vi.unstubAllGlobals());

    it('leaves every line to the parser', () => {
      vi.stubGlobal('WebAssembly', undefined);
      expect(LINES.map(line => new Reading().read(line))).toEqual(LINES.map(() => null));
      class CompileError extends Error {}
      const Module = function refuse() {
        throw new CompileError('no vectors');
      };
      const Instance = function refuse() {
        throw new RangeError('no memory');
      };
      vi.stubGlobal('WebAssembly', { Module, Instance, CompileError });
      expect(new Reading().read(LINES[0] ?? '')).toBeNull();
    });

    it('hides no other fault', () => {
      class CompileError extends Error {}
      const Instance = function fail() {
        throw new TypeError('a fault of ours');
      };
      vi.stubGlobal('WebAssembly', { Module: function none() {}, Instance, CompileError });
      expect(() => new Reading().read(LINES[0] ?? '')).toThrow('a fault of ours');
    });
  });
});

describe('hashOf', () => {
  it('is of 32 bits, and the same for names that differ only as these do', () => {
    expect(hashOf('')).toBe(5381);
    expect(hashOf('a')).toBe(177_670);
    expect(hashOf('az')).toBe(hashOf('bY'));
    expect(hashOf('x'.repeat(60))).toBe(hashOf('x'.repeat(60)) | 0);
    expect(new Set(['ab', 'ba', 'a', 'b'].map(hashOf)).size).toBe(4);
  });
});
