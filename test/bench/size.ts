/** How a whole plan grows with its inventory. */
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import type { Effort } from './effort.ts';
import { inventoryOf } from './inventory.ts';
import { bareStart, holdfast, interleave, timeOf } from './measure.ts';
import { count } from './number.ts';
import type { Found } from './result.ts';
import { growthOf, ratioRow } from './rows.ts';

const SIZES = [100, 500, 2500, 10_000];

export async function measure(home: string, { rounds }: Effort): Promise<Found> {
  const bare = bareStart();
  const plans = SIZES.map(lines => {
    const file = path.join(home, `${lines}.yaml`);
    writeFileSync(file, inventoryOf(lines));
    return { lines, plan: holdfast('plan', '6.8kg', '--inventory', file) };
  });
  await interleave(rounds(21), [bare, ...plans.map(({ plan }) => plan)]);
  const bareMs = timeOf(bare).median;
  const points = plans.map(({ lines, plan }) => ({ lines, value: timeOf(plan).median }));
  return {
    rows: plans.map(({ lines, plan }) =>
      ratioRow(`\`plan\`, ${count(lines)} lines ÷ \`node -e 0\``, plan, bare),
    ),
    growth: [
      growthOf('plan, whole process, by lines of the inventory', 'ms', {
        plan: points,
        'node -e 0': SIZES.map(lines => ({ lines, value: bareMs })),
      }),
    ],
    remarks: [],
  };
}
