/** Rails: strips that meet where cells abut, and arcs that are fed. */
import { type Arc, arcs, feedsOf, laneNames, padFeeds } from '../arcs.ts';
import { troubledBoundaries } from '../boundaries.ts';
import type { Hit, Rule } from '../finding.ts';
import { carriesLane, type Kind } from '../kinds.ts';
import { few, hitAt, hitBetween, names } from '../say.ts';
import type { CellView, PadView, View } from '../view.ts';

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

function unfed(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const arc of arcs(view)) {
    const first = arc.spans.find((span) => span.first.role !== 'break')?.first;
    if (first === undefined || isFed(arc, () => true)) continue;
    hits.push(sayUnfed(view, arc, first, 'has no supply cell'));
  }
  const wired = wiredPads(view);
  if (wired === undefined) return hits;
  for (const arc of arcs(view)) {
    const [first] = arc.supplies;
    if (first === undefined || isFed(arc, (p) => wired.has(p.pad.number))) continue;
    hits.push(sayUnfed(view, arc, first, 'has no supply cell to whose bond pad a wire leads'));
  }
  return hits;
}

function sayUnfed(view: View, arc: Arc, first: CellView, what: string): Hit {
  const lane = view.lanes.names[arc.lane] ?? '';
  const sections = [...new Set(arc.spans.flatMap((span) => span.first.section?.name ?? []))];
  return hitAt(
    first,
    `the arc of ${lane}${arc.net === null ? '' : ` (${arc.net})`} from "${first.name}" on, in ${names(sections)}, ${what}`,
    lane,
    ...sections,
  );
}

/** The bond pads, by number, that have wires; undefined where there is no package. */
const wiredPads = ({ placement }: View): ReadonlySet<number> | undefined =>
  placement.package === undefined ? undefined : new Set(placement.package.bonds.map((bond) => bond.bondPad));

/** Whether some of the bond pads feed an arc, or a lane that a cell ties to it. */
const isFed = (arc: Arc, counts: (p: PadView) => boolean): boolean =>
  arc.supplies.some((cell) => cell.pads.some((p) => padFeeds(p, arc.lane) && counts(p))) ||
  arc.spans.some((span) =>
    span.feeders.some((cell) =>
      cell.kind?.ties.some(
        (group) =>
          group.includes(arc.lane) &&
          cell.pads.some((p) => counts(p) && feedsOf(p).some((lane) => group.includes(lane))),
      ),
    ),
  );

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
    name: 'arc-unfed',
    severity: 'error',
    protects: 'That every arc of every lane has a supply of its own.',
    mend: 'Add a supply cell for the lane to one of its sections, or give one that there is a wire.',
    run: unfed,
  },
];
