import { execFileSync, spawnSync } from 'node:child_process';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/commands/commands.ts';

const page = execFileSync(process.execPath, [path.resolve('bin/holdfast.cjs'), 'manual'], {
  encoding: 'utf8',
});
const hasMan = spawnSync('man', ['--version']).status === 0;

describe('the manual page', () => {
  it.skipIf(!hasMan)('renders without a complaint, and names every command', () => {
    const man = spawnSync('man', ['--warnings', '-l', '-'], {
      input: page,
      encoding: 'utf8',
      env: { PATH: process.env.PATH, MANWIDTH: '80', LC_ALL: 'C.UTF-8', MANPAGER: 'cat' },
    });
    expect(man.stderr).toBe('');
    for (const { name, hidden } of COMMANDS) if (!hidden) expect(man.stdout).toContain(`holdfast ${name}`);
    expect(man.stdout).toContain('--ideal-weight');
    expect(man.stdout.replace(/\s+/g, ' ')).toContain('Never test with a patient attached');
  });

  it('says the exit codes and the environment', () => {
    expect(page).toContain('.SH EXIT STATUS');
    expect(page).toContain('HOLDFAST_STATION');
  });
});
