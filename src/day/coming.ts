/**
 * A day to come: what will be due by then only because it is done every day is the work of that morning, not a stop of today.
 * A list that stops at what is done each morning anyway teaches people to look away.
 */
import type { Check, Inventory } from '../inventory/inventory.ts';
import type { CheckTrouble, EquipmentState } from '../plan/request.ts';

/** The equipment as it is taken for a coming day. */
export interface ComingEquipment {
  /** As it stands by then, without the daily checks that are in order today. */
  readonly equipment: EquipmentState;
  /** These daily checks: they are done on the day. */
  dailyWork(assets: readonly string[]): readonly CheckTrouble[];
}

/**
 * Parts what stands against the equipment on a coming day into what somebody must act on and what is done daily. What is
 * overdue today, what failed, and what comes round less often than daily or by use stays as it is.
 *
 * @param then - as of that day @param today - as of today; null: the day is no coming one, and nothing is parted
 * @example comingEquipment(onMonday, onSaturday, inventory).equipment.checks(['bain-1']) //=> []
 */
export function comingEquipment(
  then: EquipmentState,
  today: EquipmentState | null,
  inventory: Inventory,
): ComingEquipment {
  if (today === null) return { equipment: then, dailyWork: () => [] };
  const isDailyWork = ({ asset, check, state }: CheckTrouble): boolean => {
    const rule = inventory.checks.find(({ id }) => id === check);
    if (rule === undefined || state === 'failed' || !isDaily(rule)) return false;
    return !today.checks([asset]).some(other => other.check === check && other.asset === asset);
  };
  return {
    equipment: { ...then, checks: assets => then.checks(assets).filter(one => !isDailyWork(one)) },
    dailyWork: assets => then.checks(assets).filter(isDailyWork),
  };
}

/** Whether a check is done on every day, or every open day, and does not also come round by use. */
function isDaily({ every, after }: Check): boolean {
  if (every === null || every.count !== 1 || after.hoursInUse !== null || after.gainG !== null) return false;
  return every.unit === 'days' || every.unit === 'open_days';
}
