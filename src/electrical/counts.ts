/** The count of supply cells for each net and arc: what every demand asks for, and which decides. */
import {
  asInput,
  assessedValue,
  type Figure,
  figure,
  input,
  isAssessed,
  notAssessed,
  within,
} from '../figures/figure.ts';
import type { ElectricalRules } from '../format/placement.ts';
import type { Bonding } from './bonding.ts';
import { fewestCells, forCurrent, forNoise, forNoiseApart, forWires, noiseFigure } from './demands.ts';
import type { Given } from './given.ts';
import { type Group, supplyCells, worstSwitching } from './groups.ts';
import { SOURCES } from './sources.ts';

export type Demand = 'current' | 'wire' | 'noise' | 'discharge';
const DEMANDS: readonly Demand[] = ['current', 'wire', 'noise', 'discharge'];

/** What is asked for as a report's reader says it. */
export const DEMAND_WORDS: Readonly<Record<Demand, string>> = {
  current: 'direct current',
  wire: 'the current of its wires',
  noise: 'switching noise',
  discharge: 'discharge',
};

export interface SupplyCount {
  readonly group: Group;
  readonly have: number;
  readonly needed: Figure;
  readonly decides: Demand | null;
  readonly demands: Readonly<Record<Demand | 'noiseApart', Figure>>;
  /** The noise as the wires stand, and its budget. */
  readonly noise: Figure;
  readonly budget: Figure;
}

export function countOf(
  group: Group,
  rules: ElectricalRules,
  bonding: Bonding | undefined,
  given: ReadonlyMap<string, Given>,
  discharge: Figure,
): SupplyCount {
  const have = supplyCells(group).length;
  const worst = worstSwitching(group, rules);
  const { noise, limit } = noiseFigure(group, worst, rules, bonding);
  const demands = {
    current: currentAsTheyStand(forCurrent(group), group, given, have),
    wire: forWires(group, bonding),
    noiseApart: forNoiseApart(group, worst, rules, bonding),
    noise: asTheyStand(forNoise(group, worst, rules, bonding), noise, limit, have, () =>
      fewestCells(group, worst, rules, bonding),
    ),
    discharge,
  };
  let decides: Demand | null = null;
  let most = 0;
  for (const demand of DEMANDS) {
    const value = assessedValue(demands[demand]);
    if (value !== undefined && value > most) [decides, most] = [demand, value];
  }
  const assessed = DEMANDS.flatMap((demand) => {
    const own = demands[demand];
    return isAssessed(own) ? [{ ...asInput(DEMAND_WORDS[demand], own) }] : [];
  });
  const needed =
    assessed.length === 0
      ? notAssessed(DEMANDS.flatMap((d) => missingOf(demands[d])).join('; '))
      : figure(Math.max(1, most), 'cells', 'greatest of its demands, at least one', assessed, SOURCES.given);
  return { group, have, needed, decides, demands, noise, budget: limit };
}

const missingOf = (f: Figure): readonly string[] => (isAssessed(f) ? [] : [f.notAssessed]);

/** Where one of the cells gives more than it is rated for as they stand, one more is needed at least. */
function currentAsTheyStand(
  even: Figure,
  group: Group,
  given: ReadonlyMap<string, Given>,
  have: number,
): Figure {
  if (!isAssessed(even) || even.value > have) return even;
  let most: { name: string; current: number; rating: number } | undefined;
  for (const { cell } of supplyCells(group)) {
    const { name } = cell.cell;
    const { rating } = cell.footprint;
    const current = given.get(name)?.current;
    if (rating === undefined || current === undefined || within(current, rating)) continue;
    if (most === undefined || current - rating > most.current - most.rating) most = { name, current, rating };
  }
  if (most === undefined) return even;
  return figure(
    have + 1,
    'cells',
    `one more than there are, of which ${most.name} gives more than it is rated for`,
    [
      input('given', most.current, 'mA'),
      input('rating', most.rating, 'mA'),
      input('spread evenly', even.value, 'cells'),
    ],
    SOURCES.rail,
  );
}

/**
 * The count held against the cells as they stand: where they break the budget, one more at least; where they keep it,
 * what is left when one after the other is left out, the least harmful first, until the budget would break.
 */
function asTheyStand(
  even: Figure,
  noise: Figure,
  limit: Figure,
  have: number,
  fewest: () => number | undefined,
): Figure {
  if (!isAssessed(even) || !isAssessed(noise) || !isAssessed(limit)) return even;
  const inputs = [
    asInput('noise', noise),
    asInput('budget', limit),
    input('spread evenly', even.value, 'cells'),
  ];
  if (within(noise.value, limit.value)) {
    const least = fewest();
    if (least === undefined)
      return even.value <= have
        ? even
        : figure(have, 'cells', 'those that there are keep the budget', inputs, SOURCES.coupled);
    return figure(
      least,
      'cells',
      'those left when one after another is left out until the budget would break',
      inputs,
      SOURCES.coupled,
    );
  }
  if (even.value > have) return even;
  return figure(
    have + 1,
    'cells',
    'one more than there are, which break the budget as they stand',
    inputs,
    SOURCES.coupled,
  );
}
