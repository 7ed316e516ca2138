/** What is kept of earlier runs, and the page that it makes. */
import { readFileSync } from 'node:fs';
import { pageOf } from './page.ts';
import { PARTS } from './parts.ts';
import { readResult } from './result.ts';

const BENCH = 'test/bench';
export const RESULTS = `${BENCH}/results`;
export const PAGE = `${BENCH}/README.md`;

export function resultFile(name: string): string {
  return `${RESULTS}/${name}.json`;
}

export function keptPage(): string {
  const sections = PARTS.map(part => ({ ...part, result: readResult(resultFile(part.name)) }));
  return pageOf(sections, readFileSync(`${BENCH}/notes.md`, 'utf8'));
}
