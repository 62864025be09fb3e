/**
 * The ring as its rails see it: where sections meet, and the arcs of every lane with their stretches of metal, derived
 * from cells and footprints alone.
 */
import { carriesLane, type Run } from './kinds.ts';
import { once } from './once.ts';
import { few } from './say.ts';
import { type Box, type Frame, highS, lengthOf, lowS, lowT, onDie } from './turn.ts';
import type { CellView, PadView, View } from './view.ts';

const isBreak = (cell: CellView): boolean => cell.role === 'break';

/** Cells that follow each other, abut and are alike to every rail; a corner or break cell stands for itself. */
export interface Span {
  /** Its first cell: kind, side, depth and section are those of all. */
  readonly first: CellView;
  last: CellView;
  count: number;
  /** Those of its cells whose bond pads feed lanes. */
  readonly feeders: CellView[];
}

/** The ring as spans: most of it is fillers and cells whose strips run through alike. */
export const spansOf = once(({ ring }): readonly Span[] => {
  const spans: Span[] = [];
  let last: Span | undefined;
  for (const cell of ring) {
    if (last === undefined || !goesOn(last, cell)) {
      last = { first: cell, last: cell, count: 0, feeders: [] };
      spans.push(last);
    }
    last.last = cell;
    last.count++;
    if (cell.pads.some((p) => feedsOf(p).length > 0)) last.feeders.push(cell);
  }
  return spans;
});

function goesOn({ first, last }: Span, cell: CellView): boolean {
  if (first.isCorner || cell.isCorner || isBreak(first) || isBreak(cell)) return false;
  return (
    first.kind !== null &&
    first.kind.profile === cell.kind?.profile &&
    first.section === cell.section &&
    first.side === cell.side &&
    first.t0 === cell.t0 &&
    last.s1 === cell.s0
  );
}

/** The sections of the cells next to a break cell, other break cells apart. */
export interface Parted {
  readonly before: CellView;
  readonly after: CellView;
}

/** Every break cell with the cells that it parts; none where the ring has no other cell. */
export const partedBy = once((view): ReadonlyMap<CellView, Parted> => {
  const parted = new Map<CellView, Parted>();
  for (const { breaks, before, after } of meetings(view))
    for (const cell of breaks) parted.set(cell, { before, after });
  return parted;
});

/** Two cells between which the section may change, and the break cells that stand there. */
export interface Meeting extends Parted {
  readonly breaks: readonly CellView[];
}

/** Every run of break cells, and every other place where cells of two spans meet. */
export const meetings = once((view): readonly Meeting[] => {
  const spans = spansOf(view);
  const start = spans.findIndex((span) => !isBreak(span.first));
  const found: Meeting[] = [];
  let before = spans[start]?.last;
  let breaks: CellView[] = [];
  for (let k = 1; k <= spans.length && before !== undefined; k++) {
    const span = spans[(start + k) % spans.length];
    if (span === undefined) continue;
    if (isBreak(span.first)) breaks.push(span.first);
    else {
      found.push({ before, after: span.first, breaks });
      before = span.last;
      breaks = [];
    }
  }
  return found;
});

export interface Arc {
  readonly lane: number;
  readonly closed: boolean;
  /** In ring order from where it begins. */
  readonly spans: readonly Span[];
  /** How many cells it runs through. */
  readonly count: number;
  /** Null where no cell of it has a section, or that section has no net on the lane. */
  readonly net: string | null;
  /** The cells whose bond pads feed it. */
  readonly supplies: readonly CellView[];
}

/** Lanes that some section puts a net on: those that have rails. */
export const railLanes = once((view): readonly number[] => [
  ...new Set(view.sections.flatMap((section) => [...section.nets.keys()])),
]);

export const carries = (cell: CellView, lane: number): boolean =>
  cell.kind !== null && carriesLane(cell.kind, lane);

/** The names of lanes for a message. */
export const laneNames = (view: View, lanes: readonly number[]): string =>
  few(lanes.map((lane) => view.lanes.names[lane] ?? ''));

/** The lanes that a bond pad feeds. */
export const feedsOf = (p: PadView): readonly number[] => p.cell?.kind?.landings[p.landing]?.feeds ?? [];

/** Whether a bond pad feeds a lane. */
export const padFeeds = (p: PadView, lane: number): boolean => feedsOf(p).includes(lane);

/** The arcs of a lane: the runs of cells that carry it. */
function arcsOf(view: View, lane: number): readonly Arc[] {
  const spans = spansOf(view);
  const cut = spans.findIndex((span) => !carries(span.first, lane));
  if (spans.length === 0) return [];
  if (cut < 0) return [arcOf(lane, true, spans)];
  const arcs: Arc[] = [];
  let run: Span[] = [];
  for (let k = 1; k <= spans.length; k++) {
    const span = spans[(cut + k) % spans.length];
    if (span === undefined) continue;
    if (carries(span.first, lane)) run.push(span);
    else if (run.length > 0) {
      arcs.push(arcOf(lane, false, run));
      run = [];
    }
  }
  return arcs;
}

/** All arcs, lane by lane. */
export const arcs = once((view): readonly Arc[] => railLanes(view).flatMap((lane) => arcsOf(view, lane)));

function arcOf(lane: number, closed: boolean, spans: readonly Span[]): Arc {
  const sectioned = spans.find((span) => !isBreak(span.first));
  return {
    lane,
    closed,
    spans,
    count: spans.reduce((sum, span) => sum + span.count, 0),
    net: sectioned?.first.section?.nets.get(lane) ?? null,
    supplies: spans.flatMap((span) =>
      span.feeders.filter((cell) => cell.pads.some((p) => padFeeds(p, lane))),
    ),
  };
}

/** A straight stretch of a strip. */
export interface Stretch extends Box {
  readonly layer: string;
}

/** What an arc covers of one side: a span, or as much of a corner cell as lies on that side. */
interface Piece {
  readonly run: Run;
  readonly side: number;
  /** The outlines' outward edge. */
  readonly t: number;
  readonly s0: number;
  readonly s1: number;
  /** In a corner cell: the edge at which the strips must show, and at which end they stop short of the outline. */
  readonly corner: { readonly edge: 'start' | 'end'; readonly arriving: boolean } | null;
}

/** The pieces of an arc; a closed one begins and ends in a corner cell, so that no side is parted in two. */
function piecesOf(arc: Arc, die: Frame): readonly Piece[] {
  const at = arc.closed ? arc.spans.findIndex((span) => span.first.isCorner) : -1;
  const spans = at < 0 ? arc.spans : [...arc.spans.slice(at + 1), ...arc.spans.slice(0, at)];
  const corner = at < 0 ? undefined : arc.spans[at]?.first;
  const pieces: Piece[] = [];
  if (corner !== undefined) pieces.push(...cornerPieces(corner, arc.lane, die).slice(1));
  for (const { first, last } of spans) {
    const run = first.kind?.lanes.get(arc.lane);
    if (run === undefined) continue;
    if (first.isCorner) pieces.push(...cornerPieces(first, arc.lane, die));
    else pieces.push({ run, side: first.side, t: first.t0, s0: first.s0, s1: last.s1, corner: null });
  }
  if (corner !== undefined) pieces.push(...cornerPieces(corner, arc.lane, die).slice(0, 1));
  return pieces;
}

/** A corner cell's piece on the side that it follows, up to the next side's row, and its piece on that next side. */
function cornerPieces(cell: CellView, lane: number, die: Frame): readonly Piece[] {
  const run = cell.kind?.lanes.get(lane);
  if (run === undefined) return [];
  const next = (cell.side + 1) & 3;
  const reversed = cell.pose?.reversed ?? false;
  const [tOwn, tNext] = [lowT(cell.side, die, cell), lowT(next, die, cell)];
  return [
    {
      run,
      side: cell.side,
      t: tOwn,
      s0: lowS(cell.side, die, cell),
      s1: lengthOf(cell.side, die) - tNext,
      corner: { edge: reversed ? 'end' : 'start', arriving: true },
    },
    {
      run,
      side: next,
      t: tNext,
      s0: tOwn,
      s1: highS(next, die, cell),
      corner: { edge: reversed ? 'start' : 'end', arriving: false },
    },
  ];
}

/** A stretch while its arc is walked, in its side's frame. */
interface Growing {
  readonly side: number;
  readonly layer: string;
  readonly t0: number;
  readonly t1: number;
  readonly s0: number;
  s1: number;
}

/**
 * The stretches of an arc's strips, merged: along a side a strip goes on while cells abut and its depth stays; in a
 * corner cell the stretch of either side runs to the far edge of the square that they share.
 */
export function stretchesOf(view: View, arc: Arc): readonly Stretch[] {
  const done: Growing[] = [];
  const last = new Map<string, Growing>();
  const put = (side: number, layer: string, t0: number, t1: number, s0: number, s1: number): void => {
    const key = `${side} ${t0} ${t1} ${layer}`;
    const before = last.get(key);
    if (before !== undefined && before.s1 === s0) {
      before.s1 = s1;
      return;
    }
    const next = { side, layer, t0, t1, s0, s1 };
    last.set(key, next);
    done.push(next);
  };
  for (const { run, side, t, s0, s1, corner } of piecesOf(arc, view.die))
    for (const { layer, from, to, edges } of run.strips) {
      if (corner !== null && edges !== 'both' && edges !== corner.edge) continue;
      const start = corner !== null && !corner.arriving ? s0 + from : s0;
      const end = corner?.arriving === true ? s1 - from : s1;
      put(side, layer, t + from, t + to, start, end);
    }
  return done.map((g) => ({ ...onDie(g.side, view.die, g.s0, g.s1, g.t0, g.t1), layer: g.layer }));
}
