/**
 * What the README shows is what the program prints: every `$ holdfast …` in a console block is played in the order of the
 * page, in a folder with the example inventory. `UPDATE_README=1` writes the output anew; then read the difference.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { playScenario } from './support/scenario.ts';

const PRELUDE = [
  '@ copy ../../../inventory.example.yaml inventory.yaml',
  '@ copy ../../../inventory.example.yaml inventory.example.yaml',
  '@ copy readme-broken.yaml broken.yaml',
];

const BLOCK = /(?<=^```console\n)[\s\S]*?(?=^```$)/gm;

/** The page with the output of each command as it is now. */
async function played(page: string): Promise<{ page: string; exitCodes: number[] }> {
  const commands = [...page.matchAll(BLOCK)].flatMap(([block]) =>
    block.split('\n').filter(line => line.startsWith('$ ')),
  );
  const { commands: ran } = await playScenario([...PRELUDE, ...commands].join('\n'));
  const outputs = ran.map(({ command, out, err }) => `$ ${command}\n${out}${err}`);
  const next = (block: string) =>
    block
      .split('\n')
      .filter(line => line.startsWith('$ '))
      .map(() => outputs.shift() ?? '')
      .join('\n');
  return { page: page.replace(BLOCK, next), exitCodes: ran.map(({ exitCode }) => exitCode) };
}

describe('the README', () => {
  it('shows what the program prints', async () => {
    const page = readFileSync('README.md', 'utf8');
    const now = await played(page);
    if (process.env.UPDATE_README === '1') writeFileSync('README.md', now.page);
    else expect(now.page).toBe(page);
    expect(now.exitCodes).not.toContain(4);
    expect(now.exitCodes.length).toBeGreaterThan(10);
  });

  it('states the job in its first paragraph, and the two commands of the set-up', () => {
    const page = readFileSync('README.md', 'utf8');
    const first = page.split('\n\n')[1] ?? '';
    for (const word of ['weight', 'circuit', 'oxygen flow', 'reservoir bag', 'holds pressure', 'overdue']) {
      expect(first.replace(/\s+/g, ' ')).toContain(word);
    }
    expect(page).toContain('npm ci && npx holdfast plan 6.8kg --inventory inventory.example.yaml');
    expect(page).toContain('npm ci && npm test');
  });

  it('knows every file that it links to', () => {
    const page = readFileSync('README.md', 'utf8');
    for (const [, target = ''] of page.matchAll(/\]\(([^)#]+)\)/g))
      expect(() => readFileSync(target)).not.toThrow();
  });
});
