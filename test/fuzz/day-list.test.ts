/** A day's list with bytes changed at random: a plain answer in time, and nothing written. */
import * as fc from 'fast-check';
import { afterAll, beforeAll, describe, it } from 'vitest';
import { parameters } from './budget.ts';
import { Clinic, expectSound, expectUntouched, type Files, removeHome } from './clinic.ts';
import { LISTS, soundRecord } from './files.ts';
import { changes, mutated } from './mutate.ts';

const OPTIONS: readonly string[] = [
  '',
  '--json',
  '--format csv',
  '--format html',
  '--date 2026-11-26',
  '--out day.txt',
];

let sound: Files = {};

beforeAll(async () => {
  sound = await soundRecord();
});

afterAll(removeHome);

describe("a day's list with bytes changed", () => {
  it(
    'is answered in words and in time, and nothing is written on its account',
    () =>
      fc.assert(
        fc.asyncProperty(
          fc.constantFrom(...Object.keys(LISTS)),
          changes,
          fc.constantFrom(...OPTIONS),
          async (name, made, options) => {
            const clinic = new Clinic({ ...sound, [name]: mutated(Buffer.from(LISTS[name] ?? ''), made) });
            try {
              const before = clinic.tree();
              const ran = await clinic.run(['day', name, ...options.split(' ').filter(word => word !== '')]);
              expectSound(ran);
              expectUntouched(ran, before, clinic.tree());
            } finally {
              clinic.remove();
            }
          },
        ),
        parameters(0.15),
      ),
    0,
  );
});
