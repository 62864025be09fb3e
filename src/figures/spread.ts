/**
 * Where supplies go: a row of loads, open or closed to a ring, is cut at allowed places so that the worst stretch
 * between two cuts carries as little load as possible. Exact.
 *
 * Proof. Loads are not negative, so from a given cut the latest allowed cut that keeps the stretch within a bound B serves
 * every continuation that an earlier one serves: taking it always uses the fewest cuts, and B can be kept just when that
 * fewest is not more than there are. On a ring every solution has a cut in the window from any place to its latest
 * reach, so trying each place of one window as the start decides it. The least B is the load of some stretch. A
 * bound that fails makes the same choices, and fails, up to the least load by which one of its stretches would grow:
 * that is the new lower end. A bound that holds lowers the upper end to the worst stretch that it left. Halving between
 * them ends at the least bound exactly.
 */

export interface LoadRow {
  /** The load of each item, not negative. */
  readonly loads: readonly number[];
  /** Whether the last item is followed by the first. */
  readonly closed: boolean;
  /**
   * Where a new cut may be, ascending, each once: place i is before item i, and an open row of n items has the
   * place n after the last one too.
   */
  readonly allowed: readonly number[];
  /** Cuts that stand already, ascending, counted beside the new ones. */
  readonly fixed: readonly number[];
}

export interface Spread {
  /** The new cuts, ascending; fewer than asked for only where no allowed place is left. */
  readonly cuts: readonly number[];
  /** The load of the worst stretch. */
  readonly worst: number;
}

/** An open stretch between two cuts or ends: the loads up to each allowed place inside, from its start to its end. */
interface Segment {
  /** Ascending; the first is the start and the last the end. */
  readonly upTo: readonly number[];
  /** The place of each. */
  readonly places: readonly number[];
}

interface Tried {
  /** Indices of the cuts, or undefined where the bound fails. */
  readonly cuts: readonly number[] | undefined;
  /** No bound below this one takes any choice other than those taken. */
  readonly next: number;
}

const at = (list: readonly number[], i: number): number => list[i] as number;

/** Cuts a segment as late as a bound allows; fails where one step alone exceeds it, or beyond `most` cuts. */
function latest({ upTo }: Segment, bound: number, most: number): Tried {
  const last = upTo.length - 1;
  const cuts: number[] = [];
  let next = Number.POSITIVE_INFINITY;
  let start = 0;
  let i = 0;
  for (;;) {
    while (i < last && at(upTo, i + 1) - at(upTo, start) <= bound) i++;
    if (i === last) return { cuts, next };
    next = Math.min(next, at(upTo, i + 1) - at(upTo, start));
    if (i === start || cuts.length === most) return { cuts: undefined, next };
    cuts.push(i);
    start = i;
  }
}

const worstOf = ({ upTo }: Segment, cuts: readonly number[]): number => {
  let worst = 0;
  let start = 0;
  for (const cut of [...cuts, upTo.length - 1]) {
    worst = Math.max(worst, at(upTo, cut) - at(upTo, start));
    start = cut;
  }
  return worst;
};

/** The least bound, from one that holds: `attempt` gives the worst that a bound left, or from where to try on. */
function leastBound(
  holds: number,
  attempt: (bound: number) => { readonly worst: number } | { readonly next: number },
): number {
  let [low, high] = [0, holds];
  while (low < high) {
    const middle = low + (high - low) / 2;
    const tried = attempt(middle < high ? middle : low);
    if ('worst' in tried) high = tried.worst;
    else low = tried.next;
  }
  return high;
}

/** The least worst stretch of a segment with at most so many cuts. */
const leastOfSegment = (segment: Segment, most: number): number =>
  leastBound(worstOf(segment, []), (bound) => {
    const { cuts, next } = latest(segment, bound, most);
    return cuts ? { worst: worstOf(segment, cuts) } : { next };
  });

/** Exactly so many cuts (or all places) of a segment that keep a bound, as near to equal shares as it allows. */
function evenCuts(segment: Segment, count: number, bound: number): readonly number[] {
  const { upTo } = segment;
  const last = upTo.length - 1;
  const n = Math.min(count, last - 1);
  // The earliest place of each cut: from the end, as far back as the bound reaches.
  const earliest: number[] = new Array(n);
  let after = last;
  let i = last;
  for (let k = n - 1; k >= 0; k--) {
    while (i > 0 && at(upTo, after) - at(upTo, i - 1) <= bound) i--;
    i = Math.max(i, k + 1);
    earliest[k] = i;
    after = i;
  }
  const cuts: number[] = [];
  let before = 0;
  for (let k = 0; k < n; k++) {
    const low = Math.max(before + 1, at(earliest, k));
    const ideal = (at(upTo, last) * (k + 1) + at(upTo, 0) * (n - k)) / (n + 1);
    let cut = low;
    while (
      cut < last - (n - k) &&
      at(upTo, cut + 1) - at(upTo, before) <= bound &&
      Math.abs(at(upTo, cut + 1) - ideal) < Math.abs(at(upTo, cut) - ideal)
    )
      cut++;
    cuts.push(cut);
    before = cut;
  }
  return cuts;
}

/** The segments between fixed cuts and ends. */
function segmentsOf({ loads, closed, allowed, fixed }: LoadRow): readonly Segment[] {
  const n = loads.length;
  const sums = [0];
  for (const load of loads) sums.push(at(sums, sums.length - 1) + load);
  const total = at(sums, n);
  const start = fixed[0] ?? 0;
  const around = closed && fixed.length > 0;
  const [from, to] = around ? [start, start + n] : [0, n];
  const loadUpTo = (place: number): number => (place >= n ? total + at(sums, place - n) : at(sums, place));
  const turn = (place: number): number => (around && place < start ? place + n : place);
  const walls = [...new Set([from, ...fixed.map(turn), to])].sort((a, b) => a - b);
  const inside = allowed.map(turn).sort((a, b) => a - b);
  const segments: Segment[] = [];
  let i = 0;
  for (const [k, wall] of walls.slice(1).entries()) {
    const places = [at(walls, k)];
    while (i < inside.length && at(inside, i) <= at(walls, k)) i++;
    for (; i < inside.length && at(inside, i) < wall; i++) places.push(at(inside, i));
    places.push(wall);
    segments.push({ places, upTo: places.map(loadUpTo) });
  }
  return segments;
}

/** Shares new cuts out to segments: what the common bound needs, then each further one where it is worst. */
function shareOut(segments: readonly Segment[], count: number): readonly number[] {
  const bound = leastBound(Math.max(0, ...segments.map((s) => worstOf(s, []))), (tried) => {
    let [used, worst, next] = [0, 0, Number.POSITIVE_INFINITY];
    for (const segment of segments) {
      const attempt = latest(segment, tried, count - used);
      next = Math.min(next, attempt.next);
      if (!attempt.cuts) return { next };
      used += attempt.cuts.length;
      worst = Math.max(worst, worstOf(segment, attempt.cuts));
    }
    return { worst };
  });
  const counts = segments.map((s) => latest(s, bound, count).cuts?.length ?? 0);
  const worst = segments.map((s, k) => leastOfSegment(s, at(counts, k)));
  let rest = count - counts.reduce((sum, c) => sum + c, 0);
  const room = (k: number): boolean => at(counts, k) < (segments[k]?.places.length ?? 0) - 2;
  while (rest > 0) {
    let pick = -1;
    for (const k of segments.keys()) if (room(k) && (pick < 0 || at(worst, k) > at(worst, pick))) pick = k;
    const segment = segments[pick];
    if (!segment) break;
    counts[pick] = at(counts, pick) + 1;
    worst[pick] = leastOfSegment(segment, at(counts, pick));
    rest--;
  }
  return counts;
}

/** The first cut of a best solution on a ring without fixed ones. */
function ringStart(row: LoadRow, count: number): number | undefined {
  const { loads, allowed } = row;
  const m = allowed.length;
  const sums = [0];
  for (const load of loads) sums.push(at(sums, sums.length - 1) + load);
  const total = at(sums, loads.length);
  // Twice around, so that every stretch is a difference.
  const upTo = [...allowed.map((p) => at(sums, p)), ...allowed.map((p) => at(sums, p) + total)];
  let best = allowed[0];
  leastBound(total, (bound) => {
    let next = Number.POSITIVE_INFINITY;
    const reach = new Int32Array(m);
    for (let i = 0, j = 0; i < m; i++) {
      j = Math.max(i, j);
      while (j < i + m && at(upTo, j + 1) - at(upTo, i) <= bound) j++;
      if (j === i) return { next: at(upTo, i + 1) - at(upTo, i) };
      reach[i] = j;
    }
    const jump = (i: number): number => {
      const round = i >= m ? m : 0;
      const j = (reach[i - round] as number) + round;
      if (j < i + m) next = Math.min(next, at(upTo, j + 1 - round) - at(upTo, i - round));
      return j;
    };
    // The narrowest of the windows of one walk around.
    let [from, width] = [0, m];
    for (let k = 0, i = 0; k < count && i < m; k++) {
      const j = jump(i);
      if (j - i < width) [from, width] = [i, j - i];
      i = j;
    }
    for (let s = from + 1; s <= from + width; s++) {
      const start = s % m;
      let [i, worst] = [start, 0];
      for (let k = 0; k < count && i < start + m; k++) {
        const j = Math.min(jump(i), start + m);
        const round = i >= m ? m : 0;
        worst = Math.max(worst, at(upTo, j - round) - at(upTo, i - round));
        i = j;
      }
      if (i >= start + m) {
        best = allowed[start];
        return { worst };
      }
    }
    return { next };
  });
  return best;
}

/** Places `count` new cuts so that the worst stretch carries as little load as possible, evenly where it is free. */
export function spread(row: LoadRow, count: number): Spread {
  const n = row.loads.length;
  if (row.closed && row.fixed.length === 0) {
    const start = count > 0 ? ringStart(row, count) : undefined;
    if (start === undefined) return { cuts: [], worst: row.loads.reduce((sum, load) => sum + load, 0) };
    const rest = spread({ ...row, fixed: [start] }, count - 1);
    return { cuts: [...rest.cuts, start].sort((a, b) => a - b), worst: rest.worst };
  }
  const segments = segmentsOf(row);
  const counts = shareOut(segments, count);
  const cuts: number[] = [];
  let worst = 0;
  for (const [k, segment] of segments.entries()) {
    const chosen = evenCuts(segment, at(counts, k), leastOfSegment(segment, at(counts, k)));
    worst = Math.max(worst, worstOf(segment, chosen));
    for (const cut of chosen) cuts.push(at(segment.places, cut) % (row.closed ? n : n + 1));
  }
  return { cuts: cuts.sort((a, b) => a - b), worst };
}
