/** Sound files to begin with: inventories of every kind, and a record with an entry of every kind. */
import { readFileSync } from 'node:fs';
import { expect } from 'vitest';
import { Clinic, type Files } from './clinic.ts';

export const INVENTORIES: readonly Buffer[] = [
  'test/scenarios/fixtures/larkhill.yaml',
  'test/record/larkhill.yaml',
  'test/scenarios/fixtures/due.yaml',
  'inventory.example.yaml',
].map(file => readFileSync(file));

/** The inventory that the record below goes by. */
const LARKHILL = readFileSync('test/record/larkhill.yaml');

/** The same day three times over: as a spreadsheet writes it here and there, and as YAML. */
export const LISTS: Readonly<Record<string, string>> = {
  'list.csv': `ref,species,weight,start,minutes,machine,circuit,agent,setting,ideal_weight,confirm_weight
A-1,dog,6.8kg,08:30,45,,,isoflurane,2,,
A-2,cat,4.1kg,09:00,30,dental,t-piece-1,sevoflurane,3%,,
A-3,dog,31kg,09:30,90,,,isoflurane,2,26kg,
A-4,rabbit,2.4kg,11:00,25,theatre-1,,,,,
A-5,cat,9kg,13:30,60,,,,,,yes
`,
  'semicolons.csv': `Ref;Species;Weight;Start;Minutes\r\n"A;1";dog;6.8;8:30;45\r\nA-2;cat;4.1kg;09:00;30\r\n`,
  'list.yaml': `patients:
  - { ref: A-1, species: dog, weight: 6.8kg, start: "08:30", minutes: 45 }
  - { ref: A-2, species: cat, weight: 4.1kg, start: "09:00", minutes: 30, machine: dental, agent: sevoflurane, setting: 3% }
  - ref: A-3
    species: dog
    weight: 31kg
    ideal_weight: 26kg
    start: "09:30"
    minutes: 90
`,
};

const ENTRIES: readonly string[] = [
  'hold bain-1 --machine theatre-1 --from 20 --to 20 --seconds 10 --pop-off open',
  'hold coaxial-1 --machine dental --from 30 --to 24 --seconds 10 --pop-off open --note fell',
  'hold y-piece-1 --machine theatre-1 --make-up 120mL/min --at-pressure 30 --pop-off shut --bag 2L --case A-17',
  'hold t-piece-1 --machine dental --steady --seconds 30 --pop-off open',
  'hold --supply ward-e-1 --from 1500psi --to 1450psi --minutes 5',
  'reading theatre-1-charcoal 210g --new',
  'reading theatre-1-charcoal 214g',
  'reading ward-e-1 1450psi',
  'usage theatre-1 --circuit bain-1 --minutes 45 --flow 1.5L/min --agent isoflurane --setting 2',
  'sign-off bain-1 inner-tube',
  'sign-off theatre-1-absorber absorbent-change',
  'sign-off dental-sevo vaporizer-service --failed --note wick',
  'withdraw coaxial-1 --because cracked',
  'return coaxial-1',
  'compliance y-piece-1 --machine theatre-1 --flow 1L/min --from 10 --to 30 --seconds 12',
];

/** A record of two stations, its bytes as the program wrote them. */
export async function soundRecord(): Promise<Files> {
  const clinic = new Clinic({ 'inventory.yaml': LARKHILL });
  for (const [i, entry] of ENTRIES.entries()) {
    const ran = await clinic.run(entry.split(' '), {
      HOLDFAST_STATION: i % 3 === 0 ? 'theatre' : 'prep-room',
    });
    expect(ran.exitCode, ran.err).toBeLessThan(2);
  }
  const files = Object.fromEntries(
    [...clinic.tree()].map(([name, content]) => [name, Buffer.from(content, 'latin1')]),
  );
  clinic.remove();
  return files;
}
