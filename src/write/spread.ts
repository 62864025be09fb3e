/** Texts in a row: each as near as can be to where it belongs, none on another. */

/** What is put into the row: where it belongs, and the room that it takes to both sides of there. */
export interface Wish {
  readonly at: number;
  readonly room: number;
}

/**
 * The places of wishes that are in order, between two bounds, such that neighbours do not overlap and the sum of
 * squared distances is least: isotonic regression by pooling, once the rooms in front are taken off. Undefined
 * where the bounds hold too little.
 */
export function spread(wishes: readonly Wish[], low: number, high: number): readonly number[] | undefined {
  const before: number[] = [];
  let sum = 0;
  for (const { room } of wishes) {
    before.push(sum + room / 2);
    sum += room;
  }
  if (sum > high - low + 1e-9) return undefined;
  const pools: { mean: number; count: number }[] = [];
  wishes.forEach(({ at }, i) => {
    let pool = { mean: at - (before[i] ?? 0), count: 1 };
    for (let last = pools.at(-1); last !== undefined && last.mean > pool.mean; last = pools.at(-1)) {
      const count = last.count + pool.count;
      pool = { mean: (last.mean * last.count + pool.mean * pool.count) / count, count };
      pools.pop();
    }
    pools.push(pool);
  });
  const places: number[] = [];
  for (const { mean, count } of pools) {
    const start = Math.min(Math.max(mean, low), high - sum);
    for (let i = 0; i < count; i++) places.push(start + (before[places.length] ?? 0));
  }
  return places;
}
