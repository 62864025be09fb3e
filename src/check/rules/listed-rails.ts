/** The rails that the file lists, against those that the cells make. */
import { arcs, railLanes, stretchesOf } from '../arcs.ts';
import { whole } from '../exact.ts';
import type { Hit, Rule } from '../finding.ts';
import { once } from '../once.ts';
import { hit } from '../say.ts';
import type { View } from '../view.ts';

/** What the file lists against what the cells make, arc by arc. */
interface Listed {
  readonly net: string;
  readonly closed: boolean;
  readonly supplies: string;
  readonly rectangles: string;
  readonly cells: number;
}

function derivedRails(view: View, lane: number): Listed[] {
  const name = view.lanes.names[lane] ?? '';
  return arcs(view)
    .filter((arc) => arc.lane === lane)
    .map((arc) => ({
      net: arc.net ?? name,
      closed: arc.closed,
      supplies: arc.supplies
        .map((cell) => cell.name)
        .sort()
        .join('\n'),
      rectangles: stretchesOf(view, arc)
        .map((r) => `${r.layer} ${r.x0} ${r.y0} ${r.x1 - r.x0} ${r.y1 - r.y0}`)
        .sort()
        .join('\n'),
      cells: arc.count,
    }));
}

function listedRails(view: View): Map<string, Listed[]> {
  const byLane = new Map<string, Listed[]>();
  for (const rail of view.placement.rails) {
    const list = byLane.get(rail.lane) ?? [];
    list.push({
      net: rail.net,
      closed: rail.closed,
      supplies: [...rail.supplies].sort().join('\n'),
      rectangles: rail.rectangles
        .map((r) => `${r.layer} ${whole(r.x)} ${whole(r.y)} ${whole(r.width)} ${whole(r.height)}`)
        .sort()
        .join('\n'),
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
  for (const lane of railLanes(view)) {
    const name = view.lanes.names[lane] ?? '';
    const derived = derivedRails(view, lane);
    // First those that agree on their metal, then those on a supply cell, then as they come.
    let rest = listed.get(name) ?? [];
    const partners = new Map<Listed, Listed>();
    for (const key of [(r: Listed) => r.rectangles, (r: Listed) => r.supplies, () => '']) {
      const free = new Map<string, Listed[]>();
      for (const r of rest.toReversed()) {
        const alike = free.get(key(r));
        if (alike === undefined) free.set(key(r), [r]);
        else alike.push(r);
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
    listed.delete(name);
  }
  for (const [name, rest] of listed) for (const r of rest) yield [name, undefined, r];
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
      if (derived.supplies !== listed.supplies)
        wrong.push(
          `supplies ${listed.supplies.split('\n').join(', ') || 'none'} instead of ${derived.supplies.split('\n').join(', ') || 'none'}`,
        );
      if (derived.rectangles !== listed.rectangles) wrong.push('rectangles that are not those of its cells');
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
