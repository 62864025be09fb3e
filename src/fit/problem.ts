/** One side as a packing problem: corner cells, rules, bounds near the corners, and which fillers each gap may take. */
import { nextSide, previousSide, type Side } from '../geometry/side.ts';
import type { Kept } from '../plan/plan.ts';
import type { Ring } from '../spec/ring.ts';
import { type FillerSet, fillerSet } from './fillers.ts';
import type { PackCell, PackProblem } from './pack.ts';
import { allowance, type SideRows } from './rows.ts';
import { sideRules, type TooClose } from './rules.ts';

export type AllRows = Readonly<Record<Side, SideRows>>;

/** A bound that keeps a cell's shape clear of the side beyond a corner. */
export interface CornerBound {
  readonly side: Side;
  readonly cell: number;
  /** `low`: the cell's start edge is not below it. `tail`: the die corner ahead is at least so far from it. */
  readonly kind: 'low' | 'tail';
  readonly value: number;
}

/** The filler sets of a ring: all fillers, and those that allow a bond pad on top. */
export interface FillerChoice {
  readonly all: FillerSet;
  readonly underPads: FillerSet;
}

export function fillerChoice(ring: Ring): FillerChoice {
  const all = fillerSet(ring.fillers);
  const allowing = ring.fillers.filter((f) => f.padOnTop);
  return { all, underPads: allowing.length === ring.fillers.length ? all : fillerSet(allowing) };
}

/** Where the corner cell at a side's start ends, from the die corner along s. */
export const cornerStart = (ring: Ring, rows: AllRows, side: Side): number =>
  rows[previousSide(side)].t0 + ring.corners.footprint.width;

/** How far before the die corner the corner cell at a side's end starts. */
export const cornerEnd = (ring: Ring, rows: AllRows, side: Side): number =>
  rows[nextSide(side)].t0 + ring.corners.footprint.depth;

export interface SideProblem {
  readonly problem: PackProblem;
  readonly tooClose: readonly TooClose[];
}

export function sideProblem(
  ring: Ring,
  rows: AllRows,
  side: Side,
  fillers: FillerChoice,
  bounds: readonly CornerBound[],
): SideProblem {
  const own = rows[side];
  const start = cornerStart(ring, rows, side);
  const end = cornerEnd(ring, rows, side);
  const { rules, tooClose } = sideRules(ring, own);
  const n = own.cells.length;
  const low = new Array<number>(n).fill(Number.NEGATIVE_INFINITY);
  const tail = own.cells.map((cell) => cell.footprint.width + end);
  const under = gapsUnderPads(own);
  const raise = (list: number[], cell: number, value: number): void => {
    list[cell] = Math.max(list[cell] ?? 0, value);
  };
  const keepsOff = own.over && !ring.corners.footprint.padOnTop;
  const seal = ring.edge.street + ring.edge.seal + ring.pads.openingToSeal.least;
  for (const pad of own.pads) {
    const half = pad.along / 2;
    const nearest = Math.max(ring.corners.clearance, allowance(ring) + half, seal + pad.opening.along / 2);
    const first = keepsOff ? Math.max(nearest, start + half) : nearest;
    const last = keepsOff ? Math.max(nearest, end + half) : nearest;
    raise(low, pad.cell, Math.ceil(first - pad.offset));
    raise(tail, pad.cell, Math.ceil(last + pad.offset));
  }
  for (const bound of bounds)
    if (bound.side === side) raise(bound.kind === 'low' ? low : tail, bound.cell, bound.value);
  const setOf = (gap: number): FillerSet => (under.has(gap) ? fillers.underPads : fillers.all);
  const cells = own.cells.map((cell, i): PackCell => {
    const { kept } = cell;
    return {
      width: cell.footprint.width,
      gap: cell.entry?.gap ?? 0,
      fillers: setOf(i),
      low: low[i] ?? 0,
      tail: tail[i] ?? 0,
      fixed: cell.entry?.at ?? null,
      ...(kept === undefined ? {} : { kept: { at: kept.starts, weight: weightOf(kept) } }),
    };
  });
  return { problem: { start, end, cells, rules, lastFillers: setOf(n) }, tooClose };
}

/** A pin outweighs all the cells without pins that a side may have. */
export const PIN_WEIGHT = 1_000_000;
const weightOf = ({ pins }: Kept): number => Math.max(1, pins * PIN_WEIGHT);

/** The gaps (by the index of the cell after) that a pad over circuit may overhang. */
function gapsUnderPads(rows: SideRows): ReadonlySet<number> {
  const under = new Set<number>();
  if (!rows.over) return under;
  for (const pad of rows.pads) {
    const width = (k: number): number => rows.cells[k]?.footprint.width ?? Number.POSITIVE_INFINITY;
    let right = pad.offset + pad.along / 2 - width(pad.cell);
    for (let k = pad.cell + 1; right > 0 && k <= rows.cells.length; right -= width(k), k++) under.add(k);
    let left = pad.along / 2 - pad.offset;
    for (let k = pad.cell; left > 0 && k >= 0; k--, left -= width(k)) under.add(k);
  }
  return under;
}
