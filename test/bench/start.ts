/**
 * What a start costs, as a multiple of `node -e 0` in the same run: medians of interleaved runs, so that other load on the
 * machine falls on all alike. Run by `npm run bench:start`, on what `npm run build` made.
 */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import path from 'node:path';

const ROUNDS = Number(process.env.ROUNDS ?? 31);
const WARM_UP = 3;
const LAUNCHER = path.resolve('bin/holdfast.cjs');
const LINES = 2500;

interface Measured {
  readonly name: string;
  readonly args: readonly string[];
  /** The goal, as a multiple of the bare start; null: the bare start itself. */
  readonly most: number | null;
  readonly times: number[];
  peakKiB: number;
}

function main(): void {
  const folder = process.argv[2] ?? '.';
  const large = path.join(folder, 'large.yaml');
  writeFileSync(large, largeInventory());
  const plan = (file: string) => [LAUNCHER, 'plan', '6.8kg', '--inventory', file];
  const all: Measured[] = [
    measured('node -e 0', ['-e', '0'], null),
    measured('--version', [LAUNCHER, '--version'], 2),
    measured('--help', [LAUNCHER, '--help'], 2),
    measured('plan, the example inventory', plan('inventory.example.yaml'), 3.4),
    measured(`plan, ${LINES} lines`, plan(large), 9),
  ];
  for (let round = -WARM_UP; round < ROUNDS; round++) {
    // Another first one in every round: none always runs behind the same neighbour.
    for (let i = 0; i < all.length; i++) {
      const one = all[(i + round + WARM_UP) % all.length];
      if (one === undefined) continue;
      const ms = run(one.args);
      if (round >= 0) one.times.push(ms);
    }
  }
  for (const one of all) one.peakKiB = peak(one.args);
  print(all);
}

function measured(name: string, args: readonly string[], most: number | null): Measured {
  return { name, args, most, times: [], peakKiB: 0 };
}

function run(args: readonly string[]): number {
  const before = process.hrtime.bigint();
  const { status, stderr } = spawnSync(process.execPath, args, { stdio: ['ignore', 'ignore', 'pipe'] });
  const ms = Number(process.hrtime.bigint() - before) / 1e6;
  // 1 is a plan with a stop, which is as good a start as any.
  if (status !== 0 && status !== 1) throw new Error(`${args.join(' ')}: exit ${status}\n${stderr}`);
  return ms;
}

/** The highest resident memory of one run in KiB, which the process itself reports at its end; median of seven. */
function peak(args: readonly string[]): number {
  const report = `process.on('exit', () => require('fs').writeSync(3, String(process.resourceUsage().maxRSS)))`;
  const hook = path.join(process.argv[2] ?? '.', 'peak.cjs');
  writeFileSync(hook, report);
  const peaks = Array.from({ length: 7 }, () => {
    const { output } = spawnSync(process.execPath, ['--require', hook, ...args], {
      stdio: ['ignore', 'ignore', 'ignore', 'pipe'],
    });
    return Number(output[3]);
  });
  return median(peaks);
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

const MOST_PEAK_MIB = 72;

function print(all: readonly Measured[]): void {
  const bare = median(all[0]?.times ?? []);
  console.log(`medians of ${ROUNDS} interleaved runs, Node ${process.version}`);
  console.log(
    `${'start'.padEnd(30)} ${'ms'.padStart(7)} ${'ratio'.padStart(6)} ${'goal'.padStart(5)} ${'peak'.padStart(9)}`,
  );
  for (const { name, most, times, peakKiB } of all) {
    const ms = median(times);
    const ratio = ms / bare;
    const peakMiB = peakKiB / 1024;
    const missed = (most !== null && ratio > most) || peakMiB > MOST_PEAK_MIB;
    console.log(
      `${name.padEnd(30)} ${ms.toFixed(1).padStart(7)} ${ratio.toFixed(2).padStart(6)} ${(most === null ? '' : String(most)).padStart(5)} ` +
        `${peakMiB.toFixed(1).padStart(5)} MiB${missed ? '  over' : ''}`,
    );
  }
}

/** A practice far larger than any: machines, circuits and checks line by line, in the block style that people write. */
function largeInventory(): string {
  const lines = [
    'format: 1',
    'practice:',
    '  name: Larkhill Hospital',
    '  time_zone: Europe/Dublin',
    '  open_days: [mon, tue, wed, thu, fri, sat]',
    'machines:',
  ];
  const MACHINES = 60;
  for (let i = 1; i <= MACHINES; i++) {
    lines.push(
      `  - id: machine-${i}`,
      `    location: Room ${i}   # on the ${i}th floor`,
      '    since: 2023-02-06',
      '    flowmeter:',
      '      max_ml_min: 8000',
      '      marks:',
      '        - { up_to_ml_min: 1000, step_ml_min: 100 }',
      '        - { up_to_ml_min: 8000, step_ml_min: 250 }',
      '    drives: [circle, t_piece, bain]',
      '    capnograph: true',
      '    pressure_gauge: true',
      `    absorber: { id: machine-${i}-absorber, absorbent_g: 1200 }`,
      `    vaporizers: [{ id: machine-${i}-iso, agent: isoflurane }]`,
      `    scavenging: { id: machine-${i}-charcoal, kind: charcoal, limit_gain_g: 50 }`,
      '    oxygen: [wall]',
    );
  }
  lines.push('circuits:');
  for (let i = 1; lines.length < LINES - 200; i++) {
    const kind = ['t_piece', 'bain', 'circle_y', 'circle_coaxial'][i % 4];
    const weights = ['[0.5, 5]', '[2, 12]', '[5, 100]', '[5, 30]'][i % 4];
    lines.push(
      `  - id: circuit-${i}`,
      `    kind: ${kind}`,
      '    since: 2025-01-13',
      `    weights_kg: ${weights}`,
      '    volume_ml: 450',
    );
  }
  lines.push(
    'bags:',
    '  - { size_ml: 500, count: 3 }',
    '  - { size_ml: 1000, count: 3 }',
    '  - { size_ml: 2000, count: 3 }',
  );
  lines.push('oxygen_supplies:', '  - { id: wall, kind: pipeline }', 'checks:');
  for (let i = 1; lines.length < LINES - 5; i++) {
    lines.push(
      `  - id: check-${i}`,
      `    of: [machine-${i}]`,
      '    every: { months: 6 }',
      '    text: look at it',
    );
  }
  while (lines.length < LINES) lines.push('# the end');
  return `${lines.join('\n')}\n`;
}

main();
