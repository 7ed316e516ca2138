/** The name of the workplace that writes. */
import { problem, Refusal } from '../problem/problem.ts';

const STATION = /^[a-z0-9][a-z0-9-]{0,39}$/;
const LONGEST = 40;

/** Whether a text can be the name of a station, and so of its folder. No path can be made of one. */
export function isStationName(text: string): boolean {
  return STATION.test(text);
}

/** Hands a station's name back. @throws Refusal (exit 2) `station_name` where it cannot be one. */
export function ensureStationName(text: string): string {
  if (isStationName(text)) return text;
  throw new Refusal([
    problem(
      'station_name',
      `'${text}' cannot be the name of a station`,
      'set HOLDFAST_STATION to a-z, 0-9 and -, at most 40 long, for example front-desk',
    ),
  ]);
}

/**
 * The station that writes: the one named (`HOLDFAST_STATION`), else the first part of the host's name made safe.
 *
 * @throws Refusal (exit 2) `station_name` where the name given is none. A host's name is bent into one instead, since
 *   nobody chose it for this.
 * @example stationName(undefined, 'Prep_Room.example') //=> 'prep-room'
 * @example stationName('front-desk', 'anything') //=> 'front-desk'
 */
export function stationName(named: string | undefined, hostname: string): string {
  return named === undefined || named === '' ? safeHostName(hostname) : ensureStationName(named);
}

function safeHostName(hostname: string): string {
  // What stands after the first dot changes with the network; the station must not.
  const label = hostname.split('.')[0] ?? '';
  const safe = label
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+/, '')
    .slice(0, LONGEST)
    .replace(/-+$/, '');
  return safe === '' ? 'station' : safe;
}
