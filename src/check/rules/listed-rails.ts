/** The rails that the file lists, against those that the cells make. */
import { arcs, railLanes, stretchesOf } from '../arcs.ts';
import { whole } from '../exact.ts';
import type { Hit, Rule } from '../finding.ts';
import { once } from '../once.ts';
import { hit } from '../say.ts';
import type { View } from '../view.ts';

/** A stretch of metal as lists are compared: its layer, lower-left corner and extents. */
interface Metal {
  readonly layer: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** What the file lists, or what the cells make, of one arc. */
interface Listed {
  readonly net: string;
  readonly closed: boolean;
  /** Sorted, for the order of a list means nothing. */
  readonly supplies: readonly string[];
  readonly rectangles: readonly Metal[];
  readonly cells: number;
}

const inOrder = (a: Metal, b: Metal): number =>
  a.layer === b.layer
    ? a.x - b.x || a.y - b.y || a.width - b.width || a.height - b.height
    : a.layer < b.layer
      ? -1
      : 1;

const alike = <T>(a: readonly T[], b: readonly T[], same: (x: T, y: T) => boolean): boolean =>
  a.length === b.length && a.every((x, i) => same(x, b[i] as T));

const sameMetal = (a: Listed, b: Listed): boolean =>
  alike(a.rectangles, b.rectangles, (x, y) => inOrder(x, y) === 0);

const sameSupplies = (a: Listed, b: Listed): boolean => alike(a.supplies, b.supplies, (x, y) => x === y);

function derivedRails(view: View): ReadonlyMap<number, Listed[]> {
  const byLane = new Map<number, Listed[]>();
  for (const arc of arcs(view)) {
    const rail: Listed = {
      net: arc.net ?? view.lanes.names[arc.lane] ?? '',
      closed: arc.closed,
      supplies: arc.supplies.map((cell) => cell.name).sort(),
      rectangles: stretchesOf(view, arc)
        .map(({ layer, x0, y0, x1, y1 }) => ({ layer, x: x0, y: y0, width: x1 - x0, height: y1 - y0 }))
        .sort(inOrder),
      cells: arc.count,
    };
    const list = byLane.get(arc.lane);
    if (list === undefined) byLane.set(arc.lane, [rail]);
    else list.push(rail);
  }
  return byLane;
}

function listedRails(view: View): Map<string, Listed[]> {
  const byLane = new Map<string, Listed[]>();
  for (const rail of view.placement.rails) {
    const list = byLane.get(rail.lane) ?? [];
    list.push({
      net: rail.net,
      closed: rail.closed,
      supplies: [...rail.supplies].sort(),
      rectangles: rail.rectangles
        .map(({ layer, x, y, width, height }) => ({
          layer,
          x: whole(x),
          y: whole(y),
          width: whole(width),
          height: whole(height),
        }))
        .sort(inOrder),
      cells: rail.cells,
    });
    byLane.set(rail.lane, list);
  }
  return byLane;
}

type Pairing = readonly [lane: string, derived: Listed | undefined, listed: Listed | undefined];

/** Pairs each derived arc of a lane with the listed one that is most like it. */
const paired = once((view): readonly Pairing[] => [...pairings(view)]);

function* pairings(view: View): Generator<Pairing> {
  const listed = listedRails(view);
  const made = derivedRails(view);
  for (const lane of railLanes(view)) {
    const name = view.lanes.names[lane] ?? '';
    const derived = made.get(lane) ?? [];
    const rest = listed.get(name) ?? [];
    listed.delete(name);
    const [first, only] = [derived[0], rest[0]];
    if (first !== undefined && only !== undefined && derived.length === 1 && rest.length === 1)
      yield [name, first, only];
    else yield* partners(name, derived, rest);
  }
  for (const [name, rest] of listed) for (const r of rest) yield [name, undefined, r];
}

/** First those that agree on their metal, then those on their supply cells, then as they come. */
function* partners(name: string, derived: readonly Listed[], listed: readonly Listed[]): Generator<Pairing> {
  const partners = new Map<Listed, Listed>();
  let rest = listed;
  for (const key of [
    (r: Listed) => JSON.stringify(r.rectangles),
    (r: Listed) => JSON.stringify(r.supplies),
    () => '',
  ]) {
    const free = new Map<string, Listed[]>();
    for (const r of rest.toReversed()) {
      const before = free.get(key(r));
      if (before === undefined) free.set(key(r), [r]);
      else before.push(r);
    }
    for (const r of derived) {
      const partner = partners.has(r) ? undefined : free.get(key(r))?.pop();
      if (partner !== undefined) partners.set(r, partner);
    }
    const taken = new Set(partners.values());
    rest = rest.filter((r) => !taken.has(r));
  }
  for (const r of derived) yield [name, r, partners.get(r)];
  for (const r of rest) yield [name, undefined, r];
}

function rails(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const [lane, derived, listed] of paired(view)) {
    if (derived === undefined) hits.push(hit(`an arc of ${lane} is listed that the cells do not make`, lane));
    else if (listed === undefined) hits.push(hit(`an arc of ${lane} (${derived.net}) is not listed`, lane));
    else {
      const wrong: string[] = [];
      if (derived.net !== listed.net) wrong.push(`net ${listed.net} instead of ${derived.net}`);
      if (derived.closed !== listed.closed)
        wrong.push(listed.closed ? 'closed instead of open' : 'open instead of closed');
      if (!sameSupplies(derived, listed))
        wrong.push(
          `supplies ${listed.supplies.join(', ') || 'none'} instead of ${derived.supplies.join(', ') || 'none'}`,
        );
      if (!sameMetal(derived, listed)) wrong.push('rectangles that are not those of its cells');
      if (wrong.length > 0) hits.push(hit(`an arc of ${lane} is listed with ${wrong.join(', ')}`, lane));
    }
  }
  return hits;
}

/** How many cells the rails are said to run through. */
export function railCounts(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const [lane, derived, listed] of paired(view))
    if (derived !== undefined && listed !== undefined && derived.cells !== listed.cells)
      hits.push(
        hit(
          `an arc of ${lane} is said to run through ${listed.cells} cells; it runs through ${derived.cells}`,
          lane,
        ),
      );
  return hits;
}

export const LISTED_RAIL_RULES: readonly Rule[] = [
  {
    name: 'rails',
    severity: 'error',
    protects: 'That the rails listed are those that the cells make, with their nets, supplies and metal.',
    mend: 'Derive the rails anew from the cells.',
    run: rails,
  },
];
