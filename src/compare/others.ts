/** Cells without pins against each other: they have no identity but their footprint and place. */
import type { PlacedCell, Placement } from '../format/placement.ts';
import { centreOf, placeOn, rounded } from './pins.ts';

export interface OtherCells {
  readonly footprint: string;
  /** How many there are. */
  readonly from: number;
  readonly to: number;
  /** How many of those in both stand elsewhere. */
  readonly moved: number;
}

export function otherCells(a: Placement, b: Placement): readonly OtherCells[] {
  const [before, after] = [byFootprint(a), byFootprint(b)];
  return [...new Set([...after.keys(), ...before.keys()])].sort().flatMap((footprint) => {
    const [from, to] = [before.get(footprint) ?? [], after.get(footprint) ?? []];
    const free = new Map<string, number>();
    for (const place of from) free.set(place, (free.get(place) ?? 0) + 1);
    let still = 0;
    for (const place of to) {
      const count = free.get(place) ?? 0;
      if (count > 0) still++;
      free.set(place, count - 1);
    }
    const moved = Math.min(from.length, to.length) - still;
    return from.length === to.length && moved === 0
      ? []
      : [{ footprint, from: from.length, to: to.length, moved }];
  });
}

function byFootprint(placement: Placement): ReadonlyMap<string, readonly string[]> {
  const groups = new Map<string, string[]>();
  for (const cell of placement.cells) {
    if ((cell.pins ?? []).length > 0) continue;
    const group = groups.get(cell.footprint);
    if (group) group.push(placeText(cell, placement.die));
    else groups.set(cell.footprint, [placeText(cell, placement.die)]);
  }
  return groups;
}

/** In the side's frame, or, for a corner cell, from the die's edges that are nearest. */
function placeText(cell: PlacedCell, die: Placement['die']): string {
  const { x, y } = centreOf(cell);
  const turn = [cell.rotation, cell.mirrored, cell.section];
  if (cell.side !== null) {
    const { side, s, t } = placeOn(cell.side, die, x, y);
    return JSON.stringify([side, s, t, ...turn]);
  }
  const [right, upper] = [x > die.width / 2, y > die.height / 2];
  return JSON.stringify([
    right,
    upper,
    rounded(right ? die.width - x : x),
    rounded(upper ? die.height - y : y),
    ...turn,
  ]);
}
