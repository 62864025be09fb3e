/**
 * The arcs that one supply feeds as one: each arc by itself, or several where the same bond pads join them. What
 * feeds each, what it carries, what switches on it.
 */
import type { BondPad, ElectricalRules, Placement } from '../format/placement.ts';
import { type Arc, arcName, feedingPads, type RingCell } from './arcs.ts';
import { type Load, switchingSets } from './loads.ts';

/** A supply cell on an arc. */
export interface ArcFeed {
  /** Its index among the arc's cells. */
  readonly at: number;
  readonly cell: RingCell;
  readonly pads: readonly BondPad[];
}

/** A cell's direct current on an arc, mA, and its slopes by output, mA/ns. */
export interface ArcLoad {
  readonly at: number;
  readonly load: Load;
}

export interface LoadedArc {
  readonly arc: Arc;
  readonly feeds: readonly ArcFeed[];
  readonly loads: readonly ArcLoad[];
  /** The core's current that the arc itself carries, mA; drawn evenly along it. */
  readonly core: number;
  /** The core's current that its supply cells pass on to a core strip, mA. */
  readonly strip: number;
}

export interface Group {
  readonly net: string;
  readonly kind: 'supply' | 'ground';
  readonly lane: string;
  readonly sections: readonly string[];
  readonly arcs: readonly LoadedArc[];
  readonly name: string;
}

/** What switches at one time on a group at worst. */
export interface Worst {
  readonly slope: number;
  readonly drivers: number;
  readonly outputs: readonly string[];
  /** Outputs on the group whose slope is not known. */
  readonly unknown: readonly string[];
}

/** What the core draws through an arc, and through its supply cells into a strip, mA. */
export interface CoreShare {
  readonly core: number;
  readonly strip: number;
}

/** The arcs' feeds and loads. */
export function loadedArcs(
  arcs: readonly Arc[],
  loads: readonly Load[],
  shareOf: (arc: Arc) => CoreShare,
): readonly LoadedArc[] {
  const byCell = new Map<string, Load[]>();
  for (const load of loads) {
    const list = byCell.get(load.cell);
    if (list === undefined) byCell.set(load.cell, [load]);
    else list.push(load);
  }
  return arcs.map((arc) => {
    const feeds: ArcFeed[] = [];
    const own: ArcLoad[] = [];
    for (const [at, cell] of arc.cells.entries()) {
      const pads =
        cell.footprint.role === 'supply' || cell.pads.length > 0 ? feedingPads(cell, arc.lane) : [];
      if (pads.length > 0) feeds.push({ at, cell, pads });
      for (const load of byCell.get(cell.cell.name) ?? [])
        if (load.supply === arc.lane || load.ground === arc.lane) own.push({ at, load });
    }
    return { arc, feeds, loads: own, ...shareOf(arc) };
  });
}

/** Joins arcs that share a feeding bond pad. */
export function groupsOf(placement: Placement, arcs: readonly LoadedArc[]): readonly Group[] {
  const kinds = new Map(placement.nets.map((net) => [net.name, net.kind]));
  const leader = arcs.map((_, i) => i);
  const top = (i: number): number => {
    let at = i;
    while (leader[at] !== at && leader[at] !== undefined) at = leader[at] ?? at;
    return at;
  };
  const firstOf = new Map<number, number>();
  for (const [i, { feeds }] of arcs.entries())
    for (const { pads } of feeds)
      for (const { number } of pads) {
        const other = firstOf.get(number);
        if (other === undefined) firstOf.set(number, i);
        else leader[top(i)] = top(other);
      }
  const members = new Map<number, LoadedArc[]>();
  for (const [i, arc] of arcs.entries()) {
    const list = members.get(top(i));
    if (list === undefined) members.set(top(i), [arc]);
    else list.push(arc);
  }
  return [...members.values()].flatMap((list): Group[] => {
    const [first] = list;
    if (first === undefined) return [];
    const { net } = first.arc;
    const kind = kinds.get(net);
    if (kind !== 'supply' && kind !== 'ground') return [];
    const sections = [...new Set(list.flatMap(({ arc }) => arc.sections))];
    const lanes = [...new Set(list.map(({ arc }) => arc.lane))];
    return [{ net, kind, lane: lanes.join(' + '), sections, arcs: list, name: arcName(first.arc) }];
  });
}

/** The supply cells of a group, each once. */
export function supplyCells(group: Group): readonly ArcFeed[] {
  const seen = new Set<string>();
  return group.arcs.flatMap(({ feeds }) =>
    feeds.filter(({ cell }) => {
      const isNew = !seen.has(cell.cell.name);
      seen.add(cell.cell.name);
      return isNew;
    }),
  );
}

/** All direct current through a group, mA. A pin that works on two of its arcs counts once. */
export function directCurrent(group: Group): number {
  const pins = new Map<string, number>();
  for (const { loads } of group.arcs) for (const { load } of loads) pins.set(load.pin, load.current);
  let total = 0;
  for (const current of pins.values()) total += current;
  return total + coreCurrent(group);
}

/** The core's part of it, through the rails or past them. */
export const coreCurrent = (group: Group): number =>
  group.arcs.reduce((sum, { core, strip }) => sum + core + strip, 0);

/** What switches on a group at one time at worst. */
export function worstSwitching(group: Group, rules: ElectricalRules): Worst {
  const pins = new Map<string, Load>();
  for (const { loads } of group.arcs) for (const { load } of loads) pins.set(load.pin, load);
  const slopes = new Map<string, { slope: number; drivers: number }>();
  const unknown = new Set<string>();
  for (const { output, slope, switches } of pins.values()) {
    if (!switches) continue;
    const sum = slopes.get(output) ?? { slope: 0, drivers: 0 };
    if (slope === null) unknown.add(output);
    else slopes.set(output, { slope: sum.slope + slope, drivers: sum.drivers + 1 });
  }
  let worst: Omit<Worst, 'unknown'> = { slope: 0, drivers: 0, outputs: [] };
  for (const set of switchingSets(rules)) {
    const own = [...new Set(set)].filter((name) => slopes.has(name));
    const slope = own.reduce((sum, name) => sum + (slopes.get(name)?.slope ?? 0), 0);
    const drivers = own.reduce((sum, name) => sum + (slopes.get(name)?.drivers ?? 0), 0);
    if (slope > worst.slope) worst = { slope, drivers, outputs: own };
  }
  return { ...worst, unknown: [...unknown] };
}
