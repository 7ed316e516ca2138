/** Machines, circuits, bags and supplies: whether they fit together. */
import type { InventoryFile } from '../../generated/inventory-file.ts';
import { didYouMean } from '../../problem/nearest.ts';
import type { Problem } from '../../problem/problem.ts';
import { isAbove } from '../../quantity/compare.ts';
import { driveOf } from '../inventory.ts';
import { type Draft, repeated } from './draft.ts';

type SupplyEntry = InventoryFile['oxygen_supplies'][number];

export function danglingSupplies({ inventory, problem }: Draft): Problem[] {
  const known = inventory.supplies.map(({ id }) => id);
  return inventory.machines.flatMap(machine =>
    machine.oxygen.flatMap((id, i) =>
      known.includes(id)
        ? []
        : [
            problem(
              'supply_unknown',
              `${machine.path}/oxygen/${i}`,
              `there is no oxygen supply '${id}'`,
              didYouMean(id, known),
            ),
          ],
    ),
  );
}

export function unusedSupplies({ inventory, problem }: Draft): Problem[] {
  return inventory.supplies
    .filter(({ id }) => !inventory.machines.some(machine => machine.oxygen.includes(id)))
    .map(({ id, path }) =>
      problem(
        'supply_unused',
        `${path}/id`,
        `no machine has the oxygen supply '${id}'`,
        "add it to a machine's oxygen, or take it out",
      ),
    );
}

export function supplyPressures({ file, problem }: Draft): Problem[] {
  return file.oxygen_supplies.flatMap((entry, i) => {
    const fault = entry.kind === 'cylinder' ? pressureFault(entry) : null;
    if (fault === null) return [];
    const remedy = 'give full_psi and reserve_psi, or full_bar and reserve_bar';
    const pointer = `/oxygen_supplies/${i}/${fault.key}`;
    return [problem('supply_pressures', pointer, `'${entry.id}' ${fault.message}`, remedy)];
  });
}

/** What is wrong with a cylinder's pressures, and the key at which it shows. */
function pressureFault({
  full_psi,
  reserve_psi,
  full_bar,
  reserve_bar,
}: SupplyEntry): { key: string; message: string } | null {
  const isInPsi = full_psi !== undefined || reserve_psi !== undefined;
  const isInBar = full_bar !== undefined || reserve_bar !== undefined;
  if (isInPsi && isInBar) {
    return {
      key: full_bar === undefined ? 'reserve_bar' : 'full_bar',
      message: 'has pressures in psi and in bar',
    };
  }
  const full = full_psi ?? full_bar;
  const reserve = reserve_psi ?? reserve_bar;
  if (full === undefined) return { key: 'id', message: 'does not say what its gauge reads when full' };
  if (reserve === undefined) return { key: 'id', message: 'has no reserve pressure' };
  if (reserve < full) return null;
  return {
    key: isInPsi ? 'reserve_psi' : 'reserve_bar',
    message: 'has a reserve that is not below its full pressure',
  };
}

export function undrivenCircuits({ inventory, problem }: Draft): Problem[] {
  return inventory.circuits
    .filter(({ kind }) => !inventory.machines.some(machine => machine.drives.includes(driveOf(kind))))
    .map(({ id, kind, path }) => {
      const message = `no machine can drive ${id}, a ${kind}`;
      return problem(
        'circuit_undriven',
        `${path}/kind`,
        message,
        `add ${driveOf(kind)} to the drives of a machine, or take it out`,
      );
    });
}

export function bagSizesTwice({ inventory, problem }: Draft): Problem[] {
  const sizes = inventory.bags.map(({ sizeMl, path }) => ({
    key: String(sizeMl),
    pointer: `${path}/size_ml`,
  }));
  return repeated(sizes).map(({ entry, first }) => {
    const { line } = inventory.placeOf(first.pointer);
    const message = `bags of ${entry.key} mL stand already on line ${line}`;
    return problem('bag_size_twice', entry.pointer, message, 'add the counts up in one line');
  });
}

export function bagIds({ inventory, problem }: Draft): Problem[] {
  return inventory.bags
    .filter(({ ids, count }) => ids.length > 0 && ids.length !== count)
    .map(({ ids, count, path }) =>
      problem(
        'bag_ids_count',
        `${path}/ids`,
        `${ids.length} ids for a count of ${count}`,
        'give each bag an id, or none',
      ),
    );
}

export function flowmeterMarks({ inventory, problem }: Draft): Problem[] {
  return inventory.machines.flatMap(({ flowmeter, path }) => {
    const problems: Problem[] = [];
    let from = 0;
    for (const [i, { upToMlPerMin: upTo, stepMlPerMin: step }] of flowmeter.marks.entries()) {
      const here = `${path}/flowmeter/marks/${i}`;
      if (upTo <= from) {
        problems.push(
          problem(
            'marks_disordered',
            `${here}/up_to_ml_min`,
            `${upTo} mL/min is not above ${from}, the end of the stretch before`,
            'list the stretches from the lowest to the highest',
          ),
        );
      } else if (isAbove(upTo, flowmeter.maxMlPerMin)) {
        problems.push(
          problem(
            'marks_disordered',
            `${here}/up_to_ml_min`,
            `${upTo} mL/min is above the maximum of ${flowmeter.maxMlPerMin}`,
            'correct max_ml_min or the marks',
          ),
        );
      } else if (!isWhole((upTo - from) / step)) {
        problems.push(
          problem(
            'marks_uneven',
            `${here}/step_ml_min`,
            `steps of ${step} from ${from} do not reach ${upTo}`,
            'read the flowmeter again: where the spacing changes there is a mark',
          ),
        );
      }
      from = upTo;
    }
    return problems;
  });
}

function isWhole(value: number): boolean {
  return Math.abs(value - Math.round(value)) < 1e-6;
}
