/** One side as a packing problem: corner cells, rules, bounds near the corners, and which fillers each gap may take. */
import { nextSide, previousSide, type Side } from '../geometry/side.ts';
import type { Footprint } from '../library/footprint.ts';
import type { Kept } from '../plan/plan.ts';
import type { Ring } from '../spec/ring.ts';
import { type FillerSet, fillerSet } from './fillers.ts';
import { fillersUnder, type Overhang } from './fillers-under.ts';
import type { PackCell, PackProblem } from './pack.ts';
import { allowance, keepsBeside, type SideRows } from './rows.ts';
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

/** The filler sets of a ring: all fillers, those that allow a bond pad on top, and those of a gap that pads overhang. */
export interface FillerChoice {
  readonly all: FillerSet;
  readonly underPads: FillerSet;
  readonly under: (overhang: Overhang) => FillerSet;
}

const CHOICES = new WeakMap<readonly Footprint[], FillerChoice>();

export function fillerChoice({ fillers }: Ring): FillerChoice {
  const known = CHOICES.get(fillers);
  if (known !== undefined) return known;
  const all = fillerSet(fillers);
  const allowing = fillers.filter((f) => f.padOnTop);
  const underPads = allowing.length === fillers.length ? all : fillerSet(allowing);
  const sets = new Map<string, FillerSet>();
  const under = (overhang: Overhang): FillerSet => {
    // Without an ordinary filler that allows pads nothing is sure to let a gap grow.
    if (underPads === all || underPads.smallest === null) return underPads;
    const key = `${overhang.before} ${overhang.after}`;
    const set = sets.get(key) ?? fillersUnder(all.fillers, underPads, overhang);
    sets.set(key, set);
    return set;
  };
  const choice = { all, underPads, under };
  CHOICES.set(fillers, choice);
  return choice;
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
  const seal = ring.edge.street + ring.edge.seal + ring.pads.openingToSeal.least;
  for (const pad of own.pads) {
    const half = pad.along / 2;
    const nearest = Math.max(ring.corners.clearance, allowance(ring) + half, seal + pad.opening.along / 2);
    const beside = keepsBeside(ring, own, pad.cell);
    const first = beside.start ? Math.max(nearest, start + half) : nearest;
    const last = beside.end ? Math.max(nearest, end + half) : nearest;
    raise(low, pad.cell, Math.ceil(first - pad.offset));
    raise(tail, pad.cell, Math.ceil(last + pad.offset));
  }
  for (const bound of bounds)
    if (bound.side === side) raise(bound.kind === 'low' ? low : tail, bound.cell, bound.value);
  const setOf = (gap: number): FillerSet => {
    const overhang = under.get(gap);
    if (overhang === undefined) return fillers.all;
    return overhang === 'all of it' ? fillers.underPads : fillers.under(overhang);
  };
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

/**
 * The gaps (by the index of the cell after) that pads over circuit may overhang, and how far. A pad that reaches over
 * its neighbour into the gap beyond may take all of that.
 */
function gapsUnderPads(rows: SideRows): ReadonlyMap<number, Overhang | 'all of it'> {
  const under = new Map<number, Overhang | 'all of it'>();
  if (!rows.over) return under;
  const reach = (gap: number, near: boolean, of: Overhang): void => {
    const known = under.get(gap) ?? { before: 0, after: 0 };
    under.set(
      gap,
      !near || known === 'all of it'
        ? 'all of it'
        : { before: Math.max(known.before, of.before), after: Math.max(known.after, of.after) },
    );
  };
  for (const pad of rows.pads) {
    const width = (k: number): number => rows.cells[k]?.footprint.width ?? Number.POSITIVE_INFINITY;
    let right = pad.offset + pad.along / 2 - width(pad.cell);
    for (let k = pad.cell + 1; right > 0 && k <= rows.cells.length; right -= width(k), k++)
      reach(k, k === pad.cell + 1, { before: right, after: 0 });
    let left = pad.along / 2 - pad.offset;
    for (let k = pad.cell; left > 0 && k >= 0; k--, left -= width(k))
      reach(k, k === pad.cell, { before: 0, after: left });
  }
  return under;
}
