/** How many supply cells each demand asks for: every count with its working, or what is missing for it. */

import { bundle, inductanceMatrix, wireLength } from '../figures/coupled.ts';
import {
  type Assessed,
  asInput,
  countFor,
  type Figure,
  figure,
  input,
  isAssessed,
  notAssessed,
  ratio,
} from '../figures/figure.ts';
import { switchingNoise, wiresCoupled, wiresFarApart } from '../figures/noise.ts';
import { currentConstant, selfInductance } from '../figures/wires.ts';
import type { ElectricalRules } from '../format/placement.ts';
import {
  type Bonding,
  currentOfWire,
  evenTogether,
  MOST_COUPLED,
  type Stand,
  wiresTogether,
} from './bonding.ts';
import { coreCurrent, directCurrent, type Group, supplyCells, type Worst } from './groups.ts';
import { SOURCES } from './sources.ts';

/** The direct current through a group. */
function currentFigure(group: Group): Figure {
  const total = directCurrent(group);
  if (total === 0) return notAssessed(`a current on ${group.name}: of its outputs or of the core`);
  const core = coreCurrent(group);
  return figure(
    total,
    'mA',
    'outputs + core',
    [input('outputs', total - core, 'mA'), input('core', core, 'mA')],
    SOURCES.given,
  );
}

/** The least rating of a group's supply cells, mA. */
function leastRating(group: Group): Figure {
  const cells = supplyCells(group);
  if (cells.length === 0) return notAssessed(`a supply cell on ${group.name}`);
  let least = Number.POSITIVE_INFINITY;
  for (const { cell } of cells) {
    const { rating } = cell.footprint;
    if (rating === undefined) return notAssessed(`the rating of cell ${cell.footprint.name}`);
    least = Math.min(least, rating);
  }
  return figure(least, 'mA', 'least rating of its supply cells', [], SOURCES.given);
}

const padsPerCell = (group: Group): number =>
  Math.min(...supplyCells(group).map(({ pads }) => pads.length), Number.POSITIVE_INFINITY);

/** Cells for direct current: I / Icell. */
export function forCurrent(group: Group): Figure {
  const current = currentFigure(group);
  const rating = leastRating(group);
  if (!isAssessed(current)) return current;
  if (!isAssessed(rating)) return rating;
  return figure(
    countFor(current.value, rating.value),
    'cells',
    'I / Icell, rounded up',
    [asInput('I', current), asInput('Icell', rating)],
    SOURCES.common,
  );
}

/** Cells for what their wires carry: I / (wires of a cell times K d^(3/2)). */
export function forWires(group: Group, bonding: Bonding | undefined): Figure {
  const current = currentFigure(group);
  if (!isAssessed(current)) return current;
  if (bonding === undefined) return notAssessed('the bond wires: `wires` or `package`');
  const cells = supplyCells(group);
  if (cells.length === 0) return notAssessed(`a supply cell on ${group.name}`);
  let least = Number.POSITIVE_INFINITY;
  let one = { current: 0, length: bonding.length };
  let count = 0;
  for (const { pads } of cells) {
    const wires = pads.flatMap((pad) => bonding.of(pad));
    const carried = currentOfWire(bonding, wires);
    if (wires.length * carried.current < least) {
      least = wires.length * carried.current;
      one = carried;
      count = wires.length;
    }
  }
  if (!(least > 0)) return notAssessed(`a wire of each supply cell on ${group.name}`);
  return figure(
    countFor(current.value, least),
    'cells',
    'I / (n K d^(3/2)), rounded up; K for amperes and d in inches',
    [
      asInput('I', current),
      input('n', count, 'wires'),
      input('K', currentConstant(bonding.metal, one.length), ''),
      input('d', bonding.diameter, 'um'),
      input('length', one.length, 'um'),
    ],
    SOURCES.wire,
  );
}

/** The least noise budget of the sections that a group runs through. */
function noiseBudget(group: Group, rules: ElectricalRules): Figure {
  const budgets = group.sections.flatMap((name) => rules.noise[name] ?? []);
  if (budgets.length === 0)
    return notAssessed(`a noise budget for ${group.sections.join(', ') || group.name}`);
  return figure(Math.min(...budgets), 'V', 'least budget of its sections', [], SOURCES.given);
}

/** What a noise figure needs, or what is missing for it. */
interface NoiseCase {
  readonly slope: Assessed;
  readonly budget: Assessed;
  readonly bonding: Bonding;
}

function noiseCase(
  group: Group,
  worst: Worst,
  rules: ElectricalRules,
  bonding: Bonding | undefined,
): NoiseCase | { readonly missing: string } {
  const { unknown, slope, drivers, outputs } = worst;
  if (unknown.length > 0)
    return { missing: `the slope or the load, swing and edge of ${unknown.join(', ')}` };
  if (slope === 0) return { missing: `an output that switches on ${group.name}` };
  const budget = noiseBudget(group, rules);
  if (!isAssessed(budget)) return { missing: budget.notAssessed };
  if (bonding === undefined) return { missing: 'the bond wires: `wires` or `package`' };
  const sum = figure(
    slope,
    'mA/ns',
    `sum of dI/dt of ${outputs.join(', ')}`,
    [input('n', drivers, 'drivers')],
    SOURCES.given,
  );
  return { slope: sum, budget, bonding: ofGroup(group, bonding) };
}

/** The bonding with the mean length of the group's own wires, where it has any. */
function ofGroup(group: Group, bonding: Bonding): Bonding {
  const lengths = supplyCells(group).flatMap(({ pads }) =>
    pads.flatMap((pad) => bonding.of(pad).map(wireLength)),
  );
  if (lengths.length === 0) return bonding;
  return { ...bonding, length: lengths.reduce((sum, length) => sum + length, 0) / lengths.length };
}

/** Cells by L/N, as if their wires were far apart: optimistic, shown and never deciding. */
export function forNoiseApart(
  group: Group,
  worst: Worst,
  rules: ElectricalRules,
  bonding: Bonding | undefined,
): Figure {
  const given = noiseCase(group, worst, rules, bonding);
  if ('missing' in given) return notAssessed(given.missing);
  const { length, diameter, lead } = given.bonding;
  const one = selfInductance(length, diameter) + lead;
  const perCell = padsPerCell(group);
  const wires = wiresFarApart(given.slope.value, given.budget.value, one);
  return figure(
    Number.isFinite(perCell) ? Math.ceil(wires / perCell) : wires,
    'cells',
    'n dI/dt L / (budget, wires of a cell), rounded up',
    [
      asInput('n dI/dt', given.slope),
      input('L', one, 'nH'),
      asInput('budget', given.budget),
      input('wires of a cell', Number.isFinite(perCell) ? perCell : 1, ''),
    ],
    SOURCES.inductance,
  );
}

/** The noise that the wires as they stand leave. */
export function noiseFigure(
  group: Group,
  worst: Worst,
  rules: ElectricalRules,
  bonding: Bonding | undefined,
): { readonly noise: Figure; readonly limit: Figure } {
  const limit = noiseBudget(group, rules);
  const given = noiseCase(group, worst, rules, bonding);
  if ('missing' in given) return { noise: notAssessed(given.missing), limit };
  const wires = supplyCells(group).flatMap(({ pads }) => pads.flatMap((pad) => given.bonding.of(pad)));
  const together = wiresTogether(wires);
  if (together === undefined) return { noise: notAssessed(`wires that feed ${group.name}`), limit };
  return {
    noise: figure(
      switchingNoise(given.slope.value, together.inductance),
      'V',
      `n dI/dt / (1' M^-1 1)${together.taken < together.wires ? ', bounded by a part of the wires' : ''}`,
      [
        asInput('n dI/dt', given.slope),
        input('Leff', together.inductance, 'nH'),
        input('wires', together.wires, ''),
        ...(together.taken < together.wires ? [input('wires in M', together.taken, '')] : []),
      ],
      SOURCES.coupled,
    ),
    limit,
  };
}

/** With more wires than this, leaving out one after another is not tried. */
const MOST_LEFT_OUT = 32;

/**
 * How many of the cells that stand keep the budget, when the one whose loss harms least is left out again and again:
 * of those that are left, none can go. Undefined where there are too many wires, or no budget is kept.
 */
export function fewestCells(
  group: Group,
  worst: Worst,
  rules: ElectricalRules,
  bonding: Bonding | undefined,
): number | undefined {
  const given = noiseCase(group, worst, rules, bonding);
  if ('missing' in given) return undefined;
  const cells = supplyCells(group).map(({ pads }) => pads.flatMap((pad) => given.bonding.of(pad)));
  const wires = cells.flat();
  if (wires.length > MOST_LEFT_OUT) return undefined;
  const matrix = inductanceMatrix(wires);
  const first = cells.map((_, i) => cells.slice(0, i).reduce((sum, own) => sum + own.length, 0));
  const noiseOf = (kept: readonly number[]): number => {
    const own = kept.flatMap((cell) => (cells[cell] ?? []).map((_, k) => (first[cell] ?? 0) + k));
    const together = bundle();
    for (const i of own)
      together.add(matrix[i * wires.length + i] ?? 0, (j) => matrix[i * wires.length + (own[j] ?? 0)] ?? 0);
    return together.size() === 0
      ? Number.POSITIVE_INFINITY
      : switchingNoise(given.slope.value, together.inductance());
  };
  let kept = [...cells.keys()];
  if (ratio(noiseOf(kept), given.budget.value) > 1) return undefined;
  for (;;) {
    let best: { kept: number[]; noise: number } | undefined;
    for (const cell of kept) {
      const rest = kept.filter((other) => other !== cell);
      const noise = noiseOf(rest);
      if (best === undefined || noise < best.noise) best = { kept: rest, noise };
    }
    if (best === undefined || ratio(best.noise, given.budget.value) > 1) return kept.length;
    kept = best.kept;
  }
}

/** Cells by coupled wires, spread evenly along the group's arcs; more than there are where those break the budget. */
export function forNoise(
  group: Group,
  worst: Worst,
  rules: ElectricalRules,
  bonding: Bonding | undefined,
): Figure {
  const given = noiseCase(group, worst, rules, bonding);
  if ('missing' in given) return notAssessed(given.missing);
  const stands = standsOf(group);
  const perCell = Number.isFinite(padsPerCell(group)) ? padsPerCell(group) : 1;
  const { slope, budget, bonding: own } = given;
  const fewest = wiresCoupled(slope.value, budget.value, (n) => evenTogether(own, stands, n), MOST_COUPLED);
  if (fewest === undefined)
    return notAssessed(`a count: not even ${MOST_COUPLED} wires keep the budget on ${group.name}`);
  return figure(
    Math.ceil(fewest.count / perCell),
    'cells',
    "least N whose wires, spread evenly, keep n dI/dt / (1' M^-1 1) within the budget",
    [
      asInput('n dI/dt', slope),
      asInput('budget', budget),
      input('N', fewest.count, 'wires'),
      input('noise of N', fewest.noise, 'V'),
      input('wires of a cell', perCell, ''),
    ],
    SOURCES.coupled,
  );
}

/** Where wires could start along a group's longest arc: on every cell that is no corner. */
function standsOf(group: Group): readonly Stand[] {
  const longest = group.arcs.reduce<(typeof group.arcs)[number] | undefined>(
    (most, arc) => (most === undefined || arc.arc.cells.length > most.arc.cells.length ? arc : most),
    undefined,
  );
  return (longest?.arc.cells ?? [])
    .filter(({ cell }) => cell.side !== null)
    .map(({ side, s, along }) => ({ side, s, along }));
}
