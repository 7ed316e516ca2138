/** What tests of the record ask of a refusal, and of a system that refuses a call. */
import { syncBuiltinESMExports } from 'node:module';
import { afterEach, expect, vi } from 'vitest';
import { Refusal } from '../../src/problem/problem.ts';

/** The refusal that a piece of work ends in; whatever else goes wrong in it is passed on. */
export function refusalBy(work: () => unknown): Refusal {
  try {
    work();
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  return expect.fail('nothing was refused');
}

/** As `refusalBy`, of what is still going on. */
export async function refusalIn(work: Promise<unknown>): Promise<Refusal> {
  const error = await work.then(
    () => null,
    (reason: unknown) => reason,
  );
  return refusalBy(() => {
    if (error !== null) throw error;
  });
}

/** An error as the system gives it. */
export function systemError(code: string, syscall: string): Error {
  return Object.assign(new Error(code), { code, syscall });
}

/** For files that put something in the place of a function of Node's: after each test it is the real one again. */
export function restoreSystemAfterEach(): void {
  afterEach(() => {
    vi.restoreAllMocks();
    syncBuiltinESMExports();
  });
}
