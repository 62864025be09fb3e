/** Decoupling: what the worst set of outputs takes in one edge, and the capacitance that gives it away in budget. */
import { capacitanceFor } from '../figures/decoupling.ts';
import { asInput, type Figure, figure, input, isAssessed, notAssessed } from '../figures/figure.ts';
import type { ElectricalRules } from '../format/placement.ts';
import { type Load, switchingSets } from './loads.ts';
import { SOURCES } from './sources.ts';

export interface Decoupling {
  readonly charge: Figure;
  readonly chip: Figure;
  readonly package: Figure;
}

/** The figures of one supply net, by the lanes that it is on. */
export function decouplingOf(
  rules: ElectricalRules,
  loads: readonly Load[],
  works: (load: Load) => boolean,
  net: string,
): Decoupling {
  const charge = chargeOf(rules, loads.filter(works), net);
  const forBudget = (budget: number | null | undefined, where: string): Figure => {
    if (!isAssessed(charge)) return charge;
    if (budget === null || budget === undefined) return notAssessed(`a decoupling budget ${where}`);
    return figure(
      capacitanceFor(charge.value, budget),
      'pF',
      'Q / budget',
      [asInput('Q', charge), input('budget', budget, 'V')],
      SOURCES.charge,
    );
  };
  return {
    charge,
    chip: forBudget(rules.decoupling?.chip, 'on chip'),
    package: forBudget(rules.decoupling?.package, 'in the package'),
  };
}

function chargeOf(rules: ElectricalRules, loads: readonly Load[], net: string): Figure {
  const sums = new Map<string, number>();
  const unknown = new Set<string>();
  for (const { output, charge, switches } of loads) {
    if (!switches) continue;
    if (charge === null) unknown.add(output);
    else sums.set(output, (sums.get(output) ?? 0) + charge);
  }
  if (unknown.size > 0) return notAssessed(`load and swing of ${[...unknown].join(', ')}`);
  let worst: { total: number; set: readonly string[] } = { total: 0, set: [] };
  for (const set of switchingSets(rules)) {
    const own = [...new Set(set)].filter((name) => sums.has(name));
    const total = own.reduce((sum, name) => sum + (sums.get(name) ?? 0), 0);
    if (total > worst.total) worst = { total, set: own };
  }
  if (worst.total === 0) return notAssessed(`an output that switches on ${net}`);
  return figure(
    worst.total,
    'pC',
    'sum of C dV of those that rise together',
    worst.set.map((name) => input(name, sums.get(name) ?? 0, 'pC')),
    SOURCES.charge,
  );
}
