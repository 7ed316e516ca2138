/** Verifying a record: everything in it is derived anew from its bytes and compared with what is remembered outside it. */

import type { Problem } from '../problem/problem.ts';
import { FIRST_PREV } from './chain.ts';
import { checkStation, type StationCheck } from './check-station.ts';
import { type Damage, damageAt } from './damage.ts';
import { openRecord, type RecordFiles, storeRefusal } from './folder.ts';
import { type Memory, memoryFile, recallHead, recallStations, rememberHead } from './head.ts';
import type { StationHead } from './read.ts';

/** A head that a person has from a report or another computer. */
export interface GivenHead {
  /** null: of whichever station. */
  readonly station: string | null;
  /** SHA-256 of a line. */
  readonly head: string;
}

export interface VerifyOptions {
  /** Where heads are remembered (`stateFolder(env)`); null: nowhere. */
  readonly stateDir: string | null;
  readonly heads?: readonly GivenHead[] | undefined;
}

export interface VerifiedStation extends StationHead {
  /** Bytes of its year files. */
  readonly bytes: number;
}

export interface Verified {
  readonly dir: string;
  readonly stations: readonly VerifiedStation[];
  /** In the order of stations and lines. Empty: the record is as it was written. */
  readonly damage: readonly Damage[];
  /** Damage beyond what is listed. */
  readonly more: number;
  /** Torn tails that were set aside earlier: no damage. */
  readonly setAside: readonly string[];
  readonly cautions: readonly Problem[];
}

/**
 * Reads every line of every station and checks it. Where all is well, the heads are remembered.
 *
 * @throws Refusal (exit 3) `record_missing`, or where something cannot be read.
 * @example verifyRecord('record', { stateDir: null }).damage //=> []
 */
export function verifyRecord(dir: string, { stateDir, heads = [] }: VerifyOptions): Verified {
  const record = openRecord(dir);
  if (!record.exists)
    throw storeRefusal('record_missing', dir, `there is no record in ${dir}`, 'name it with --record DIR');
  const wanted = heads.map(({ head }) => head);
  const checks: StationCheck[] = [];
  const damage: Damage[] = [];
  for (const files of record.stations) {
    const memory = stateDir === null ? null : recallHead(stateDir, dir, files.station);
    const check = checkStation(files, memory, wanted, null);
    checks.push(check);
    damage.push(...check.damage.map(found => withMemory(found, stateDir, dir, files.station)));
  }
  damage.push(...lostStations(record, stateDir), ...givenHeadsMissing(checks, heads));
  const cautions = [...record.cautions];
  if (stateDir !== null && damage.length === 0) cautions.push(...remember(dir, stateDir, checks));
  return {
    dir,
    stations: checks.map(({ station, head, entries, bytes }) => ({ station, head, entries, bytes })),
    damage,
    more: checks.reduce((sum, { more }) => sum + more, 0),
    setAside: record.stations.flatMap(({ setAside }) => setAside),
    cautions,
  };
}

/** A cut on purpose is acknowledged by deleting what was remembered; the remedy says which file. */
function withMemory(damage: Damage, stateDir: string | null, dir: string, station: string): Damage {
  if (damage.code !== 'damage_cut_tail' || stateDir === null) return damage;
  const file = memoryFile(stateDir, dir, station);
  return { ...damage, remedy: `${damage.remedy} If they were taken out on purpose, delete ${file}.` };
}

/** Stations that this computer has seen and that are gone with all their lines. */
function lostStations({ dir, stations }: RecordFiles, stateDir: string | null): Damage[] {
  if (stateDir === null) return [];
  const there = new Set(stations.map(({ station }) => station));
  return recallStations(stateDir, dir)
    .filter(station => !there.has(station))
    .flatMap(station => {
      const memory = recallHead(stateDir, dir, station);
      if (memory === null) return [];
      const message = `station ${station} is gone with all its lines`;
      const found = { message, expected: memory.last.head, found: 'no folder' };
      const damage = damageAt('damage_cut_tail', station, { file: null, line: null, byte: null }, found);
      return [withMemory(damage, stateDir, dir, station)];
    });
}

function givenHeadsMissing(checks: readonly StationCheck[], heads: readonly GivenHead[]): Damage[] {
  return heads
    .filter(({ station, head }) => {
      const among = checks.filter(check => station === null || check.station === station);
      return head !== FIRST_PREV && !among.some(({ headsSeen }) => headsSeen.has(head));
    })
    .map(({ station, head }) => {
      const where = station === null ? 'the record' : `station ${station}`;
      const message = `no line of ${where} has the hash ${head}: lines were cut off or changed`;
      const found = checks.map(check => `${check.station} ${check.head}`).join(', ');
      return damageAt(
        'damage_cut_tail',
        station,
        { file: null, line: null, byte: null },
        { message, expected: head, found },
      );
    });
}

/** Remembers the heads of a sound record, also of stations that came in from elsewhere. */
function remember(dir: string, stateDir: string, checks: readonly StationCheck[]): Problem[] {
  const cautions: Problem[] = [];
  for (const { station, last } of checks) {
    if (last === null || recallHead(stateDir, dir, station)?.last.head === last.head) continue;
    const memory: Memory = { last, missing: [] };
    const caution = rememberHead(stateDir, dir, station, memory);
    if (caution !== null) return [caution];
  }
  return cautions;
}
