/** A ring with pins exchanged: each takes the other's place in the list, cell, nets and all. */
import { SIDES, type Side } from '../geometry/side.ts';
import type { Entry, Ring } from './ring.ts';

/** The exchanges are carried out one after the other; what names no listed pin changes nothing. */
export function exchangePins(ring: Ring, swaps: readonly (readonly [string, string])[]): Ring {
  const lists: Record<Side, Entry[]> = { left: [], bottom: [], right: [], top: [] };
  for (const side of SIDES) lists[side] = [...ring.sides[side].entries];
  const find = (pin: string): readonly [Side, number] | undefined => {
    for (const side of SIDES) {
      const at = lists[side].findIndex((entry) => entry.pins.includes(pin));
      if (at >= 0) return [side, at];
    }
    return undefined;
  };
  for (const [a, b] of swaps) {
    const [first, second] = [find(a), find(b)];
    if (first === undefined || second === undefined) continue;
    const [one, other] = [lists[first[0]][first[1]], lists[second[0]][second[1]]];
    if (one === undefined || other === undefined) continue;
    lists[first[0]][first[1]] = other;
    lists[second[0]][second[1]] = one;
  }
  const of = (side: Side): Ring['sides'][Side] => ({ ...ring.sides[side], entries: lists[side] });
  return { ...ring, sides: { left: of('left'), bottom: of('bottom'), right: of('right'), top: of('top') } };
}
