import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/commands/commands.ts';
import { playScenario } from '../support/scenario.ts';

/** What a command line that is refused prints on stderr. */
async function refused(words: string): Promise<string> {
  const { commands } = await playScenario(`@ width 2000\n$ holdfast ${words}`);
  const [ran] = commands;
  expect(ran?.exitCode, words).toBe(2);
  expect(ran?.out, words).toBe('');
  return ran?.err ?? '';
}

describe('a usage error', () => {
  it('names all that is missing at once, with an example of that command', async () => {
    const printed = await refused('usage');
    for (const name of ['MACHINE (', '--circuit ID (', '--minutes N (', '--flow FLOW (']) {
      expect(printed).toContain(name);
    }
    expect(printed).toContain('for example: holdfast usage theatre-1 --circuit bain-1');
    expect(await refused('usage theatre-1 --circuit bain-1 --minutes 45')).toContain(
      'missing: --flow FLOW (',
    );
  });

  it('takes the example of a subcommand from that subcommand', async () => {
    expect(await refused('record trend')).toContain('for example: holdfast record trend y-piece-1; see');
  });

  it('names the choices of a word, and the one that is near', async () => {
    expect(await refused('round midday theatre-1')).toContain(
      "there is no round 'midday'\n  → use one of opening, before_case",
    );
    expect(await refused('round openning theatre-1')).toContain(
      "did you mean 'opening'? use one of opening,",
    );
    expect(await refused('due --format jsn')).toContain(
      "--format does not take 'jsn'\n  → did you mean 'json'? use one of text,",
    );
  });

  it('says that a word is wrong also where another is missing', async () => {
    const printed = await refused('round midday');
    expect(printed).toContain("there is no round 'midday'");
    expect(printed).toContain('missing: MACHINE (');
  });

  it('names the option that has no value', async () => {
    expect(await refused('due --soon')).toContain(
      '--soon wants a value behind it\n  → write it as --soon DAYS;',
    );
  });

  it('shows the words that are too many', async () => {
    expect(await refused('due bain-1 bain-2')).toContain("more words than due takes: 'bain-1', 'bain-2'");
  });

  it('has an example or a page of help for every command', async () => {
    for (const { name } of COMMANDS) {
      const printed = await refused(`${name} --no-such-option-as-this`);
      expect(printed, name).toMatch(/→ (for example: holdfast \S|did you mean |see holdfast help )/);
    }
  });
});
