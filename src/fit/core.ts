/**
 * The rectangle left inside the ring. Each side takes its deepest cell's inner edge and the core's clearance. A
 * corner cell that reaches further than that in both axes pushes the rectangle's corner: then either all its
 * left-right or all its bottom-top distances are widened to clear such corner cells.
 */
import { nextSide, SIDES, type Side } from '../geometry/side.ts';
import { stepUp, type Units, units } from '../geometry/units.ts';
import type { Ring } from '../spec/ring.ts';
import type { AllRows } from './problem.ts';

/** Distances of the core rectangle from the die edge, by side. */
export type Insets = Readonly<Record<Side, Units>>;

/** The two ways to keep the core clear of the corner cells: `width` widens left and right, `height` the others. */
export interface CoreWays {
  readonly width: Insets;
  readonly height: Insets;
}

/** The insets where corner cells reach no further are the same both ways. */
export function coreWays(ring: Ring, rows: AllRows): CoreWays {
  const depth = ring.fillers.reduce((d, f) => Math.max(d, f.setback + f.depth), 0);
  const inner = (side: Side): number => Math.max(rows[side].inner, rows[side].t0 + depth);
  const width = { left: 0, bottom: 0, right: 0, top: 0 };
  for (const side of SIDES) width[side] = inner(side);
  const height = { ...width };
  const corner = ring.corners.footprint;
  for (const side of SIDES) {
    const other = nextSide(side);
    const own = rows[side].t0 + corner.width;
    const next = rows[other].t0 + corner.depth;
    if (own <= inner(side) || next <= inner(other)) continue;
    const horizontal = side === 'left' || side === 'right';
    const widens = horizontal ? ([side, own] as const) : ([other, next] as const);
    const heightens = horizontal ? ([other, next] as const) : ([side, own] as const);
    width[widens[0]] = Math.max(width[widens[0]], widens[1]);
    height[heightens[0]] = Math.max(height[heightens[0]], heightens[1]);
  }
  const clear = (insets: typeof width): Insets => ({
    left: units(insets.left + ring.core.clearance),
    bottom: units(insets.bottom + ring.core.clearance),
    right: units(insets.right + ring.core.clearance),
    top: units(insets.top + ring.core.clearance),
  });
  return { width: clear(width), height: clear(height) };
}

/** The least die that holds the core with these insets, on the grid. */
export const leastForCore = (ring: Ring, insets: Insets): { width: Units; height: Units } => ({
  width: stepUp(insets.left + ring.core.width + insets.right, ring.grid),
  height: stepUp(insets.bottom + ring.core.height + insets.top, ring.grid),
});
