/** What all benches share: work timed in turn, medians with their spread, and the peak memory of a process. */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import path from 'node:path';

const KIB = 1024;
export const LAUNCHER = 'bin/holdfast.cjs';

/** A median with the lowest and the highest of what it is the median of. */
export interface Spread {
  readonly median: number;
  readonly low: number;
  readonly high: number;
}

/** One of those that take turns. A run gives its own time in ms, so that it may prepare what is not to be timed. */
export interface Contender {
  readonly run: () => number | Promise<number>;
  /** In every how manieth round it runs: a slow one need not run in all. */
  readonly every: number;
  /** ms by round; null where it did not run. */
  readonly times: (number | null)[];
}

export function contender(run: Contender['run'], every = 1): Contender {
  return { run, every, times: [] };
}

/**
 * Lets all run in turn, so that other load on the machine falls on all alike; each round begins with another one, so that none
 * always runs behind the same neighbour. A first round is not counted: it fills the caches of the disk.
 */
export async function interleave(rounds: number, contenders: readonly Contender[]): Promise<void> {
  for (let round = -1; round < rounds; round++) {
    const first = Math.max(round, 0) % contenders.length;
    for (const one of [...contenders.slice(first), ...contenders.slice(0, first)]) {
      if (round < 0) {
        if (one.every === 1) await one.run();
      } else one.times.push(round % one.every === 0 ? await one.run() : null);
    }
  }
}

/** Ours ÷ theirs, round by round where both ran. */
export function ratioOf(ours: Contender, theirs: Contender): Spread {
  return spreadOf(
    ours.times.flatMap((time, round) => {
      const other = theirs.times[round] ?? null;
      return time === null || other === null ? [] : [time / other];
    }),
  );
}

export function timeOf({ times }: Contender): Spread {
  return spreadOf(times.filter(time => time !== null));
}

/** @example spreadOf([3, 1, 2]) //=> { median: 2, low: 1, high: 3 } */
export function spreadOf(values: readonly number[]): Spread {
  const sorted = values.toSorted((a, b) => a - b);
  const [low, high] = [sorted[0], sorted.at(-1)];
  if (low === undefined || high === undefined) throw new Error('nothing was measured');
  const [below, above] = [sorted[(sorted.length - 1) >> 1] ?? low, sorted[sorted.length >> 1] ?? high];
  return { median: (below + above) / 2, low, high };
}

/** ms of a piece of work in this process. */
export async function timed(work: () => unknown): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

/**
 * ms of a whole process, from here to its end.
 * @throws where it does not start, says something on stderr, or ends with more than 1: with 1 a plan has a stop, or something is due.
 */
export function timedProcess(program: string, args: readonly string[]): number {
  const start = performance.now();
  const { status, stderr, error } = spawnSync(program, args, {
    stdio: ['ignore', 'ignore', 'pipe'],
    encoding: 'utf8',
  });
  const ms = performance.now() - start;
  if (error !== undefined || status === null || status > 1 || stderr !== '')
    throw new Error(`${program} ${args.join(' ')}: exit ${status} ${error ?? stderr}`);
  return ms;
}

/** What a process prints. @throws where it ends with more than 1 */
export function outputOf(program: string, args: readonly string[]): string {
  const { status, stdout, stderr, error } = spawnSync(program, args, { encoding: 'utf8' });
  if (error !== undefined || status === null || status > 1)
    throw new Error(`${program} ${args.join(' ')}: exit ${status} ${error ?? stderr}`);
  return stdout;
}

/** `node` with nothing to do: what every program in Node costs at least. */
export function bareStart(): Contender {
  return contender(() => timedProcess(process.execPath, ['-e', '0']));
}

/** A whole command as it is installed: launcher, bundle, code cache. */
export function holdfast(...args: readonly string[]): Contender {
  return contender(() => timedProcess(process.execPath, [LAUNCHER, ...args]));
}

/**
 * The highest resident memory of a whole command in MiB, of so many runs. The process itself reports it at its end, on a descriptor
 * that nothing else uses; the hook is required, because to import it would load what the command does without.
 *
 * @param home a folder for the hook
 */
export function peakMiB(home: string, runs: number, args: readonly string[]): Spread {
  const hook = path.join(home, 'peak.cjs');
  writeFileSync(
    hook,
    `process.on('exit', () => require('fs').writeSync(3, String(process.resourceUsage().maxRSS)));`,
  );
  const peaks = Array.from({ length: runs }, () => {
    const { output, status } = spawnSync(process.execPath, ['--require', hook, LAUNCHER, ...args], {
      stdio: ['ignore', 'ignore', 'ignore', 'pipe'],
      encoding: 'utf8',
    });
    const kib = Number(output[3]);
    if (status === null || status > 1 || !(kib > 0)) throw new Error(`no peak of ${args.join(' ')}`);
    return kib / KIB;
  });
  return spreadOf(peaks);
}
