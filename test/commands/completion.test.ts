/** Completion: the answers, and each real shell asking for them. */
import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/commands/commands.ts';

const PROGRAM = path.resolve('bin/holdfast.cjs');
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'holdfast-completion-'));
  copyFileSync('inventory.example.yaml', path.join(folder, 'inventory.yaml'));
  writeFileSync(path.join(folder, 'holdfast'), `#!/bin/sh\nexec "${process.execPath}" "${PROGRAM}" "$@"\n`);
  chmodSync(path.join(folder, 'holdfast'), 0o755);
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

function env(): NodeJS.ProcessEnv {
  return { PATH: `${folder}:${process.env.PATH}`, HOME: folder, TERM: 'dumb' };
}

/** The values that the program offers for the words, the last one half-typed. */
function offered(...words: string[]): string[] {
  const out = execFileSync(path.join(folder, 'holdfast'), ['completion', 'words', '--', ...words], {
    cwd: folder,
    env: env(),
    encoding: 'utf8',
  });
  return out
    .split('\n')
    .filter(Boolean)
    .map(line => line.split('\t')[0] ?? '');
}

describe('completion words', () => {
  it('offers every command that a person may type', () => {
    const names = COMMANDS.filter(({ hidden }) => !hidden).map(({ name }) => name);
    expect(offered('')).toEqual(expect.arrayContaining(names));
    expect(offered('pl')).toEqual(['plan']);
  });

  it('offers the options of the command at hand', () => {
    expect(offered('plan', '6kg', '--spe')).toEqual(['--species']);
    expect(offered('plan', '6kg', '--')).toContain('--ideal-weight');
  });

  it('offers the choices of an option', () => {
    expect(offered('plan', '--species', '')).toEqual(['dog', 'cat', 'rabbit', 'ferret', 'other']);
    expect(offered('plan', '--species', 'ra')).toEqual(['rabbit']);
  });

  it('offers the ids of the inventory in reach', () => {
    expect(offered('plan', '--circuit', 'bain')).toEqual(expect.arrayContaining(['bain-1']));
    expect(offered('plan', '--machine', 'theatre')).toContain('theatre-1');
    expect(offered('hold', 'bain')).toContain('bain-1');
    expect(offered('sign-off', 'theatre-1-ab')).toEqual(['theatre-1-absorber']);
    expect(offered('sign-off', 'theatre-1-absorber', 'absorbent-ch')).toEqual(['absorbent-change']);
  });

  it('goes down into subcommands', () => {
    expect(offered('inventory', 'ch')).toEqual(['check']);
    expect(offered('record', 'ver')).toEqual(['verify']);
  });

  it('leaves files to the shell', () => {
    expect(offered('plan', '--inventory', '')).toEqual([':files']);
    expect(offered('plan', '--record', '')).toEqual([':folders']);
  });

  it('offers nothing where there is no sound inventory, and does not complain', () => {
    expect(offered('plan', '--inventory', 'missing.yaml', '--circuit', '')).toEqual([]);
  });

  it('offers nothing behind an unknown option value or a weight', () => {
    expect(offered('plan', '--case', '')).toEqual([]);
    expect(offered('plan', '')).toEqual([]);
  });
});

/** Whether a shell is on this machine; CI installs all three. */
function hasShell(name: string): boolean {
  return spawnSync(name, ['-c', 'true']).status === 0;
}

function shell(name: string, script: string): string {
  return execFileSync(name, ['-c', script], { cwd: folder, env: env(), encoding: 'utf8' });
}

describe('a real shell', () => {
  it.skipIf(!hasShell('bash'))('bash completes ids and files', () => {
    const complete = (words: string) => `
      eval "$(holdfast completion bash)"
      COMP_WORDS=(${words}); COMP_CWORD=$(( \${#COMP_WORDS[@]} - 1 )); _holdfast; printf '%s\\n' "\${COMPREPLY[@]}"`;
    expect(shell('bash', complete('holdfast plan --circuit bain')).split('\n')).toContain('bain-1');
    // Outside of a real Tab, compopt has nothing to act on and says so on stderr.
    expect(shell('bash', `${complete('holdfast plan --inventory inv')} 2>/dev/null`).split('\n')).toContain(
      'inventory.yaml',
    );
  });

  it.skipIf(!hasShell('zsh'))('zsh completes ids with their meaning', () => {
    const script = `
      autoload -Uz compinit && compinit -u -d ${folder}/zcompdump
      eval "$(holdfast completion zsh)"
      _describe() { print -l -- "\${(@P)2}" }
      words=(holdfast plan --circuit bain); CURRENT=4; _holdfast`;
    expect(shell('zsh', script)).toContain('bain-1:bain');
  });

  it.skipIf(!hasShell('fish'))('fish completes ids with their meaning', () => {
    const script = "holdfast completion fish | source; complete -C 'holdfast plan --circuit bain'";
    expect(shell('fish', script)).toContain('bain-1\tbain');
  });
});
