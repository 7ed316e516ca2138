/** A caution where an entry is of something that the record holds out of service. */
import type { Desk } from './entering.ts';

/** It is recorded all the same: it happened. A pass of it puts nothing back in service. */
export function cautionOfWithdrawn(desk: Desk, ids: readonly (string | null)[]): void {
  // Most records know of no withdrawal: then the standing need not be worked out.
  if (!desk.record.entries.some(({ kind }) => kind === 'withdraw')) return;
  for (const id of ids) {
    const withdrawn = id === null ? null : (desk.standing.assets.get(id)?.withdrawn ?? null);
    if (id === null || withdrawn === null) continue;
    const { because, done } = withdrawn;
    desk.caution(
      'entered_while_withdrawn',
      `${id} is out of service since ${done.date}: ${because} (${done.by})`,
      `it stays so until: holdfast return ${id}`,
    );
  }
}
