/** Offsets of time zones by the process's own zone: what main hands to calendar/zone.ts. */
import type { OffsetIn } from './calendar/zone.ts';

/**
 * Finds minutes east of UTC by making the zone that of the process: a tenth of a millisecond, where the first date format of
 * `Intl` takes twelve. The same tables of the same library (ICU) answer. Gives null for a zone that is not among the
 * canonical names: the process would take any word for UTC.
 *
 * @param env - the process's own environment: writing its TZ is what moves the process's zone.
 * @example offsetsByProcess(process.env)('Europe/Dublin', new Date('2026-07-01T08:14:03Z')) //=> 60
 */
export function offsetsByProcess(env: { TZ?: string | undefined }): OffsetIn {
  let known: ReadonlySet<string> | null = null;
  return (timeZone, instant) => {
    known ??= new Set(Intl.supportedValuesOf('timeZone'));
    if (!known.has(timeZone)) return null;
    if (env.TZ !== timeZone) env.TZ = timeZone;
    // Never -0.
    return 0 - instant.getTimezoneOffset();
  };
}
