import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { instantOfLocal } from '../../src/calendar/local-time.ts';
import { timestampIn } from '../../src/calendar/zone.ts';

function utc(zone: string, local: string): string {
  const found = instantOfLocal(zone, local);
  return typeof found === 'string' ? found : found.instant.toISOString();
}

describe('instantOfLocal', () => {
  it('reads the wall clock of the zone, summer and winter', () => {
    expect(utc('Europe/Dublin', '2026-07-01T09:14:03')).toBe('2026-07-01T08:14:03.000Z');
    expect(utc('Europe/Dublin', '2026-11-25T08:14:03')).toBe('2026-11-25T08:14:03.000Z');
    expect(utc('America/Los_Angeles', '2026-11-25T00:30:00')).toBe('2026-11-25T08:30:00.000Z');
  });

  it('says where the hour was left out, and where it was there twice', () => {
    expect(utc('Europe/Dublin', '2026-03-29T01:30:00')).toBe('gap');
    expect(utc('Europe/Dublin', '2026-10-25T01:30:00')).toBe('twice');
    expect(utc('Europe/Dublin', '2026-10-25T02:00:00')).toBe('2026-10-25T02:00:00.000Z');
  });

  it('undoes timestampIn, but for hours that were there twice', () => {
    const zones = fc.constantFrom(
      'Europe/Dublin',
      'America/Los_Angeles',
      'Pacific/Apia',
      'Africa/Cairo',
      'Australia/Lord_Howe',
      'Asia/Kathmandu',
    );
    const instants = fc
      .integer({ min: Date.parse('2024-01-01'), max: Date.parse('2028-01-01') })
      .map(ms => Math.floor(ms / 1000) * 1000);
    fc.assert(
      fc.property(zones, instants, (zone, ms) => {
        const found = instantOfLocal(zone, timestampIn(zone, new Date(ms)).slice(0, 19));
        expect(found === 'twice' || (found !== 'gap' && found.instant.getTime() === ms)).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });
});
