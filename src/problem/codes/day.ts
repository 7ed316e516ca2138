import type { CautionRow, CodeRow } from '../code.ts';

/** Problems of a day's list, in the order in which they are found. */
export const DAY_LIST_CODES = {
  list_not_readable: {
    means: "The day's list does not exist, is a folder, or cannot be read.",
    remedy: 'Check the path and its permissions.',
  },
  list_kind: {
    means: "The name of the day's list ends neither in .csv nor in .yaml or .yml.",
    remedy: 'Save it as CSV or write it as YAML, and give it that ending.',
  },
  list_too_large: {
    means: "The day's list is larger than 1 MiB, or has more than 200 patients: no day has so many.",
    remedy: 'Check that it is the right file.',
  },
  list_not_utf8: {
    means: "The day's list holds bytes that are not UTF-8.",
    remedy: 'Save it as CSV UTF-8; spreadsheets offer this beside plain CSV.',
  },
  list_empty: {
    means: "The day's list has no patients.",
    remedy: 'Write a line of column names and a line for each patient; holdfast help day shows one.',
  },
  list_shape: {
    means: 'A YAML list is not what it should be: patients, and under it one group of keys for each.',
    remedy: 'Write patients: and below it a line for each patient; holdfast help day shows one.',
  },
  list_quote: {
    means: 'A quote in a CSV cell is not closed, or stands where none may stand.',
    remedy: 'Put the whole cell in quotes and write a quote within it twice, or take the quotes out.',
  },
  list_row_length: {
    means: 'A row has more or fewer cells than there are columns. A decimal comma parts one cell in two.',
    remedy: 'Count the commas or semicolons of the row; write decimals with a point.',
  },
  list_column_unknown: {
    means: 'A column or key that the list does not have. Nothing is skipped in silence.',
    remedy: 'Correct the name; the message names the nearest known one.',
  },
  list_column_twice: { means: 'A column stands twice.', remedy: 'Keep one of the two.' },
  list_column_missing: {
    means: 'A column that must be there is missing: ref, species, weight, start or minutes.',
    remedy: 'Add it to the first line.',
  },
  list_value_missing: { means: 'A cell that must be filled is empty.', remedy: 'Fill it in.' },
  list_value: {
    means: 'A value that is not one of those allowed: species, agent, or yes and no.',
    remedy: 'Use one of the values shown.',
  },
  list_decimal_comma: {
    means: 'A number has a decimal comma, which could also part thousands.',
    remedy: 'Write it with a point.',
  },
  list_units_mixed: {
    means:
      'Some weights of the list are in pounds, ounces or grams, and this one has no unit: it could be any of them.',
    remedy: 'Write the unit behind every weight.',
  },
  list_ref_twice: {
    means: 'Two rows have the same ref, so that nobody could tell which is meant.',
    remedy: 'Give each patient a ref of its own.',
  },
  list_time: {
    means: 'A start that is no time of day.',
    remedy: 'Write it as 08:30 or 14:05, on the 24-hour clock.',
  },
  list_time_gap: {
    means: 'A start that the clocks leave out on that date, because they are put forward.',
    remedy: 'Write a time before or after the gap.',
  },
  list_time_twice: {
    means: 'A start that comes twice on that date, because the clocks are put back.',
    remedy: 'Write a time outside that hour.',
  },
  list_setting_alone: {
    means: 'A dial setting without an agent.',
    remedy: 'Add the agent, or take the setting out.',
  },
  list_named_twice: {
    means: 'Two rows name the same machine or circuit for times that overlap, the turnover included.',
    remedy: 'Move one of them, or leave the name out of one.',
  },
} as const satisfies Record<string, CodeRow>;

/** What a day's plan says beside its cases. One level per code. */
export const DAY_CAUTION_CODES = {
  day_no_assignment: {
    level: 'stop',
    means:
      'These cases cannot all be done at the times written: there is no way to give each a machine, a circuit and a bag.',
    remedy: 'Move one of them, or use what the message names.',
  },
  day_undecided: {
    level: 'stop',
    means:
      'Whether the cases can all be done could not be decided in the steps that the search may take. No assignment is claimed.',
    remedy: 'Name machines for some of the cases, or plan the day in two lists.',
  },
  day_oxygen_short: {
    level: 'stop',
    means: 'A case needs more oxygen than a full cylinder of its machine holds.',
    remedy: 'Use a machine with more oxygen, or have a second cylinder at hand and change during the case.',
  },
  day_bag_larger: {
    level: 'caution',
    means: 'The size of bag that the patient wants is in use then; the next larger one is hung.',
    remedy: 'Watch the breathing closely: a large bag moves less with each breath.',
  },
  day_change: {
    level: 'caution',
    means: 'A cylinder, an absorbent or a charcoal canister will not last for the next case.',
    remedy: 'Change it before the case that is named.',
  },
  day_supply_unknown: {
    level: 'caution',
    means: 'How long something lasts over the day cannot be worked out.',
    remedy: 'Do what the message names.',
  },
  day_past_midnight: {
    level: 'note',
    means: 'A case goes on past midnight. Leak tests and checks of the next day are not looked at.',
    remedy: 'Nothing to do.',
  },
  day_closed: {
    level: 'note',
    means: 'The practice is closed on this date.',
    remedy: 'Check the date.',
  },
  day_start_passed: {
    level: 'caution',
    means: 'The case should have begun before the moment at which the day was planned.',
    remedy:
      'If the list is of another day, name it with --date. If the case is late, write its new start. If it is under way or done, nothing.',
  },
  day_past: {
    level: 'note',
    means: 'The date has passed; the equipment is taken as it stands now.',
    remedy: 'Check the date.',
  },
} as const satisfies Record<string, CautionRow>;
