/** The process boundary: argv, streams, clock, environment, exit code. Nothing else touches `process`. */
import { hostname } from 'node:os';
import { useQuickOffsets } from './calendar/zone.ts';
import type { Context } from './commands/context.ts';
import { offsetsByProcess } from './process-zone.ts';
import { VERSION } from './version.ts';

const WIDEST = 100;

async function main(): Promise<void> {
  const argv = process.argv.slice(2);
  // Answered here because it needs nothing of the rest.
  if (argv.length === 1 && argv[0] === '--version') {
    process.stdout.write(`${VERSION}\n`);
    return;
  }
  useQuickOffsets(offsetsByProcess(process.env));
  const { run } = await import('./commands/run.ts');
  process.exitCode = await run(argv, processContext(argv));
}

function processContext(argv: readonly string[]): Context {
  const { stdout, stderr, env } = process;
  return {
    env,
    cwd: process.cwd(),
    hostname: hostname(),
    now: () => new Date(),
    out: text => void stdout.write(text),
    err: text => void stderr.write(text),
    width: stdout.isTTY ? Math.min(Math.max(stdout.columns || 80, 40), WIDEST) : 80,
    colour: isColoured(argv),
    // Only commands that ask look at it, and opening stdin takes a millisecond.
    get terminal() {
      return process.stdin.isTTY && stdout.isTTY ? { input: process.stdin, output: stdout } : null;
    },
    exitCode: 0,
  };
}

/** --no-color, then NO_COLOR, then FORCE_COLOR, then whether results go to a terminal that can show it. */
function isColoured(argv: readonly string[]): boolean {
  const { NO_COLOR, FORCE_COLOR, TERM } = process.env;
  if (argv.includes('--no-color')) return false;
  if (NO_COLOR !== undefined && NO_COLOR !== '') return false;
  if (FORCE_COLOR !== undefined && FORCE_COLOR !== '') return FORCE_COLOR !== '0';
  return Boolean(process.stdout.isTTY) && TERM !== 'dumb';
}

// A reader that goes away (head, a pager that was quit) is no fault of ours.
process.stdout.on('error', error => {
  if ((error as NodeJS.ErrnoException).code !== 'EPIPE') throw error;
});

void main();
