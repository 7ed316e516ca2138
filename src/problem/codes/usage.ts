import type { CodeRow } from '../code.ts';

/** Problems of the command line and of the program itself. */
export const USAGE_CODES = {
  usage: {
    means: 'The command line does not fit the command: an unknown option, a missing or a superfluous word.',
    remedy: 'Read the help of the command: holdfast help COMMAND.',
  },
  weight_not_understood: {
    means:
      'A body weight could be read in more than one way, or not at all. Digits with at most one point and a unit are taken; a bare number is kg; zero and more than 200 kg are refused.',
    remedy: 'Write it as 6.8kg, 6.8, 850g, 15lb or 24oz.',
  },
  quantity_not_understood: {
    means:
      'A flow, pressure, volume, mass, percentage or time on the command line is not written in a form that is sure.',
    remedy: 'Write it in one of the forms that the message shows.',
  },
  option_value: {
    means: 'An option has a value that is not one of those it takes.',
    remedy: 'Use one of the values that the message shows.',
  },
  setting_above_saturation: {
    means:
      'A dial setting is above what the vapour of the agent can reach: saturated vapour at 20 °C. No vaporizer gives more.',
    remedy: 'Read the dial again, and mind the decimal point.',
  },
  options_clash: {
    means: 'Two options do not go together, or one needs another.',
    remedy: 'Leave one out or add the other, as the message says.',
  },
  asset_unknown: {
    means: 'The inventory has no machine, circuit, bag or supply with this id.',
    remedy: 'Take an id from holdfast inventory list.',
  },
  asset_not_charted: {
    means:
      'A chart was asked for without an asset by which plans do not choose: a vaporizer, an absorber or a scavenging unit.',
    remedy: 'Name the machine that it belongs to, or a circuit, an oxygen supply or a bag.',
  },
  code_unknown: {
    means: 'There is no such code.',
    remedy: 'holdfast explain without a code lists them all.',
  },
  interrupted: {
    means: 'The questions were broken off before the last answer, so that nothing was written.',
    remedy: 'Start again, or give the answers as options.',
  },
  file_exists: {
    means: 'The file is there already, and holdfast does not overwrite what a person wrote.',
    remedy: 'Name another file, or move the old one away.',
  },
  file_not_written: {
    means: 'A file could not be written.',
    remedy: 'Check that the folder exists, that you may write there, and that the disk has room.',
  },
  internal: {
    means: 'The program itself is at fault.',
    remedy: 'Do not rely on anything it printed. Report what you typed and what it said.',
  },
} as const satisfies Record<string, CodeRow>;
