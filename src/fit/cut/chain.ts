/**
 * Four sides in a chain around the lap: whether cuts exist with which every side keeps within a length. A run of the
 * order need not be easier to hold than a longer one (rows take turns from each cut on, fillers leave lengths out), so
 * a cut is not taken for good because it reaches farthest: every chain is followed until one closes, and only what no
 * chain can make up is left out.
 */
import type { Runs } from './runs.ts';

/** What one side can be: its runs, and for each first cell the end of those that may lie on it. */
export interface Way {
  readonly runs: Runs;
  readonly until: Int32Array;
}

export type Ways = readonly [Way, Way, Way, Way];

/** The four first cells, from the left side on; those after the lap's end are counted on. */
export type Cuts = readonly [number, number, number, number];

export interface Chain {
  readonly count: number;
  /** Whether a corner may lie before a cell. */
  readonly cuttable: readonly boolean[];
  readonly ways: Ways;
}

/** The sides by number, in the order in which they follow each other. */
export const SIDE_NUMBERS = [0, 1, 2, 3] as const;
export type SideNumber = (typeof SIDE_NUMBERS)[number];

/** The least length of a side with the cells from i, of whichever lap, up to j; Infinity where they may not lie on it. */
export function leastOf({ count, ways }: Chain, k: SideNumber, i: number, j: number): number {
  const from = i % count;
  const to = j - i + from;
  const { runs, until } = ways[k];
  return to > (until[from] ?? 0) ? Number.POSITIVE_INFINITY : runs.least(from, to);
}

/** The end of side k, from its first cell on. */
export const endOf = (cuts: Cuts, k: SideNumber, count: number): number =>
  k === 3 ? cuts[0] + count : cuts[(k + 1) as SideNumber];

/** Lengths by side: left, bottom, right, top. */
export type Limits = readonly [number, number, number, number];

/** Ends that were asked for lately, by way and length: halving one extent asks for the other's again and again. */
const lately = new WeakMap<Way, Map<number, Int32Array>>();
const KEPT = 16;

function ends(chain: Chain, way: Way, length: number): Int32Array {
  const known = lately.get(way) ?? new Map<number, Int32Array>();
  lately.set(way, known);
  const there = known.get(length);
  if (there !== undefined) return there;
  if (known.size >= KEPT) known.clear();
  const far = endsWithin(chain, way, length);
  known.set(length, far);
  return far;
}

/** For each first cell the farthest end within a length; -1 where there is none. */
function endsWithin(chain: Chain, { runs, until }: Way, length: number): Int32Array {
  const { count, cuttable } = chain;
  const far = new Int32Array(count).fill(-1);
  for (let i = 0; i < count; i++) {
    if (cuttable[i] !== true) continue;
    let j = Math.min(until[i] ?? i, runs.farthest(i, length));
    while (j > i && (cuttable[j % count] !== true || runs.least(i, j) > length)) j--;
    if (j > i || runs.least(i, i) <= length) far[i] = j;
  }
  return far;
}

/** Cuts with which each side keeps within its length, or null. Of several the one that comes first. */
export function cutsWithin(chain: Chain, limits: Limits): Cuts | null {
  const { count, cuttable, ways } = chain;
  const far = ways.map((way, k) => {
    const like = ways.findIndex(
      (w, r) => w.runs === way.runs && w.until === way.until && limits[r] === limits[k],
    );
    return { like, ends: like < k ? null : ends(chain, way, limits[k] ?? 0) };
  });
  const endsOf = (k: number): Int32Array =>
    far[k]?.ends ?? far[far[k]?.like ?? 0]?.ends ?? new Int32Array(count);
  const by = [endsOf(0), endsOf(1), endsOf(2), endsOf(3)] as const;
  const most = by.map((end) => end.reduce((cells, j, i) => Math.max(cells, j - i), -1));
  if (most.some((cells) => cells < 0) || most.reduce((sum, cells) => sum + cells, 0) < count) return null;
  const beyond = by.map((end) => bestUpTo(end, count));
  const after = [0, 1, 2, 3].map((k) => most.slice(k + 1).reduce((sum, cells) => sum + cells, 0));
  const seen = new Int32Array(4 * (2 * count + 1)).fill(-1);
  const cuts: [number, number, number, number] = [0, 0, 0, 0];

  const fits = (k: SideNumber, i: number, j: number): boolean => leastOf(chain, k, i, j) <= limits[k];
  const follow = (first: number, k: SideNumber, i: number): boolean => {
    cuts[k] = i;
    const close = first + count;
    if (k === 3) return fits(3, i, close);
    const lap = i >= count ? count : 0;
    const farthest = Math.min(close, (by[k][i - lap] ?? -1) + lap);
    for (let j = farthest; j >= Math.max(i, close - (after[k] ?? 0)); j--) {
      const state = (k + 1) * (2 * count + 1) + j;
      if (cuttable[j % count] !== true || seen[state] === first || !fits(k, i, j)) continue;
      if (follow(first, (k + 1) as SideNumber, j)) return true;
      seen[state] = first;
    }
    return false;
  };
  for (let first = 0; first < count; first++) {
    if (cuttable[first] !== true) continue;
    let end = by[0][first] ?? -1;
    for (let k = 1; k < 4 && end >= first; k++) end = beyond[k]?.[Math.min(end, 2 * count - 1)] ?? -1;
    if (end >= first + count && follow(first, 0, first)) return cuts;
  }
  return null;
}

/** Over two laps, the farthest end from any first cell up to each. */
function bestUpTo(end: Int32Array, count: number): Int32Array {
  const best = new Int32Array(2 * count);
  let far = -1;
  for (let i = 0; i < 2 * count; i++) {
    const lap = i >= count ? count : 0;
    const j = end[i - lap] ?? -1;
    if (j >= 0) far = Math.max(far, j + lap);
    best[i] = far;
  }
  return best;
}

/** More chains than this are not weighed against each other. */
const MOST_WEIGHED = 4_000_000;

/**
 * Of the cuts within some lengths, those that leave the slack most even: the least sum of its squares, exact over all
 * chains; the first of several. Null where the chains are too many to weigh: then none is worth more than another.
 */
export function evenest(chain: Chain, limits: Limits): Cuts | null {
  const { count, cuttable, ways } = chain;
  const by = ways.map((way, k) => ends(chain, way, limits[k] ?? 0));
  const widest = by.map((end) => end.reduce((cells, j, i) => Math.max(cells, j - i), -1));
  const after = [0, 1, 2, 3].map((k) => widest.slice(k + 1).reduce((sum, cells) => sum + cells, 0));
  const spare = widest.reduce((sum, cells) => sum + cells, 0) - count;
  if (spare < 0 || count * (spare + 1) * (spare + 1) > MOST_WEIGHED) return null;
  const slack = (k: SideNumber, i: number, j: number): number => {
    const left = limits[k] - leastOf(chain, k, i, j);
    return left >= 0 ? left * left : Number.POSITIVE_INFINITY;
  };
  let best: Cuts | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let first = 0; first < count; first++) {
    if (cuttable[first] !== true) continue;
    const close = first + count;
    let from = new Map<number, { sum: number; cuts: readonly number[] }>([[first, { sum: 0, cuts: [] }]]);
    for (const k of [0, 1, 2] as const) {
      const next = new Map<number, { sum: number; cuts: readonly number[] }>();
      for (const [i, { sum, cuts }] of from) {
        const lap = i >= count ? count : 0;
        const farthest = Math.min(close, (by[k]?.[i - lap] ?? -1) + lap);
        for (let j = Math.max(i, close - (after[k] ?? 0)); j <= farthest; j++) {
          if (cuttable[j % count] !== true) continue;
          const total = sum + slack(k, i, j);
          if (total < Math.min(least, next.get(j)?.sum ?? Number.POSITIVE_INFINITY))
            next.set(j, { sum: total, cuts: [...cuts, i] });
        }
      }
      from = next;
    }
    for (const [i, { sum, cuts }] of from) {
      const total = sum + slack(3, i, close);
      const [a, b, c] = cuts;
      if (total >= least || a === undefined || b === undefined || c === undefined) continue;
      least = total;
      best = [a, b, c, i];
    }
  }
  return best;
}
