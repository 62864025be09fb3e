/** From the die to the sheet. */
import type { Side } from '../../geometry/side.ts';
import type { Extent } from '../frame.ts';
import type { RingPlan } from './plan.ts';

export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** A point of the die, in micrometres, on the sheet. */
export const dieOnSheet = ({ die, scale }: RingPlan, x: number, y: number): Spot => ({
  x: die.x + x * scale,
  y: die.y + die.height - y * scale,
});

/** A point of a side's frame, in micrometres, on the sheet. */
export function onSheet(plan: RingPlan, die: Extent, side: Side, s: number, t: number): Spot {
  switch (side) {
    case 'bottom':
      return dieOnSheet(plan, s, t);
    case 'right':
      return dieOnSheet(plan, die.width - t, s);
    case 'top':
      return dieOnSheet(plan, die.width - s, die.height - t);
    case 'left':
      return dieOnSheet(plan, t, die.height - s);
  }
}
