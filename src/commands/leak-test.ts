/** `holdfast leak-test`: the other name of `holdfast hold`. */
import type { Command } from 'commander';
import type { Context } from './context.ts';
import { command as hold } from './hold.ts';

export function command(context: Context): Command {
  return hold(context).name('leak-test');
}
