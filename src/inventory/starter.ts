/** The text of an inventory to start from. What nobody can know from here is marked CHECK. */
import type { CalendarDate } from '../calendar/zone.ts';
import type { RuleLeaf, RuleTree } from './default-rules.ts';
import { type CircuitKind, driveOf, hasInnerTube } from './inventory.ts';
import type { RuleSet } from './rule-sets.ts';

export interface StarterWishes {
  readonly name: string;
  readonly timeZone: string;
  /** Ids, in order of preference. */
  readonly machines: readonly string[];
  /** Kinds, in order of preference; the same kind may come twice. */
  readonly circuits: readonly CircuitKind[];
  readonly ruleSet: RuleSet;
  readonly today: CalendarDate;
}

/** The inventory's text. It passes `inventory check` as long as the ids do and the zone exists. */
export function renderStarter(wishes: StarterWishes): string {
  return [
    header(),
    practice(wishes),
    rules(wishes.ruleSet),
    machines(wishes),
    circuits(wishes),
    stock(wishes),
    checks(wishes),
  ].join('\n');
}

function header(): string {
  return `# What this practice owns for anaesthesia. Keep this file in git.
#
# Every line marked CHECK holds a cautious guess: put in what you read off the equipment itself, then take the mark out.
# Units stand in the keys: kg, mL, mL/min, cmH2O, psi, bar, g. Ids are a-z, 0-9 and -. Afterwards:
#
#   holdfast inventory check
format: 1
`;
}

function practice({ name, timeZone }: StarterWishes): string {
  return `practice:
  name: ${JSON.stringify(name)}
  time_zone: ${timeZone}
  open_days: [mon, tue, wed, thu, fri]      # CHECK
  # closed_dates: [2026-12-25]
`;
}

function rules({ name, summary, notes, rules }: RuleSet): string {
  const comments = [
    `The rules (${name}: ${summary}). What is left out has its default.`,
    'The comment behind a figure is quoted by plans as its source. The veterinarian in charge answers for this section.',
    ...notes,
  ];
  return `${comments.map(comment => `# ${comment}\n`).join('')}rules:\n${renderRules(rules, '  ')}`;
}

/** Rules as YAML, a figure a line, with its source behind it: there a plan looks for it. */
function renderRules(tree: RuleTree, indent: string): string {
  return Object.entries(tree)
    .map(([key, node]) =>
      isLeaf(node)
        ? `${indent}${key}: ${renderValue(node[0])}  # ${node[1]}\n`
        : `${indent}${key}:\n${renderRules(node, `${indent}  `)}`,
    )
    .join('');
}

function isLeaf(node: RuleTree | RuleLeaf): node is RuleLeaf {
  return Array.isArray(node);
}

function renderValue(value: RuleLeaf[0]): string {
  return typeof value === 'object' ? `[${value.join(', ')}]` : String(value);
}

function machines({ machines, circuits, today }: StarterWishes): string {
  const drives = [...new Set(circuits.map(driveOf))].join(', ');
  const entries = machines.map(
    (id, i) => `  - id: ${id}
    since: ${today}                       # CHECK: in service since
    flowmeter:                              # CHECK: read the highest flow and the marks off the glass
      max_ml_min: 4000
      marks: [{ up_to_ml_min: 4000, step_ml_min: 500 }]
    drives: [${drives}]
    fresh_gas_outlet: at_machine            # CHECK: at_machine, at_circle or switch
    flush_to: outlet                        # CHECK: outlet, circle or none
    pressure_gauge: false                   # CHECK: true where it has a gauge
    # absorber: { id: ${id}-absorber, absorbent_g: 1200 }
    # vaporizers: [{ id: ${id}-iso, agent: isoflurane }]
    # scavenging: { id: ${id}-charcoal, kind: charcoal, limit_gain_g: 50 }
    oxygen: [oxygen-${i + 1}]
`,
  );
  return `# The machines, the preferred one first.\nmachines:\n${entries.join('')}`;
}

const ID_STEMS: Readonly<Record<CircuitKind, string>> = {
  t_piece: 't-piece',
  bain: 'bain',
  circle_y: 'y-piece',
  circle_coaxial: 'coaxial',
};

function circuits({ circuits, today }: StarterWishes): string {
  const counts = new Map<CircuitKind, number>();
  const entries = circuits.map(kind => {
    const number = (counts.get(kind) ?? 0) + 1;
    counts.set(kind, number);
    return `  - { id: ${ID_STEMS[kind]}-${number}, kind: ${kind}, since: ${today} }    # CHECK: since\n`;
  });
  return `# The breathing circuits, the preferred one first. weights_kg (least and greatest weight), pressure_gauge, bore_mm,
# volume_ml, dead_space_ml and compliance_ml_cmh2o may be added: plans then say more.
circuits:
${entries.join('')}`;
}

function stock({ machines, today }: StarterWishes): string {
  const supplies = machines.map(
    (_, i) =>
      `  - { id: oxygen-${i + 1}, kind: cylinder, since: ${today}, capacity_l: 660, full_psi: 1900, reserve_psi: 200 }\n`,
  );
  return `bags:                                       # CHECK: sizes and numbers
  - { size_ml: 500, count: 1 }
  - { size_ml: 1000, count: 1 }
  - { size_ml: 2000, count: 1 }

# CHECK: an E cylinder as Nurse Anesthesia 2001, Table 14-1 has it; others print a quarter less. Read yours.
# A pipeline: { id: wall, kind: pipeline }. A concentrator: { id: box, kind: concentrator, max_ml_min: 5000 }.
oxygen_supplies:
${supplies.join('')}`;
}

function checks({ circuits }: StarterWishes): string {
  const withTube = [...new Set(circuits.filter(hasInnerTube))];
  const innerTube = `  - id: inner-tube
    of: [${withTube.join(', ')}]
    every: { open_days: 1 }
    blocks: true                            # overdue or failed keeps patients off the circuit
    round: before_case
    text: At 2 L/min block the inner tube alone; the float must dip.
`;
  return `# The checks: what, how often, in which round. Add your own.
checks:
  - id: oxygen
    of: machine
    every: { open_days: 1 }
    round: opening
    text: Oxygen on; the cylinder reads at least about 1000 psi.    # FDA 1993, step 2
  - id: low-pressure
    of: machine
    every: { open_days: 1 }
    round: opening
    text: Flow off, suction bulb on the fresh-gas outlet stays flat for 10 s; again with each vaporizer open.    # FDA 1993, step 5
  - { id: leak-hold, of: circuit, done_by: hold, round: before_case, text: Leak test of this circuit on this machine. }
${withTube.length > 0 ? innerTube : ''}  - id: high-pressure
    of: cylinder
    every: { weeks: 1 }
    done_by: supply_hold
    round: weekly
    text: Cylinder opened and shut, flow off; the gauge falls by less than the rule allows.
`;
}
