/**
 * Which shapes come closer than a reach, without comparing all with all: shapes are kept by side, in order along
 * it, so that only neighbours and the few near a corner are looked at.
 */
import type { Box } from './turn.ts';

/** Shapes in order of their low edge along x or y, with what a search needs. */
export interface Sorted<T extends Box> {
  readonly items: readonly T[];
  /** Four numbers an item: its low and high edge along the order, then across it. */
  readonly edges: Float64Array;
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
  const edges = new Float64Array(4 * items.length);
  const highest = new Float64Array(items.length);
  let high = Number.NEGATIVE_INFINITY;
  let [x0, y0, x1, y1] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, high, high];
  for (let i = 0; i < items.length; i++) {
    const b = items[i];
    if (b === undefined) continue;
    const { x0: left, y0: low, x1: right, y1: top } = b;
    edges[4 * i] = vertical ? low : left;
    edges[4 * i + 1] = vertical ? top : right;
    edges[4 * i + 2] = vertical ? left : low;
    edges[4 * i + 3] = vertical ? right : top;
    high = Math.max(high, vertical ? top : right);
    highest[i] = high;
    if (left < x0) x0 = left;
    if (low < y0) y0 = low;
    if (right > x1) x1 = right;
    if (top > y1) y1 = top;
  }
  return { items, edges, vertical, highest, bounds: { x0, y0, x1, y1 } };
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
  const { items, edges } = list;
  for (let i = 0; i < edges.length; i += 4) {
    const end = (edges[i + 1] ?? 0) + reach;
    const low = (edges[i + 2] ?? 0) - reach;
    const high = (edges[i + 3] ?? 0) + reach;
    for (let j = i + 4; j < edges.length && (edges[j] ?? 0) < end; j += 4) {
      if (effort.left-- <= 0) return;
      if ((edges[j + 2] ?? 0) >= high || (edges[j + 3] ?? 0) <= low) continue;
      // The order is by low edges alone: the second may still end before the first begins.
      if ((edges[j + 1] ?? 0) <= (edges[i] ?? 0) - reach) continue;
      const [a, b] = [items[i / 4], items[j / 4]];
      if (a === undefined || b === undefined) continue;
      effort.left -= FOUND;
      visit(a, b);
    }
  }
}

/** The first item of a list whose high edge, or one before it, lies beyond a place. */
function firstBeyond<T extends Box>({ highest }: Sorted<T>, place: number): number {
  let from = 0;
  let to = highest.length;
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
  const { bounds, items: others, vertical, edges } = second;
  if (!closerThan(first.bounds, bounds, reach)) return;
  const start = (first.vertical ? bounds.y0 : bounds.x0) - reach;
  const end = (first.vertical ? bounds.y1 : bounds.x1) + reach;
  const turned = first.vertical !== vertical;
  for (let i = firstBeyond(first, start); i < first.items.length; i++) {
    const along = first.edges[4 * i] ?? 0;
    if (along >= end) return;
    if (effort.left-- <= 0) return;
    // The reach around the item, in the second list's axes.
    const alongEnd = first.edges[4 * i + 1] ?? 0;
    const across = first.edges[4 * i + 2] ?? 0;
    const acrossEnd = first.edges[4 * i + 3] ?? 0;
    const from = (turned ? across : along) - reach;
    const to = (turned ? acrossEnd : alongEnd) + reach;
    const low = (turned ? along : across) - reach;
    const high = (turned ? alongEnd : acrossEnd) + reach;
    for (let j = firstBeyond(second, from); j < others.length; j++) {
      if ((edges[4 * j] ?? 0) >= to) break;
      if (effort.left-- <= 0) return;
      if (
        (edges[4 * j + 1] ?? 0) <= from ||
        (edges[4 * j + 2] ?? 0) >= high ||
        (edges[4 * j + 3] ?? 0) <= low
      )
        continue;
      const [a, b] = [first.items[i], others[j]];
      if (a === undefined || b === undefined) continue;
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
