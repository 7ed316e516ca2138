/** The parts of the bench, in the order in which they run and stand on the page. */
import { measure as chart } from './chart.ts';
import { measure as day } from './day.ts';
import { measure as due } from './due.ts';
import type { Effort } from './effort.ts';
import { measure as record } from './record.ts';
import type { Found } from './result.ts';
import { measure as size } from './size.ts';
import { measure as start } from './start.ts';

export interface Part {
  readonly name: string;
  readonly title: string;
  readonly about: string;
  /** @param home an empty folder of its own */
  readonly measure: (home: string, effort: Effort) => Promise<Found>;
}

export const PARTS: readonly Part[] = [
  {
    name: 'start',
    title: 'Start',
    about: 'Whole commands, from the shell to their end. The hold is the first of a new record each time.',
    measure: start,
  },
  {
    name: 'size',
    title: 'Plan against the size of the inventory',
    about: 'Whole commands. The goal for 2,500 lines stands under Start.',
    measure: size,
  },
  {
    name: 'record',
    title: 'Record',
    about:
      'The append in process, one of each by turns, the medians of 20 pairs a round; verify as a whole command against `sha256sum` of the same file.',
    measure: record,
  },
  {
    name: 'due',
    title: 'Due',
    about:
      'Whole commands on the same files. `wc -l` only reads; DuckDB and jq with awk find the newest sign-off of each pair, and check nothing.',
    measure: due,
  },
  {
    name: 'day',
    title: 'Day',
    about:
      'CPU time from the text of a list to its plan; the spread is over the lists, and none may be above the goal. Then whole commands.',
    measure: day,
  },
  {
    name: 'chart',
    title: 'Chart',
    about: 'Whole commands on the example inventory.',
    measure: chart,
  },
];
