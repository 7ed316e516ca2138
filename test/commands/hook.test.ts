/** The git hook in a real repository: a broken inventory and a damaged record do not get in. */
import { execFileSync, spawnSync } from 'node:child_process';
import { appendFileSync, chmodSync, copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const PROGRAM = path.resolve('bin/holdfast.cjs');
let folder: string;
let tools: string;

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'holdfast-hook-'));
  tools = mkdtempSync(path.join(tmpdir(), 'holdfast-tools-'));
  writeFileSync(path.join(tools, 'holdfast'), `#!/bin/sh\nexec "${process.execPath}" "${PROGRAM}" "$@"\n`);
  chmodSync(path.join(tools, 'holdfast'), 0o755);
  copyFileSync('inventory.example.yaml', path.join(folder, 'inventory.yaml'));
  git('init', '--quiet');
  git('config', 'user.name', 'Larkhill');
  git('config', 'user.email', 'larkhill@example.org');
  holdfast('withdraw', 'bain-1', '--because', 'torn', '--by', 'Ada');
  const hook = execFileSync(process.execPath, [PROGRAM, 'hook'], { encoding: 'utf8' });
  writeFileSync(path.join(folder, '.git/hooks/pre-commit'), hook, { mode: 0o755 });
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
  rmSync(tools, { recursive: true, force: true });
});

function env(): NodeJS.ProcessEnv {
  return { PATH: `${tools}:${process.env.PATH}`, HOME: tools, HOLDFAST_STATION: 'prep' };
}

function git(...words: string[]): string {
  return execFileSync('git', words, { cwd: folder, env: env(), encoding: 'utf8' });
}

function holdfast(...words: string[]): void {
  execFileSync(path.join(tools, 'holdfast'), words, { cwd: folder, env: env() });
}

function commit(): { status: number | null; stderr: string } {
  git('add', '--all');
  return spawnSync('git', ['commit', '--quiet', '-m', 'a change'], {
    cwd: folder,
    env: env(),
    encoding: 'utf8',
  });
}

describe('the git hook', () => {
  it('lets a sound inventory and a sound record in', () => {
    const { status, stderr } = commit();
    expect(stderr).not.toContain('not committed');
    expect(status).toBe(0);
  });

  it('keeps a broken inventory out and says why', () => {
    appendFileSync(path.join(folder, 'inventory.yaml'), '\nmachnes: []\n');
    const { status, stderr } = commit();
    expect(status).not.toBe(0);
    expect(stderr).toContain('unknown_key');
  });

  it('looks at what is staged, not at what lies in the folder', () => {
    copyFileSync('inventory.example.yaml', path.join(folder, 'inventory.yaml'));
    // Still staged: the broken one.
    const { status } = spawnSync('git', ['commit', '--quiet', '-m', 'a change'], { cwd: folder, env: env() });
    expect(status).not.toBe(0);
  });

  it('keeps a damaged record out', () => {
    copyFileSync('inventory.example.yaml', path.join(folder, 'inventory.yaml'));
    holdfast('return', 'bain-1', '--by', 'Ada');
    execFileSync('sh', ['-c', "sed -i 's/torn/worn/' record/prep/*.jsonl"], { cwd: folder });
    const { status, stderr } = commit();
    expect(status).not.toBe(0);
    expect(stderr).toContain('not committed');
  });
});
