/** The subcommands in the order of a day's work. Each module gives its part of the command tree. */
import type { Command } from 'commander';
import type { Context } from './context.ts';

export interface CommandEntry {
  readonly name: string;
  readonly summary: string;
  /** Left out of the help: called by scripts, not by people. */
  readonly hidden?: boolean;
  load(): Promise<{ command(context: Context): Command }>;
}

export const COMMANDS: readonly CommandEntry[] = [
  { name: 'plan', summary: 'plan a case from the weight of the patient', load: () => import('./plan.ts') },
  {
    name: 'chart',
    summary: 'the wall chart: what plans say at every weight',
    load: () => import('./chart.ts'),
  },
  { name: 'day', summary: "plan a day's list as a whole", load: () => import('./day.ts') },
  { name: 'hold', summary: 'judge a leak test and record it', load: () => import('./hold.ts') },
  {
    name: 'leak-test',
    summary: 'another name of hold',
    hidden: true,
    load: () => import('./leak-test.ts'),
  },
  { name: 'round', summary: 'the checks of a round, signed off together', load: () => import('./round.ts') },
  {
    name: 'sign-off',
    summary: 'record a check as done, or as failed',
    load: () => import('./sign-off.ts'),
  },
  {
    name: 'reading',
    summary: 'record what a gauge or a scale shows',
    load: () => import('./reading.ts'),
  },
  { name: 'usage', summary: 'record a case', load: () => import('./usage.ts') },
  { name: 'withdraw', summary: 'take something out of service', load: () => import('./withdraw.ts') },
  { name: 'return', summary: 'put it back in service', load: () => import('./return.ts') },
  { name: 'correct', summary: 'cancel an earlier entry', load: () => import('./correct.ts') },
  {
    name: 'compliance',
    summary: 'record how much gas a pair takes up',
    load: () => import('./compliance.ts'),
  },
  {
    name: 'stock',
    summary: 'what is left of oxygen, absorbent and charcoal',
    load: () => import('./stock.ts'),
  },
  { name: 'due', summary: 'what is overdue, due and soon', load: () => import('./due.ts') },
  {
    name: 'record',
    summary: 'what was done, and whether it is as it was written',
    load: () => import('./record.ts'),
  },
  { name: 'inventory', summary: 'check, list or start the inventory', load: () => import('./inventory.ts') },
  { name: 'explain', summary: 'what a code means and what to do', load: () => import('./explain.ts') },
  {
    name: 'completion',
    summary: 'teach a shell to complete holdfast',
    load: () => import('./completion.ts'),
  },
  { name: 'manual', summary: 'print the manual page', load: () => import('./manual.ts') },
  {
    name: 'hook',
    summary: 'print a git hook that checks inventory and record',
    load: () => import('./hook.ts'),
  },
];
