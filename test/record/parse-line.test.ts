import { describe, expect, it } from 'vitest';
import { isEntry, nothingKnown, parseLine } from '../../src/record/parse-line.ts';
import { hold } from './entries.ts';

const ENTRY = hold('2026-11-25T08:14:03+00:00', 'bain-1', 'theatre-1');
const parse = (given: object, known = nothingKnown()) =>
  parseLine(JSON.stringify({ ...ENTRY, ...given }), known);
/** Why a line with this changed is no entry; 'entry' where it is one. */
const told = (given: object) => {
  const parsed = parse(given);
  return isEntry(parsed) ? 'entry' : parsed.reason;
};

describe('parseLine', () => {
  it('gives an entry as it stands', () => {
    expect(parse({})).toEqual(ENTRY);
  });

  it.each([
    ['', 'an empty line'],
    [' ', 'not JSON'],
    ['hello', 'not JSON'],
    ['[]', 'no JSON object'],
    ['null', 'no JSON object'],
    ['7', 'no JSON object'],
    ['"text"', 'no JSON object'],
    ['{"v":2}', "must have required property 'kind'"],
  ])('says what is wrong with %j', (line, reason) => {
    const parsed = parseLine(line, nothingKnown());
    expect(isEntry(parsed)).toBe(false);
    expect(parsed).toEqual({ reason });
  });

  it('names the place in the entry, and a key that does not belong there', () => {
    expect(told({ fall: { from_cmh2o: 'thirty', to_cmh2o: 30, seconds: 10 } })).toBe(
      'fall.from_cmh2o must be number',
    );
    expect(told({ colour: 'red' })).toMatch(/^must NOT have (additional|unevaluated) properties \(colour\)$/);
    expect(told({ fall: { from_cmh2o: 30, to_cmh2o: 30, seconds: 10, extra: 1 } })).toMatch(
      /^fall must NOT have additional properties \(extra\)$/,
    );
    expect(told({ circuit: 7 })).toBe('circuit must be string');
  });

  it.each([
    ['prev', 'f'.repeat(63), 'prev is no SHA-256'],
    ['prev', 'F'.repeat(64), 'prev is no SHA-256'],
    ['prev', `${'f'.repeat(64)}0`, 'prev is no SHA-256'],
    ['prev', `0${'f'.repeat(64)}`, 'prev is no SHA-256'],
    ['inventory', 'a'.repeat(39), 'inventory is no blob id'],
    ['inventory', 'a'.repeat(41), 'inventory is no blob id'],
    ['inventory', 'g'.repeat(40), 'inventory is no blob id'],
    ['station', 'Theatre', 'station is no name of a station'],
    ['station', '../x', 'station is no name of a station'],
    ['on', '2026-02-30', 'on is no date and no time'],
    ['on', '2026-02-29', 'on is no date and no time'],
    ['on', '2026-13-01', 'on is no date and no time'],
    ['on', '2026-00-10', 'on is no date and no time'],
    ['on', '2026-11-31T08:00:00+00:00', 'on is no date and no time'],
    ['on', '2026-11-25T24:00:00+00:00', 'on is no date and no time'],
    ['on', '2026-11-25T08:60:00+00:00', 'on is no date and no time'],
    ['on', '2026-11-25T08:00:60+00:00', 'on is no date and no time'],
    ['on', '2026-11-25T08:00:00+24:00', 'on is no date and no time'],
    ['on', '2026-11-25T08:00:00+00:60', 'on is no date and no time'],
    ['on', '2026-11-25T08:00:00Z', 'on is no date and no time'],
    ['on', '2026-11-25T08:00+00:00', 'on is no date and no time'],
    ['on', 'x2026-11-25', 'on is no date and no time'],
    ['on', '2026-11-25x', 'on is no date and no time'],
    ['on', '2026-11-31x', 'on is no date and no time'],
  ])('refuses %s %s', (key, value, reason) => {
    expect(told({ [key]: value })).toBe(reason);
  });

  it.each([
    '2026-11-24',
    '2026-02-28',
    '2024-02-29',
    '2026-01-31',
    '2026-12-31T23:59:59-11:30',
    '2026-10-19T20:09:10+14:00',
    '2026-11-30T08:14:03+00:00',
  ])('takes as a time when it was done: %s', on => {
    expect(told({ on })).toBe('entry');
  });

  it.each(['2026-11-31T08:00:00+00:00', '2026-02-29T08:00:00+00:00', '2026-11-25T24:00:00+00:00'])(
    'refuses a time of entry that cannot be: %s',
    at => {
      expect(told({ at, on: at })).toBe('at is no time');
    },
  );

  it('takes what was known before without looking again, and remembers what is new', () => {
    const known = nothingKnown();
    expect(isEntry(parse({}, known))).toBe(true);
    expect(known).toEqual({ prev: '', inventory: ENTRY.inventory, station: 'theatre' });
    parse({ inventory: 'b'.repeat(40), station: 'ward' }, known);
    expect(known).toEqual({ prev: '', inventory: 'b'.repeat(40), station: 'ward' });
    // What is refused is not remembered.
    parse({ inventory: 'nothing' }, known);
    parse({ station: 'NOBODY' }, known);
    expect(known).toEqual({ prev: '', inventory: ENTRY.inventory, station: 'ward' });
    // The hash that the line should carry is given from without.
    expect(isEntry(parse({ prev: 'as-given' }, { ...known, prev: 'as-given' }))).toBe(true);
    expect(isEntry(parse({ prev: 'as-given' }, known))).toBe(false);
  });
});
