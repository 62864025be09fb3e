/** The rectangle left inside the placed ring and its clearance. */
import type { Fit } from '../fit/fit.ts';
import type { Placement } from '../format/placement.ts';
import { nextSide, type Side } from '../geometry/side.ts';
import { micrometres, units } from '../geometry/units.ts';
import type { PlacedSide } from './cells.ts';

type Insets = Record<Side, number>;

/**
 * Every side's inset is its deepest cell's inner edge and the clearance. A corner cell that reaches further in both
 * axes widens either all insets across the width or all across the height: such that the wanted core has room, or else
 * whichever leaves the larger area.
 * A ring that leaves nothing inside has a core without width or height.
 */
export function coreOf(fit: Fit, sides: readonly PlacedSide[]): Placement['core'] {
  const inner: Insets = { left: 0, bottom: 0, right: 0, top: 0 };
  for (const { side, cells } of sides) {
    let deepest = 0;
    for (const { footprint } of cells) deepest = Math.max(deepest, footprint.setback + footprint.depth);
    inner[side] = fit.rows[side].t0 + deepest;
  }
  const across: Insets = { ...inner };
  const down: Insets = { ...inner };
  for (const { side, corner } of sides) {
    const next = nextSide(side);
    const own = fit.rows[side].t0 + corner.footprint.width;
    const beyond = fit.rows[next].t0 + corner.footprint.depth;
    if (own <= inner[side] || beyond <= inner[next]) continue;
    const ownIsAcross = side === 'left' || side === 'right';
    const [acrossSide, acrossReach] = ownIsAcross ? [side, own] : [next, beyond];
    const [downSide, downReach] = ownIsAcross ? [next, beyond] : [side, own];
    across[acrossSide] = Math.max(across[acrossSide], acrossReach);
    down[downSide] = Math.max(down[downSide], downReach);
  }
  const [a, b] = [rectangle(fit, across), rectangle(fit, down)];
  const { width, height } = fit.plan.ring.core;
  const [holdsA, holdsB] = [a, b].map((r) => r.width >= width && r.height >= height);
  const larger = a.width * a.height >= b.width * b.height;
  const best = holdsA === holdsB ? (larger ? a : b) : holdsA === true ? a : b;
  return {
    x: micrometres(units(best.x)),
    y: micrometres(units(best.y)),
    width: micrometres(units(best.width)),
    height: micrometres(units(best.height)),
  };
}

function rectangle(fit: Fit, insets: Insets): { x: number; y: number; width: number; height: number } {
  const { clearance } = fit.plan.ring.core;
  const x = insets.left + clearance;
  const y = insets.bottom + clearance;
  return {
    x,
    y,
    width: Math.max(0, fit.die.width - insets.right - clearance - x),
    height: Math.max(0, fit.die.height - insets.top - clearance - y),
  };
}
