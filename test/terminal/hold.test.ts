/** The guided leak test in a real terminal: pass, fail, and Ctrl-C at each step. */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { HAS_TMUX, Terminal } from './tmux.ts';

const BIN = path.resolve('bin/holdfast.cjs');
const LARKHILL = readFileSync('test/record/larkhill.yaml', 'utf8');
/** Two seconds, so that the tests need not sit through ten; one without a gauge. */
const RULES = `
rules:
  leak_hold:
    bain: { seconds: 2 }
    without_gauge: { seconds: 1 }
    high_pressure_minutes: 0.05
`;

let folder: string;
let terminal: Terminal | null = null;

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'holdfast-terminal-'));
  writeFileSync(path.join(folder, 'inventory.yaml'), `${LARKHILL}${RULES}`);
});

afterEach(() => {
  terminal?.close();
  terminal = null;
  rmSync(folder, { recursive: true, force: true });
});

function start(
  words: string,
  env: Readonly<Record<string, string>> = {},
  size: { columns?: number; rows?: number } = {},
): Terminal {
  const all = {
    HOLDFAST_BY: 'M. Quill',
    HOLDFAST_STATION: 'theatre',
    XDG_STATE_HOME: path.join(folder, 'state'),
    LC_ALL: 'C.UTF-8',
    ...env,
  };
  terminal = new Terminal(`'${process.execPath}' '${BIN}' ${words}`, { cwd: folder, env: all, ...size });
  return terminal;
}

function recorded(): Record<string, unknown>[] {
  const station = path.join(folder, 'record', 'theatre');
  if (!existsSync(station)) return [];
  return readdirSync(station)
    .filter(name => name.endsWith('.jsonl'))
    .flatMap(name => readFileSync(path.join(station, name), 'utf8').trimEnd().split('\n'))
    .map(line => JSON.parse(line) as Record<string, unknown>);
}

describe.skipIf(!HAS_TMUX)('the guided hold', () => {
  it('asks who does it where nobody was named, and records the name', async () => {
    const t = start('hold bain-1 --machine theatre-1', { HOLDFAST_BY: '' });
    await t.shows(/Who does it \(--by\):/);
    t.line('');
    await t.shows(/Who does it[\s\S]*Who does it/);
    t.line('A. Byrne');
    await t.shows(/Pressure at the start \(cmH2O\):/);
    t.line('20');
    await t.shows(/Press Enter to start the time\./);
    t.line('');
    await t.shows(/TIME IS UP/);
    t.line('');
    await t.shows(/Pressure at the end \(cmH2O\):/);
    t.line('20');
    await t.shows(/Pop-off \(open, shut, stuck\):/);
    t.line('open');
    await t.shows(/Record this/);
    t.line('yes');
    await t.shows(/Recorded as [\s\S]*exit code 0/);
    expect(recorded()).toMatchObject([{ kind: 'hold', by: 'A. Byrne', result: 'pass' }]);
  });

  it('leads through a pass by gauge, counts on beyond the time, and records it once confirmed', async () => {
    const t = start('hold bain-1 --machine theatre-1');
    await t.shows(/Hold\n[\s\S]*1\. No patient attached/);
    await t.shows(/Pressure at the start \(cmH2O\):/);
    t.line('abc');
    await t.shows(/not a number with a unit[\s\S]*Pressure at the start/);
    t.line('20');
    await t.shows(/Press Enter to start the time\./);
    t.line('');
    await t.shows(/█[\s\S]*of 2 s[\s\S]*Watch\./);
    // It goes on by itself, past the time.
    await t.shows(/3 of 2 s\s+TIME IS UP/);
    t.line('');
    await t.shows(/Pressure at the end \(cmH2O\):/);
    t.line('20');
    await t.shows(/Pop-off \(open, shut, stuck\):/);
    t.line('open');
    await t.shows(/PASS: bain-1 on theatre-1\.[\s\S]*Record this \(yes, no\):/);
    expect(recorded()).toEqual([]);
    t.line('y');
    await t.shows(/Recorded as [\s\S]*exit code 0/);
    expect(recorded()).toMatchObject([
      {
        kind: 'hold',
        result: 'pass',
        reason: 'held',
        pop_off: 'open',
        by: 'M. Quill',
        fall: { from_cmh2o: 20, to_cmh2o: 20 },
      },
    ]);
    expect(recorded()[0]?.fall).toHaveProperty('seconds', expect.closeTo(3, -1));
  });

  it('asks for the make-up flow after a fall, and says FAIL first, then where to look', async () => {
    const t = start('leak-test bain-1 --machine theatre-1');
    await t.shows(/Pressure at the start/);
    t.line('20');
    await t.shows(/Press Enter to start/);
    t.line('');
    await t.shows(/Watch\./);
    // Early: it is falling.
    t.line('');
    await t.shows(/Pressure at the end/);
    t.line('14');
    await t.shows(/Did you measure it/);
    t.line('yes');
    await t.shows(/Make-up flow/);
    t.line('400mL/min');
    await t.shows(/At what pressure/);
    t.line('20');
    await t.shows(/Pop-off \(open/);
    t.line('o');
    await t.shows(/FAIL: bain-1 on theatre-1\. 400 mL\/min were needed/);
    t.line('yes');
    await t.shows(/Look, with soapy water[\s\S]*exit code 1/);
    expect(recorded()).toMatchObject([
      { result: 'fail', reason: 'make_up_above', make_up: { flow_ml_min: 400, at_cmh2o: 20 } },
    ]);
  });

  it('watches the taut bag where there is no gauge, and does not judge too short a time', async () => {
    const t = start('hold t-piece-1 --machine theatre-1');
    await t.shows(/fill until the bag is taut[\s\S]*Press Enter to start/);
    t.line('');
    await t.shows(/Watch\./);
    t.line('');
    await t.shows(/Did the bag stay taut/);
    t.line('yes');
    await t.shows(/Pop-off/);
    t.line('open');
    await t.shows(
      /Not judged: [\s\S]*too short[\s\S]*Once more, from the start\.[\s\S]*Press Enter to start/,
    );
    t.line('');
    await t.shows(/TIME IS UP/);
    t.line('');
    await t.shows(/Once more[\s\S]*Did the bag stay taut/);
    t.line('yes');
    await t.shows(/Once more[\s\S]*Pop-off \(open/);
    t.line('shut');
    await t.shows(/PASS, BUT IT DOES NOT COUNT[\s\S]*Record this/);
    t.line('yes');
    await t.shows(/exit code 1/);
    expect(recorded()).toMatchObject([{ result: 'pass', pop_off: 'shut', taut: { steady: true } }]);
  });

  const STEPS: readonly [string, (t: Terminal) => Promise<void>][] = [
    ['the first reading', async () => {}],
    ['the start of the time', async t => t.line('20')],
    [
      'the countdown',
      async t => {
        t.line('20');
        await t.shows(/Press Enter to start/);
        t.line('');
        await t.shows(/Watch\./);
      },
    ],
    [
      'the confirmation',
      async t => {
        t.line('20');
        await t.shows(/Press Enter to start/);
        t.line('');
        await t.shows(/TIME IS UP/);
        t.line('');
        await t.shows(/Pressure at the end/);
        t.line('20');
        await t.shows(/Pop-off/);
        t.line('open');
        await t.shows(/Record this/);
      },
    ],
  ];

  it.each(STEPS)('writes nothing on Ctrl-C at %s, and says so', async (_, lead) => {
    const t = start('hold bain-1 --machine theatre-1');
    await t.shows(/Pressure at the start/);
    await lead(t);
    t.key('C-c');
    const screen = await t.shows(/exit code 2/);
    expect(screen).toContain('hold_interrupted');
    expect(screen).toContain('interrupted: nothing was recorded');
    expect(existsSync(path.join(folder, 'record'))).toBe(false);
  });

  it('writes nothing where the summary is not confirmed, and on the end of input', async () => {
    const t = start('hold bain-1 --machine theatre-1');
    await t.shows(/Pressure at the start/);
    await (STEPS[3]?.[1](t) ?? Promise.resolve());
    t.line('no');
    await t.shows(/not confirmed: nothing was recorded[\s\S]*exit code 2/);
    terminal?.close();
    const second = start('hold bain-1 --machine theatre-1');
    await second.shows(/Pressure at the start/);
    second.key('C-d');
    await second.shows(/nothing was recorded[\s\S]*exit code 2/);
    expect(existsSync(path.join(folder, 'record'))).toBe(false);
  });

  it('is read on a narrow terminal without block characters, and on one that cannot draw', async () => {
    const t = start('hold bain-1 --machine theatre-1', { LC_ALL: 'C' }, { columns: 40 });
    await t.shows(/Pressure at the start/);
    t.line('20');
    await t.shows(/Press Enter to start/);
    t.line('');
    const screen = await t.shows(/\[#+\s+\] 1 of 2 s/);
    expect(screen).not.toMatch(/█/);
    expect(Math.max(...screen.split('\n').map(line => line.length))).toBeLessThanOrEqual(40);
    terminal?.close();
    const dumb = start('hold bain-1 --machine theatre-1', { TERM: 'dumb' });
    await dumb.shows(/Pressure at the start/);
    dumb.line('20');
    await dumb.shows(/Press Enter to start/);
    dumb.line('');
    await dumb.shows(/2 s left\s+1 s left\s+time is up/);
    terminal?.close();
    const low = start('hold bain-1 --machine theatre-1', {}, { rows: 6 });
    await low.shows(/Pressure at the start/);
    low.line('20');
    await low.shows(/Press Enter to start/);
    low.line('');
    await low.shows(/2 s left\s+1 s left\s+time is up/);
  });

  it('leads through the high-pressure side of a cylinder', async () => {
    const t = start('hold --supply ward-e-1');
    await t.shows(/Gauge at the start \(psi\):/);
    t.line('1500');
    await t.shows(/Press Enter to start/);
    t.line('');
    await t.shows(/TIME IS UP/);
    t.line('');
    await t.shows(/Gauge at the end/);
    t.line('1490psi');
    await t.shows(/PASS: the gauge fell by 10 psi/);
    t.line('yes');
    await t.shows(/exit code 0/);
    expect(recorded()).toMatchObject([{ kind: 'supply_hold', result: 'pass', from_psi: 1500, to_psi: 1490 }]);
  });
});
