/**
 * The cross-reference stage: what no schema can see. An ordered list of checks of one signature; each gives all the
 * problems it finds.
 */
import type { InventoryFile } from '../generated/inventory-file.ts';
import type { Code } from '../problem/codes.ts';
import { didYouMean } from '../problem/nearest.ts';
import type { Problem } from '../problem/problem.ts';
import { isAbove } from '../quantity/compare.ts';
import { allAssets } from './build.ts';
import { type Asset, driveOf, type Inventory } from './inventory.ts';
import type { ParsedDocument } from './parse.ts';
import { RESERVED_WORDS, selects } from './select.ts';
import { byPlace } from './validate.ts';

interface Draft {
  file: InventoryFile;
  document: ParsedDocument;
  inventory: Inventory;
  /** Today in the practice's zone, YYYY-MM-DD; null when the zone itself is unknown. */
  today: string | null;
  /** Every asset, repeated ids included. */
  assets: Asset[];
  problem(code: Code, pointer: string, message: string, remedy: string): Problem;
}

type CrossCheck = (draft: Draft) => Problem[];

/** All cross-reference problems, in the order of the file. */
export function crossReferenceProblems(
  file: InventoryFile,
  document: ParsedDocument,
  inventory: Inventory,
  todayIn: (timeZone: string) => string | null,
): Problem[] {
  const { machines, circuits, bags, supplies } = inventory;
  const at = (path: string) => ({ path, place: inventory.placeOf(path) });
  const draft: Draft = {
    file,
    document,
    inventory,
    today: todayIn(inventory.practice.timeZone),
    assets: [...allAssets(machines, circuits, bags, supplies, at)],
    problem(code, pointer, message, remedy) {
      const { value } = document.locate(pointer);
      return document.source.problem(code, value.start, value.end, message, remedy);
    },
  };
  return CHECKS.flatMap(check => check(draft)).sort(byPlace);
}

const CHECKS: readonly CrossCheck[] = [
  timeZone,
  idsTwice,
  idsReserved,
  reversedRanges,
  sinceInFuture,
  danglingSupplies,
  unusedSupplies,
  supplyPressures,
  undrivenCircuits,
  bagSizesTwice,
  bagIds,
  flowmeterMarks,
  checkSelections,
  checkIntervals,
  checkWays,
  checkStarts,
];

function timeZone({ inventory, today, problem }: Draft): Problem[] {
  if (today !== null) return [];
  const zone = inventory.practice.timeZone;
  return [problem('zone_unknown', '/practice/time_zone', `'${zone}' is no IANA time zone`, 'write it as Europe/Dublin')];
}

function idsTwice({ inventory, assets, problem }: Draft): Problem[] {
  return repeated([
    ...assets.map(({ id, path, type }) => ({ id, path: type === 'bag' ? path : `${path}/id`, group: 'asset' })),
    ...inventory.checks.map(({ id, path }) => ({ id, path: `${path}/id`, group: 'check' })),
  ]).map(({ id, path, group, first }) => {
    const line = inventory.placeOf(first).line;
    return problem('id_twice', path, `${group} id '${id}' stands already on line ${line}`, 'give one of them another id');
  });
}

function repeated(entries: { id: string; path: string; group: string }[]) {
  const firsts = new Map<string, string>();
  return entries.flatMap(entry => {
    const key = `${entry.group} ${entry.id}`;
    const first = firsts.get(key);
    if (first === undefined) firsts.set(key, entry.path);
    return first === undefined ? [] : [{ ...entry, first }];
  });
}

function idsReserved({ assets, problem }: Draft): Problem[] {
  return assets
    .filter(asset => RESERVED_WORDS.includes(asset.id))
    .map(({ id, path, type }) => {
      const message = `'${id}' is the word that checks use for a whole kind`;
      return problem('id_reserved', type === 'bag' ? path : `${path}/id`, message, `name it, for example, ${id}-1`);
    });
}

function reversedRanges({ file, inventory, problem }: Draft): Problem[] {
  const problems: Problem[] = [];
  const look = (value: unknown, pointer: string): void => {
    if (isRange(value)) {
      const [first, second] = value;
      if (first > second) {
        problems.push(problem('range_reversed', pointer, `[${first}, ${second}] has its high end first`, `write [${second}, ${first}]`));
      }
    } else if (typeof value === 'object' && value !== null && !Array.isArray(value)) {
      for (const [key, inner] of Object.entries(value)) look(inner, `${pointer}/${key}`);
    }
  };
  look(file.rules, '/rules');
  for (const [i, circuit] of file.circuits.entries()) look(circuit.weights_kg, `/circuits/${i}/weights_kg`);
  const { nonRebreathingBelowKg: below, rebreathingAboveKg: above } = inventory.rules.boundary;
  if (below.value > above.value) {
    const pointer = above.from === 'inventory' ? above.path : below.path;
    const message = `rebreathing above ${above.value} kg lies below non-rebreathing below ${below.value} kg`;
    problems.push(problem('range_reversed', pointer, message, 'give both, the lower weight as non_rebreathing_below_kg'));
  }
  return problems;
}

function isRange(value: unknown): value is [number, number] {
  return Array.isArray(value) && value.length === 2 && value.every(end => typeof end === 'number');
}

function sinceInFuture({ assets, today, document, problem }: Draft): Problem[] {
  return assets.flatMap(({ id, since, path }) => {
    if (since === null || today === null || since <= today) return [];
    // A part without a since of its own has the machine's; it is shown once, there.
    if (document.locate(`${path}/since`).value.start === document.locate(path).value.start) return [];
    const message = `${id} is in service since ${since}, after today (${today})`;
    return [problem('since_in_future', `${path}/since`, message, 'correct the date')];
  });
}

function danglingSupplies({ inventory, problem }: Draft): Problem[] {
  const known = inventory.supplies.map(({ id }) => id);
  return inventory.machines.flatMap(machine =>
    machine.oxygen.flatMap((id, i) =>
      known.includes(id)
        ? []
        : [problem('supply_unknown', `${machine.path}/oxygen/${i}`, `there is no oxygen supply '${id}'`, didYouMean(id, known))],
    ),
  );
}

function unusedSupplies({ inventory, problem }: Draft): Problem[] {
  return inventory.supplies
    .filter(({ id }) => !inventory.machines.some(machine => machine.oxygen.includes(id)))
    .map(({ id, path }) => problem('supply_unused', `${path}/id`, `no machine has the oxygen supply '${id}'`, "add it to a machine's oxygen, or take it out"));
}

function supplyPressures({ file, inventory, problem }: Draft): Problem[] {
  return inventory.supplies.flatMap((supply, i) => {
    if (supply.kind !== 'cylinder') return [];
    const written = file.oxygen_supplies[i];
    const bothUnits = (written?.full_psi ?? written?.reserve_psi) !== undefined && supply.gaugeUnit === 'bar';
    const refused = (message: string) => [
      problem('supply_pressures', supply.path, `${supply.id}: ${message}`, 'give full_psi and reserve_psi, or full_bar and reserve_bar'),
    ];
    if (bothUnits) return refused('pressures in psi and in bar');
    if (Number.isNaN(supply.fullPsi)) return refused('no pressure when full');
    if (Number.isNaN(supply.reservePsi)) return refused('no reserve pressure');
    return supply.reservePsi < supply.fullPsi ? [] : refused('the reserve is not below the pressure when full');
  });
}

function undrivenCircuits({ inventory, problem }: Draft): Problem[] {
  return inventory.circuits
    .filter(({ kind }) => !inventory.machines.some(machine => machine.drives.includes(driveOf(kind))))
    .map(({ id, kind, path }) => {
      const message = `no machine can drive ${id}, a ${kind}`;
      return problem('circuit_undriven', `${path}/kind`, message, `add ${driveOf(kind)} to the drives of a machine, or take it out`);
    });
}

function bagSizesTwice({ inventory, problem }: Draft): Problem[] {
  const sizes = inventory.bags.map(({ sizeMl, path }) => ({ id: String(sizeMl), path: `${path}/size_ml`, group: 'bag' }));
  return repeated(sizes).map(({ id, path, first }) => {
    const line = inventory.placeOf(first).line;
    return problem('bag_size_twice', path, `bags of ${id} mL stand already on line ${line}`, 'add the counts up in one line');
  });
}

function bagIds({ inventory, problem }: Draft): Problem[] {
  return inventory.bags
    .filter(({ ids, count }) => ids.length > 0 && ids.length !== count)
    .map(({ ids, count, path }) =>
      problem('bag_ids_count', `${path}/ids`, `${ids.length} ids for a count of ${count}`, 'give each bag an id, or none'),
    );
}

function flowmeterMarks({ inventory, problem }: Draft): Problem[] {
  return inventory.machines.flatMap(({ flowmeter, path }) => {
    const problems: Problem[] = [];
    let from = 0;
    for (const [i, { upToMlPerMin: upTo, stepMlPerMin: step }] of flowmeter.marks.entries()) {
      const here = `${path}/flowmeter/marks/${i}`;
      if (upTo <= from) {
        problems.push(problem('marks_disordered', `${here}/up_to_ml_min`, `${upTo} mL/min is not above ${from}, the end of the stretch before`, 'list the stretches from the lowest to the highest'));
      } else if (isAbove(upTo, flowmeter.maxMlPerMin)) {
        problems.push(problem('marks_disordered', `${here}/up_to_ml_min`, `${upTo} mL/min is above the maximum of ${flowmeter.maxMlPerMin}`, 'correct max_ml_min or the marks'));
      } else if (!isWhole((upTo - from) / step)) {
        problems.push(problem('marks_uneven', `${here}/step_ml_min`, `steps of ${step} from ${from} do not reach ${upTo}`, 'read the flowmeter again: where the spacing changes there is a mark'));
      }
      from = upTo;
    }
    return problems;
  });
}

function isWhole(value: number): boolean {
  return Math.abs(value - Math.round(value)) < 1e-6;
}

function checkSelections({ file, inventory, problem }: Draft): Problem[] {
  const assets = [...inventory.assets.values()];
  const known = [...RESERVED_WORDS, ...inventory.assets.keys()];
  return (file.checks ?? []).flatMap((check, i) =>
    [check.of].flat().flatMap((word, j) => {
      if (assets.some(asset => selects(word, asset))) return [];
      const pointer = Array.isArray(check.of) ? `/checks/${i}/of/${j}` : `/checks/${i}/of`;
      const what = RESERVED_WORDS.includes(word) ? `the inventory has no ${word}` : `'${word}' is neither a kind nor an id here`;
      const remedy = RESERVED_WORDS.includes(word) ? 'take it out, or add the asset' : didYouMean(word, known);
      return [problem('check_selects_nothing', pointer, `check '${check.id}': ${what}`, remedy)];
    }),
  );
}

function checkIntervals({ file, inventory, problem }: Draft): Problem[] {
  return inventory.checks.flatMap((check, i) => {
    const problems: Problem[] = [];
    const { every, after, countedFrom, starting, round, path, id } = check;
    if (every === null && after.hoursInUse === null && after.gainG === null && round === null) {
      problems.push(problem('check_never_due', `${path}/id`, `check '${id}' would never be due`, 'add every, after or round'));
    }
    if (countedFrom === 'calendar' && (every === null || starting === null)) {
      const missing = every === null ? 'every' : 'starting';
      problems.push(problem('check_calendar', `${path}/counted_from`, `check '${id}' has no ${missing}`, `add ${missing}`));
    }
    if (countedFrom !== 'calendar' && file.checks?.[i]?.starting !== undefined) {
      problems.push(problem('check_calendar', `${path}/starting`, `check '${id}' has starting without counted_from: calendar`, 'add counted_from: calendar, or take starting out'));
    }
    return problems;
  });
}

/** What an asset must be for each way of doing or counting a check. */
const WAYS: readonly { applies(check: Inventory['checks'][number]): boolean; fits(asset: Asset): boolean; key: string; what: string }[] = [
  { applies: c => c.doneBy === 'hold', fits: a => a.type === 'circuit', key: 'done_by', what: 'a leak test' },
  { applies: c => c.doneBy === 'supply_hold', fits: isCylinder, key: 'done_by', what: 'a high-pressure test' },
  { applies: c => c.doneBy === 'reading', fits: a => isCylinder(a) || isCharcoal(a), key: 'done_by', what: 'a reading' },
  { applies: c => c.after.gainG !== null, fits: isCharcoal, key: 'after/gain_g', what: 'a gain in weight' },
];

function isCylinder(asset: Asset): boolean {
  return asset.type === 'supply' && asset.kind === 'cylinder';
}

function isCharcoal(asset: Asset): boolean {
  return asset.type === 'scavenging' && asset.kind === 'charcoal';
}

function checkWays({ inventory, problem }: Draft): Problem[] {
  return inventory.checks.flatMap(check =>
    WAYS.filter(way => way.applies(check)).flatMap(way => {
      const misfit = check.assets.map(id => inventory.assets.get(id)).find(asset => asset !== undefined && !way.fits(asset));
      if (misfit === undefined) return [];
      const message = `check '${check.id}': ${misfit.id} has no such thing as ${way.what}`;
      return [problem('check_cannot_apply', `${check.path}/${way.key}`, message, 'correct of, or how the check is done')];
    }),
  );
}

function checkStarts({ inventory, problem }: Draft): Problem[] {
  return inventory.checks.flatMap(check => {
    if (check.every === null || check.countedFrom === 'calendar') return [];
    const without = check.assets.find(id => inventory.assets.get(id)?.since === null);
    if (without === undefined) return [];
    const message = `check '${check.id}' counts from the day ${without} came into service, which is not given`;
    return [problem('check_since_missing', `${check.path}/of`, message, `give ${without} its since`)];
  });
}
