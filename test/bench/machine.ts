/** The machine that a bench runs on, in words. */
import { spawnSync } from 'node:child_process';
import { cpus, loadavg, release, totalmem, type } from 'node:os';
import type { Run } from './result.ts';

const GIB = 1024 ** 3;

/** To be asked before anything is measured: the load is what others make. */
export function thisRun(now: Date): Run {
  const all = cpus();
  const memory = (totalmem() / GIB).toFixed(0);
  return {
    at: `${now.toISOString().slice(0, 16).replace('T', ' ')} UTC`,
    machine: `${all.length} × ${all[0]?.model.trim() ?? 'unknown'}, ${memory} GiB, Node ${process.version}, ${type()} ${release()}`,
    load: loadavg(),
    commit: commit(),
  };
}

function commit(): string {
  const git = (...args: string[]) => spawnSync('git', args, { encoding: 'utf8' }).stdout?.trim() ?? '';
  const changed = git('status', '--porcelain', '--', 'src', 'bin', 'schemas', 'package-lock.json') !== '';
  return `${git('rev-parse', '--short', 'HEAD') || 'unknown'}${changed ? ' with changes' : ''}`;
}
