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
