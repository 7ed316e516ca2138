/** Inventories with bytes changed at random: a plain answer in time, and nothing written. */
import * as fc from 'fast-check';
import { afterAll, describe, it } from 'vitest';
import { parameters } from './budget.ts';
import { Clinic, expectSound, expectUntouched, removeHome } from './clinic.ts';
import { INVENTORIES } from './files.ts';
import { changes, mutated } from './mutate.ts';

afterAll(removeHome);

const COMMANDS: readonly string[] = [
  'inventory check',
  'inventory check --json',
  'inventory list',
  'inventory list --json',
  'plan 6.8kg --species dog --steps --reasons',
  'plan 2.4kg --species cat --json',
  'plan 31kg --ideal-weight 26kg --minutes 90 --agent isoflurane --setting 2 --breaths 12',
  'due',
  'due --format ics',
  'due --format csv',
  'stock',
  'round opening theatre-1 --list',
  'hold bain-1 --machine theatre-1 --from 20 --to 20 --seconds 10 --pop-off open',
  'sign-off bain-1 inner-tube',
  'reading ward-e-1 1500psi',
  'chart --species dog',
  'chart --json --machine dental',
  'completion words plan 6.8kg --machine d',
];

describe('an inventory with bytes changed', () => {
  it(
    'is answered in words and in time, and nothing is written on its account',
    () =>
      fc.assert(
        fc.asyncProperty(
          fc.constantFrom(...INVENTORIES),
          changes,
          fc.constantFrom(...COMMANDS),
          async (sound, made, command) => {
            const clinic = new Clinic({ 'inventory.yaml': mutated(sound, made) });
            try {
              const before = clinic.tree();
              const ran = await clinic.run(command.split(' '));
              expectSound(ran);
              expectUntouched(ran, before, clinic.tree());
            } finally {
              clinic.remove();
            }
          },
        ),
        parameters(0.25),
      ),
    0,
  );
});
