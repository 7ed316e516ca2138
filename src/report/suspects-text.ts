/** All that is known of where it leaks. */
import { type CircuitKind, classOf, hasInnerTube, type Inventory } from '../inventory/inventory.ts';
import type { Standing } from '../record/standing-types.ts';
import type { Part, SuspectGroup } from '../record/suspects.ts';
import { bestSwap } from '../record/swap.ts';
import type { RecordState } from './record-damaged.ts';
import { safeJson } from './safe-text.ts';
import { lookLine, suspectLines } from './suspect-words.ts';

/** A paragraph for each group of failures that hang together. */
export function renderSuspects(
  groups: readonly SuspectGroup[],
  standing: Standing,
  inventory: Inventory,
  width: number,
  record: RecordState,
): string {
  if (groups.length === 0) {
    return record === 'damaged'
      ? 'No failed leak test stands in what could be read; the rest is not known.\n'
      : 'No failed leak test stands: nothing is suspect.\n';
  }
  const paragraphs = groups.map(group => {
    const looks = kindsToLookAt(group, inventory).map(kind => lookLine(kind, width));
    return [...suspectLines(group, groups, standing, inventory, width), ...looks].join('\n');
  });
  return `${paragraphs.join('\n\n')}\n`;
}

/** One kind for each class of circuit that leaked, with the inner tube where one of them has it: the rest is the same. */
function kindsToLookAt({ failures }: SuspectGroup, { circuits }: Inventory): CircuitKind[] {
  const byClass = new Map<string, CircuitKind>();
  for (const { entry } of failures) {
    const kind = circuits.find(({ id }) => id === entry.circuit)?.kind;
    // A stuck pop-off is no leak.
    if (kind === undefined || entry.reason === 'pop_off_stuck') continue;
    const before = byClass.get(classOf(kind));
    if (before === undefined || hasInnerTube(kind)) byClass.set(classOf(kind), kind);
  }
  return [...byClass.values()];
}

/** `{"format":"holdfast.suspects/1","groups":[{failures,cleared,suspects,leaks,explanations,swap}]}`. */
export function renderSuspectsJson(
  groups: readonly SuspectGroup[],
  standing: Standing,
  inventory: Inventory,
  record: RecordState,
): string {
  const ids = (sets: readonly (readonly Part[])[]) => sets.map(parts => parts.map(({ id }) => id));
  const plain = groups.map(group => {
    const swap = bestSwap(group, groups, standing, inventory);
    return {
      failures: group.failures.map(({ done, entry }) => ({
        entry: done.entry,
        on: done.on,
        circuit: entry.circuit,
        machine: entry.machine,
      })),
      cleared: group.cleared.map(({ part, by, exceptCircle }) => ({
        ...part,
        by: by.done.entry,
        except_circle: exceptCircle,
      })),
      suspects: group.suspects.map(({ part, alone, explains, withAnother }) => ({
        ...part,
        alone,
        explains,
        with_another: withAnother,
      })),
      leaks: group.leaks,
      explanations: ids(group.explanations),
      swap:
        swap === null
          ? null
          : {
              circuit: swap.circuit,
              machine: swap.machine,
              out: swap.out.id,
              in: swap.in,
              proven: swap.proven,
              if_pass: ids(swap.ifPass),
              if_fail: ids(swap.ifFail),
            },
    };
  });
  return `${safeJson({ format: 'holdfast.suspects/1', record, groups: plain })}\n`;
}
