/** What a start costs: whole commands against `node -e 0`, and their memory. */
import { copyFileSync, mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type { Effort } from './effort.ts';
import { inventoryOf } from './inventory.ts';
import { bareStart, contender, holdfast, interleave, LAUNCHER, peakMiB, timedProcess } from './measure.ts';
import type { Found } from './result.ts';
import { peakRow, ratioRow } from './rows.ts';

const LINES = 2500;
const MOST_PEAK_MIB = 72;
const EXAMPLE = 'inventory.example.yaml';
const HOLD = (
  'hold bain-1 --machine theatre-1 --from 20 --to 20 --seconds 10 --pop-off open --by M.Quill ' +
  '--inventory'
).split(' ');

export async function measure(home: string, { rounds }: Effort): Promise<Found> {
  const large = path.join(home, 'large.yaml');
  writeFileSync(large, inventoryOf(LINES));
  const plan = (file: string) => ['plan', '6.8kg', '--inventory', file];
  const bare = bareStart();
  const version = holdfast('--version');
  const help = holdfast('--help');
  const example = holdfast(...plan(EXAMPLE));
  const long = holdfast(...plan(large));
  let holds = 0;
  const hold = contender(() =>
    timedProcess(process.execPath, [LAUNCHER, ...HOLD, practice(path.join(home, `hold-${holds++}`))]),
  );
  await interleave(rounds(31), [bare, version, help, example, long, hold]);
  return {
    rows: [
      ratioRow('`--version` ÷ `node -e 0`', version, bare, 2),
      ratioRow('`--help` ÷ `node -e 0`', help, bare, 2),
      ratioRow('`plan`, the example inventory ÷ `node -e 0`', example, bare, 3.4),
      ratioRow(`\`plan\`, an inventory of ${LINES} lines ÷ \`node -e 0\``, long, bare, 9),
      ratioRow('`hold`, the first of a record ÷ `node -e 0`', hold, bare, 3.8),
      peakRow(
        '`plan`, the example inventory: peak memory',
        peakMiB(home, rounds(7), plan(EXAMPLE)),
        MOST_PEAK_MIB,
      ),
      peakRow(`\`plan\`, ${LINES} lines: peak memory`, peakMiB(home, rounds(7), plan(large)), MOST_PEAK_MIB),
    ],
    growth: [],
    remarks: [],
  };
}

/** A practice without a record yet. @returns its inventory */
function practice(folder: string): string {
  mkdirSync(folder);
  const inventory = path.join(folder, 'inventory.yaml');
  copyFileSync(EXAMPLE, inventory);
  return inventory;
}
