import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import { grams } from '../../src/quantity/units.ts';
import {
  type Gain,
  type GainUnknown,
  gainSince,
  gainUnknownEntry,
  gainUnknownTold,
  gainUnknownWords,
} from '../../src/record/gain.ts';
import { foldStanding } from '../../src/record/standing.ts';
import { larkhill, reading, usage } from './entries.ts';

const CANISTER = 'theatre-1-charcoal';
const ISO = { agent: 'isoflurane', setting_percent: 2, flow_ml_min: 1000, minutes: 60 } as const;
/** 2 % of 1 L/min for an hour: 1200 mL of vapour. */
const ISO_G = (1200 / 195) * 1.496;

function gainOf(entries: readonly Entry[]): Gain {
  const standing = foldStanding(larkhill(), entries).assets.get(CANISTER);
  return gainSince(standing?.readings ?? [], standing?.uses ?? []);
}

const fresh = reading('08:00', CANISTER, { g: 800, new: true });
const weighed = (on: string, g: number) => reading(on, CANISTER, { g });
const used = (on: string, given: object = ISO) => usage(on, 'theatre-1', 'y-piece-1', given);
const gramsOf = ({ steps }: Gain) => steps.map(({ g }) => Number(g.toFixed(2)));

describe('gainSince', () => {
  it('tells what was known after each weighing and use, and when each was: the first to reach a limit dates it', () => {
    const entries = [fresh, weighed('09:00', 812), weighed('10:00', 805), used('11:00'), used('12:00', {})];
    const gain = gainOf(entries);
    expect(gainSince([], []).steps).toEqual([]);
    expect(gramsOf(gain)).toEqual([12, 12, Number((12 + ISO_G).toFixed(2)), Number((12 + ISO_G).toFixed(2))]);
    expect(gain.steps.map(({ done }) => done.order)).toEqual([1, 2, 3, 4]);
    expect(gain.from?.order).toBe(0);
  });

  it('begins anew with each fresh canister, and with none it knows nothing', () => {
    const anew = gainOf([fresh, weighed('09:00', 850), reading('10:00', CANISTER, { g: 790, new: true })]);
    expect(anew).toMatchObject({ gainG: 0, gainBy: 'scale', gainUnknown: null, steps: [] });
    expect(gainOf([weighed('09:00', 850)])).toEqual({
      gainG: null,
      gainBy: null,
      gainAtLeastG: 0,
      gainUnknown: { why: 'never_weighed_in' },
      from: null,
      steps: [],
    });
  });
});

describe('what is told of a gain that is not known', () => {
  const unsaid = (uses: number): GainUnknown => ({ why: 'uses_unsaid', uses });
  const lighter: GainUnknown = { why: 'lighter', g: grams(790.5), freshG: grams(800) };

  it('is why', () => {
    expect(gainUnknownWords({ why: 'never_weighed_in' })).toBe('no fresh one was ever weighed in');
    expect(gainUnknownWords(unsaid(1))).toBe(
      '1 case since it was last weighed does not say agent and setting',
    );
    expect(gainUnknownWords(unsaid(2))).toBe(
      '2 cases since it was last weighed do not say agent and setting',
    );
    expect(gainUnknownWords(lighter)).toBe('it is lighter (790.5 g) than when it was new (800 g)');
  });

  it('is what to enter: only a fresh canister begins anew, or a full one would count as empty', () => {
    expect(gainUnknownEntry('c-1', { why: 'never_weighed_in' })).toBe('holdfast reading c-1 GRAMS --new');
    expect(gainUnknownEntry('c-1', unsaid(2))).toBe('holdfast reading c-1 GRAMS');
    expect(gainUnknownEntry('c-1', lighter)).toBe(
      'holdfast reading c-1 GRAMS, with --new if it is a fresh one',
    );
  });

  it('is both, unless the command says it all', () => {
    expect(gainUnknownTold('c-1', { why: 'never_weighed_in' })).toBe('holdfast reading c-1 GRAMS --new');
    expect(gainUnknownTold('c-1', unsaid(1))).toBe(
      'holdfast reading c-1 GRAMS (1 case since it was last weighed does not say agent and setting)',
    );
  });
});
