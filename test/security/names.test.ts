/** Names that objects have of their own, and names that lead out of a folder. */
import { readFileSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { Clinic, expectSound, expectUntouched, removeHome } from '../fuzz/clinic.ts';

const LARKHILL = readFileSync('test/record/larkhill.yaml', 'utf8');
const OF_OBJECTS = [
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  'valueOf',
  'hasOwnProperty',
  '__defineGetter__',
];
const PATHS = [
  '..',
  '.',
  '../..',
  '../../etc',
  '/etc',
  'a/b',
  'a\\b',
  '..\\..',
  'C:',
  'con',
  '~',
  '$HOME',
  '%2e%2e',
  '\u2024\u2024',
  'a\u0000b',
];

afterAll(removeHome);

describe('names of objects', () => {
  it.each(OF_OBJECTS)(
    '%s is no id, option, zone, species, check, key or code that anything knows',
    async name => {
      const clinic = new Clinic({ 'inventory.yaml': LARKHILL });
      const before = clinic.tree();
      const lines = [
        ['plan', '6.8kg', '--species', name],
        ['plan', '6.8kg', '--machine', name],
        ['plan', '6.8kg', '--circuit', name],
        ['plan', '6.8kg', '--agent', name, '--setting', '2'],
        ['plan', name],
        ['plan', '6.8kg', `--${name}`],
        ['hold', name, '--machine', 'theatre-1', '--steady', '--seconds', '30', '--pop-off', 'open'],
        ['hold', 'bain-1', '--machine', name, '--steady', '--seconds', '30', '--pop-off', 'open'],
        ['hold', 'bain-1', '--machine', 'theatre-1', '--steady', '--seconds', '30', '--pop-off', name],
        ['sign-off', name, 'inner-tube'],
        ['sign-off', 'bain-1', name],
        ['reading', name, '5g'],
        ['usage', name, '--minutes', '5'],
        ['withdraw', name, '--because', 'x'],
        ['correct', name, '--because', 'x'],
        ['round', name, 'theatre-1', '--list'],
        ['round', 'opening', name, '--list'],
        ['due', '--state', name],
        ['due', '--format', name],
        ['record', 'show', '--kind', name],
        ['record', 'trend', name],
        ['record', 'export', '--format', name],
        ['inventory', 'list', '--kind', name],
        ['inventory', 'new', 'fresh.yaml', '--rules', name],
        ['inventory', 'new', 'fresh.yaml', '--time-zone', name],
        ['explain', name],
        ['completion', name],
        [name],
        ['help', name],
      ];
      for (const argv of lines) {
        const ran = await clinic.run(argv);
        expectSound(ran);
        expect(ran.exitCode, `${argv.join(' ')}: ${ran.out}`).toBe(2);
        expect(clinic.tree()).toEqual(before);
      }
      clinic.remove();
    },
  );

  it.each(OF_OBJECTS)(
    '%s in an inventory is refused wherever it stands, and changes no other object',
    async name => {
      const texts = [
        `${LARKHILL}${name}: { polluted: true }\n`,
        `${LARKHILL}"${name}": null\n`,
        LARKHILL.replace('practice:\n', () => `practice:\n  ${name}: { polluted: true }\n`),
        LARKHILL.replace(
          'practice:\n',
          () => `rules: { tidal_volume_by_species_ml_kg: { ${name}: [1, 2] } }\npractice:\n`,
        ),
        LARKHILL.replace('Europe/Dublin', () => name),
        LARKHILL.replaceAll('bain-1', () => name),
        LARKHILL.replace('id: inner-tube', () => `id: ${name}`),
        LARKHILL.replace('kind: t_piece', () => `kind: ${name}`),
        LARKHILL.replace('agent: isoflurane', () => `agent: ${name}`),
        LARKHILL.replace('of: absorber', () => `of: ${name}`),
        LARKHILL.replace('oxygen: [wall]', () => `oxygen: [${name}]`),
        LARKHILL.replace('{ years: 1 }', () => `{ ${name}: 1 }`),
      ];
      for (const text of texts) {
        expect(text).not.toBe(LARKHILL);
        const clinic = new Clinic({ 'inventory.yaml': text });
        const ran = await clinic.run(['plan', '6.8kg']);
        expectSound(ran);
        // An id may be the word "constructor", which is a word like any other.
        if (text !== LARKHILL.replaceAll('bain-1', () => name) && !text.includes(`id: ${name}`))
          expect(ran.exitCode, text).toBe(2);
        expect(({} as { polluted?: unknown }).polluted).toBeUndefined();
        clinic.remove();
      }
    },
  );

  it('constructor as the id of an asset and of a check is an id like any other', async () => {
    const text = LARKHILL.replaceAll('bain-1', 'constructor').replace('id: inner-tube', 'id: prototype');
    const clinic = new Clinic({ 'inventory.yaml': text });
    expect((await clinic.run(['sign-off', 'constructor', 'prototype'])).exitCode).toBe(0);
    const hold = 'hold constructor --machine theatre-1 --from 20 --to 20 --seconds 10 --pop-off open';
    expect((await clinic.run(hold.split(' '))).exitCode).toBe(0);
    const plan = await clinic.run(['plan', '6.8kg', '--json']);
    expectSound(plan);
    expect(JSON.parse(plan.out)).toMatchObject({
      system: { circuit: 'constructor' },
      leak_hold: { state: 'held' },
    });
    expectSound(await clinic.run(['due']));
    clinic.remove();
  });
});

describe('names that lead elsewhere', () => {
  it.each(PATHS)('%j is no station, no asset and no entry, and nothing is written anywhere', async name => {
    const clinic = new Clinic({ 'inventory.yaml': LARKHILL });
    const before = clinic.tree();
    const signOff = ['sign-off', 'bain-1', 'inner-tube'];
    const station = await clinic.run(signOff, { HOLDFAST_STATION: name });
    const asset = await clinic.run(['sign-off', name, 'inner-tube']);
    const entry = await clinic.run([...signOff, '--id', name]);
    // A name without anything strange in it may be a station.
    const isHarmless = /^[a-z0-9-]+$/.test(name);
    expect(station.exitCode).toBe(isHarmless ? 0 : 2);
    expect([asset.exitCode, entry.exitCode]).toEqual([2, 2]);
    for (const ran of [station, asset, entry]) expectSound(ran);
    if (!isHarmless) expectUntouched(station, before, clinic.tree());
    for (const file of clinic.tree().keys()) expect(file).not.toMatch(/^\.\./);
    clinic.remove();
  });

  it('bends the name of a host into a folder of its own', async () => {
    const clinic = new Clinic({ 'inventory.yaml': LARKHILL });
    expect((await clinic.run(['sign-off', 'bain-1', 'inner-tube'], { HOLDFAST_STATION: '' })).exitCode).toBe(
      0,
    );
    expect([...clinic.tree().keys()]).toContain('record/prep-room/2026.jsonl');
    clinic.remove();
  });
});

describe('dates beside the calendar', () => {
  it.each(['0000-00-00', '0000-01-00', '9999-12-32', '9999-13-01', '2026-02-30', '2026-00-10'])(
    '%s is refused wherever a date is asked for',
    async date => {
      const clinic = new Clinic({
        'inventory.yaml': LARKHILL.replace('since: 2023-02-06', `since: ${date}`),
      });
      const ran = await clinic.run(['inventory', 'check']);
      expectSound(ran);
      expect(ran.exitCode).toBe(2);
      clinic.remove();
      const sound = new Clinic({ 'inventory.yaml': LARKHILL });
      for (const words of [
        'sign-off bain-1 inner-tube --on',
        'due --as-of',
        'record show --since',
        'record trend bain-1 --since',
      ]) {
        const asked = await sound.run([...words.split(' '), date]);
        expectSound(asked);
        expect(asked.exitCode, words).toBe(2);
      }
      sound.remove();
    },
  );
});
