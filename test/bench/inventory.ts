/** Inventories of any length, for the benches of `plan`. */

/** What one inventory may have at most; beyond, more checks make up the length. */
const MOST_MACHINES = 200;
const MOST_CIRCUITS = 1000;

/** An inventory of exactly so many lines, at least 100: machines, circuits and checks line by line, in the block style that people write. */
export function inventoryOf(length: number): string {
  const lines = [
    'format: 1',
    'practice:',
    '  name: Larkhill Hospital',
    '  time_zone: Europe/Dublin',
    '  open_days: [mon, tue, wed, thu, fri, sat]',
    'machines:',
  ];
  const machines = Math.min(MOST_MACHINES, Math.round(length * 0.024));
  for (let i = 1; i <= machines; i++) {
    lines.push(
      `  - id: machine-${i}`,
      `    location: Room ${i}   # on the ${i}th floor`,
      '    since: 2023-02-06',
      '    flowmeter:',
      '      max_ml_min: 8000',
      '      marks:',
      '        - { up_to_ml_min: 1000, step_ml_min: 100 }',
      '        - { up_to_ml_min: 8000, step_ml_min: 250 }',
      '    drives: [circle, t_piece, bain]',
      '    capnograph: true',
      '    pressure_gauge: true',
      `    absorber: { id: machine-${i}-absorber, absorbent_g: 1200 }`,
      `    vaporizers: [{ id: machine-${i}-iso, agent: isoflurane }]`,
      `    scavenging: { id: machine-${i}-charcoal, kind: charcoal, limit_gain_g: 50 }`,
      '    oxygen: [wall]',
    );
  }
  lines.push('circuits:');
  for (let i = 1; i <= MOST_CIRCUITS && lines.length < Math.min(length * 0.92, length - 20); i++) {
    const kind = ['t_piece', 'bain', 'circle_y', 'circle_coaxial'][i % 4];
    const weights = ['[0.5, 5]', '[2, 12]', '[5, 100]', '[5, 30]'][i % 4];
    lines.push(
      `  - id: circuit-${i}`,
      `    kind: ${kind}`,
      '    since: 2025-01-13',
      `    weights_kg: ${weights}`,
      '    volume_ml: 450',
    );
  }
  lines.push(
    'bags:',
    '  - { size_ml: 500, count: 3 }',
    '  - { size_ml: 1000, count: 3 }',
    '  - { size_ml: 2000, count: 3 }',
  );
  lines.push('oxygen_supplies:', '  - { id: wall, kind: pipeline }', 'checks:');
  for (let i = 1; lines.length < length - 5; i++) {
    lines.push(
      `  - id: check-${i}`,
      `    of: [machine-${1 + ((i - 1) % machines)}]`,
      '    every: { months: 6 }',
      '    text: look at it',
    );
  }
  while (lines.length < length) lines.push('# the end');
  return `${lines.join('\n')}\n`;
}
