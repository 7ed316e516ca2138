import { afterAll, describe, expect, it } from 'vitest';
import { offsetByIntl, timestampIn, useQuickOffsets } from '../src/calendar/zone.ts';
import { offsetsByProcess } from '../src/process-zone.ts';

const before = process.env.TZ;
const offsetIn = offsetsByProcess(process.env);

afterAll(() => {
  if (before === undefined) delete process.env.TZ;
  else process.env.TZ = before;
  useQuickOffsets(() => null);
});

describe('offsetsByProcess', () => {
  it('says of every zone, around the year and around its changes of clock, what Intl says', () => {
    const zones = Intl.supportedValuesOf('timeZone');
    expect(zones.length).toBeGreaterThan(300);
    const instants = [2020, 2026, 2031].flatMap(year =>
      Array.from({ length: 24 }, (_, i) => new Date(Date.UTC(year, 0, 1) + i * 15.3 * 86_400_000)),
    );
    for (const zone of zones)
      for (const instant of instants)
        expect(offsetIn(zone, instant), `${zone} ${instant.toISOString()}`).toBe(offsetByIntl(zone, instant));
  });

  it('is right to the second on both sides of a change of clock', () => {
    for (const [at, offset] of [
      ['2026-03-29T00:59:59Z', 0],
      ['2026-03-29T01:00:00Z', 60],
      ['2026-10-25T00:59:59Z', 60],
      ['2026-10-25T01:00:00Z', 0],
    ] as const)
      expect(Object.is(offsetIn('Europe/Dublin', new Date(at)), offset), at).toBe(true);
  });

  it('knows nothing of words that are no canonical zone, and leaves them to Intl', () => {
    const instant = new Date('2026-07-01T08:14:03Z');
    for (const zone of ['Europe/Nowhere', 'GMT+2', '+01:00', '', 'europe/dublin', 'US/Eastern'])
      expect(offsetIn(zone, instant), zone).toBeNull();
    useQuickOffsets(offsetIn);
    expect(timestampIn('US/Eastern', instant)).toBe('2026-07-01T04:14:03-04:00');
    expect(timestampIn('Asia/Kolkata', instant)).toBe('2026-07-01T13:44:03+05:30');
    expect(() => timestampIn('Europe/Nowhere', instant)).toThrow(RangeError);
  });

  it('is asked again for another zone', () => {
    const instant = new Date('2026-07-01T08:14:03Z');
    expect(
      ['Pacific/Apia', 'America/Los_Angeles', 'Pacific/Apia'].map(zone => offsetIn(zone, instant)),
    ).toEqual([780, -420, 780]);
  });
});
