import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildSync } from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

/** Berlin and Los Angeles change clocks at night, Cairo at midnight, and Apia left 30 December 2011 out. */
const ZONES = ['UTC', 'America/Los_Angeles', 'Europe/Berlin', 'Pacific/Apia', 'Africa/Cairo'];

describe('the calendar under the zones of different machines', () => {
  const folder = mkdtempSync(path.join(tmpdir(), 'calendar-'));
  const bundle = path.join(folder, 'probe.mjs');
  beforeAll(() => {
    const probe = fileURLToPath(new URL('./probe.ts', import.meta.url));
    buildSync({ entryPoints: [probe], outfile: bundle, bundle: true, format: 'esm', platform: 'node' });
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  it('gives the same for every day from 1990 to 2040', () => {
    const outputs = ZONES.map(TZ =>
      execFileSync(process.execPath, [bundle], {
        env: { ...process.env, TZ },
        encoding: 'utf8',
        maxBuffer: 16 * 1024 * 1024,
      }),
    );
    const [inUtc = ''] = outputs;
    // The probe itself says in which zone it ran, so that five equal answers are not one zone five times.
    expect(outputs.map(output => output.split('\n')[0])).toEqual(ZONES);
    const results = outputs.map(output => output.split('\n').slice(1));
    expect(inUtc.split('\n').length).toBeGreaterThan(18_000);
    for (const result of results) expect(result).toEqual(results[0]);
  });
});
