/**
 * Which shapes come closer than a reach, without comparing all with all: shapes are kept by side, in order along
 * it, so that only neighbours and the few near a corner are looked at.
 */
import type { Box } from './turn.ts';

/** Shapes in order of their low edge along x or y, with what a search needs. */
export interface Sorted<T extends Box> {
  readonly items: readonly T[];
  readonly vertical: boolean;
  /** The greatest high edge up to each index. */
  readonly highest: Float64Array;
  readonly bounds: Box;
}

/** How often two shapes may be compared, so that shapes heaped on one spot cannot stall the checker. */
export interface Effort {
  left: number;
}

/** Enough for any ring whose shapes do not lie in heaps: some dozens of neighbours each. */
export const effortFor = (shapes: number): Effort => ({ left: 64 * shapes + 20_000 });

/** What a pair found costs beside its comparison: a heap is reported by some of its pairs, not by all. */
const FOUND = 15;

export function sortedAlong<T extends Box>(list: readonly T[], vertical: boolean): Sorted<T> {
  const items = ascending(list, vertical);
  const highest = new Float64Array(items.length);
  let high = Number.NEGATIVE_INFINITY;
  let [x0, y0, x1, y1] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, high, high];
  for (let i = 0; i < items.length; i++) {
    const b = items[i];
    if (b === undefined) continue;
    high = Math.max(high, vertical ? b.y1 : b.x1);
    highest[i] = high;
    if (b.x0 < x0) x0 = b.x0;
    if (b.y0 < y0) y0 = b.y0;
    if (b.x1 > x1) x1 = b.x1;
    if (b.y1 > y1) y1 = b.y1;
  }
  return { items, vertical, highest, bounds: { x0, y0, x1, y1 } };
}

/** By low edge; a list that stands in either order already is not sorted again. */
function ascending<T extends Box>(list: readonly T[], vertical: boolean): readonly T[] {
  let up = true;
  let down = true;
  for (let i = 1; i < list.length && (up || down); i++) {
    const [a, b] = [list[i - 1], list[i]];
    if (a === undefined || b === undefined) continue;
    const step = vertical ? b.y0 - a.y0 : b.x0 - a.x0;
    if (step < 0) up = false;
    if (step > 0) down = false;
  }
  if (up) return list;
  const copy = [...list];
  if (down) return copy.reverse();
  return copy.sort(vertical ? (a, b) => a.y0 - b.y0 : (a, b) => a.x0 - b.x0);
}

/** Whether two boxes are closer than a reach both in x and in y; reach 0 asks whether they overlap. */
export const closerThan = (a: Box, b: Box, reach: number): boolean =>
  a.x0 - b.x1 < reach && b.x0 - a.x1 < reach && a.y0 - b.y1 < reach && b.y0 - a.y1 < reach;

/** Visits every pair of one list that is closer than the reach. */
export function closeWithin<T extends Box>(
  list: Sorted<T>,
  reach: number,
  effort: Effort,
  visit: (a: T, b: T) => void,
): void {
  const { items, vertical } = list;
  for (let i = 0; i < items.length; i++) {
    const a = items[i];
    if (a === undefined) continue;
    const end = (vertical ? a.y1 : a.x1) + reach;
    for (let j = i + 1; j < items.length; j++) {
      const b = items[j];
      if (b === undefined || (vertical ? b.y0 : b.x0) >= end) break;
      if (effort.left-- <= 0) return;
      if (!closerThan(a, b, reach)) continue;
      effort.left -= FOUND;
      visit(a, b);
    }
  }
}

/** The first item of a list whose high edge, or one before it, lies beyond a place. */
function firstBeyond<T extends Box>({ items, highest }: Sorted<T>, place: number): number {
  let from = 0;
  let to = items.length;
  while (from < to) {
    const middle = (from + to) >> 1;
    if ((highest[middle] ?? 0) > place) to = middle;
    else from = middle + 1;
  }
  return from;
}

/** Visits every pair of two lists that is closer than the reach. */
export function closeAcross<A extends Box, B extends Box>(
  first: Sorted<A>,
  second: Sorted<B>,
  reach: number,
  effort: Effort,
  visit: (a: A, b: B) => void,
): void {
  const { bounds, items: others, vertical } = second;
  if (!closerThan(first.bounds, bounds, reach)) return;
  const end = (first.vertical ? bounds.y1 : bounds.x1) + reach;
  for (let i = firstBeyond(first, (first.vertical ? bounds.y0 : bounds.x0) - reach); ; i++) {
    const a = first.items[i];
    if (a === undefined || (first.vertical ? a.y0 : a.x0) >= end) return;
    if (effort.left-- <= 0) return;
    if (!closerThan(a, bounds, reach)) continue;
    const high = (vertical ? a.y1 : a.x1) + reach;
    for (let j = firstBeyond(second, (vertical ? a.y0 : a.x0) - reach); ; j++) {
      const b = others[j];
      if (b === undefined || (vertical ? b.y0 : b.x0) >= high) break;
      if (effort.left-- <= 0) return;
      if (!closerThan(b, a, reach)) continue;
      effort.left -= FOUND;
      visit(a, b);
    }
  }
}

/** Visits every close pair of several lists, within each and between any two. */
export function closeAmong<T extends Box>(
  lists: readonly Sorted<T>[],
  reach: number,
  effort: Effort,
  visit: (a: T, b: T) => void,
): void {
  lists.forEach((list, i) => {
    closeWithin(list, reach, effort, visit);
    for (const other of lists.slice(i + 1)) closeAcross(list, other, reach, effort, visit);
  });
}

/** Visits every close pair of a shape of the first lists with one of the second. */
export function closeBetween<A extends Box, B extends Box>(
  first: readonly Sorted<A>[],
  second: readonly Sorted<B>[],
  reach: number,
  effort: Effort,
  visit: (a: A, b: B) => void,
): void {
  for (const a of first) for (const b of second) closeAcross(a, b, reach, effort, visit);
}
