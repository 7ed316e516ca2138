/** Checks: whether they apply to something, and whether they can ever be due and done. */
import { didYouMean } from '../../problem/nearest.ts';
import type { Problem } from '../../problem/problem.ts';
import type { Asset, Check } from '../inventory.ts';
import { RESERVED_WORDS, selectAssets } from '../select.ts';
import type { Draft } from './draft.ts';

export function checkSelections({ file, inventory, assets, problem }: Draft): Problem[] {
  const known = [...RESERVED_WORDS, ...inventory.assets.keys()];
  return (file.checks ?? []).flatMap((check, i) =>
    [check.of].flat().flatMap((word, j) => {
      if (selectAssets([word], assets).length > 0) return [];
      const pointer = Array.isArray(check.of) ? `/checks/${i}/of/${j}` : `/checks/${i}/of`;
      const isKind = RESERVED_WORDS.includes(word);
      const what = isKind ? `the inventory has no ${word}` : `'${word}' is neither a kind nor an id here`;
      const remedy = isKind ? 'take it out, or add the asset' : didYouMean(word, known);
      return [problem('check_selects_nothing', pointer, `check '${check.id}': ${what}`, remedy)];
    }),
  );
}

export function checkIntervals({ file, inventory, problem }: Draft): Problem[] {
  return inventory.checks.flatMap((check, i) => {
    const problems: Problem[] = [];
    const { every, after, countedFrom, starting, round, path, id } = check;
    if (every === null && after.hoursInUse === null && after.gainG === null && round === null) {
      problems.push(
        problem(
          'check_never_due',
          `${path}/id`,
          `check '${id}' would never be due`,
          'add every, after or round',
        ),
      );
    }
    if (countedFrom === 'calendar' && (every === null || starting === null)) {
      const missing = every === null ? 'every' : 'starting';
      problems.push(
        problem(
          'check_calendar',
          `${path}/counted_from`,
          `check '${id}' has no ${missing}`,
          `add ${missing}`,
        ),
      );
    }
    if (countedFrom !== 'calendar' && file.checks?.[i]?.starting !== undefined) {
      problems.push(
        problem(
          'check_calendar',
          `${path}/starting`,
          `check '${id}' has starting without counted_from: calendar`,
          'add counted_from: calendar, or take starting out',
        ),
      );
    }
    return problems;
  });
}

/** What an asset must be for each way of doing or counting a check. */
const WAYS: readonly {
  applies(check: Check): boolean;
  fits(asset: Asset): boolean;
  key: string;
  cannot: string;
}[] = [
  { applies: c => c.doneBy === 'hold', fits: a => a.type === 'circuit', key: 'done_by', cannot: 'be held' },
  {
    applies: c => c.doneBy === 'supply_hold',
    fits: isCylinder,
    key: 'done_by',
    cannot: 'have a high-pressure test',
  },
  {
    applies: c => c.doneBy === 'reading',
    fits: a => isCylinder(a) || isCharcoal(a),
    key: 'done_by',
    cannot: 'be read',
  },
  { applies: c => c.after.gainG !== null, fits: isCharcoal, key: 'after/gain_g', cannot: 'gain weight' },
  {
    applies: c => c.after.hoursInUse !== null,
    fits: isWornByUse,
    key: 'after/hours_in_use',
    cannot: 'count hours in use',
  },
];

function isCylinder(asset: Asset): boolean {
  return asset.type === 'supply' && asset.kind === 'cylinder';
}

function isCharcoal(asset: Asset): boolean {
  return asset.type === 'scavenging' && asset.kind === 'charcoal';
}

/** A case is entered for a machine and a circuit; of bags and supplies it says nothing. */
function isWornByUse({ type }: Asset): boolean {
  return type !== 'bag' && type !== 'supply';
}

export function checkWays({ inventory, problem }: Draft): Problem[] {
  return inventory.checks.flatMap(check =>
    WAYS.filter(way => way.applies(check)).flatMap(({ fits, key, cannot }) => {
      const misfit = check.assets
        .map(id => inventory.assets.get(id))
        .find(asset => asset !== undefined && !fits(asset));
      if (misfit === undefined) return [];
      const message = `check '${check.id}' applies to ${misfit.id}, which cannot ${cannot}`;
      return [
        problem(
          'check_cannot_apply',
          `${check.path}/${key}`,
          message,
          'correct of, or how the check is done',
        ),
      ];
    }),
  );
}

export function checkStarts({ inventory, problem }: Draft): Problem[] {
  return inventory.checks.flatMap(check => {
    if (check.every === null || check.countedFrom === 'calendar') return [];
    const without = check.assets.find(id => inventory.assets.get(id)?.since === null);
    if (without === undefined) return [];
    const message = `check '${check.id}' counts from the day ${without} came into service, which is not given`;
    return [problem('check_since_missing', `${check.path}/of`, message, `give ${without} its since`)];
  });
}
