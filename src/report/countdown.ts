/** The countdown of a guided leak test: figures to be read at arm's length, and a bar. Pure. */

export interface CountdownLook {
  readonly width: number;
  /** Whether the terminal shows block characters. */
  readonly blocks: boolean;
}

const ROWS = 5;
/** The figures, a gap, the bar, and what to do. */
export const COUNTDOWN_ROWS: number = ROWS + 3;
/** Five rows of five columns for each character, `#` filled. */
const GLYPHS: Readonly<Record<string, readonly string[]>> = {
  '0': ['#####', '#   #', '#   #', '#   #', '#####'],
  '1': ['  #  ', ' ##  ', '  #  ', '  #  ', '#####'],
  '2': ['#####', '    #', '#####', '#    ', '#####'],
  '3': ['#####', '    #', ' ####', '    #', '#####'],
  '4': ['#   #', '#   #', '#####', '    #', '    #'],
  '5': ['#####', '#    ', '#####', '    #', '#####'],
  '6': ['#####', '#    ', '#####', '#   #', '#####'],
  '7': ['#####', '    #', '   # ', '  #  ', '  #  '],
  '8': ['#####', '#   #', '#####', '#   #', '#####'],
  '9': ['#####', '#   #', '#####', '    #', '#####'],
  ':': ['     ', '  #  ', '     ', '  #  ', '     '],
  '+': ['     ', '  #  ', '#####', '  #  ', '     '],
};

/**
 * The countdown at one moment, always the same number of lines. Before the time is up it shows what is left; after it, what
 * went beyond, so that nobody need look away from the gauge for it to go on.
 *
 * @param elapsedS - since the start. @param neededS - by the rule.
 * @example renderCountdown(3.2, 10, { width: 80, blocks: false }).at(-2) //=> '[######              ] 3 of 10 s'
 */
export function renderCountdown(
  elapsedS: number,
  neededS: number,
  { width, blocks }: CountdownLook,
): string[] {
  const isUp = elapsedS >= neededS;
  const shown = isUp ? `+${clock(Math.floor(elapsedS - neededS))}` : clock(Math.ceil(neededS - elapsedS));
  const hint = isUp
    ? 'TIME IS UP. Look, then press Enter.'
    : 'Watch. Press Enter early only if the pressure is falling.';
  return [
    ...bigFigures(shown, width, blocks),
    '',
    bar(elapsedS, neededS, width, blocks),
    hint.slice(0, width - 1),
  ];
}

/** One line for a terminal that cannot draw. @example plainCountdown(3.2, 10) //=> '7 s left' */
export function plainCountdown(elapsedS: number, neededS: number): string {
  return elapsedS >= neededS
    ? `time is up, ${Math.floor(elapsedS - neededS)} s beyond`
    : `${Math.ceil(neededS - elapsedS)} s left`;
}

function clock(seconds: number): string {
  if (seconds < 100) return String(seconds);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}

function bigFigures(text: string, width: number, blocks: boolean): string[] {
  const glyphs = [...text].map(character => GLYPHS[character] ?? []);
  return Array.from({ length: ROWS }, (_, row) => {
    const line = glyphs.map(glyph => glyph[row] ?? '').join('  ');
    const wide = line.replace(/./g, '$&$&');
    const fitting = wide.length + 2 < width ? wide : line;
    return `  ${blocks ? fitting.replaceAll('#', '█') : fitting}`.slice(0, width - 1).trimEnd();
  });
}

function bar(elapsedS: number, neededS: number, width: number, blocks: boolean): string {
  const label = ` ${Math.floor(elapsedS)} of ${neededS} s`;
  const room = Math.max(5, Math.min(60, width - label.length - 3));
  const filled = Math.min(room, Math.floor((elapsedS / neededS) * room));
  const [full, empty] = blocks ? ['█', '░'] : ['#', ' '];
  return `[${full.repeat(filled)}${empty.repeat(room - filled)}]${label}`;
}
