/** What a person must know of a day as a whole, in the order of the list. */
import { isOpen } from '../calendar/open-days.ts';
import { timestampIn } from '../calendar/zone.ts';
import type { DayCautionCode } from '../problem/codes.ts';
import { DAY_CAUTION_CODES } from '../problem/codes.ts';
import { formatVolume } from '../quantity/format.ts';
import type { Day, DayCaution } from './day.ts';
import { endOf } from './day-case.ts';
import type { SupplyDay } from './supplies.ts';

function dayCaution(code: DayCautionCode, message: string, ref: string | null = null): DayCaution {
  return { code, level: DAY_CAUTION_CODES[code].level, message, ref };
}

export function cautionsOf(
  { cases, clashes, supplies, inventory, date, at }: Omit<Day, 'morning' | 'opening' | 'cautions'>,
  isPast: boolean,
  isUndecided: boolean,
): DayCaution[] {
  const cautions: DayCaution[] = [];
  for (const { refs, isSmallest, part } of clashes) {
    const what = part === 'bags' ? 'a bag each' : 'a circuit and a machine each';
    const proof = isSmallest
      ? 'no fewer clash'
      : 'none of them can be left out; whether fewer clash was not decided';
    cautions.push(dayCaution('day_no_assignment', `${refs.join(', ')} cannot all have ${what} (${proof})`));
  }
  if (isUndecided) {
    const message = 'whether all cases can be done was not decided; no assignment is claimed';
    cautions.push(dayCaution('day_undecided', message));
  }
  for (const supply of supplies) cautions.push(...supplyCautions(supply));
  const clock = at.slice(11, 16);
  for (const one of cases) {
    const { ref } = one.dayCase;
    // A day gone by says so as a whole.
    if (!isPast && one.dayCase.start.getTime() < Date.parse(at)) {
      const message = `the start has passed: it is ${clock} on ${date}; for the list of another day add --date`;
      cautions.push(dayCaution('day_start_passed', message, ref));
    }
    if (one.state === 'planned' && one.bag !== null && one.bag.sizeMl !== one.bag.wantedSizeMl) {
      const [size, wanted] = [formatVolume(one.bag.sizeMl), formatVolume(one.bag.wantedSizeMl)];
      cautions.push(dayCaution('day_bag_larger', `the ${wanted} bags are all in use; ${size} is hung`, ref));
    }
    const end = timestampIn(inventory.practice.timeZone, endOf(one.dayCase));
    if (end.slice(0, 10) > date && end.slice(11, 16) !== '00:00')
      cautions.push(
        dayCaution('day_past_midnight', `goes on past midnight, until ${end.slice(11, 16)}`, ref),
      );
  }
  if (!isOpen(date, inventory.practice))
    cautions.push(dayCaution('day_closed', `the practice is closed on ${date}`));
  if (isPast)
    cautions.push(dayCaution('day_past', `${date} has passed; the equipment is taken as it stands now`));
  return cautions;
}

const CHANGE_WORDS = {
  supply: 'cylinder',
  absorber: 'absorbent',
  scavenging: 'canister',
  vaporizer: 'vaporizer',
};

function supplyCautions({ asset, changeBefore, neverEnough, missing }: SupplyDay): DayCaution[] {
  return [
    ...neverEnough.map(ref =>
      dayCaution(
        asset.type === 'supply' ? 'day_oxygen_short' : 'day_change',
        `${asset.id} does not last for this case even when it is fresh`,
        ref,
      ),
    ),
    ...changeBefore.map(ref =>
      dayCaution('day_change', `change the ${CHANGE_WORDS[asset.type]} ${asset.id} before ${ref}`, ref),
    ),
    ...missing.map(words => dayCaution('day_supply_unknown', `not known: ${words}`)),
  ];
}
