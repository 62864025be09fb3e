/**
 * Shapes of two sides near a corner: spacing apart in x or in y. Which of two shapes gives way is a choice; the fit
 * tries both wherever a pair is too close, so that nothing is lost.
 */
import { nextSide, SIDES, type Side } from '../geometry/side.ts';
import type { Ring } from '../spec/ring.ts';
import type { AllRows, CornerBound } from './problem.ts';
import type { SidePad, SideRows } from './rows.ts';

/**
 * A bond pad's metal, its opening, a stem, a cell, or all that fillers may cover; `u` runs from the corner along the
 * own side, t inward.
 */
interface Shape {
  readonly cell: number;
  readonly kind: 'metal' | 'opening' | 'stem' | 'cell' | 'fillers';
  readonly u: number;
  readonly along: number;
  readonly t: number;
  readonly deep: number;
}

export interface Conflict {
  readonly after: Side;
  /** Any bound alone mends it; none does where nothing that can move is involved. */
  readonly ways: readonly CornerBound[];
}

/** The start edges of the cells of every side. */
export type Places = Readonly<Record<Side, readonly number[]>>;

/** The first pair of shapes that stand too close across a corner, or null. */
export function conflict(
  ring: Ring,
  rows: AllRows,
  places: Places,
  length: (side: Side) => number,
): Conflict | null {
  for (const side of SIDES) {
    const other = nextSide(side);
    const reach = depthOf(rows[side], rows[other]) + spacingOf(ring);
    const corner = ring.corners.footprint;
    const ahead = (cell: number): number => length(side) - (places[side][cell] ?? 0);
    const behind = (cell: number): number => places[other][cell] ?? 0;
    const ending = [
      ...shapes(ring, rows[side], reach, ahead, -1),
      ...deepCells(ring, rows[side], corner.width, rows[other].t0 + corner.depth, ahead, -1),
    ];
    const starting = [
      ...shapes(ring, rows[other], reach, behind, 1),
      ...deepCells(ring, rows[other], corner.depth, rows[side].t0 + corner.width, behind, 1),
    ];
    for (const a of ending)
      for (const b of starting) {
        const least = leastBetween(ring, a, b);
        if (least < 0) continue;
        // In the corner's own axes x runs along the other side and y along this one.
        const inX = Math.max(b.u - (a.t + a.deep), a.t - (b.u + b.along));
        const inY = Math.max(a.u - (b.t + b.deep), b.t - (a.u + a.along));
        if (inX >= least || inY >= least) continue;
        return { after: side, ways: ways(side, other, places, length(side), a, b, least) };
      }
  }
  return null;
}

/** This side's cell may keep further from the corner ahead, or the other's from the corner behind. */
function ways(
  side: Side,
  other: Side,
  places: Places,
  length: number,
  a: Shape,
  b: Shape,
  least: number,
): readonly CornerBound[] {
  const tailNow = length - (places[side][a.cell] ?? 0);
  const lowNow = places[other][b.cell] ?? 0;
  const tail = Math.ceil(tailNow + b.t + b.deep + least - a.u);
  const low = Math.ceil(lowNow + a.t + a.deep + least - b.u);
  return [
    ...(a.kind === 'fillers' ? [] : [{ side, cell: a.cell, kind: 'tail', value: tail } as const]),
    ...(b.kind === 'fillers' ? [] : [{ side: other, cell: b.cell, kind: 'low', value: low } as const]),
  ];
}

/** The spacing between two shapes; negative where none is owed. */
function leastBetween(ring: Ring, a: Shape, b: Shape): number {
  const solid = (shape: Shape): boolean => shape.kind === 'cell' || shape.kind === 'fillers';
  if (solid(a) || solid(b)) return solid(a) && solid(b) ? 0 : -1;
  if (a.kind === 'opening' || b.kind === 'opening') return a.kind === b.kind ? ring.pads.openingSpacing : -1;
  return a.kind === 'stem' || b.kind === 'stem' ? ring.stems.spacing : ring.pads.spacing;
}

const spacingOf = (ring: Ring): number =>
  Math.max(ring.pads.spacing, ring.pads.openingSpacing, ring.stems.spacing);

/** How deep the pads and stems of two sides reach. */
function depthOf(...sides: readonly SideRows[]): number {
  let depth = 0;
  for (const rows of sides)
    for (const pad of rows.pads) depth = Math.max(depth, pad.t + pad.deep, pad.stem?.to ?? 0);
  return depth;
}

/**
 * What reaches deeper than the corner cell and so may meet the other side's row: cells, and the fillers that abut the
 * corner cell from `start` on.
 */
function deepCells(
  ring: Ring,
  rows: SideRows,
  depth: number,
  start: number,
  from: (cell: number) => number,
  direction: 1 | -1,
): readonly Shape[] {
  const deep: Shape[] = [];
  const fillers = ring.fillers.reduce((most, f) => Math.max(most, f.setback + f.depth), 0);
  if (fillers > depth)
    deep.push({
      cell: -1,
      kind: 'fillers',
      u: start,
      along: Number.MAX_SAFE_INTEGER,
      t: rows.t0,
      deep: fillers,
    });
  rows.cells.forEach(({ footprint }, cell) => {
    if (footprint.setback + footprint.depth <= depth) return;
    const u = direction === 1 ? from(cell) : from(cell) - footprint.width;
    const t = rows.t0 + footprint.setback;
    deep.push({ cell, kind: 'cell', u, along: footprint.width, t, deep: footprint.depth });
  });
  return deep;
}

/** The shapes within reach of a corner; `from` gives the distance of a cell's start edge from it. */
function shapes(
  ring: Ring,
  rows: SideRows,
  reach: number,
  from: (cell: number) => number,
  direction: 1 | -1,
): readonly Shape[] {
  const near: Shape[] = [];
  const put = (
    pad: SidePad,
    kind: Shape['kind'],
    centre: number,
    along: number,
    t: number,
    deep: number,
  ): void => {
    const u = from(pad.cell) + direction * centre - along / 2;
    if (u < reach) near.push({ cell: pad.cell, kind, u, along, t, deep });
  };
  const { pads } = rows;
  const beyond = reach + widest(rows);
  for (let k = 0; k < pads.length; k++) {
    const pad = pads[direction === 1 ? k : pads.length - 1 - k];
    if (pad === undefined || from(pad.cell) > beyond) break;
    put(pad, 'metal', pad.offset, pad.along, pad.t, pad.deep);
    const { opening } = pad;
    put(pad, 'opening', pad.offset, opening.along, pad.t + (pad.deep - opening.deep) / 2, opening.deep);
    if (pad.stem !== null)
      put(pad, 'stem', pad.landingOffset, ring.stems.width, pad.stem.from, pad.stem.to - pad.stem.from);
  }
  return near;
}

/** No shape of a pad reaches further from its cell's start edge than this. */
function widest(rows: SideRows): number {
  let most = 0;
  for (const pad of rows.pads) most = Math.max(most, Math.abs(pad.offset), Math.abs(pad.landingOffset));
  return most + rows.pads.reduce((along, pad) => Math.max(along, pad.along, pad.opening.along), 0);
}
