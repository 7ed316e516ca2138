/** The writer as a process of its own, and what must be true of the record whatever happened to it. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { build } from 'esbuild';
import { afterAll, beforeAll, expect } from 'vitest';
import { verifyRecord } from '../../src/record/verify.ts';

/** Writers that have not ended. */
const running = new Set<RunningDriver>();

/** A folder for the tests of a file, and the bundled writer in it. */
export function useDriver(): { readonly folder: string; readonly script: string } {
  const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-faults-'));
  const script = path.join(folder, 'driver.cjs');
  beforeAll(async () => {
    await build({
      entryPoints: ['test/faults/driver.ts'],
      outfile: script,
      bundle: true,
      format: 'cjs',
      platform: 'node',
      target: 'node20',
    });
  });
  afterAll(async () => {
    // Those that a failed test left behind.
    await Promise.all([...running].map(writer => writer.kill()));
    rmSync(folder, { recursive: true, force: true });
  });
  return { folder, script };
}

/** One record with its place for remembered heads. */
export class FaultRecord {
  readonly dir: string;
  readonly stateDir: string;
  readonly station = 'prep';

  constructor(home: string) {
    this.dir = path.join(home, 'record');
    this.stateDir = path.join(home, 'state');
  }

  get args(): string[] {
    return [this.dir, this.station, this.stateDir];
  }

  get folder(): string {
    return path.join(this.dir, this.station);
  }

  /** All complete lines of all years. */
  lines(): string[] {
    return this.#files(/^\d{4}\.jsonl$/).flatMap(text => text.split('\n').slice(0, -1));
  }

  /** What stands behind the last newline of any file, and what was set aside. */
  pieces(): string[] {
    const tails = this.#files(/^\d{4}\.jsonl$/).map(text => text.split('\n').at(-1) ?? '');
    return [...tails.filter(tail => tail !== ''), ...this.#files(/\.torn-/)];
  }

  ids(): string[] {
    return this.lines().map(line => JSON.parse(line).id);
  }

  /** @throws where verify finds anything. */
  expectSound(): void {
    const { damage } = verifyRecord(this.dir, { stateDir: this.stateDir });
    expect(damage).toEqual([]);
    const ids = this.ids();
    expect(new Set(ids).size).toBe(ids.length);
  }

  #files(pattern: RegExp): string[] {
    if (!existsSync(this.folder)) return [];
    const names = readdirSync(this.folder).filter(name => pattern.test(name));
    return names.sort().map(name => readFileSync(path.join(this.folder, name), 'utf8'));
  }
}

/** Runs a writer to its end. */
export function runDriver(
  script: string,
  args: readonly string[],
  { node = process.execPath, wrapper = [] as string[], uid = process.getuid?.() ?? 0 } = {},
) {
  const [command = node, ...rest] = [...wrapper, node, script, ...args];
  const { status, stdout, stderr } = spawnSync(command, rest, { encoding: 'utf8', env: quietEnv(), uid });
  return { status, said: stdout.trim().split('\n').filter(Boolean), stderr };
}

/** Starts a writer; what it says is gathered as it comes. */
export class RunningDriver {
  readonly child: ChildProcess;
  readonly ended: Promise<void>;
  #output = '';

  constructor(script: string, args: readonly string[], node = process.execPath) {
    this.child = spawn(node, [script, ...args], { stdio: ['ignore', 'pipe', 'inherit'], env: quietEnv() });
    this.child.stdout?.on('data', data => {
      this.#output += data;
    });
    running.add(this);
    this.ended = new Promise(resolve => this.child.on('close', () => resolve()));
    void this.ended.then(() => running.delete(this));
  }

  /** Complete lines only. */
  get said(): string[] {
    return this.#output.split('\n').slice(0, -1);
  }

  async saying(line: string): Promise<void> {
    while (!this.said.includes(line)) {
      if (this.child.exitCode !== null) throw new Error(`the writer ended without saying ${line}`);
      await pause(5);
    }
  }

  async kill(): Promise<void> {
    this.child.kill('SIGKILL');
    await this.ended;
  }
}

export function pause(ms: number): Promise<void> {
  return new Promise(resolve => setTimeout(resolve, ms));
}

function quietEnv(): NodeJS.ProcessEnv {
  const { NODE_EXTRA_CA_CERTS: _, ...env } = process.env;
  return env;
}
