import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import type { Inventory, Machine } from '../../src/inventory/inventory.ts';
import { ensureInventory } from '../../src/inventory/load.ts';
import { foldStanding } from '../../src/record/standing.ts';
import { type Round, type RoundName, roundOf, unseenReturn } from '../../src/round/round.ts';
import { giveBack, signOff, withdraw } from '../record/entries.ts';

const inventory: Inventory = ensureInventory('inventory.example.yaml', () => '2026-11-25');

function machine(id: string): Machine {
  const found = inventory.machines.find(one => one.id === id);
  if (found === undefined) throw new Error(`no ${id}`);
  return found;
}

function round(
  name: RoundName,
  id: string,
  entries: readonly Entry[] = [],
  circuits: readonly string[] = [],
): Round {
  return roundOf(inventory, foldStanding(inventory, entries), name, machine(id), circuits);
}

const names = ({ items }: Round) => items.map(({ asset, check }) => `${check.id} ${asset.id}`);

describe('roundOf', () => {
  it('takes the checks of that round, of the machine, its parts and its oxygen, in the order of the inventory', () => {
    const all = names(round('opening', 'theatre-1'));
    expect(all[0]).toBe('oxygen theatre-1');
    expect(all).toContain('vaporizer-level theatre-1-iso');
    expect(all).toContain('absorbent-look theatre-1-absorber');
    expect(all.some(name => name.includes('theatre-2'))).toBe(false);
    expect(names(round('closing', 'theatre-1'))).toContain('cylinders-shut theatre-1-e');
  });

  it('takes checks of circuits only for the circuits that are named, and counts the others', () => {
    const without = round('before_case', 'theatre-1');
    expect(names(without).some(name => name.includes('bain-1'))).toBe(false);
    expect(without.otherCircuits).toBeGreaterThan(0);
    expect(names(round('before_case', 'theatre-1', [], ['bain-1']))).toContain('inner-tube bain-1');
  });

  it('leaves out what is out of service', () => {
    const out = round('opening', 'theatre-1', [withdraw('07:00', 'theatre-1-iso')]);
    expect(names(out)).not.toContain('vaporizer-level theatre-1-iso');
    expect(names(out)).toContain('vaporizer-level theatre-1-sevo');
  });

  it('says what was done last, and what failed', () => {
    const done = round('opening', 'theatre-1', [
      signOff('07:00', 'theatre-1', 'suction'),
      signOff('07:10', 'theatre-1', 'suction', 'fail'),
    ]);
    expect(done.items.find(({ check }) => check.id === 'suction')).toMatchObject({
      standsFailed: true,
      lastPass: { date: '2026-11-25' },
    });
  });
});

describe('unseenReturn', () => {
  const away = [withdraw('07:00', 'theatre-1'), giveBack('08:00', 'theatre-1')];
  const since = (entries: readonly Entry[]) =>
    unseenReturn(inventory, foldStanding(inventory, entries), 'theatre-1');

  it('is the date of the return until a check of a round is passed', () => {
    expect(since(away)).toBe('2026-11-25');
    expect(since([...away, signOff('08:30', 'theatre-1', 'suction', 'fail')])).toBe('2026-11-25');
    expect(since([...away, signOff('08:30', 'theatre-1', 'suction')])).toBeNull();
  });

  it('is not answered by a check that was passed before', () => {
    expect(since([signOff('06:00', 'theatre-1', 'suction'), ...away])).toBe('2026-11-25');
  });

  it('is null for what never was away, or is away now', () => {
    expect(since([])).toBeNull();
    expect(since([...away, withdraw('09:00', 'theatre-1')])).toBeNull();
  });

  it('names itself in the round', () => {
    expect(round('opening', 'theatre-1', away).firstSince).toEqual([
      { asset: 'theatre-1', date: '2026-11-25' },
    ]);
  });
});
