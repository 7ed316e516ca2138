/**
 * A made-up practice in a folder of its own for each input, commands run in it in process, and what must be true of it
 * afterwards. Everything that an input can name as a path lies within the folder.
 */
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { performance } from 'node:perf_hooks';
import { expect } from 'vitest';
import type { Context, ExitCode } from '../../src/commands/context.ts';
import { run } from '../../src/commands/run.ts';
import { inTime } from './watchdog.ts';

/** No input may take more of the processor's time; on the clock a busy machine alone may take a multiple of it. */
const MOST_CPU_MS = 2000;
const MOST_MS = 20_000;

export interface Ran {
  readonly argv: readonly string[];
  readonly out: string;
  readonly err: string;
  readonly exitCode: ExitCode;
  readonly cpuMs: number;
  readonly ms: number;
}

/** Relative path → content, as latin1, so that every byte is kept. */
export type Tree = ReadonlyMap<string, string>;

/** The files a test begins with: relative path → bytes. */
export type Files = Readonly<Record<string, string | Uint8Array>>;

/** Home of all inputs of a run; removed by `removeHome`. */
const home = realpathSync(mkdtempSync(path.join(tmpdir(), 'holdfast-fuzz-')));
let count = 0;

export function removeHome(): void {
  process.chdir('/');
  rmSync(home, { recursive: true, force: true });
}

export class Clinic {
  /** Two levels deep, so that `../..` still is ours. */
  readonly root = path.join(home, String(count++));
  readonly folder = path.join(this.root, 'town', 'clinic');

  constructor(files: Files) {
    mkdirSync(this.folder, { recursive: true });
    for (const [name, content] of Object.entries(files)) {
      const file = path.join(this.folder, name);
      mkdirSync(path.dirname(file), { recursive: true });
      writeFileSync(file, content);
    }
  }

  async run(argv: readonly string[], env: Readonly<Record<string, string>> = {}): Promise<Ran> {
    process.chdir(this.folder);
    const printed = { out: '', err: '' };
    const context: Context = {
      env: {
        HOLDFAST_STATION: 'prep-room',
        HOLDFAST_BY: 'M. Quill',
        XDG_STATE_HOME: path.join(this.root, 'state'),
        ...env,
      },
      cwd: this.folder,
      hostname: 'prep-room.example',
      now: () => new Date('2026-11-25T08:14:03Z'),
      out: text => {
        printed.out += text;
      },
      err: text => {
        printed.err += text;
      },
      width: 80,
      colour: false,
      terminal: null,
      exitCode: 0,
    };
    const [began, used] = [performance.now(), process.cpuUsage()];
    const exitCode = await inTime(JSON.stringify({ argv, env }), () => run(argv, context));
    const { user, system } = process.cpuUsage(used);
    return { argv, ...printed, exitCode, cpuMs: (user + system) / 1000, ms: performance.now() - began };
  }

  tree(): Tree {
    const files = new Map<string, string>();
    const look = (folder: string) => {
      for (const entry of readdirSync(folder, { withFileTypes: true })) {
        const full = path.join(folder, entry.name);
        if (entry.isDirectory()) look(full);
        else files.set(path.relative(this.folder, full), readFileSync(full, 'latin1'));
      }
    };
    look(this.folder);
    return files;
  }

  remove(): void {
    process.chdir(home);
    rmSync(this.root, { recursive: true, force: true });
  }
}

const CONTROL =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: none of these may reach a terminal
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/;

/** What holds of every command line and every file: an answer in time, in words, and nothing for the terminal to obey. */
export function expectSound({ argv, out, err, exitCode, cpuMs, ms }: Ran): void {
  const what = JSON.stringify(argv);
  expect(exitCode, `${what}\n${err}`).not.toBe(4);
  expect(err, what).not.toMatch(/fault in the program|^\s+at .+:\d+:\d+\)?$|\b(undefined|NaN|\[object )/m);
  expect(out, what).not.toMatch(/^\s+at .+:\d+:\d+\)?$|\b(undefined|NaN\b|\[object )/m);
  expect(out, what).not.toMatch(CONTROL);
  expect(err, what).not.toMatch(CONTROL);
  // A carriage return is the line end of CSV and calendars, and nothing else.
  expect(out.replaceAll('\r\n', '\n'), what).not.toMatch(/\r/);
  expect(err, what).not.toMatch(/\r/);
  if (exitCode >= 2) expect(err, `${what}: says nothing of why`).not.toBe('');
  expect(cpuMs, `${what} took too long`).toBeLessThan(MOST_CPU_MS);
  expect(ms, `${what} waited too long`).toBeLessThan(MOST_MS);
}

/** The inventory is never written; the record not by what was refused, and never by what only reads. */
export function expectUntouched({ argv, exitCode }: Ran, before: Tree, after: Tree): void {
  const what = `${JSON.stringify(argv)}, exit ${exitCode}`;
  expect(after.get('inventory.yaml'), what).toBe(before.get('inventory.yaml'));
  const record = (tree: Tree) => [...tree].filter(([name]) => name.startsWith('record'));
  if (exitCode >= 2 || !WRITING.has(argv[0] ?? '')) expect(record(after), what).toEqual(record(before));
  else expectOnlyAppended(before, after, what);
}

/** Commands that may append to the record. */
export const WRITING: ReadonlySet<string> = new Set([
  ...[
    'hold',
    'leak-test',
    'round',
    'sign-off',
    'reading',
    'usage',
    'withdraw',
    'return',
    'correct',
    'compliance',
  ],
]);

/** Every whole line stands where it stood; a torn tail may have been set aside, with its bytes kept. */
export function expectOnlyAppended(before: Tree, after: Tree, what: string): void {
  for (const [name, old] of before) {
    if (!name.startsWith('record')) continue;
    const now = after.get(name) ?? '';
    const whole = old.slice(0, old.lastIndexOf('\n') + 1);
    const tail = old.slice(whole.length);
    expect(now.startsWith(whole), `${what}: ${name} lost a line`).toBe(true);
    if (tail === '' || now.startsWith(old)) continue;
    const aside = [...after].filter(([other]) => other.startsWith(`${name}.torn-`) && !before.has(other));
    expect(
      aside.map(([, content]) => content),
      `${what}: ${name} lost its tail`,
    ).toContain(tail);
  }
}
