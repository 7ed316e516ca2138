/**
 * Scenario files: commands, comments and output in one text that a person reviews. A line begins with
 *
 *   #   a comment
 *   @   a setting: `@ copy FIXTURE FILE`, `@ clock 2026-11-25T08:14:03Z`, `@ clock +90m`, `@ env NAME=VALUE`, `@ width 40`
 *   $   a command: `holdfast …`, optionally `| pick KEY…` behind it; `cat FILE`, `ls FOLDER`, `rm FILE`
 *   >   a line of text that is appended to the file that `@ write FILE` named before
 *   |   a line on stdout, !  a line on stderr, ?  the exit code where it is not 0: what the runner writes
 *
 * Commands run in the order of the file, in a folder of their own, through the program's own `run` with a fake world: the
 * clock stands still, no colour, 80 columns, station and host named. What differs from run to run is masked: the random end
 * of an entry's id becomes id0001, a hash hash0001, a git blob blob0001, the folder FOLDER. The masks of ids and hashes may
 * be used in later commands.
 */
import {
  appendFileSync,
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Context, ExitCode } from '../../src/commands/context.ts';
import { run } from '../../src/commands/run.ts';

const FIXTURES = path.resolve('test/scenarios/fixtures');
const OUTPUT = /^[|!?]/;

/** What a run of a scenario came to: the text with the output as it is now. */
export interface Played {
  readonly text: string;
  /** Each command with what it printed, for checks over all of them. */
  readonly commands: readonly Ran[];
}

export interface Ran {
  readonly command: string;
  readonly out: string;
  readonly err: string;
  readonly exitCode: ExitCode;
  readonly width: number;
}

/**
 * Runs a scenario and writes its text anew. Changes the process's folder meanwhile.
 *
 * @throws Error where a line of the scenario cannot be read.
 */
export async function playScenario(text: string): Promise<Played> {
  const before = process.cwd();
  const world = new World();
  process.chdir(world.folder);
  try {
    const lines: string[] = [];
    const commands: Ran[] = [];
    for (const line of text.replace(/\n$/, '').split('\n')) {
      if (OUTPUT.test(line)) continue;
      lines.push(line);
      if (line.startsWith('@ ')) world.set(line.slice(2));
      else if (line.startsWith('> ') || line === '>') world.write(line.slice(2));
      else if (line.startsWith('$ ')) {
        const ran = await world.command(line.slice(2));
        commands.push(ran);
        lines.push(...marked('|', ran.out), ...marked('!', ran.err));
        if (ran.exitCode !== 0) lines.push(`? ${ran.exitCode}`);
      } else if (line !== '' && !line.startsWith('#')) throw new Error(`not a line of a scenario: ${line}`);
    }
    return { text: `${lines.join('\n')}\n`, commands };
  } finally {
    process.chdir(before);
    world.end();
  }
}

function marked(mark: string, text: string): string[] {
  if (text === '') return [];
  const lines = text.split('\n');
  if (lines.at(-1) === '') lines.pop();
  // A text that does not end with a line break shows it.
  else lines[lines.length - 1] += '\\';
  return lines.map(line => (line === '' ? mark : `${mark} ${line}`));
}

class World {
  readonly folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'holdfast-scenario-')));
  readonly #state = realpathSync(mkdtempSync(path.join(tmpdir(), 'holdfast-state-')));
  readonly #env: Record<string, string | undefined> = {
    HOLDFAST_STATION: 'prep-room',
    XDG_STATE_HOME: this.#state,
  };
  readonly #masks = new Map<string, string>();
  #clock = new Date('2026-11-25T08:14:03Z');
  #width = 80;
  #writing: string | null = null;

  end(): void {
    rmSync(this.folder, { recursive: true, force: true });
    rmSync(this.#state, { recursive: true, force: true });
  }

  set(setting: string): void {
    const [name, first = '', second = ''] = words(setting);
    this.#writing = null;
    switch (name) {
      case 'copy':
        mkdirSync(path.dirname(path.resolve(second)), { recursive: true });
        copyFileSync(path.join(FIXTURES, first), second);
        return;
      case 'write':
        mkdirSync(path.dirname(path.resolve(first)), { recursive: true });
        this.#writing = first;
        return;
      case 'clock':
        this.#clock = first.startsWith('+') ? later(this.#clock, first) : new Date(first);
        if (Number.isNaN(this.#clock.getTime())) throw new Error(`not a time: ${first}`);
        return;
      case 'env': {
        const [key = '', value] = first.split(/=(.*)/s);
        this.#env[key] = value === '' ? undefined : value;
        return;
      }
      case 'width':
        this.#width = Number(first);
        return;
      default:
        throw new Error(`not a setting: ${setting}`);
    }
  }

  write(line: string): void {
    if (this.#writing === null) throw new Error('a line to write without "@ write FILE" before it');
    appendFileSync(this.#writing, `${line}\n`);
  }

  async command(line: string): Promise<Ran> {
    const [left = '', filter] = line.split(/ \| (?=pick )/);
    const [program = '', ...argv] = words(this.#unmask(left));
    const ran =
      program === 'holdfast'
        ? await this.#holdfast(argv)
        : { ...builtIn(program, argv), exitCode: 0 as const };
    const out = filter === undefined ? ran.out : pick(ran.out, words(filter).slice(1));
    return {
      command: line,
      out: this.#mask(out),
      err: this.#mask(ran.err),
      exitCode: ran.exitCode,
      width: this.#width,
    };
  }

  async #holdfast(argv: readonly string[]): Promise<{ out: string; err: string; exitCode: ExitCode }> {
    const printed = { out: '', err: '' };
    const context: Context = {
      env: { ...this.#env },
      cwd: this.folder,
      hostname: 'prep-room.example',
      now: () => new Date(this.#clock),
      out: text => {
        printed.out += text;
      },
      err: text => {
        printed.err += text;
      },
      width: this.#width,
      colour: false,
      terminal: null,
      exitCode: 0,
    };
    const exitCode = await run(argv, context);
    return { ...printed, exitCode };
  }

  #mask(text: string): string {
    return text
      .replaceAll(this.folder, 'FOLDER')
      .replaceAll(this.#state, 'STATE')
      .replace(/(?<=\b\d{8}-\d{9}-)[0-9a-z]{6}\b/g, id => this.#maskOf(id, 'id'))
      .replace(/\b[0-9a-f]{64}\b/g, hash => (/^0+$/.test(hash) ? hash : this.#maskOf(hash, 'hash')))
      .replace(/\b[0-9a-f]{40}\b/g, blob => this.#maskOf(blob, 'blob'));
  }

  #maskOf(secret: string, kind: string): string {
    // A mask that was typed into a command comes back as itself.
    if (/^id\d{4}$/.test(secret)) return secret;
    const known = this.#masks.get(secret);
    if (known !== undefined) return known;
    const count = [...this.#masks.values()].filter(mask => mask.startsWith(kind)).length + 1;
    const mask = `${kind}${String(count).padStart(4, '0')}`;
    this.#masks.set(secret, mask);
    return mask;
  }

  #unmask(text: string): string {
    let plain = text;
    for (const [secret, mask] of this.#masks) plain = plain.replaceAll(mask, secret);
    return plain;
  }
}

function later(from: Date, by: string): Date {
  const [, count, unit = ''] = /^\+(\d+)([smhd])$/.exec(by) ?? [];
  const seconds: Record<string, number> = { s: 1, m: 60, h: 3600, d: 86_400 };
  return new Date(from.getTime() + Number(count) * (seconds[unit] ?? Number.NaN) * 1000);
}

function builtIn(program: string, argv: readonly string[]): { out: string; err: string } {
  const file = argv.at(-1) ?? '';
  switch (program) {
    case 'cat':
      return { out: readFileSync(file, 'utf8'), err: '' };
    case 'ls':
      return {
        out: readdirSync(file, { recursive: true })
          .sort()
          .map(name => `${name}\n`)
          .join(''),
        err: '',
      };
    case 'rm':
      rmSync(file, { recursive: true });
      return { out: '', err: '' };
    default:
      throw new Error(`no such command in a scenario: ${program}`);
  }
}

/** The named keys of a JSON text, each on a line of its own; `a.b` goes down, `a[].b` through a list. */
function pick(json: string, keys: readonly string[]): string {
  return documentsIn(json)
    .flatMap(document => keys.map(key => `${key}: ${JSON.stringify(at(document, key.split('.')))}\n`))
    .join('');
}

/** One document, or one on each line. */
function documentsIn(json: string): unknown[] {
  const lines = json.trimEnd().split('\n');
  const areDocuments = lines.every(line => line.startsWith('{"') && line.endsWith('}'));
  return areDocuments ? lines.map(line => JSON.parse(line)) : [JSON.parse(json)];
}

function at(value: unknown, keys: readonly string[]): unknown {
  const [key, ...rest] = keys;
  if (key === undefined) return value;
  const name = key.replace(/\[\]$/, '');
  const inner =
    typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[name] : undefined;
  return key.endsWith('[]') && Array.isArray(inner) ? inner.map(item => at(item, rest)) : at(inner, rest);
}

/** Splits as a shell does: spaces part words, quotes of either kind hold them together. */
function words(line: string): string[] {
  return [...line.matchAll(/(?:[^\s"']|"[^"]*"|'[^']*')+/g)].map(([word]) =>
    word.replace(
      /"([^"]*)"|'([^']*)'/g,
      (_, double: string | undefined, single: string | undefined) => double ?? single ?? '',
    ),
  );
}
