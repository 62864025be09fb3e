/** Lengths that two opposite sides share. */
import type { Side } from '../geometry/side.ts';
import { nextLength, type Packing } from './pack.ts';

export type Packings = Readonly<Record<Side, Packing>>;

/** How many lengths are tried beyond the first before the search for one that both sides fill is given up. */
const MOST_LENGTHS = 200_000;

/** The least length from `atLeast` on that two packings both fill; null where there is none. */
export function commonLength(a: Packing, b: Packing, atLeast: number): number | null {
  let length = atLeast;
  for (let tried = 0; tried < MOST_LENGTHS; tried++) {
    const first = nextLength(a, length);
    const second = nextLength(b, first);
    if (!Number.isFinite(second)) return null;
    if (second === first) return first;
    length = second;
  }
  return null;
}
