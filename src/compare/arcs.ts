/** Rails against each other: how each lane is cut into arcs, and what feeds them. */
import type { Placement } from '../format/placement.ts';

export interface ArcView {
  readonly net: string;
  readonly closed: boolean;
  /** The pins of the supply cells that feed it, or a cell's name where it has no pin. */
  readonly fedBy: readonly string[];
}

export interface LaneView {
  readonly arcs: readonly ArcView[];
  /** The sections on both sides of each cut. */
  readonly cuts: readonly (readonly [string, string])[];
}

export interface Arcs {
  readonly lane: string;
  /** Whether the arcs themselves differ, not only what feeds them. */
  readonly recut: boolean;
  readonly from: LaneView;
  readonly to: LaneView;
}

/** Every lane whose arcs, cuts or feeds differ. */
export function arcsChanged(a: Placement, b: Placement): readonly Arcs[] {
  const [before, after] = [lanesOf(a), lanesOf(b)];
  const none: LaneView = { arcs: [], cuts: [] };
  return [...new Set([...after.keys(), ...before.keys()])].flatMap((lane) => {
    const [from, to] = [before.get(lane) ?? none, after.get(lane) ?? none];
    if (JSON.stringify(from) === JSON.stringify(to)) return [];
    const shape = ({ arcs, cuts }: LaneView): string =>
      JSON.stringify([
        arcs
          .map(({ net, closed }) => [net, closed])
          .map((arc) => JSON.stringify(arc))
          .sort(),
        cuts,
      ]);
    return [{ lane, recut: shape(from) !== shape(to), from, to }];
  });
}

/** Sorted, so that the order of the lists does not count. */
function lanesOf(placement: Placement): ReadonlyMap<string, LaneView> {
  const pins = new Map(placement.cells.map((cell) => [cell.name, cell.pins ?? []]));
  const lanes = new Map<string, { arcs: ArcView[]; cuts: (readonly [string, string])[] }>();
  const of = (lane: string) => {
    const known = lanes.get(lane) ?? { arcs: [], cuts: [] };
    lanes.set(lane, known);
    return known;
  };
  for (const { lane, net, closed, supplies } of placement.rails) {
    const fedBy = supplies.flatMap((cell) => {
      const own = pins.get(cell) ?? [];
      return own.length > 0 ? own : [cell];
    });
    of(lane).arcs.push({ net, closed, fedBy: fedBy.sort() });
  }
  for (const { lanes: cut, between } of placement.partings)
    for (const lane of cut) of(lane).cuts.push(between);
  for (const lane of lanes.values()) {
    lane.arcs.sort(byText);
    lane.cuts.sort(byText);
  }
  return lanes;
}

function byText(a: unknown, b: unknown): number {
  const [x, y] = [JSON.stringify(a), JSON.stringify(b)];
  return x < y ? -1 : x > y ? 1 : 0;
}
