/** Words that every form of a day's plan shares. */
import { timestampIn } from '../calendar/zone.ts';
import type { Day, DayBag, ExplainedClash, PlannedCase, UnplannedCase } from '../day/day.ts';
import { endOf } from '../day/day-case.ts';
import type { MorningItem } from '../day/morning.ts';
import type { Remedy } from '../day/remedies.ts';
import type { SupplyDay } from '../day/supplies.ts';
import type { Caution } from '../plan/caution.ts';
import { KIND_WORDS } from '../plan/fit.ts';
import type { Level } from '../problem/codes.ts';
import { formatFlow, formatNumber, formatVolume } from '../quantity/format.ts';
import { ml } from '../quantity/units.ts';
import { counted } from './text.ts';

/** HH:MM on the practice's clock. */
export function clock(day: Day, instant: Date): string {
  return timestampIn(day.inventory.practice.timeZone, instant).slice(11, 16);
}

/** @example '08:30–09:15' */
export function spanWords(day: Day, { dayCase }: PlannedCase | UnplannedCase): string {
  return `${clock(day, dayCase.start)}\u2013${clock(day, endOf(dayCase))}`;
}

/** What a single plan says on the command line's terms, on those of the list. */
export function cautionWords({ code, message }: Caution): string {
  if (code === 'weight_implausible')
    return message.replace('add --confirm-weight', 'write yes under confirm_weight');
  return code === 'boundary_between' ? message.replace('; both are shown', '') : message;
}

/** The day says these itself, in the morning list or with its supplies. */
const SAID_BY_THE_DAY: readonly string[] = ['hold_needed', 'oxygen_unknown', 'day_no_assignment'];

export interface SharedCaution {
  readonly level: Level;
  readonly message: string;
  /** The numbers of the cases, from 1; empty: the whole day. */
  readonly numbers: readonly number[];
}

/** The cautions of the day and of its cases, each message once, worst first. Stops of a case stand with the case. */
export function sharedCautions(day: Day): SharedCaution[] {
  const shared = new Map<string, { level: Level; message: string; numbers: number[] }>();
  const add = (level: Level, message: string, number: number) => {
    const entry = shared.get(message) ?? { level, message, numbers: [] };
    if (number > 0 && !entry.numbers.includes(number)) entry.numbers.push(number);
    shared.set(message, entry);
  };
  for (const { code, level, message, ref } of day.cautions) {
    if (SAID_BY_THE_DAY.includes(code)) continue;
    add(level, message, day.cases.findIndex(({ dayCase }) => dayCase.ref === ref) + 1);
  }
  for (const [i, { plan }] of day.cases.entries()) {
    for (const caution of plan.cautions) {
      if (caution.code === 'no_record' || caution.code === 'entry_in_future')
        add(caution.level, caution.message, 0);
      else if (caution.level === 'caution' && !SAID_BY_THE_DAY.includes(caution.code))
        add(caution.level, cautionWords(caution), i + 1);
    }
  }
  const order: readonly Level[] = ['stop', 'caution', 'note'];
  return [...shared.values()].sort((a, b) => order.indexOf(a.level) - order.indexOf(b.level));
}

/** @example ' (cases 1, 4)' */
export function numbersWords({ numbers }: SharedCaution): string {
  return numbers.length === 0 ? '' : ` (${numbers.length === 1 ? 'case' : 'cases'} ${numbers.join(', ')})`;
}

/** @example 'No single change was found that resolves it.' */
export function noRemedyWords({ isSearched }: ExplainedClash): string {
  return isSearched
    ? 'No single change was found that resolves it.'
    : 'What would resolve it was not looked for any further.';
}

/** The one line that says it all. @example '12 cases: 11 planned, 1 set aside' */
export function daySummary({ cases }: Day): string {
  const states = ['planned', 'set_aside', 'stopped', 'undecided'] as const;
  const parts = states.flatMap(state => {
    const count = cases.filter(one => one.state === state).length;
    return count === 0 ? [] : [`${count} ${STATE_WORDS[state]}`];
  });
  return `${counted(cases.length, 'case')}: ${parts.join(', ')}`;
}

export const STATE_WORDS = {
  planned: 'planned',
  set_aside: 'set aside',
  stopped: 'stopped',
  undecided: 'not decided',
};

/** @example 'dog 6.8 kg' */
export function patientWords({ dayCase }: PlannedCase | UnplannedCase): string {
  const ideal = dayCase.idealWeightKg === null ? '' : ` (ideal ${formatNumber(dayCase.idealWeightKg, 3)} kg)`;
  return `${dayCase.species} ${formatNumber(dayCase.weightKg, 3)} kg${ideal}`;
}

/** @example 'bain-1 (Bain)' */
export function circuitWords({ plan }: PlannedCase): string {
  const circuit = plan.main?.choice.pair?.circuit;
  return circuit === undefined ? '' : `${circuit.id} (${KIND_WORDS[circuit.kind]})`;
}

export function machineOf({ plan }: PlannedCase): string {
  return plan.main?.choice.pair?.machine.id ?? '';
}

/** The flow to start with first. @example '1.5 L/min to start, then 500 mL/min, 1.5 L/min to wake' */
export function oxygenWords({ plan }: PlannedCase): string {
  const phases = plan.main?.flows?.phases;
  if (phases === undefined) return 'not worked out';
  const [induction, maintenance, recovery] = [phases.induction, phases.maintenance, phases.recovery].map(
    ({ setMlPerMin }) => formatFlow(setMlPerMin),
  );
  if (induction === maintenance && maintenance === recovery) return `${induction} throughout`;
  return `${induction} to start, then ${maintenance}, ${recovery} to wake`;
}

/** @example '1 L (litre-a)' */
export function bagWords(bag: DayBag | null): string {
  if (bag === null) return 'not worked out';
  const which =
    typeof bag.which === 'string' ? ` (${bag.which})` : bag.of > 1 ? ` (no. ${bag.which} of ${bag.of})` : '';
  return `${formatVolume(bag.sizeMl)}${which}`;
}

/** @example 'test the leak of bain-1 on theatre-1: 20 cmH2O for 10 s on the gauge (before every case)' */
export function morningWords(item: MorningItem): string {
  switch (item.what) {
    case 'connect':
      return `connect ${item.circuit} to ${item.machine}`;
    case 'change':
      return `change ${item.asset}: it does not last for this case`;
    case 'hold': {
      const how =
        item.watch === 'gauge'
          ? `${item.pressureCmH2O} cmH2O, ${item.seconds} s by the gauge`
          : `taut bag, ${item.seconds} s`;
      return `leak test of ${item.circuit} on ${item.machine}: ${how} (${item.because})`;
    }
    case 'check': {
      const must = item.blocks ? 'MUST BE DONE: ' : '';
      const text = item.text === null ? '' : `: ${item.text.replace(/\.$/, '')}`;
      return `${must}${item.check} of ${item.asset}${text} (${item.because})`;
    }
  }
}

export function clashWords(day: Day, { refs, part, isSmallest }: ExplainedClash): string {
  const what = part === 'bags' ? 'not enough bags' : 'not enough circuits and machines';
  const proof = isSmallest
    ? 'no fewer cases clash'
    : 'each of them is needed for the clash; whether fewer clash elsewhere was not decided';
  const when = refs.map(ref => {
    const one = day.cases.find(({ dayCase }) => dayCase.ref === ref);
    return one === undefined ? ref : `${ref} (${spanWords(day, one)})`;
  });
  return `${when.join(', ')} cannot all be done: ${what} for them at these times, with ${formatNumber(day.inventory.rules.turnoverMinutes.value)} min of turnover (${proof})`;
}

/** @example 'start K-103 at 09:55, 40 min later' */
export function remedyWords(day: Day, remedy: Remedy): string {
  switch (remedy.kind) {
    case 'start': {
      const { shiftMinutes } = remedy;
      const by = `${formatNumber(Math.abs(shiftMinutes))} min ${shiftMinutes > 0 ? 'later' : 'earlier'}`;
      return `start ${remedy.ref} at ${clock(day, remedy.start)}, ${by}`;
    }
    case 'one_more':
      return remedy.what === 'bag'
        ? `one more ${formatVolume(ml(remedy.sizeMl))} bag`
        : `one more ${remedy.what} like ${remedy.id}`;
    case 'leave_out_name':
      return `do not name ${remedy.id} for ${remedy.ref}`;
    case 'other_class':
      return `${remedy.ref} on a circuit of the other class, such as ${remedy.circuit}: the veterinarian decides`;
  }
}

/** @example 'theatre-1-e: 312.5 L for the day of 434.2 L left' */
export function supplyWords({ asset, unit, used, left, changeBefore }: SupplyDay): string {
  const what = { L: 'oxygen', mL: 'liquid agent', h: 'in use', g: 'gained' }[unit];
  const day = used === null ? `not known how much ${what}` : `${formatNumber(used, 1)} ${unit} ${what}`;
  const rest = left === null ? '' : `, ${formatNumber(left, 1)} ${unit} left now`;
  const change = changeBefore.length === 0 ? '' : `; change before ${changeBefore.join(' and before ')}`;
  return `${asset.id}: ${day}${rest}${change}`;
}

export const OPENING_TITLE = 'First the opening round:';

/** One command a machine that does its opening round, the circuits of the day included. @example ['holdfast round opening theatre-1 --circuit bain-1'] */
export function openingCommands({ opening }: Day): string[] {
  return opening.map(({ machine, circuits }) =>
    [`holdfast round opening ${machine}`, ...(circuits.length === 0 ? [] : ['--circuit', ...circuits])].join(
      ' ',
    ),
  );
}
