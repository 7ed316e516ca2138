/** A real terminal for tests: a tmux server of its own, typed into and read from. */
import { execFileSync, spawnSync } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import path from 'node:path';

export const HAS_TMUX = spawnSync('tmux', ['-V']).status === 0;

const POLL_MS = 50;
const PATIENCE_MS = 20_000;

export interface Start {
  readonly cwd: string;
  readonly env: Readonly<Record<string, string>>;
  readonly columns?: number;
  readonly rows?: number;
}

export class Terminal {
  /** In the test's own folder, so that nothing is left behind. */
  readonly #socket: string;

  /** Starts a command line in a fresh terminal; its exit code is printed when it ends, and the terminal stays. */
  constructor(commandLine: string, { cwd, env, columns = 80, rows = 60 }: Start) {
    this.#socket = path.join(cwd, `tmux-${randomUUID().slice(0, 8)}`);
    const assignments = Object.entries(env).map(([name, value]) => `${name}='${value}'`);
    const script = `cd '${cwd}'; env ${assignments.join(' ')} ${commandLine}; echo "exit code $?"; sleep 60`;
    this.#tmux(
      '-f',
      '/dev/null',
      'new-session',
      '-d',
      '-x',
      String(columns),
      '-y',
      String(rows),
      'sh',
      '-c',
      script,
    );
  }

  /** Types a text, then Enter. */
  line(text: string): void {
    if (text !== '') this.#tmux('send-keys', '-l', text);
    this.#tmux('send-keys', 'Enter');
  }

  /** A key by tmux's name, for example C-c. */
  key(name: string): void {
    this.#tmux('send-keys', name);
  }

  /** What the screen shows now, with what has scrolled off. */
  screen(): string {
    return this.#tmux('capture-pane', '-p', '-S', '-');
  }

  /** Waits until the screen shows something. @throws Error with the screen where it never does. */
  async shows(pattern: RegExp): Promise<string> {
    for (const end = Date.now() + PATIENCE_MS; ; ) {
      const screen = this.screen();
      if (pattern.test(screen)) return screen;
      if (Date.now() > end) throw new Error(`the terminal never showed ${pattern}:\n${screen}`);
      await new Promise(resolve => setTimeout(resolve, POLL_MS));
    }
  }

  close(): void {
    spawnSync('tmux', ['-S', this.#socket, 'kill-server']);
  }

  #tmux(...words: readonly string[]): string {
    return execFileSync('tmux', ['-S', this.#socket, ...words], { encoding: 'utf8' });
  }
}
