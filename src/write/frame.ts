/** The sides' own frames for placed shapes: s along the side counter-clockwise, t inward, in micrometres. */
import type { Side } from '../geometry/side.ts';

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface Extent {
  readonly width: number;
  readonly height: number;
}

/** A shape as its side sees it. */
export interface Stretch {
  readonly s0: number;
  readonly s1: number;
  readonly t0: number;
  readonly t1: number;
}

export const lies = (side: Side): boolean => side === 'bottom' || side === 'top';

/** The length of a side of the die, corner to corner. */
export const lengthOf = (side: Side, die: Extent): number => (lies(side) ? die.width : die.height);

/** A point of the die as a side sees it. */
export function seenFrom(side: Side, die: Extent, x: number, y: number): { s: number; t: number } {
  switch (side) {
    case 'bottom':
      return { s: x, t: y };
    case 'right':
      return { s: y, t: die.width - x };
    case 'top':
      return { s: die.width - x, t: die.height - y };
    case 'left':
      return { s: die.height - y, t: x };
  }
}

/** A rectangle of the die (lower-left corner and extents) as a side sees it. */
export function stretchOn(side: Side, die: Extent, box: Box): Stretch {
  const a = seenFrom(side, die, box.x, box.y);
  const b = seenFrom(side, die, box.x + box.width, box.y + box.height);
  return {
    s0: Math.min(a.s, b.s),
    s1: Math.max(a.s, b.s),
    t0: Math.min(a.t, b.t),
    t1: Math.max(a.t, b.t),
  };
}

/** A rectangle given by its centre, by its lower-left corner. */
export const boxAround = (x: number, y: number, { width, height }: Extent): Box => ({
  x: x - width / 2,
  y: y - height / 2,
  width,
  height,
});

/** The side whose die edge is nearest to a point. */
export function nearestSide(die: Extent, x: number, y: number): Side {
  const distances: readonly (readonly [Side, number])[] = [
    ['left', x],
    ['bottom', y],
    ['right', die.width - x],
    ['top', die.height - y],
  ];
  return distances.reduce((best, other) => (other[1] < best[1] ? other : best))[0];
}
