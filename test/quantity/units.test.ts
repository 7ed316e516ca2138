import { describe, expect, it } from 'vitest';
import * as units from '../../src/quantity/units.ts';

describe('units', () => {
  it.each(Object.entries(units))('%s leaves the number as it is', (_name, of) => {
    expect(of(6.8)).toBe(6.8);
  });
});
