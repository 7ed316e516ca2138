/** The practice: its time zone, its dates and its rules. */
import type { Problem } from '../../problem/problem.ts';
import type { Draft } from './draft.ts';

export function timeZone({ inventory, today, problem }: Draft): Problem[] {
  if (today !== null) return [];
  const zone = inventory.practice.timeZone;
  return [
    problem(
      'zone_unknown',
      '/practice/time_zone',
      `'${zone}' is no IANA time zone`,
      'write it as Europe/Dublin',
    ),
  ];
}

export function sinceInFuture({ assets, today, document, problem }: Draft): Problem[] {
  return assets.flatMap(({ id, since, path }) => {
    if (since === null || today === null || since <= today) return [];
    // A part without a since of its own has the machine's; it is shown once, there.
    if (document.locate(`${path}/since`).value.start === document.locate(path).value.start) return [];
    const message = `'${id}' is in service since ${since}, after today (${today})`;
    return [problem('since_in_future', `${path}/since`, message, 'correct the date')];
  });
}

export function reversedRanges({ file, inventory, problem }: Draft): Problem[] {
  const problems: Problem[] = [];
  const look = (value: unknown, pointer: string): void => {
    if (isRange(value)) {
      const [first, second] = value;
      if (first > second) {
        problems.push(
          problem(
            'range_reversed',
            pointer,
            `[${first}, ${second}] has its high end first`,
            `write [${second}, ${first}]`,
          ),
        );
      }
    } else if (typeof value === 'object' && value !== null && !Array.isArray(value)) {
      for (const [key, inner] of Object.entries(value)) look(inner, `${pointer}/${key}`);
    }
  };
  look(file.rules, '/rules');
  for (const [i, circuit] of file.circuits.entries()) look(circuit.weights_kg, `/circuits/${i}/weights_kg`);
  const { nonRebreathingBelowKg: below, rebreathingAboveKg: above } = inventory.rules.boundary;
  if (below.value > above.value) {
    const pointer = above.from === 'inventory' ? above.path : below.path;
    const message = `rebreathing above ${above.value} kg lies below non-rebreathing below ${below.value} kg`;
    problems.push(
      problem('range_reversed', pointer, message, 'give both, the lower weight as non_rebreathing_below_kg'),
    );
  }
  return problems;
}

function isRange(value: unknown): value is [number, number] {
  return Array.isArray(value) && value.length === 2 && value.every(end => typeof end === 'number');
}
