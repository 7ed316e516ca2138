import type { CodeRow } from '../code.ts';

/** Problems of an inventory, in the order of the stages in which they are found. */
export const INVENTORY_CODES = {
  // The file.
  inventory_not_found: {
    means: 'No inventory was named, and neither this folder nor one above it has an inventory.yaml.',
    remedy: 'Name it with --inventory FILE or HOLDFAST_INVENTORY, or write one with holdfast inventory new.',
  },
  file_missing: { means: 'The inventory that was named does not exist.', remedy: 'Check the path.' },
  file_is_folder: { means: 'The inventory that was named is a folder.', remedy: 'Name the file in it.' },
  file_not_readable: {
    means: 'The inventory is there but cannot be read.',
    remedy: 'Check its permissions.',
  },
  file_too_large: {
    means:
      'The inventory is larger than 1 MiB, or has more than 500,000 words and marks: far more than any practice owns.',
    remedy: 'Check that it is the right file.',
  },
  file_not_utf8: {
    means: 'The inventory holds bytes that are not UTF-8.',
    remedy: 'Save it as UTF-8; editors call this the encoding.',
  },
  file_empty: {
    means: 'The inventory holds nothing but white space or comments.',
    remedy: 'Start from holdfast inventory new, or from inventory.example.yaml.',
  },
  conflict_markers: {
    means: 'The file still holds the markers that git leaves where two versions clash.',
    remedy: 'Choose what is right on each side, delete the marker lines, and check again.',
  },
  control_character: {
    means: 'The file holds a control character that no editor shows.',
    remedy: 'Delete the character at the place named and type the text again.',
  },
  blanks_too_long: {
    means: 'A line of the file has hundreds of blanks in a row, which take reading it very long.',
    remedy: 'Delete the blanks at the place named.',
  },
  // The syntax.
  tab_indentation: {
    means: 'A line is indented with a tab, which YAML forbids.',
    remedy: 'Use two spaces for each level.',
  },
  yaml_syntax: {
    means: 'The text is not YAML.',
    remedy: 'Mend the line shown; the mistake may stand just above it.',
  },
  key_twice: {
    means: 'A key stands twice in the same group, so that one would hide the other.',
    remedy: 'Keep one of the two.',
  },
  number_form: {
    means:
      'A number in a form that YAML reads and a person may read otherwise: hexadecimal, octal, with an exponent, with a zero or a point in front.',
    remedy: 'Write it in plain digits with at most one point.',
  },
  anchor_refused: {
    means: 'The file uses an anchor or an alias, by which one line changes the meaning of another far away.',
    remedy: 'Write the values out.',
  },
  tag_refused: { means: 'The file uses a YAML tag.', remedy: 'Delete the tag; the value alone is enough.' },
  directive_refused: {
    means: 'The file holds a YAML directive, a line that begins with % and changes how all others are read.',
    remedy: 'Delete the line.',
  },
  several_documents: {
    means: 'The file holds more than one YAML document.',
    remedy: 'Keep one, and delete the line --- that parts them.',
  },
  too_deep: {
    means: 'Groups stand in groups deeper than an inventory ever needs.',
    remedy: 'Check the indentation.',
  },
  // The schema.
  format_unknown: {
    means: 'The file says that it is of a format that this holdfast does not know.',
    remedy: 'Write format: 1, or use the holdfast that wrote it.',
  },
  unknown_key: {
    means:
      'A key that format 1 does not have. Nothing is skipped in silence, since a mistyped limit would not hold.',
    remedy: 'Correct the key; the message names the nearest known one.',
  },
  missing_key: { means: 'A key that must be there is missing.', remedy: 'Add it where the message says.' },
  key_not_for_kind: {
    means: 'A key that belongs to another kind of asset.',
    remedy: 'Delete it, or correct the kind.',
  },
  wrong_type: {
    means: 'A value of the wrong sort: text for a number, a single value for a list.',
    remedy: 'Write it as the message says; numbers without quotes.',
  },
  value_not_allowed: {
    means: 'A value that is not one of those allowed here.',
    remedy: 'Use one of the values shown.',
  },
  out_of_limits: {
    means: 'A number beyond any that can be meant here.',
    remedy: 'Check the unit in the key and the decimal point.',
  },
  bad_id: {
    means: 'An id that is not a-z, 0-9 and -, starting with a letter, at most 40 long.',
    remedy: 'Write it in small letters with hyphens, for example theatre-1.',
  },
  bad_date: {
    means: 'A date that is not in the calendar or not written YYYY-MM-DD.',
    remedy: 'Write it as 2026-03-01.',
  },
  wrong_length: {
    means: 'A list or a text that is too short or too long.',
    remedy: 'Write as many as the message says.',
  },
  item_twice: { means: 'A list holds the same item twice.', remedy: 'Delete one of the two.' },
  // The cross-references.
  id_twice: {
    means: 'Two assets have the same id, so that the record could not tell them apart.',
    remedy: 'Give one of them another id. Keep the id of the one that the record already knows.',
  },
  id_reserved: {
    means: 'An id is a word that checks use for a whole kind, such as machine or bain.',
    remedy: 'Add a number or a place to it, for example bain-1.',
  },
  zone_unknown: {
    means: 'The time zone is no IANA name.',
    remedy: 'Write it as Europe/Dublin or America/Chicago.',
  },
  range_reversed: {
    means: 'A range stands with its high end first.',
    remedy: 'Write the low end first: [low, high].',
  },
  supply_unknown: {
    means: 'A machine names an oxygen supply that the inventory does not have.',
    remedy: 'Correct the name, or add the supply to oxygen_supplies.',
  },
  supply_unused: {
    means: 'An oxygen supply that no machine has.',
    remedy: "Add it to a machine's oxygen, or take it out.",
  },
  supply_pressures: {
    means: 'A cylinder needs its full and its reserve pressure in one unit, the reserve below the full.',
    remedy: 'Give full_psi and reserve_psi, or full_bar and reserve_bar.',
  },
  circuit_undriven: {
    means: 'No machine can drive a circuit of this kind.',
    remedy: "Add the kind to a machine's drives, or take the circuit out.",
  },
  bag_size_twice: { means: 'The same bag size stands twice.', remedy: 'Add the counts up in one line.' },
  bag_ids_count: {
    means: 'A bag size has ids, but not as many as its count.',
    remedy: 'Give each bag an id, or none.',
  },
  marks_disordered: {
    means: "The stretches of a flowmeter's marks do not rise, or run past its maximum.",
    remedy: 'List them from the lowest up_to_ml_min to the highest, at most max_ml_min.',
  },
  marks_uneven: {
    means: 'A stretch of marks does not end on a mark: its length is not a whole number of steps.',
    remedy: 'Read the flowmeter again: where the spacing changes there is a mark.',
  },
  since_in_future: {
    means: 'Something is in service since a date that has not come yet.',
    remedy: 'Correct the date.',
  },
  check_selects_nothing: {
    means: 'A check applies to no asset of this inventory, so it would never be due.',
    remedy: 'Correct what stands behind of, or take the check out.',
  },
  check_never_due: {
    means: 'A check has neither an interval nor a limit by use nor a round.',
    remedy: 'Add every, after or round.',
  },
  check_calendar: {
    means: 'A check on a calendar grid needs every and starting; one without needs neither starting.',
    remedy: 'Add what is missing, or leave counted_from and starting out.',
  },
  check_cannot_apply: {
    means: 'A check is done by, or counts, something that one of its assets does not have.',
    remedy:
      'hold goes with circuits, supply_hold with cylinders, reading with cylinders and charcoal, gain_g with charcoal.',
  },
  check_since_missing: {
    means: 'A check would count from the day its asset came into service, and that asset has no since.',
    remedy: 'Give the asset its since.',
  },
} as const satisfies Record<string, CodeRow>;
