import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildSync } from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const ZONES = ['UTC', 'America/Los_Angeles', 'Europe/Berlin', 'Pacific/Apia', 'Africa/Cairo'];

describe('the due report under the zones of different machines', () => {
  const folder = mkdtempSync(path.join(tmpdir(), 'due-'));
  const bundle = path.join(folder, 'probe.cjs');
  beforeAll(() => {
    const probe = fileURLToPath(new URL('./probe.ts', import.meta.url));
    buildSync({ entryPoints: [probe], outfile: bundle, bundle: true, format: 'cjs', platform: 'node' });
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  it('prints the same in every form', () => {
    const outputs = ZONES.map(TZ =>
      execFileSync(process.execPath, [bundle], { env: { ...process.env, TZ }, encoding: 'utf8' }),
    );
    // The probe itself says in which zone it ran, so that five equal answers are not one zone five times.
    expect(outputs.map(output => output.slice(0, output.indexOf('\n')))).toEqual(ZONES);
    const [first = '', ...others] = outputs.map(output => output.slice(output.indexOf('\n')));
    for (const other of others) expect(other).toBe(first);
    // Midnight in Dublin parts the days: an hour earlier by UTC in summer.
    const dates = [...first.matchAll(/"format": "holdfast.due\/1",\s+"as_of": "([\d-]+)"/g)].map(
      ([, date]) => date,
    );
    expect(dates.slice(0, 4)).toEqual(['2026-11-24', '2026-11-25', '2026-07-31', '2026-08-01']);
  });
});
