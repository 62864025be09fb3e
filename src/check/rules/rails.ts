/** Rails: strips that meet, break cells that part, arcs that are fed, and the rails that the file lists. */
import { type Arc, arcsOf, carries, feedsOf, meetings, partedBy, railLanes, stretchesOf } from '../arcs.ts';
import { troubledBoundaries } from '../boundaries.ts';
import { whole } from '../exact.ts';
import type { Hit, Rule } from '../finding.ts';
import { carriesLane, type Kind } from '../kinds.ts';
import { once } from '../once.ts';
import { hit, hitAt, hitBetween, names } from '../say.ts';
import type { CellView, SectionView, View } from '../view.ts';

const few = (list: readonly string[]): string =>
  list.length <= 6 ? list.join(', ') : `${list.slice(0, 6).join(', ')} and ${list.length - 6} more`;

const shorts = (view: View): readonly Hit[] =>
  troubledBoundaries(view)
    .filter(({ verdict }) => verdict.shorts.length > 0)
    .map(({ before, after, verdict }) =>
      hitBetween(
        before,
        after,
        `between "${before.name}" and "${after.name}" ${few(verdict.shorts)}`,
        before.name,
        after.name,
      ),
    );

const opens = (view: View): readonly Hit[] =>
  troubledBoundaries(view).flatMap(({ before, after, verdict }) => {
    const ends = (own: CellView, other: CellView, strips: readonly string[]): Hit[] =>
      strips.length === 0
        ? []
        : [
            hitBetween(
              own,
              other,
              `${few(strips)} of "${own.name}" ${strips.length > 1 ? 'do' : 'does'} not go on in "${other.name}"`,
              own.name,
              other.name,
            ),
          ];
    return [...ends(before, after, verdict.opens.before), ...ends(after, before, verdict.opens.after)];
  });

const steps = (view: View): readonly Hit[] =>
  troubledBoundaries(view)
    .filter(({ verdict }) => verdict.steps.length > 0)
    .map(({ before, after, verdict }) =>
      hitBetween(
        before,
        after,
        `between "${before.name}" and "${after.name}" the extent of ${few(verdict.steps)} changes`,
        before.name,
        after.name,
      ),
    );

/** A cell other than a break cell that has strips of a lane and lets none of them through. */
function carried(view: View): readonly Hit[] {
  const lost = new Map<Kind, string>();
  for (const kind of view.kinds) {
    const cut = [...kind.lanes.keys()].filter((lane) => !carriesLane(kind, lane));
    if (cut.length > 0 && kind.footprint.role !== 'break') lost.set(kind, laneNames(view, cut));
  }
  if (lost.size === 0) return [];
  return view.ring.flatMap((c) => {
    const lanes = c.kind === null ? undefined : lost.get(c.kind);
    return lanes === undefined
      ? []
      : [hitAt(c, `cell "${c.name}" cuts ${lanes}, and is no break cell`, c.name)];
  });
}

/** The lanes that one of two sections puts a net on. */
const lanesOf = (from: SectionView | null, to: SectionView | null): readonly number[] => [
  ...new Set([...(from?.nets.keys() ?? []), ...(to?.nets.keys() ?? [])]),
];

/** A place where the section changes, with the break cells that stand there. */
interface Change {
  readonly before: CellView;
  readonly after: CellView;
  readonly breaks: readonly CellView[];
  readonly from: SectionView;
  readonly to: SectionView;
  /** The lanes on which the two sections have different nets. */
  readonly differing: readonly number[];
}

/** Every run of break cells, and every other place where two cells of different sections meet. */
const changes = once((view): readonly Change[] =>
  meetings(view).flatMap(({ before, after, breaks }): readonly Change[] => {
    const [from, to] = [before.section, after.section];
    if (from === null || to === null || (breaks.length === 0 && from === to)) return [];
    const lanes = from === to ? [] : lanesOf(from, to);
    const differing = lanes.filter((lane) => from.nets.get(lane) !== to.nets.get(lane));
    return [{ before, after, breaks, from, to, differing }];
  }),
);

const laneNames = (view: View, lanes: readonly number[]): string =>
  few(lanes.map((lane) => view.lanes.names[lane] ?? ''));

const breakMissing = (view: View): readonly Hit[] =>
  changes(view)
    .filter(({ breaks, differing }) => breaks.length === 0 && differing.length > 0)
    .map(({ before, after, from, to, differing }) =>
      hitBetween(
        before,
        after,
        `sections "${from.name}" and "${to.name}" meet between "${before.name}" and "${after.name}" with different nets on ${laneNames(view, differing)}, and no break cell parts them`,
        before.name,
        after.name,
      ),
    );

const breakShort = (view: View): readonly Hit[] =>
  changes(view).flatMap(({ breaks, differing, from, to }) => {
    const first = breaks[0];
    const through = differing.filter((lane) => breaks.every((cell) => carries(cell, lane)));
    if (first === undefined || through.length === 0) return [];
    return [
      hitAt(
        first,
        `${names(breaks.map((c) => c.name))} lets ${laneNames(view, through)} through between sections "${from.name}" and "${to.name}", which have different nets there`,
        ...breaks.map((c) => c.name),
      ),
    ];
  });

const breakNeedless = (view: View): readonly Hit[] =>
  changes(view).flatMap(({ breaks, differing }) =>
    breaks
      .filter((cell) => differing.every((lane) => carries(cell, lane)))
      .map((cell) =>
        hitAt(cell, `break cell "${cell.name}" cuts no lane whose nets differ at its two sides`, cell.name),
      ),
  );

const breakCutsOn = (view: View): readonly Hit[] =>
  changes(view).flatMap(({ breaks, from, to }) =>
    breaks.flatMap((cell) => {
      const on = [...from.nets.keys()].filter(
        (lane) => from.nets.get(lane) === to.nets.get(lane) && !carries(cell, lane),
      );
      if (on.length === 0) return [];
      return [
        hitAt(
          cell,
          `break cell "${cell.name}" cuts ${laneNames(view, on)}, whose net goes on at its other side`,
          cell.name,
        ),
      ];
    }),
  );

/** A break cell of the library that would do with fewer cuts, where one stands alone. */
const breakWide = (view: View): readonly Hit[] =>
  changes(view).flatMap(({ breaks, differing, from, to }) => {
    const [cell] = breaks;
    if (cell === undefined || breaks.length > 1 || differing.length === 0 || cell.kind === null) return [];
    const lanes = lanesOf(from, to).filter((lane) => !differing.includes(lane));
    const cuts = (kind: Kind): number => lanes.filter((lane) => !carriesLane(kind, lane)).length;
    const own = cuts(cell.kind);
    const better = view.kinds
      .filter((kind) => kind.footprint.role === 'break')
      .filter((kind) => differing.every((lane) => !carriesLane(kind, lane)))
      .find((kind) => cuts(kind) < own);
    if (better === undefined) return [];
    return [
      hitAt(
        cell,
        `break cell "${cell.name}" cuts more than it must; ${better.footprint.name} would cut fewer lanes`,
        cell.name,
      ),
    ];
  });

/** The arcs of each lane that has any. */
const arcsByLane = once(
  (view): ReadonlyMap<number, readonly Arc[]> =>
    new Map(railLanes(view).map((lane) => [lane, arcsOf(view, lane)])),
);

function unfed(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const arc of [...arcsByLane(view).values()].flat()) {
    const first = arc.spans.find((span) => span.first.role !== 'break')?.first;
    if (arc.supplies.length > 0 || first === undefined || tiedToFed(arc)) continue;
    const lane = view.lanes.names[arc.lane] ?? '';
    const sections = [...new Set(arc.spans.flatMap((span) => span.first.section?.name ?? []))];
    hits.push(
      hitAt(
        first,
        `the arc of ${lane}${arc.net === null ? '' : ` (${arc.net})`} from "${first.name}" on, in ${names(sections)}, has no supply cell`,
        lane,
        ...sections,
      ),
    );
  }
  return hits;
}

/** Whether a cell ties the lane to one that a bond pad of that cell feeds. */
const tiedToFed = (arc: Arc): boolean =>
  arc.spans.some((span) =>
    span.feeders.some((cell) =>
      cell.kind?.ties.some(
        (group) =>
          group.includes(arc.lane) && cell.pads.some((p) => feedsOf(p).some((lane) => group.includes(lane))),
      ),
    ),
  );

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
  return (arcsByLane(view).get(lane) ?? []).map((arc) => ({
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

function partings(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  const listed = new Map<string, string[]>();
  for (const parting of view.placement.partings) {
    const text = `${[...parting.lanes].sort().join(' ')} between ${parting.between.join(' and ')}`;
    const own = listed.get(parting.cell);
    if (own === undefined) listed.set(parting.cell, [text]);
    else own.push(text);
  }
  for (const [cell, { before, after }] of partedBy(view)) {
    const [from, to] = [before.section, after.section];
    const cut = lanesOf(from, to).filter((lane) => !carries(cell, lane));
    const lanes = cut.map((lane) => view.lanes.names[lane] ?? '').sort();
    const derived = `${lanes.join(' ')} between ${from?.name ?? ''} and ${to?.name ?? ''}`;
    const own = listed.get(cell.name) ?? [];
    listed.delete(cell.name);
    if (own.length === 1 && own[0] === derived) continue;
    hits.push(
      hitAt(
        cell,
        `break cell "${cell.name}" parts ${derived}; listed is ${own.length === 0 ? 'nothing' : own.join(', and ')}`,
        cell.name,
      ),
    );
  }
  for (const name of listed.keys())
    hits.push(hit(`a parting is listed for "${name}", which is no break cell`, name));
  return hits;
}

export const RAIL_RULES: readonly Rule[] = [
  {
    name: 'rail-short',
    severity: 'error',
    protects: 'That no two nets meet on one strip where cells abut.',
    mend: 'Exchange the cells, correct their section, or part them by a break cell.',
    run: shorts,
  },
  {
    name: 'rail-open',
    severity: 'error',
    protects: 'That every strip goes on in the neighbour, layer by layer.',
    mend: 'Use cells of one library whose strips agree, or correct the strips in the cell file.',
    run: opens,
  },
  {
    name: 'rail-step',
    severity: 'warning',
    protects: 'That a strip keeps its extent from cell to cell, so that its metal is not narrowed unseen.',
    mend: 'Compare the strips of the two cells, and their setbacks.',
    run: steps,
  },
  {
    name: 'rail-cut',
    severity: 'error',
    protects: 'That nothing but a break cell ends an arc.',
    mend: 'Take a cell that carries the lane, or give this one the role of a break cell.',
    run: carried,
  },
  {
    name: 'break-missing',
    severity: 'error',
    protects: 'That two sections with different nets are parted.',
    mend: 'Set a break cell between them that cuts the lanes named, or correct the section of the cell.',
    run: breakMissing,
  },
  {
    name: 'break-short',
    severity: 'error',
    protects: 'That a break cell cuts every lane whose nets differ at its two sides.',
    mend: 'Take a break cell that cuts these lanes, or correct the section of a neighbour.',
    run: breakShort,
  },
  {
    name: 'break-needless',
    severity: 'warning',
    protects: 'That no rail is cut where both sides are of one net on every lane that is cut.',
    mend: 'Replace the break cell by fillers, unless the cut is meant.',
    run: breakNeedless,
  },
  {
    name: 'break-cuts-on',
    severity: 'note',
    protects: 'That whoever relies on a net that goes on knows where it is cut.',
    mend: 'Nothing, if each side is fed on its own; else take a break cell that lets the lane through.',
    run: breakCutsOn,
  },
  {
    name: 'break-wide',
    severity: 'note',
    protects: 'That the break cell which cuts the fewest lanes is known of.',
    mend: 'Take the break cell that the message names, where it may be turned that way.',
    run: breakWide,
  },
  {
    name: 'arc-unfed',
    severity: 'error',
    protects: 'That every arc of every lane has a supply of its own.',
    mend: 'Add a supply cell for the lane to one of its sections.',
    run: unfed,
  },
  {
    name: 'rails',
    severity: 'error',
    protects: 'That the rails listed are those that the cells make, with their nets, supplies and metal.',
    mend: 'Derive the rails anew from the cells.',
    run: rails,
  },
  {
    name: 'partings',
    severity: 'error',
    protects: 'That the partings listed are those that the break cells make.',
    mend: 'Derive the partings anew from the cells.',
    run: partings,
  },
];
