/**
 * The ring as its rails see it: which section lies before and after each cell, and the arcs of every lane with
 * their stretches of metal, derived from cells and footprints alone.
 */
import { carriesLane, type Run } from './kinds.ts';
import { once } from './once.ts';
import { type Box, type Frame, highS, lengthOf, lowS, lowT, onDie } from './turn.ts';
import type { CellView, PadView, SectionView, View } from './view.ts';

/** For each cell of the ring its own section; for a break cell the section of the cell before or after it. */
export interface RingSections {
  readonly before: readonly (SectionView | null)[];
  readonly after: readonly (SectionView | null)[];
}

const isBreak = (cell: CellView): boolean => cell.role === 'break';

export const sectionsAround = once(({ ring }): RingSections => {
  const before = new Array<SectionView | null>(ring.length).fill(null);
  const after = new Array<SectionView | null>(ring.length).fill(null);
  let last = ring.findLast((cell) => !isBreak(cell))?.section ?? null;
  for (let i = 0; i < ring.length; i++) {
    const cell = ring[i];
    if (cell !== undefined && !isBreak(cell)) last = cell.section;
    before[i] = last;
  }
  let next = ring.find((cell) => !isBreak(cell))?.section ?? null;
  for (let i = ring.length - 1; i >= 0; i--) {
    const cell = ring[i];
    if (cell !== undefined && !isBreak(cell)) next = cell.section;
    after[i] = next;
  }
  return { before, after };
});

export interface Arc {
  readonly lane: number;
  readonly closed: boolean;
  /** In ring order from where it begins. */
  readonly cells: readonly CellView[];
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

/** Whether a bond pad feeds a lane. */
export const padFeeds = (p: PadView, lane: number): boolean =>
  p.cell?.kind?.landings[p.landing]?.feeds.includes(lane) === true;

export function arcsOf(view: View, lane: number): readonly Arc[] {
  const { ring } = view;
  const byKind = view.kinds.map((kind) => carriesLane(kind, lane));
  const isCarried = (cell: CellView): boolean => cell.kind !== null && byKind[cell.kind.index] === true;
  const cut = ring.findIndex((cell) => !isCarried(cell));
  if (ring.length === 0) return [];
  if (cut < 0) return [arcOf(lane, true, ring)];
  const arcs: Arc[] = [];
  let run: CellView[] = [];
  for (let k = 1; k <= ring.length; k++) {
    const cell = ring[(cut + k) % ring.length];
    if (cell === undefined) continue;
    if (isCarried(cell)) run.push(cell);
    else if (run.length > 0) {
      arcs.push(arcOf(lane, false, run));
      run = [];
    }
  }
  return arcs;
}

function arcOf(lane: number, closed: boolean, cells: readonly CellView[]): Arc {
  const first = cells.find((cell) => !isBreak(cell));
  return {
    lane,
    closed,
    cells,
    net: first?.section?.nets.get(lane) ?? null,
    supplies: cells.filter((cell) => cell.pads.some((p) => padFeeds(p, lane))),
  };
}

/** A straight stretch of a strip. */
export interface Stretch extends Box {
  readonly layer: string;
}

/**
 * What an arc covers of one side: some abutting cells whose strips are alike, or as much of a corner cell as lies on
 * that side.
 */
interface Piece {
  readonly run: Run;
  readonly side: number;
  /** The outlines' outward edge. */
  readonly t: number;
  readonly s0: number;
  s1: number;
  /** In a corner cell: the edge at which the strips must show, and at which end they stop short of the outline. */
  readonly corner: { readonly edge: 'start' | 'end'; readonly arriving: boolean } | null;
}

/** The pieces of an arc; a closed one begins and ends in a corner cell, so that no side is parted in two. */
function piecesOf(arc: Arc, die: Frame): readonly Piece[] {
  const at = arc.closed ? arc.cells.findIndex((cell) => cell.isCorner) : -1;
  const cells = at < 0 ? arc.cells : [...arc.cells.slice(at + 1), ...arc.cells.slice(0, at)];
  const pieces: Piece[] = [];
  const first = at < 0 ? undefined : arc.cells[at];
  if (first !== undefined) pieces.push(...cornerPieces(first, arc.lane, die).slice(1));
  let last: Piece | undefined;
  for (const cell of cells) {
    const run = cell.kind?.lanes.get(arc.lane);
    if (run === undefined) continue;
    if (cell.isCorner) {
      pieces.push(...cornerPieces(cell, arc.lane, die));
      last = undefined;
    } else if (last !== undefined && goesOn(last, run, cell)) last.s1 = cell.s1;
    else {
      last = { run, side: cell.side, t: cell.t0, s0: cell.s0, s1: cell.s1, corner: null };
      pieces.push(last);
    }
  }
  if (first !== undefined) pieces.push(...cornerPieces(first, arc.lane, die).slice(0, 1));
  return pieces;
}

/** Whether a cell abuts a piece of its side and has the same strips at the same depth. */
const goesOn = (last: Piece, run: Run, cell: CellView): boolean =>
  last.run.alike === run.alike && last.side === cell.side && last.t === cell.t0 && last.s1 === cell.s0;

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
