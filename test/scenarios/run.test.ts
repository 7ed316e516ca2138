/**
 * Plays every scenario in this folder and compares it with what stands in the file. `UPDATE_SCENARIOS=1` rewrites the files
 * instead; then read the difference as critically as code. One file alone: `npx vitest run test/scenarios -t plan-kinds`.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { displayWidth } from '../../src/problem/display-width.ts';
import { playScenario } from '../support/scenario.ts';

const FOLDER = path.resolve('test/scenarios');
const scenarios = readdirSync(FOLDER).filter(name => name.endsWith('.txt'));

describe('scenarios', () => {
  it.each(scenarios)('%s prints what the file says', async name => {
    const file = path.join(FOLDER, name);
    const text = readFileSync(file, 'utf8');
    const played = await playScenario(text);
    for (const { command, err, exitCode } of played.commands)
      expect(exitCode, `${command}\n${err}`).not.toBe(4);
    if (process.env.UPDATE_SCENARIOS === '1') writeFileSync(file, played.text);
    else expect(played.text).toBe(text);
    for (const { command, out, err, width } of played.commands) {
      expect(tooWide(out, width), command).toEqual([]);
      expect(tooWide(err, width), command).toEqual([]);
    }
  });
});

/** Lines that a terminal would break. JSON is for programs; a path or a command stands whole, since half of one cannot be copied. */
function tooWide(text: string, width: number): string[] {
  return text.split('\n').filter(line => displayWidth(line) > width && !isWhole(line));
}

function isWhole(line: string): boolean {
  const isJson = /^\s*["{[\]}]|^[a-z_.[\]]+: /.test(line);
  const isCommand = /^\s*(Record it: )?holdfast /.test(line);
  return isJson || isCommand || !line.trim().includes(' ');
}
