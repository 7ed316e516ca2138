/** What `record verify` found → text or JSON (`holdfast.verify/1`). */
import type { Damage } from '../record/damage.ts';
import type { Verified } from '../record/verify.ts';
import { safeJson, safeText } from './safe-text.ts';
import { counted, padEnd, padStart, wrap } from './text.ts';

/** More than a person reads before restoring a file; JSON has all that are kept. */
const MOST_SHOWN = 20;

/** The answer first, then each damage, then each station with its head. */
export function renderVerify(verified: Verified, { width }: { readonly width: number }): string {
  const { damage, stations, setAside } = verified;
  const parts = [
    summary(verified, width),
    ...damage.slice(0, MOST_SHOWN).map(one => renderDamage(one, width)),
  ];
  const left = damage.length - MOST_SHOWN + verified.more;
  if (damage.length > MOST_SHOWN || verified.more > 0) {
    parts.push(`… and ${left} more. The first ones explain most; --json lists them.\n`);
  }
  if (stations.length > 0) parts.push(renderStations(verified));
  if (setAside.length > 0) {
    const files = setAside.map(file => `  ${safeText(file)}\n`).join('');
    parts.push(`Torn tails that were set aside earlier, no damage:\n${files}`);
  }
  return parts.join('\n');
}

/** `{"format":"holdfast.verify/1","record":…,"sound":…,"stations":[…],"damage":[…],"more":0,"set_aside":[…],"cautions":[…]}` */
export function renderVerifyJson({ dir, damage, more, stations, setAside, cautions }: Verified): string {
  const document = {
    format: 'holdfast.verify/1',
    record: dir,
    sound: damage.length === 0,
    stations,
    damage: damage.map(({ code, station, file, line, byte, expected, found, message, remedy }) => {
      return { code, station, file, line, byte, expected, found, message, remedy };
    }),
    more,
    set_aside: setAside,
    cautions: cautions.map(({ code, file, message, remedy }) => ({ code, file, message, remedy })),
  };
  return `${safeJson(document, 2)}\n`;
}

function summary({ dir, damage, more, stations }: Verified, width: number): string {
  const record = safeText(dir);
  if (damage.length > 0) {
    const places = counted(damage.length + more, 'place');
    return `${wrap(`DAMAGED: ${record}, in ${places}. Do not rely on what it says of leak tests and checks.`, width)}\n`;
  }
  const entries = counted(
    stations.reduce((sum, station) => sum + station.entries, 0),
    'entry',
    'entries',
  );
  return `${wrap(`Sound: ${record}, ${entries} of ${counted(stations.length, 'station')}; every line follows the one before.`, width)}\n`;
}

/** Code and place, what is wrong, what was expected and found, what to do. */
function renderDamage(
  { code, station, file, line, byte, message, expected, found, remedy }: Damage,
  width: number,
): string {
  const place = [file, line].filter(part => part !== null).join(':');
  const where = [
    place === '' ? null : safeText(place),
    byte === null ? null : `byte ${byte}`,
    station === null ? null : `station ${safeText(station)}`,
  ];
  const lines = [
    `${code} ${where.filter(part => part !== null).join(', ')}`,
    wrap(safeText(message), width, '  '),
  ];
  // On lines of their own and never broken: they are there to be compared.
  if (expected !== null) lines.push(`  expected ${safeText(expected)}`);
  if (found !== null) lines.push(`  found    ${safeText(found)}`);
  lines.push(wrap(safeText(remedy), width, '  → ', '    '));
  return `${lines.join('\n')}\n`;
}

function renderStations({ stations }: Verified): string {
  const names = Math.max(...stations.map(({ station }) => station.length));
  const counts = Math.max(...stations.map(({ entries }) => String(entries).length));
  const lines = stations.map(({ station, entries, head }) => {
    const noun = entries === 1 ? 'entry  ' : 'entries';
    return `  ${padEnd(station, names)}  ${padStart(String(entries), counts)} ${noun}\n    head ${head}\n`;
  });
  return `Stations:\n${lines.join('')}`;
}
