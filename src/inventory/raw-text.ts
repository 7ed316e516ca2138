/** What is looked for in the bare text, before YAML is: it would be misread, or reported in words that mislead. */
import type { Problem } from '../problem/problem.ts';
import type { Source } from './source.ts';

/** Past this many of one sort the rest is not listed: the file is something else than an inventory. */
const MOST_OF_A_SORT = 50;

/** Wider than any alignment. Readers of YAML look over blanks again from each of them: a megabyte would take an hour. */
const MOST_BLANKS = 256;

/** Conflict markers of git, or, where there is none, control characters, tabs in the indentation and endless blanks. */
export function rawTextProblems(source: Source): Problem[] {
  const conflicts = conflictMarkers(source);
  // Half of what stands between markers is meant to go; what else is wrong there is no news yet.
  if (conflicts.length > 0) return conflicts;
  const blanks = longBlanks(source);
  return [...controlCharacters(source), ...blanks, ...(blanks.length > 0 ? [] : tabIndentation(source))];
}

function conflictMarkers(source: Source): Problem[] {
  // A row of ======= alone may be somebody's underline; the arrows are git's.
  if (!/^(?:<{7}|>{7})(?= |\r?$)/m.test(source.text)) return [];
  return problemsAt(source, /^(?:<{7}|={7}|>{7}|\|{7})(?= |\r?$)/gm, marker => ({
    code: 'conflict_markers',
    message: `a conflict marker of git (${marker})`,
    remedy: 'choose what is right on each side and delete the marker lines',
  }));
}

function controlCharacters(source: Source): Problem[] {
  // C0 but tab and line breaks, a lone CR, DEL, C1, marks without width, and those that reorder text on the screen.
  const control =
    // biome-ignore lint/suspicious/noControlCharactersInRegex: finding them is the point
    /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u200b\u2028-\u202e\u2060-\u2064\u2066-\u2069\ufeff]|\r(?!\n)/g;
  return problemsAt(source, control, character => ({
    code: 'control_character',
    message: `a control character, U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`,
    remedy: 'delete it and type the text again',
  }));
}

function tabIndentation(source: Source): Problem[] {
  return problemsAt(source, /(?<=^ *)\t(?=[\t ]*[^\s#])/gm, () => ({
    code: 'tab_indentation',
    message: 'a tab in the indentation',
    remedy: 'use two spaces for each level',
  }));
}

function longBlanks(source: Source): Problem[] {
  // From the first blank of each run alone, so that this itself looks at none twice.
  return problemsAt(source, /(?<![ \t])[ \t]+/g, blanks => {
    if (blanks.length <= MOST_BLANKS) return null;
    return {
      code: 'blanks_too_long',
      message: `${blanks.length} blanks in a row`,
      remedy: 'delete them',
    };
  });
}

function problemsAt(
  source: Source,
  pattern: RegExp,
  describe: (found: string) => Pick<Problem, 'code' | 'message' | 'remedy'> | null,
): Problem[] {
  const problems: Problem[] = [];
  for (const { 0: found, index } of source.text.matchAll(pattern)) {
    const described = describe(found);
    if (described === null) continue;
    const { code, message, remedy } = described;
    problems.push(source.problem(code, index, index + found.length, message, remedy));
    if (problems.length === MOST_OF_A_SORT) break;
  }
  return problems;
}
