/** The small parts of an entry: its id, its station, its two times, its text, and what it cannot say of itself. */
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/problem/problem.ts';
import { contradictionIn } from '../../src/record/contradiction.ts';
import { holdReasonWords } from '../../src/record/counting.ts';
import { ensureEntryId, newEntryId } from '../../src/record/entry-id.ts';
import { lineText } from '../../src/record/line-text.ts';
import { byOrder, doneAtMs, type OrderKey } from '../../src/record/order.ts';
import { ensureStationName, isStationName, stationName } from '../../src/record/station.ts';
import { clockCautions, doneOn, enteredAt } from '../../src/record/times.ts';
import { placesToLook } from '../../src/record/where-to-look.ts';
import { hold } from './entries.ts';

/** What a refusal says. */
function refusalOf(refused: () => unknown) {
  try {
    refused();
  } catch (error) {
    if (error instanceof Refusal)
      return error.problems.map(({ code, message, remedy }) => ({ code, message, remedy }));
    throw error;
  }
  return [];
}

describe('the id of an entry', () => {
  it('is the instant in UTC and six letters that are read out without mistake', () => {
    const now = new Date('2026-11-25T08:14:03.127Z');
    const ids = Array.from({ length: 200 }, () => newEntryId(now));
    for (const id of ids) expect(id).toMatch(/^20261125-081403127-[0-9a-hjkmnp-tv-z]{6}$/);
    expect(new Set(ids).size).toBe(200);
    // Every letter of the alphabet comes up, at every place.
    for (let place = 0; place < 6; place++)
      expect(new Set(ids.map(id => id.at(-1 - place))).size).toBeGreaterThan(25);
    expect(ensureEntryId(ids[0] ?? '')).toBe(ids[0]);
  });

  it.each(['12345678', 'a'.repeat(64), '20261125-081403127-7q2k9d'])('may be given: %s', id => {
    expect(ensureEntryId(id)).toBe(id);
  });

  it.each(['1234567', 'a'.repeat(65), 'ABCDEFGH', 'a/b/c/d/e', '', 'abcdefgh\n', ' abcdefgh'])(
    'is refused: %j',
    id => {
      expect(refusalOf(() => ensureEntryId(id))).toEqual([
        {
          code: 'entry_id_not_valid',
          message: `'${id}' cannot be the id of an entry`,
          remedy: 'take the id that the failed command printed: a-z, 0-9 and -, 8 to 64 characters',
        },
      ]);
    },
  );
});

describe('the name of a station', () => {
  it.each(['a', '0', 'front-desk', 'a'.repeat(40)])('may be %s', name => {
    expect(isStationName(name)).toBe(true);
    expect(ensureStationName(name)).toBe(name);
    expect(stationName(name, 'other')).toBe(name);
  });

  it.each(['-desk', 'a'.repeat(41), 'Desk', '../x', 'a b', '', 'desk\n'])('may not be %j', name => {
    expect(isStationName(name)).toBe(false);
    expect(refusalOf(() => ensureStationName(name))).toEqual([
      {
        code: 'station_name',
        message: `'${name}' cannot be the name of a station`,
        remedy: 'set HOLDFAST_STATION to a-z, 0-9 and -, at most 40 long, for example front-desk',
      },
    ]);
  });

  it('is else the first part of the host’s name, made safe', () => {
    expect(stationName(undefined, 'Prep_Room.example')).toBe('prep-room');
    expect(stationName('', 'theatre')).toBe('theatre');
    expect(stationName(undefined, '--Desk--.x')).toBe('desk');
    expect(stationName(undefined, '...')).toBe('station');
    expect(stationName(undefined, 'ÄÖ')).toBe('station');
    expect(stationName(undefined, `${'a'.repeat(39)}--b`)).toBe('a'.repeat(39));
    expect(stationName(undefined, 'a__b')).toBe('a-b');
    expect(stationName(undefined, 'b'.repeat(60))).toBe('b'.repeat(40));
  });
});

describe('when an entry was made', () => {
  const zone = 'Europe/Dublin';
  const entered = (at: string) => ({ at, now: new Date('2026-11-25T08:14:03Z'), timeZone: zone });

  it('is now, but never before the last one of the station', () => {
    const now = new Date('2026-07-01T08:00:00.900Z');
    expect(enteredAt(now, zone, null)).toBe('2026-07-01T09:00:00+01:00');
    expect(enteredAt(now, zone, '2026-07-01T09:00:01+01:00')).toBe('2026-07-01T09:00:01+01:00');
    // Within the very second it is the same again.
    expect(enteredAt(now, zone, '2026-07-01T08:00:00+00:00')).toBe('2026-07-01T09:00:00+01:00');
    expect(enteredAt(now, zone, '2026-06-01T09:00:00+01:00')).toBe('2026-07-01T09:00:00+01:00');
  });

  it('is when it was done where nothing else is said', () => {
    const at = '2026-11-25T08:14:03+00:00';
    expect(doneOn(undefined, entered(at))).toBe(at);
    expect(doneOn('2026-11-25', entered(at))).toBe('2026-11-25');
    expect(doneOn('2026-11-25T08:14:03Z', entered(at))).toBe('2026-11-25T08:14:03+00:00');
    expect(doneOn('2026-07-01T08:00:00Z', entered(at))).toBe('2026-07-01T09:00:00+01:00');
    expect(doneOn('2024-02-29', entered(at))).toBe('2024-02-29');
  });

  it('keeps the order of one day, and the time of the clock where the last entry was put on a later day', () => {
    const now = new Date('2026-11-25T23:50:00Z');
    const on = (at: string) => doneOn(undefined, { at, now, timeZone: zone });
    expect(on('2026-11-25T23:59:59+00:00')).toBe('2026-11-25T23:59:59+00:00');
    expect(on('2026-11-26T00:00:00+00:00')).toBe('2026-11-25T23:50:00+00:00');
    expect(on('2027-11-25T23:50:00+00:00')).toBe('2026-11-25T23:50:00+00:00');
  });

  it('takes no time that the clock has not reached, whatever the last entry bears', () => {
    const entry = entered('2027-11-25T08:14:03+00:00');
    for (const on of ['2026-11-26', '2026-11-25T08:14:04Z'])
      expect(refusalOf(() => doneOn(on, entry))).toMatchObject([{ code: 'time_in_future' }]);
    expect(doneOn('2026-11-25', entry)).toBe('2026-11-25');
  });

  it('says so where the last entry was made by a clock that was ahead, and not of a few seconds', () => {
    const cautions = (at: string) => clockCautions({ id: 'entry-1', at, on: at }, 'prep', entered(at));
    const rightly = (at: string, on: string) => clockCautions({ id: 'entry-1', at, on }, 'prep', entered(at));
    expect(rightly('2027-11-25T08:14:03+00:00', '2026-11-25T08:10:00+00:00')).toEqual([]);
    expect(rightly('2027-11-25T08:14:03+00:00', '2026-11-25')).toEqual([]);
    expect(rightly('2027-11-25T08:14:03+00:00', '2026-11-26')).toHaveLength(1);
    expect(clockCautions(null, 'prep', entered('2026-11-25T08:14:03+00:00'))).toEqual([]);
    expect(cautions('2026-11-25T08:19:02+00:00')).toEqual([]);
    expect(cautions('2026-11-25T08:19:03+00:00')).toMatchObject([
      {
        code: 'last_entry_in_future',
        message:
          'the last entry of prep, entry-1, bears the time 2026-11-25T08:19:03+00:00, and by this clock it is ' +
          '2026-11-25T08:14:03+00:00; so what is entered now is put at that time too',
      },
    ]);
    expect(cautions('2027-11-25T08:14:03+00:00')).toMatchObject([
      {
        code: 'last_entry_in_future',
        message: expect.stringMatching(
          /entered at that time too, and counts as done at 2026-11-25T08:14:03\+00:00$/,
        ),
      },
    ]);
  });

  it.each(['2026-02-30', '2025-02-29', '2026-13-01', 'yesterday', '2026-11-25T25:00:00Z', '2026-11-00'])(
    'is refused where it is no time: %s',
    on => {
      expect(refusalOf(() => doneOn(on, entered('2026-11-25T08:14:03+00:00')))).toEqual([
        {
          code: 'time_not_understood',
          message: `'${on}' is no date and no time`,
          remedy: 'write it as 2026-11-25 or 2026-11-25T08:14:03+00:00',
        },
      ]);
    },
  );

  it.each(['2026-11-26', '2026-11-25T08:14:04Z', '2026-11-25T09:14:04+01:00'])(
    'is refused where it has not come yet: %s',
    on => {
      expect(refusalOf(() => doneOn(on, entered('2026-11-25T08:14:03+00:00')))).toEqual([
        {
          code: 'time_in_future',
          message: `${on} has not come yet; it is 2026-11-25T08:14:03+00:00`,
          remedy: 'correct the time',
        },
      ]);
    },
  );
});

describe('the text of a line', () => {
  it('escapes what harms a terminal or ends a line elsewhere, and nothing else', () => {
    expect(lineText({ note: 'a\u009bb\u2028c\u202ed\ufeffe' })).toBe(
      '{"note":"a\\u009bb\\u2028c\\u202ed\\ufeffe"}',
    );
    expect(lineText({ note: 'Zoë – 20 °C\n' })).toBe('{"note":"Zoë – 20 °C\\n"}');
    expect(JSON.parse(lineText({ note: '\u007f\u200b' }))).toEqual({ note: '\u007f\u200b' });
  });
});

describe('contradictionIn', () => {
  const entry = hold('2026-11-25T08:00:00+00:00', 'bain-1', 'theatre-1', { n: 7 });
  const at = entry.at;
  const right = { station: 'theatre', n: 7, at: '2026-11-25T07:00:00+00:00' };

  it('finds nothing in an entry that follows the one before', () => {
    expect(contradictionIn(entry, right)).toBeNull();
    expect(contradictionIn(entry, { ...right, at: null, n: null })).toBeNull();
    expect(contradictionIn(entry, { ...right, at })).toBeNull();
    const { n: _, ...unnumbered } = entry;
    expect(contradictionIn(unnumbered, { ...right, n: 9 })).toBeNull();
    expect(contradictionIn({ ...entry, on: '2026-11-25' }, right)).toBeNull();
    expect(contradictionIn({ ...entry, on: '2026-11-24T23:00:00+00:00' }, right)).toBeNull();
  });

  it('compares times of different offsets as moments', () => {
    const following = (on: string) => contradictionIn({ ...entry, on }, { ...right, at: on });
    // The same moment, and an earlier one whose text is the greater.
    expect(following('2026-11-25T09:00:00+01:00')).toBeNull();
    expect(following('2026-11-25T08:30:00+01:00')).toBeNull();
    // A later one whose text is the lesser.
    expect(following('2026-11-25T07:30:00-01:00')).toMatchObject({ found: `entered at ${at}` });
    expect(contradictionIn({ ...entry, on: '2026-11-25T07:30:00-01:00' }, right)).toMatchObject({
      expected: `done by ${at}`,
    });
  });

  it('names the first of what cannot be', () => {
    expect(contradictionIn(entry, { ...right, station: 'ward' })).toEqual({
      expected: 'station ward',
      found: 'station theatre',
    });
    expect(contradictionIn(entry, { ...right, n: 8 })).toEqual({
      expected: 'line number 8',
      found: 'line number 7',
    });
    expect(contradictionIn(entry, { ...right, at: '2026-11-25T08:00:01+00:00' })).toEqual({
      expected: 'entered at 2026-11-25T08:00:01+00:00 or later',
      found: `entered at ${at}`,
    });
    for (const on of ['2026-11-25T08:00:01+00:00', '2026-11-26'])
      expect(contradictionIn({ ...entry, on }, right)).toEqual({
        expected: `done by ${at}`,
        found: `done on ${on}`,
      });
    expect(contradictionIn({ ...entry, on: '2026-11-26' }, { station: 'ward', n: 8, at: null })).toEqual({
      expected: 'station ward',
      found: 'station theatre',
    });
  });

  it('compares a bare date with the date that was written, wherever that was', () => {
    // The evening of the 25th, eight hours behind UTC, where it is the 26th already.
    const west = { ...entry, at: '2026-11-25T20:00:00-08:00' };
    expect(contradictionIn({ ...west, on: '2026-11-25' }, { ...right, at: null })).toBeNull();
    expect(contradictionIn({ ...west, on: '2026-11-26' }, { ...right, at: null })).toEqual({
      expected: 'done by 2026-11-25T20:00:00-08:00',
      found: 'done on 2026-11-26',
    });
  });

  it('compares instants, whatever offset they are written with', () => {
    // 09:30 at +02:00 is 07:30 in UTC, before 08:00, although its text is greater.
    expect(contradictionIn(entry, { ...right, at: '2026-11-25T09:30:00+02:00' })).toBeNull();
    expect(contradictionIn(entry, { ...right, at: '2026-11-25T07:30:00-01:00' })).toMatchObject({
      found: `entered at ${at}`,
    });
  });
});

describe('the order of entries', () => {
  it('is that of on, at, station and line', () => {
    const key = (on: number, entered: number, station: string, line: number): OrderKey => ({
      on,
      at: entered,
      station,
      line,
    });
    const sorted = [
      key(1, 5, 'z', 9),
      key(2, 1, 'z', 9),
      key(2, 2, 'a', 9),
      key(2, 2, 'b', 1),
      key(2, 2, 'b', 2),
    ];
    expect(sorted.toReversed().sort(byOrder)).toEqual(sorted);
    expect(byOrder(key(2, 2, 'b', 2), key(2, 2, 'b', 2))).toBe(0);
    for (const [i, a] of sorted.entries())
      for (const [j, b] of sorted.entries()) expect(Math.sign(byOrder(a, b))).toBe(Math.sign(i - j));
  });

  it('takes a bare date as the end of its day, but never after it was entered', () => {
    const doneAt = doneAtMs('Europe/Dublin');
    const atNoon = Date.parse('2026-11-25T12:00:00Z');
    const nextDay = '2026-11-26T08:00:00+00:00';
    expect(doneAt({ on: '2026-11-25T12:00:00+00:00', at: nextDay })).toBe(atNoon);
    expect(doneAt({ on: '2026-11-25', at: '2026-11-25T12:00:00+00:00' })).toBe(atNoon);
    const end = doneAt({ on: '2026-11-25', at: nextDay });
    expect(end).toBeGreaterThan(Date.parse('2026-11-25T23:59:58Z'));
    expect(end).toBeLessThanOrEqual(Date.parse('2026-11-26T00:00:00Z'));
    // Asked again, and of another day.
    expect(doneAt({ on: '2026-11-25', at: nextDay })).toBe(end);
    expect(doneAt({ on: '2026-11-24', at: nextDay })).toBe(end - 86_400_000);
  });
});

describe('the words for leaks', () => {
  it('say what decided a leak test', () => {
    const reasons = [
      'held',
      'make_up_within',
      'pressure_not_reached',
      'make_up_above',
      'fell',
      'went_slack',
      'pop_off_stuck',
    ] as const;
    expect(reasons.map(holdReasonWords)).toEqual([
      'the pressure or the taut bag held',
      'the make-up flow was within the limit',
      'the pressure could not be reached',
      'the make-up flow was above the limit',
      'the pressure fell',
      'the bag went slack',
      'the pop-off was stuck',
    ]);
  });

  it('name the places of each kind, those that leak most first', () => {
    const circleEnds = 'the hose ends, at the valves and at the patient';
    const ownEnds = 'the hose ends, at the fresh-gas outlet and at the patient';
    const inner = 'the inner tube: about 2 L/min, block only the inner tube, the float must dip';
    const absorber = ['the absorber: its seal and its drain', 'the domes of the valves'];
    const last = ['the pop-off', 'the scavenging hose at the pop-off'];
    const bag = 'the bag and its neck';
    expect(placesToLook('t_piece')).toEqual([bag, ownEnds, ...last]);
    expect(placesToLook('bain')).toEqual([bag, ownEnds, ...last, inner]);
    expect(placesToLook('circle_y')).toEqual([bag, circleEnds, ...absorber, ...last]);
    expect(placesToLook('circle_coaxial')).toEqual([bag, circleEnds, ...absorber, ...last, inner]);
  });
});
