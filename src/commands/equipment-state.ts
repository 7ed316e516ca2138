/** What the record says of the equipment, put together for a plan. */
import { existsSync } from 'node:fs';
import type { Inventory } from '../inventory/inventory.ts';
import { type EquipmentState, NO_RECORD } from '../plan/request.ts';
import type { Context } from './context.ts';
import { type FileOptions, recordFolder } from './files.ts';

export function equipmentState(
  context: Context,
  options: FileOptions,
  inventory: Inventory,
  _caseRef: string | null,
  _now: Date,
): EquipmentState {
  const folder = recordFolder(context, options, inventory.file);
  if (!existsSync(folder)) return NO_RECORD;
  throw new Error('the record is not read yet');
}
