/** One row of the list → a case, or all that is wrong with it. */
import { instantOfLocal } from '../../calendar/local-time.ts';
import type { CalendarDate } from '../../calendar/zone.ts';
import { AGENTS, type Agent, type Inventory, SPECIES } from '../../inventory/inventory.ts';
import type { Source } from '../../inventory/source.ts';
import { settingProblem } from '../../plan/supplies/agent.ts';
import type { Code } from '../../problem/codes.ts';
import { didYouMean } from '../../problem/nearest.ts';
import type { Problem } from '../../problem/problem.ts';
import { type Parsed, parseMinutes, parsePercent, parseWeight } from '../../quantity/parse.ts';
import type { Kg, Minutes } from '../../quantity/units.ts';
import type { DayCase } from '../day-case.ts';
import { type Cell, type ColumnName, type ListRow, REQUIRED } from './cells.ts';

/** What the words of a list are understood by. */
export interface ListScene {
  readonly source: Source;
  readonly inventory: Inventory;
  readonly date: CalendarDate;
}

const LONGEST_MINUTES = 24 * 60;
const LONGEST_REF = 40;

export function readRow(row: ListRow, scene: ListScene): DayCase | Problem[] {
  const reader = new RowReader(row, scene);
  const draft = {
    ref: reader.ref(),
    line: scene.source.placeAt(row.from).line,
    species: reader.word('species', SPECIES),
    weightKg: reader.weight('weight'),
    idealWeightKg: reader.weight('ideal_weight'),
    weightConfirmed: reader.word('confirm_weight', ['yes', 'no']) === 'yes',
    start: reader.start(),
    minutes: reader.minutes(),
    machine: reader.id('machine', scene.inventory.machines),
    circuit: reader.id('circuit', scene.inventory.circuits),
    agent: reader.word('agent', AGENTS),
    settingPercent: reader.quantity('setting', parsePercent),
  };
  reader.checkSetting(draft.agent, draft.settingPercent);
  const { species, weightKg, start, minutes } = draft;
  if (species === null || weightKg === null || start === null || minutes === null) return reader.problems;
  return reader.problems.length > 0 ? reader.problems : { ...draft, species, weightKg, start, minutes };
}

class RowReader {
  readonly problems: Problem[] = [];
  readonly #row: ListRow;
  readonly #scene: ListScene;

  constructor(row: ListRow, scene: ListScene) {
    this.#row = row;
    this.#scene = scene;
  }

  /** The text of a cell without the blanks around it; null where it is empty, which some must not be. */
  #text(column: ColumnName): string | null {
    const cell = this.#row.cells.get(column);
    const text = cell?.text.trim() ?? '';
    if (text !== '') return text;
    if (REQUIRED.includes(column))
      this.#refuse(column, 'list_value_missing', `${column} is empty`, 'fill it in');
    return null;
  }

  #refuse(column: ColumnName, code: Code, message: string, remedy: string): null {
    const { from, to }: Pick<Cell, 'from' | 'to'> = this.#row.cells.get(column) ?? {
      from: this.#row.from,
      to: this.#row.from,
    };
    this.problems.push(this.#scene.source.problem(code, from, to, message, remedy));
    return null;
  }

  ref(): string {
    const text = this.#text('ref') ?? '';
    if (Array.from(text).length > LONGEST_REF)
      this.#refuse('ref', 'list_value', `a ref has at most ${LONGEST_REF} characters`, 'shorten it');
    return text;
  }

  word<W extends string>(column: ColumnName, known: readonly W[]): W | null {
    const text = this.#text(column);
    if (text === null) return null;
    const word = known.find(one => one === text.toLowerCase());
    return (
      word ?? this.#refuse(column, 'list_value', `${column} '${text}' is not known`, didYouMean(text, known))
    );
  }

  id(column: 'machine' | 'circuit', known: readonly { readonly id: string }[]): string | null {
    const text = this.#text(column);
    if (text === null || known.some(({ id }) => id === text)) return text;
    const ids = known.map(({ id }) => id);
    return this.#refuse(
      column,
      'asset_unknown',
      `no ${column} '${text}' in the inventory`,
      didYouMean(text, ids),
    );
  }

  weight(column: 'weight' | 'ideal_weight'): Kg | null {
    return this.quantity(column, parseWeight, 'weight_not_understood');
  }

  quantity<T>(
    column: ColumnName,
    parse: (text: string) => Parsed<T>,
    code: Code = 'quantity_not_understood',
  ): T | null {
    const text = this.#text(column);
    if (text === null) return null;
    const parsed = parse(text);
    if (parsed.ok) return parsed.value;
    if (/^\d+,\d+/.test(text)) {
      const remedy = `write it with a point: ${text.replace(',', '.')}`;
      return this.#refuse(column, 'list_decimal_comma', `${column} '${text}' has a decimal comma`, remedy);
    }
    return this.#refuse(column, code, parsed.message, `write it as ${parsed.forms}`);
  }

  minutes(): Minutes | null {
    const minutes = this.quantity('minutes', parseMinutes);
    if (minutes === null) return null;
    if (minutes > 0 && minutes <= LONGEST_MINUTES) return minutes;
    const message = minutes > 0 ? 'a case of more than a day' : 'a case of no minutes';
    return this.#refuse(
      'minutes',
      'quantity_not_understood',
      message,
      'write how long it lasts: 45, 45min, 1.5h',
    );
  }

  start(): Date | null {
    const text = this.#text('start');
    if (text === null) return null;
    const [, hour, minute] = /^([01]?\d|2[0-3]):([0-5]\d)(?::00)?$/.exec(text) ?? [];
    if (hour === undefined || minute === undefined)
      return this.#refuse(
        'start',
        'list_time',
        `start '${text}' is no time of day`,
        'write it as 08:30 or 14:05',
      );
    const { date, inventory } = this.#scene;
    const { timeZone } = inventory.practice;
    const local = instantOfLocal(timeZone, `${date}T${hour.padStart(2, '0')}:${minute}:00`);
    if (local === 'gap') {
      const message = `there is no ${text} on ${date} in ${timeZone}: the clocks are put forward over it`;
      return this.#refuse('start', 'list_time_gap', message, 'write a time before or after the gap');
    }
    if (local === 'twice') {
      const message = `${text} comes twice on ${date} in ${timeZone}: the clocks are put back`;
      return this.#refuse('start', 'list_time_twice', message, 'write a time outside that hour');
    }
    return local.instant;
  }

  checkSetting(agent: Agent | null, setting: DayCase['settingPercent']): void {
    if (setting === null) return;
    if (agent === null) {
      // An agent that was not understood has been named already.
      if ((this.#row.cells.get('agent')?.text.trim() ?? '') === '')
        this.#refuse('setting', 'list_setting_alone', 'a dial setting without an agent', 'add the agent');
      return;
    }
    const problem = settingProblem(agent, setting);
    if (problem !== null) this.#refuse('setting', problem.code, problem.message, problem.remedy);
  }
}
