/**
 * Everything a person must know before the figures are used. An ordered list of checks of one signature; each looks at the
 * draft and gives what it finds.
 */
import { classOf } from '../inventory/inventory.ts';
import { isAbove, isAtLeast } from '../quantity/compare.ts';
import { formatFlow, formatNumber, formatVolume, formatWeight } from '../quantity/format.ts';
import { type Kg, kg, type Ml, ml } from '../quantity/units.ts';
import { type Caution, caution } from './caution.ts';
import { CLASS_WORDS, KIND_WORDS, type Pair, REASONS_OF_MACHINE, supplyOf } from './fit.ts';
import type { PhaseFlow } from './flow.ts';
import type { Draft } from './plan.ts';
import { isNearBoundary } from './zone.ts';

type CautionCheck = (draft: Draft) => Caution[];

const CHECKS: readonly CautionCheck[] = [
  implausible,
  noCircuit,
  forcedMisfits,
  unfinished,
  species,
  boundary,
  classes,
  forcedClass,
  record,
  entriesInFuture,
  blockingAndFailedChecks,
  returned,
  popOff,
  leakTest,
  failedElsewhere,
  flows,
  capnograph,
  bag,
  flush,
  absorber,
  scavenging,
  oxygen,
  bore,
];

export function cautionsOf(draft: Draft): Caution[] {
  return CHECKS.flatMap(check => check(draft));
}

function pairOf(draft: Draft): Pair | null {
  return draft.main?.choice.pair ?? null;
}

function implausible({ implausible: why, request }: Draft): Caution[] {
  if (why === null) return [];
  if (request.weightConfirmed) return [caution('weight_confirmed', `${why}; confirmed`)];
  return [caution('weight_implausible', `${why}. Weigh again, or add --confirm-weight`)];
}

function noCircuit({ main, other, zone }: Draft): Caution[] {
  if (main === null || main.choice.pair !== null) return [];
  const beside = other?.choice.pair;
  const may =
    zone === 'between' && beside ? `; the other class may serve too: --circuit ${beside.circuit.id}` : '';
  return [
    caution(
      'no_circuit',
      `no ${CLASS_WORDS[main.circuitClass]} circuit on any machine fits this patient${may}`,
    ),
  ];
}

/** What does not fit but was forced. */
function forcedMisfits(draft: Draft): Caution[] {
  const pair = pairOf(draft);
  if (pair === null) return [];
  return (draft.main?.choice.misfits ?? []).map(({ code, caution: becomes, reason }) =>
    caution(becomes, REASONS_OF_MACHINE.includes(code) ? reason : `${pair.circuit.id} ${reason}`),
  );
}

/** What the starter marked to be looked at, and nobody has yet. */
function unfinished({ inventory, main }: Draft): Caution[] {
  const { unfinishedLines: lines } = inventory;
  if (main === null || lines === 0) return [];
  return [
    caution(
      'inventory_unfinished',
      `${lines} ${lines === 1 ? 'line' : 'lines'} of the inventory still marked CHECK: guesses, not this equipment`,
    ),
  ];
}

function species({ request, main }: Draft): Caution[] {
  if (main === null || request.species !== null) return [];
  return [caution('species_not_given', 'species not given: weight not checked; bag as for a dog or cat')];
}

/** How to see the steps of the class that does not lead. */
function forTheOther(other: Draft['other']): string {
  const pair = other?.choice.pair;
  return pair ? `; the other: --circuit ${pair.circuit.id}` : '; both are shown';
}

function boundary({ zone, inventory, fit, main, other }: Draft): Caution[] {
  if (main === null) return [];
  const { nonRebreathingBelowKg: below, rebreathingAboveKg: above } = inventory.rules.boundary;
  if (zone === 'between') {
    return [
      caution(
        'boundary_between',
        `from ${below.value} to ${above.value} kg either class may serve${forTheOther(other)}`,
      ),
    ];
  }
  if (!isNearBoundary(inventory.rules, fit.weights.classKg)) return [];
  const words =
    zone === 'below'
      ? `${below.value} kg, where circles may serve`
      : `${above.value} kg, up to where T-piece and Bain may serve`;
  return [caution('boundary_near', `close to ${words}`)];
}

function classes({ classDiffers, request, substitutedFor, main, other }: Draft): Caution[] {
  const cautions: Caution[] = [];
  if (main !== null && classDiffers && request.idealWeightKg !== null) {
    const weights = `${formatWeight(request.weightKg)} and ideal ${formatWeight(request.idealWeightKg)}`;
    cautions.push(caution('class_differs', `${weights} ask for different classes${forTheOther(other)}`));
  }
  if (substitutedFor !== null && main?.choice.pair) {
    const { circuit } = main.choice.pair;
    cautions.push(
      caution(
        'class_substituted',
        `no ${CLASS_WORDS[substitutedFor]} circuit fits; ${circuit.id} (${CLASS_WORDS[main.circuitClass]}) stands in`,
      ),
    );
  }
  return cautions;
}

function forcedClass({ request, main, zone, classDiffers, inventory }: Draft): Caution[] {
  if (request.circuit === null || !main?.choice.pair || zone === 'between' || classDiffers) return [];
  const asked = zone === 'below' ? 'non_rebreathing' : 'rebreathing';
  if (main.circuitClass === asked) return [];
  const { nonRebreathingBelowKg, rebreathingAboveKg } = inventory.rules.boundary;
  const limit =
    zone === 'below' ? `below ${nonRebreathingBelowKg.value} kg` : `above ${rebreathingAboveKg.value} kg`;
  return [
    caution(
      'class_forced',
      `${request.circuit} is ${CLASS_WORDS[main.circuitClass]}; ${limit} the practice uses ${CLASS_WORDS[asked]} circuits`,
    ),
  ];
}

function record({ equipment, main }: Draft): Caution[] {
  if (main === null) return [];
  if (equipment.record === 'none')
    return [caution('no_record', 'no record yet: nothing is known of leak tests and checks')];
  if (equipment.record === 'damaged')
    return [caution('record_damaged', 'the record is damaged; run holdfast record verify')];
  return [];
}

function entriesInFuture({ equipment, main }: Draft): Caution[] {
  if (main === null || equipment.entriesInFuture === null) return [];
  return [caution('entry_in_future', equipment.entriesInFuture)];
}

/** Every asset that this pair puts to work. */
function assetsOf({ circuit, machine }: Pair, draft: Draft): string[] {
  const supply = supplyOf(machine, draft.inventory, draft.equipment);
  const rebreathing = classOf(circuit.kind) === 'rebreathing';
  const { agent } = draft.request;
  const vaporizers = machine.vaporizers.filter(vaporizer => agent === null || vaporizer.agent === agent);
  return [
    machine.id,
    circuit.id,
    ...(rebreathing && machine.absorber !== null ? [machine.absorber.id] : []),
    ...vaporizers.map(({ id }) => id),
    ...(machine.scavenging === null ? [] : [machine.scavenging.id]),
    ...(supply === null ? [] : [supply.id]),
  ];
}

function blockingAndFailedChecks(draft: Draft): Caution[] {
  const pair = pairOf(draft);
  if (pair === null || draft.equipment.record === 'none') return [];
  return draft.equipment.checks(assetsOf(pair, draft)).flatMap(({ asset, check, blocks, state, words }) => {
    if (blocks) return [caution('check_blocks', `${check} of ${asset}: ${words}`)];
    // Leak tests and high-pressure tests have cautions of their own.
    const doneBy = draft.inventory.checks.find(({ id }) => id === check)?.doneBy;
    if (doneBy === 'hold' || doneBy === 'supply_hold') return [];
    return state === 'failed' ? [caution('check_failed', `${check} of ${asset}: ${words}`)] : [];
  });
}

/** What came back from the workshop has been taken apart by somebody. */
function returned(draft: Draft): Caution[] {
  const pair = pairOf(draft);
  if (pair === null) return [];
  return assetsOf(pair, draft).flatMap(id => {
    const date = draft.equipment.unseenReturn(id);
    return date === null
      ? []
      : [caution('returned_unseen', `${id} is back in service since ${date}, and no round has looked at it`)];
  });
}

function popOff(draft: Draft): Caution[] {
  const pair = pairOf(draft);
  const shut = pair === null ? null : draft.equipment.popOffShut(pair.circuit.id, pair.machine.id);
  if (pair === null || shut === null) return [];
  const { circuit, machine } = pair;
  // A circle's pop-off sits on the machine; the sign-off names the circuit all the same.
  const whose = classOf(circuit.kind) === 'rebreathing' ? machine.id : circuit.id;
  const by = shut.circuit === circuit.id ? '' : ` of ${shut.circuit}`;
  const remedy = `See it open, then enter: ${shut.answer}`;
  return [caution('pop_off_shut', `the pop-off of ${whose} may be shut: ${shut.because}${by}. ${remedy}`)];
}

function leakTest({ leakHold, equipment, main }: Draft): Caution[] {
  const pair = main?.choice.pair;
  if (leakHold === null || !pair || equipment.record === 'none') return [];
  if (leakHold.state !== 'needed') return [];
  const none = `${pair.circuit.id} on ${pair.machine.id} has no leak test that counts`;
  return [caution('hold_needed', leakHold.because ?? none)];
}

function failedElsewhere(draft: Draft): Caution[] {
  const pair = pairOf(draft);
  if (pair === null) return [];
  const parts = draft.equipment.failedElsewhere(pair.circuit.id, pair.machine.id);
  const supply = supplyOf(pair.machine, draft.inventory, draft.equipment);
  const supplyFailed = supply === null ? null : draft.equipment.supplyHoldFailed(supply.id);
  return [
    ...parts.map(words => caution('part_failed_elsewhere', words)),
    ...(supplyFailed === null ? [] : [caution('supply_hold_failed', supplyFailed)]),
  ];
}

function flows({ main, inventory }: Draft): Caution[] {
  if (main?.flows == null) return [];
  const { maintenance } = main.flows.phases;
  const phases = Object.values(main.flows.phases);
  const cautions: Caution[] = [];
  const raised = phases.filter(({ minimumApplied }) => minimumApplied !== 'none');
  if (raised.length > 0) {
    const minimum = formatFlow(inventory.rules.freshGasFlow.minimumMlPerMin.value);
    cautions.push(
      caution(
        'minimum_flow_applied',
        `never less than ${minimum}: by weight it would be less${raisedIn(phases)}`,
      ),
    );
  }
  const above = phases.filter(({ setAboveRange }) => setAboveRange);
  if (above.length > 0) {
    const set = formatFlow(
      (above.find(({ phase }) => phase === 'maintenance') ?? above[0] ?? maintenance).setMlPerMin,
    );
    cautions.push(
      caution('set_above_range', `no mark of the flowmeter lies in the range; ${set} is the next above`),
    );
  }
  return cautions;
}

/** Which ends of which phases the least flow has raised, in words; '' where it raised all of them. */
function raisedIn(phases: readonly PhaseFlow[]): string {
  const named = (applied: 'low' | 'both') =>
    phases.filter(({ minimumApplied }) => minimumApplied === applied).map(({ phase }) => phase);
  const [both, low] = [named('both'), named('low')];
  if (both.length === phases.length) return '';
  if (low.length === phases.length) return ' at the low end';
  return [
    ...(both.length === 0 ? [] : [` in ${both.join(' and ')}`]),
    ...(low.length === 0 ? [] : [` at the low end of ${low.join(' and ')}`]),
  ].join(',');
}

function capnograph(draft: Draft): Caution[] {
  const pair = pairOf(draft);
  if (pair === null || pair.machine.capnograph !== false || classOf(pair.circuit.kind) === 'rebreathing')
    return [];
  return [
    caution(
      'capnograph_absent',
      `no capnograph on ${pair.machine.id}: flow by weight does not suit every patient; published needs run to 400–500 mL/kg/min`,
    ),
  ];
}

function bag(draft: Draft): Caution[] {
  const { bag: chosen, request, main } = draft;
  if (!main?.choice.pair) return [];
  if (chosen === null) {
    const species = request.species ?? 'this species';
    const line = `rules: tidal_volume_by_species_ml_kg: { ${species}: [low, high] }`;
    return [
      caution(
        'tidal_volume_unknown',
        `no tidal volume for ${species}: no bag and no dead space is worked out. Add ${line}`,
      ),
    ];
  }
  const cautions: Caution[] = [];
  const { sizeMl, wantedMl, notStocked, named } = chosen;
  const wanted = `${formatNumber(wantedMl, 0)} mL`;
  if (sizeMl === null) cautions.push(caution('bag_not_stocked', `no bag in stock; ${wanted} wanted`));
  else if (notStocked && named)
    cautions.push(caution('bag_not_stocked', `no ${formatVolume(sizeMl)} bag in stock`));
  else if (notStocked)
    cautions.push(
      caution(
        'bag_not_stocked',
        `no bag of ${wanted} or more in stock; ${formatVolume(sizeMl)} is the largest`,
      ),
    );
  if (named && sizeMl !== null && isAbove(wantedMl, sizeMl)) {
    cautions.push(
      caution('bag_too_small', `the ${formatVolume(sizeMl)} bag is smaller than the ${wanted} wanted`),
    );
  }
  if (sizeMl !== null && sizeMl <= SMALL_BAG_ML) {
    cautions.push(
      caution('small_bag', 'a 0.5 L bag, pop-off shut, at 2 L/min: 30 cmH2O in 17 s (study median)'),
    );
  }
  return cautions;
}

/** Vet Anaesth Analg, study of 75 reservoir bags, S1467-2987(20)30265-8. */
const SMALL_BAG_ML: Ml = ml(500);

function flush(draft: Draft): Caution[] {
  const pair = pairOf(draft);
  if (pair === null || classOf(pair.circuit.kind) === 'rebreathing' || pair.machine.flushTo !== 'outlet')
    return [];
  return [
    caution(
      'flush_live',
      `the oxygen flush of ${pair.machine.id} blows straight into ${pair.circuit.id}: never press it with a patient attached`,
    ),
  ];
}

/** Without an absorber the patient breathes its carbon dioxide again, unless the flow is high. */
function absorber(draft: Draft): Caution[] {
  const pair = pairOf(draft);
  if (pair === null || classOf(pair.circuit.kind) === 'non_rebreathing' || pair.machine.absorber !== null)
    return [];
  return [
    caution('absorber_unknown', `the inventory names no absorber on ${pair.machine.id}: a circle needs one`),
  ];
}

function scavenging(draft: Draft): Caution[] {
  const pair = pairOf(draft);
  if (pair === null) return [];
  const unit = pair.machine.scavenging;
  if (unit === null)
    return [caution('scavenging_unknown', `the inventory names no scavenging for ${pair.machine.id}`)];
  const out = draft.equipment.outOfService(unit.id);
  if (out !== null) return [caution('scavenging_out_of_service', `${unit.id} is out of service: ${out}`)];
  if (unit.kind === 'charcoal' || unit.airBreak) return [];
  return [
    caution(
      'scavenging_without_air_break',
      `${unit.id} is active and has no air break: it can pull on the bag`,
    ),
  ];
}

function oxygen(draft: Draft): Caution[] {
  const pair = pairOf(draft);
  if (pair === null || supplyOf(pair.machine, draft.inventory, draft.equipment) === null) return [];
  const inService = pair.machine.oxygen.filter(id => draft.equipment.outOfService(id) === null);
  return inService.length > 1
    ? []
    : [caution('no_backup_oxygen', `${inService[0]} is the only oxygen of ${pair.machine.id}`)];
}

function bore(draft: Draft): Caution[] {
  const pair = pairOf(draft);
  if (pair === null || classOf(pair.circuit.kind) !== 'rebreathing' || pair.circuit.boreMm === null)
    return [];
  const limit: Kg = kg(draft.inventory.rules.wideBoreBelowKg.value);
  if (!isAtLeast(pair.circuit.boreMm, WIDE_BORE_MM) || isAtLeast(draft.fit.weights.classKg, limit)) return [];
  return [
    caution(
      'wide_bore',
      `${pair.circuit.id} (${KIND_WORDS[pair.circuit.kind]}) has ${pair.circuit.boreMm} mm hoses; the patient is below ${limit} kg`,
    ),
  ];
}

/** The common adult bore; common practice, no published source. */
const WIDE_BORE_MM = 22;
