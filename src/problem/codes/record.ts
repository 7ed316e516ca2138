import type { CodeRow } from '../code.ts';
import { RECORD_STORE_CODES } from './record-store.ts';

/** Problems of the record and of what is to be entered into it. */
export const RECORD_CODES = {
  // The judgement of a leak test: refused, nothing written.
  hold_pressure_too_high: {
    means: 'A reading above 60 cmH2O, more than any circuit is held at.',
    remedy: 'Read the gauge again, and mind the unit: a bare number is cmH2O.',
  },
  hold_pressure_rose: {
    means: 'The reading at the end is above the one at the start, so gas was still flowing in.',
    remedy: 'Shut the flow, or the cylinder, and hold again.',
  },
  hold_without_gauge: {
    means:
      'A gauge reading for a pair that has no gauge by the inventory: the gauge of a machine reads circle pressure only.',
    remedy: 'Watch the taut bag (--steady or --slack), or add pressure_gauge: true to the circuit.',
  },
  make_up_pressure_low: {
    means: 'The make-up flow was measured at less than the pressure of the rule, where the leak is less.',
    remedy: 'Measure it at the pressure of the rule or above.',
  },
  pop_off_unanswered: {
    means: 'A leak test ends with the pop-off opened and the pressure seen to fall; nothing was said of it.',
    remedy: 'Add --pop-off open, --pop-off shut or --pop-off stuck.',
  },
  hold_too_short: {
    means: 'Nothing fell, but the time was too short to show that nothing leaks.',
    remedy: 'Hold again for at least the time of the rule.',
  },
  hold_supply_empty: {
    means: 'The gauge of the cylinder began so low that no leak could make it fall by the mark.',
    remedy: 'Open the cylinder until the gauge is up, shut it, and read again.',
  },
  used_though_failed: {
    means: 'A case was entered for a pair whose last leak test failed. It is recorded all the same.',
    remedy: 'Correct the entry if an id is wrong; else tell the veterinarian in charge.',
  },
  case_entered_before: {
    means: 'A case with this reference was entered before, so that its use would count twice.',
    remedy: 'Cancel one of the two with holdfast correct, unless the case changed equipment.',
  },
  record_new: {
    means: 'The folder that was named for the record was not there, and the entry began a new record in it.',
    remedy:
      'If the record lies elsewhere, name it with --record or HOLDFAST_RECORD, and enter it again there.',
  },
  station_new: {
    means:
      'The first entry of a workplace in a record that has others: perhaps HOLDFAST_STATION was not set.',
    remedy: 'Set HOLDFAST_STATION if this is one of the others; else there is nothing to do.',
  },
  round_interrupted: {
    means: 'A round on the terminal was ended before it was confirmed. Nothing was recorded.',
    remedy: 'Start it again when ready.',
  },
  hold_interrupted: {
    means: 'A guided leak test was ended before it was confirmed. Nothing was recorded.',
    remedy: 'If the pair is under pressure, open the pop-off now. Start again when ready.',
  },
  // Entries: refused, nothing written.
  who_missing: {
    means: 'Every entry says who did it, and nobody was named.',
    remedy: 'Add --by NAME, or set HOLDFAST_BY.',
  },
  text_length: {
    means: 'A text is longer than the record takes, or empty.',
    remedy: 'Shorten it to the limit that the message names.',
  },
  entry_value: {
    means: 'A figure is beyond what the record takes.',
    remedy: 'Check the unit and the decimal point; the message names the limit.',
  },
  time_not_understood: {
    means: 'A date or time on the command line is not in the calendar or not in a form that is sure.',
    remedy:
      'Write a date as 2026-11-25, a time as 2026-11-25T08:14 (in the time of the practice) or with its offset.',
  },
  time_in_future: {
    means: 'Something is said to have been done at a time that has not come yet.',
    remedy: 'Correct the time; plans of what is to be done do not belong in the record.',
  },
  asset_kind: {
    means: 'The asset is in the inventory, but is of a kind that this cannot be said of.',
    remedy: 'Name one of the kind that the message asks for.',
  },
  check_unknown: {
    means: 'The inventory has no check with this name, or none that applies to this asset.',
    remedy: 'Take a name from the checks in the inventory.',
  },
  check_by_other_means: {
    means:
      'The check is answered by a leak test or a reading, so that a sign-off would go round its judgement.',
    remedy: 'Do it with holdfast hold or holdfast reading.',
  },
  reading_unit: {
    means: 'A cylinder is read in psi or bar, a charcoal canister is weighed in grams.',
    remedy: 'Write the unit that the message asks for.',
  },
  reading_out_of_range: {
    means: 'A cylinder cannot read more than 1.3 times its full pressure.',
    remedy: 'Read the gauge again, and mind the unit; correct full_psi in the inventory if it is wrong.',
  },
  not_withdrawn: {
    means: 'Only what was withdrawn can be returned.',
    remedy: 'See holdfast record show --asset ID.',
  },
  entered_while_withdrawn: {
    means: 'A leak test or a use was entered of something that the record holds out of service.',
    remedy: 'If it is mended, put it back with holdfast return. If the entry is of another one, correct it.',
  },
  already_withdrawn: {
    means: 'It is out of service already.',
    remedy: 'To add to the reason, return it and withdraw it again.',
  },
  entry_unknown: {
    means: 'The record has no entry with this id.',
    remedy: 'Take the id from holdfast record show.',
  },
  entry_not_correctable: {
    means: 'The entry is a correction itself, or was cancelled already.',
    remedy: 'Enter what was done anew.',
  },
  compliance_no_rise: {
    means: 'Compliance is measured by a timed rise, and the pressure did not rise.',
    remedy: 'Shut the pop-off, set the flow, and time the rise between two readings.',
  },
  compliance_too_low: {
    means:
      'The compliance is less than that of the gas alone in the volume that the inventory knows, which cannot be.',
    remedy:
      'Check flow and time, and measure again; if they are right, correct the volumes in the inventory.',
  },
  // Entries: written, with a caution on stderr.
  before_in_service: {
    means: 'Something is said to have been done before the asset was in service.',
    remedy:
      'Check the date, and since in the inventory; cancel the entry with holdfast correct if it is wrong.',
  },
  overtaken_since: {
    means: 'What is entered late for an earlier time was overtaken by what was done since.',
    remedy: 'Enter it for now, if it is still so.',
  },
  fresh_one_unsaid: {
    means: 'A cylinder is fuller, or a canister lighter, than it can have become by use.',
    remedy: 'If it is a fresh one, enter the reading with --new: its use counts from there.',
  },
  gauge_below_reserve: {
    means: 'A cylinder reads below its reserve, so that nothing of it counts as left.',
    remedy:
      'Change the cylinder. If another figure or unit was meant, cancel the entry with holdfast correct and enter it anew.',
  },
  reading_unlikely: {
    means:
      'A reading is far from what can be: a gauge that fell to a fifth without a use in between, or a canister that gained ten times its limit. Likely a wrong unit or a slipped digit; it is recorded all the same.',
    remedy: 'Read it again, and mind the unit; cancel the entry with holdfast correct if it is wrong.',
  },
  pair_not_driven: {
    means: 'The inventory does not say that this machine drives this kind of circuit.',
    remedy: 'Check how it is connected, and correct drives in the inventory.',
  },
  agent_not_on_machine: {
    means: 'The inventory has no vaporizer for this agent on this machine.',
    remedy: 'Check the agent, and correct the entry or the inventory.',
  },
  gauge_not_read: {
    means: 'The pair has a gauge, and the taut bag was watched instead.',
    remedy: 'Read the gauge: it shows a fall long before the bag does.',
  },
  // The files of the record.
  ...RECORD_STORE_CODES,
} as const satisfies Record<string, CodeRow>;
