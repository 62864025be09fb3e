/**
 * Places in a row nearest to wished ones, in least squares, where only direct neighbours keep distances: with the
 * cumulative distances subtracted it is bounded isotonic regression, solved exactly in linear time by pooling
 * adjacent violators (Ayer, Brunk, Ewing, Reid and Silverman 1955). Each pool's best level is its weighted mean,
 * kept within the bounds of its members; pooling stays exact for any convex cost of each member, and a mean kept
 * within bounds is the least point of one (Best, Chakravarti and Ubhaya 2000).
 */

export interface OrderedWishes {
  readonly wishes: readonly number[];
  /** Above zero, one for each wish; all equal where left out. */
  readonly weights?: readonly number[];
  /** The least distance from each place to the next: one fewer than wishes. */
  readonly distances: readonly number[];
  /** Bounds of each place; -Infinity and Infinity leave it free, equal ones fix it. */
  readonly least: readonly number[];
  readonly most: readonly number[];
}

/** Either the places, or the first pair of places whose bounds the distances between them cannot meet. */
export type OrderedPlaces =
  | { readonly places: readonly number[] }
  | { readonly conflict: readonly [first: number, last: number] };

interface Pool {
  readonly weight: number;
  /** The sum of weight times wish, so that merging is exact to rounding. */
  readonly moment: number;
  readonly least: number;
  readonly most: number;
  readonly count: number;
}

const at = (list: readonly number[], i: number): number => list[i] as number;

const level = (pool: Pool): number => Math.min(Math.max(pool.moment / pool.weight, pool.least), pool.most);

/** The places nearest to the wishes, least sum of weighted squares. */
export function nearestInOrder({ wishes, weights, distances, least, most }: OrderedWishes): OrderedPlaces {
  const n = wishes.length;
  const offsets = [0];
  for (const d of distances) offsets.push(at(offsets, offsets.length - 1) + d);
  // Bounds reach on to neighbours: a place is at least where the ones before it push it.
  let [highest, from] = [Number.NEGATIVE_INFINITY, 0];
  const low: number[] = [];
  for (let i = 0; i < n; i++) {
    const bound = at(least, i) - at(offsets, i);
    if (bound > highest) [highest, from] = [bound, i];
    low.push(highest);
    if (highest > at(most, i) - at(offsets, i)) return { conflict: [from, i] };
  }
  const high: number[] = new Array(n);
  let lowest = Number.POSITIVE_INFINITY;
  for (let i = n - 1; i >= 0; i--) {
    lowest = Math.min(lowest, at(most, i) - at(offsets, i));
    high[i] = lowest;
  }
  const pools: Pool[] = [];
  for (let i = 0; i < n; i++) {
    const weight = weights ? at(weights, i) : 1;
    const wish = at(wishes, i) - at(offsets, i);
    let pool: Pool = { weight, moment: weight * wish, least: at(low, i), most: at(high, i), count: 1 };
    for (let last = pools.at(-1); last && level(last) > level(pool); last = pools.at(-1)) {
      pools.pop();
      pool = {
        weight: last.weight + pool.weight,
        moment: last.moment + pool.moment,
        least: pool.least,
        most: last.most,
        count: last.count + pool.count,
      };
    }
    pools.push(pool);
  }
  const places: number[] = [];
  for (const pool of pools) {
    const here = level(pool);
    for (let k = 0; k < pool.count; k++) places.push(here + at(offsets, places.length));
  }
  return { places };
}
