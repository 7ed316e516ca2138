/** The launcher runs what was built, whatever became of the code cache beside it. */
import { spawnSync } from 'node:child_process';
import { createHash, randomBytes } from 'node:crypto';
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

let folder = '';
const at = (name: string) => path.join(folder, name);
const CACHE = 'dist/holdfast.cache';
const BUNDLE = 'dist/holdfast.cjs';

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'holdfast-launcher-'));
  for (const name of ['bin', 'dist']) cpSync(name, at(name), { recursive: true });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function help(): string {
  const { status, stdout, stderr } = spawnSync(process.execPath, [at('bin/holdfast.cjs'), '--help'], {
    encoding: 'utf8',
  });
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  return stdout;
}

describe('the launcher', () => {
  it('goes by a cache that was made of the bundle', () => {
    const [bundle, cache] = [readFileSync(at(BUNDLE)), readFileSync(at(CACHE))];
    expect(cache.subarray(0, 64).equals(bundle.subarray(-64))).toBe(true);
    expect(help()).toContain('Plans a small-animal anaesthesia case');
  });

  it.each([
    ['is missing', null],
    ['is empty', Buffer.alloc(0)],
    ['is noise', randomBytes(100_000)],
    ['is cut short', readFileSync(CACHE).subarray(0, 200_000)],
  ])('does without a cache that %s', (_, bytes) => {
    if (bytes === null) rmSync(at(CACHE));
    else writeFileSync(at(CACHE), bytes);
    expect(help()).toContain('Plans a small-animal anaesthesia case');
    cpSync(CACHE, at(CACHE));
  });

  it('never goes by a cache of another build, even one of the same length', () => {
    const body = readFileSync(at(BUNDLE), 'latin1').slice(0, -66);
    const changed = body.replace('Plans a small-animal', 'PLANS a small-animal');
    expect(changed).not.toBe(body);
    writeFileSync(
      at(BUNDLE),
      `${changed}//${createHash('sha256').update(changed, 'latin1').digest('hex')}`,
      'latin1',
    );
    expect(help()).toContain('PLANS a small-animal');
    cpSync(BUNDLE, at(BUNDLE));
  });
});
