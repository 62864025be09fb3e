/**
 * Shapes of two sides near a corner: spacing apart in x or in y. Which of two shapes gives way is a choice; the fit
 * tries both wherever a pair is too close, so that nothing is lost.
 */
import { nextSide, SIDES, type Side } from '../geometry/side.ts';
import type { Ring } from '../spec/ring.ts';
import type { AllRows, CornerBound } from './problem.ts';
import type { SidePad, SideRows } from './rows.ts';

/** A bond pad's metal, its opening, or a stem; `u` runs from the corner along the own side, t inward. */
interface Shape {
  readonly cell: number;
  readonly kind: 'metal' | 'opening' | 'stem';
  readonly u: number;
  readonly along: number;
  readonly t: number;
  readonly deep: number;
}

export interface Conflict {
  readonly after: Side;
  /** Either bound alone mends it. */
  readonly ways: readonly [CornerBound, CornerBound];
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
    const ending = shapes(ring, rows[side], reach, (pad) => length(side) - (places[side][pad.cell] ?? 0), -1);
    const starting = shapes(ring, rows[other], reach, (pad) => places[other][pad.cell] ?? 0, 1);
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
): readonly [CornerBound, CornerBound] {
  const tailNow = length - (places[side][a.cell] ?? 0);
  const lowNow = places[other][b.cell] ?? 0;
  return [
    { side, cell: a.cell, kind: 'tail', value: Math.ceil(tailNow + b.t + b.deep + least - a.u) },
    { side: other, cell: b.cell, kind: 'low', value: Math.ceil(lowNow + a.t + a.deep + least - b.u) },
  ];
}

/** The spacing between two shapes; negative where none is owed. */
function leastBetween(ring: Ring, a: Shape, b: Shape): number {
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

/** The shapes within reach of a corner; `from` gives the distance of a pad's cell's start edge from it. */
function shapes(
  ring: Ring,
  rows: SideRows,
  reach: number,
  from: (pad: SidePad) => number,
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
    const u = from(pad) + direction * centre - along / 2;
    if (u < reach) near.push({ cell: pad.cell, kind, u, along, t, deep });
  };
  const { pads } = rows;
  const beyond = reach + widest(rows);
  for (let k = 0; k < pads.length; k++) {
    const pad = pads[direction === 1 ? k : pads.length - 1 - k];
    if (pad === undefined || from(pad) > beyond) break;
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
