/** The answers that `inventory new` wants, and what can be wrong with each. */
import { todayIn } from '../../calendar/zone.ts';
import { CIRCUIT_KINDS, type CircuitKind } from '../../inventory/inventory.ts';
import { RESERVED_WORDS } from '../../inventory/select.ts';
import { didYouMean } from '../../problem/nearest.ts';

/** What is asked, with what holds where nobody is asked. */
export interface Answers {
  name: string;
  timeZone: string;
  machines: readonly string[];
  circuits: readonly string[];
}

/** What can be wrong with each answer; the same for options and for what is typed. */
export const FAULTS = {
  name: (name: string) =>
    name.trim() === '' || Array.from(name).length > 120 ? 'a name has 1 to 120 characters' : null,
  timeZone: (zone: string, now: Date) =>
    todayIn(zone, now) === null ? `'${zone}' is no IANA time zone: write it as Europe/Dublin` : null,
  machines: (ids: readonly string[]) => {
    const bad = ids.find(id => !/^[a-z][a-z0-9-]{0,39}$/.test(id) || RESERVED_WORDS.includes(id));
    if (ids.length === 0) return 'at least one machine';
    if (bad !== undefined)
      return `'${bad}' is no id: a-z, 0-9 and -, starting with a letter, for example theatre-1`;
    return new Set(ids).size < ids.length ? 'the same id stands twice' : null;
  },
  circuits: (kinds: readonly string[]) => {
    const bad = kinds.find(kind => !isCircuitKind(kind));
    if (kinds.length === 0) return 'at least one circuit';
    return bad === undefined ? null : `there is no circuit kind '${bad}': ${didYouMean(bad, CIRCUIT_KINDS)}`;
  },
};

export function isCircuitKind(kind: string): kind is CircuitKind {
  return CIRCUIT_KINDS.some(known => known === kind);
}
