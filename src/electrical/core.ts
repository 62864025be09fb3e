/** The core's current by net and by arc: given for supplies, and for a ground what its supplies send through it. */
import type { ElectricalRules, Placement } from '../format/placement.ts';
import type { Arc } from './arcs.ts';
import type { CoreShare } from './groups.ts';

/** The core's current of each net that has one, mA. */
export function coreCurrents(placement: Placement, rules: ElectricalRules): ReadonlyMap<string, number> {
  const currents = new Map(Object.entries(rules.core));
  const sent = new Map<string, Set<string>>();
  for (const { lanes, pairs } of placement.sections)
    for (const { supply, ground } of pairs) {
      const [from, to] = [lanes[supply], lanes[ground]];
      if (from === undefined || to === undefined || rules.core[from] === undefined) continue;
      const supplies = sent.get(to) ?? new Set();
      sent.set(to, supplies.add(from));
    }
  for (const [ground, supplies] of sent) {
    let total = 0;
    for (const supply of supplies) total += rules.core[supply] ?? 0;
    currents.set(ground, total);
  }
  return currents;
}

const lengthOf = (arc: Arc): number => arc.cells.reduce((sum, cell) => sum + cell.along, 0);

/**
 * How a net's core current is shared among its arcs: by their length, as the core draws evenly around; with a core
 * strip past the rails.
 */
export function coreShares(
  placement: Placement,
  rules: ElectricalRules,
  arcs: readonly Arc[],
): (arc: Arc) => CoreShare {
  const currents = coreCurrents(placement, rules);
  const lengths = new Map<string, number>();
  for (const arc of coreArcs(placement, rules, arcs))
    lengths.set(arc.net, (lengths.get(arc.net) ?? 0) + lengthOf(arc));
  const own = new Set(coreArcs(placement, rules, arcs));
  const strips = new Set(rules.coreStrips?.nets ?? []);
  return (arc) => {
    const total = currents.get(arc.net);
    const all = lengths.get(arc.net);
    if (total === undefined || all === undefined || all === 0 || !own.has(arc)) return { core: 0, strip: 0 };
    const share = (total * lengthOf(arc)) / all;
    return strips.has(arc.net) ? { core: 0, strip: share } : { core: share, strip: 0 };
  };
}

/** The arcs of nets that the core draws from; where cells tie lanes of one net, all of its lanes count. */
const coreArcs = (placement: Placement, rules: ElectricalRules, arcs: readonly Arc[]): readonly Arc[] => {
  const currents = coreCurrents(placement, rules);
  return arcs.filter((arc) => currents.has(arc.net));
};
