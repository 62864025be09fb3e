/**
 * The nearest places without regard to which gaps are legal: least squares under all distances and bounds, first
 * exactly, then in whole steps.
 *
 * Rounding every place to the nearest step, halves upward, keeps all distances, for they are whole; and it is the best
 * whole choice. Whether a place reaches k is a yes or no, and a distance makes yesses of one group demand yesses
 * of another; the cost of a choice is a sum over these, k adding w (2 (k - a) - 1), which is the slope of w (u - a)^2
 * at k - 1/2. The same yesses at the levels k - 1/2 are what the exact optimum minimises too, level for level with the
 * same fraction. So group g reaches k in whole steps where it reaches k - 1/2 exactly.
 */
import { nearestApart } from '../../figures/apart.ts';
import type { Edge, Lattice } from './lattice.ts';

/** A distance between two groups with wishes, by their indices among these, and how hard it presses. */
export interface Pressed extends Edge {
  pressure: number;
}

export interface Relaxed {
  /** The groups that have wishes, in order. */
  readonly wished: readonly number[];
  /** Their wishes, and their exact places, in steps. */
  readonly wishes: readonly number[];
  readonly places: readonly number[];
  /** The distances among them, with the pressures of half the sum of squares. */
  readonly edges: readonly Pressed[];
  /** The pressures of the bounds that hold, by the same indices. */
  readonly least: ReadonlyMap<number, number>;
  readonly most: ReadonlyMap<number, number>;
  /** All groups in whole steps, those without wishes as early as can be. */
  readonly rounded: readonly number[];
}

/** The nearest places; undefined where the distances and bounds contradict each other. */
export function relax(lattice: Lattice): Relaxed | undefined {
  const { step, weight, moment, low, high } = lattice;
  const wished = weight.flatMap((w, g) => (w > 0 ? [g] : []));
  const at = (list: readonly number[], k: number): number => list[wished[k] ?? 0] ?? 0;
  const wishes = wished.map((_, k) => at(moment, k) / at(weight, k) / step);
  const edges = edgesAmong(lattice, wished);
  const least = wished.map((_, k) => at(low, k));
  const most = wished.map((_, k) => at(high, k));
  const solved = nearestApart({
    wishes,
    weights: wished.map((_, k) => at(weight, k)),
    rules: edges.map(({ from, to, steps }) => ({ before: from, after: to, distance: steps })),
    least,
    most,
  });
  if ('conflict' in solved) return undefined;
  const { stands, places } = solved;
  for (const { rule, pressure } of stands.rules) {
    const edge = edges[rule];
    if (edge !== undefined) edge.pressure = pressure;
  }
  const anchors = new Map<number, number>();
  for (const { place } of stands.least) anchors.set(place, least[place] ?? 0);
  for (const { place } of stands.most) anchors.set(place, most[place] ?? 0);
  const tight = stands.rules.flatMap(({ rule }) => edges[rule] ?? []);
  const whole = roundBlocks(lattice, wished, tight, anchors);
  return {
    wished,
    wishes,
    places: [...places],
    edges,
    least: new Map(stands.least.map(({ place, pressure }) => [place, pressure])),
    most: new Map(stands.most.map(({ place, pressure }) => [place, pressure])),
    rounded: withFree(lattice, wished, whole),
  };
}

/** The distances among groups with wishes; those by way of groups without are worked out. */
function edgesAmong({ weight, edges }: Lattice, wished: readonly number[]): Pressed[] {
  const indexOf = new Map(wished.map((g, k) => [g, k]));
  const out: Edge[][] = weight.map(() => []);
  for (const edge of edges) out[edge.from]?.push(edge);
  const among: Pressed[] = [];
  wished.forEach((start, k) => {
    const reached = new Map<number, number>([[start, 0]]);
    // Groups come in order, and an edge leads onward only.
    const queue = [start];
    for (let i = 0; i < queue.length; i++) {
      queue.sort((a, b) => a - b);
      const group = queue[i] ?? 0;
      if (group !== start && indexOf.has(group)) continue;
      for (const { to, steps } of out[group] ?? []) {
        const distance = (reached.get(group) ?? 0) + steps;
        if (!reached.has(to)) queue.push(to);
        reached.set(to, Math.max(reached.get(to) ?? Number.NEGATIVE_INFINITY, distance));
      }
    }
    for (const [group, steps] of reached) {
      const to = indexOf.get(group);
      if (to !== undefined && group !== start) among.push({ from: k, to, steps, pressure: 0 });
    }
  });
  return among.sort((a, b) => a.to - b.to || a.from - b.from);
}

/**
 * Blocks held together by tight distances move as one; each one's place is rounded from the sums of its wishes, whole
 * numbers of units, so that no rounding of doubles decides a half.
 */
function roundBlocks(
  { step, weight, moment }: Lattice,
  wished: readonly number[],
  tight: readonly Edge[],
  anchors: ReadonlyMap<number, number>,
): readonly number[] {
  const links: { to: number; steps: number }[][] = wished.map(() => []);
  for (const { from, to, steps } of tight) {
    links[from]?.push({ to, steps });
    links[to]?.push({ to: from, steps: -steps });
  }
  const steps: number[] = new Array(wished.length).fill(0);
  const done = new Set<number>();
  wished.forEach((_, root) => {
    if (done.has(root)) return;
    const block = [root];
    const offset = new Map<number, number>([[root, 0]]);
    for (const k of block)
      for (const link of links[k] ?? [])
        if (!offset.has(link.to)) {
          offset.set(link.to, (offset.get(k) ?? 0) + link.steps);
          block.push(link.to);
        }
    let [sum, all] = [0n, 0n];
    let place: number | undefined;
    for (const k of block) {
      done.add(k);
      const [g, off, anchor] = [wished[k] ?? 0, offset.get(k) ?? 0, anchors.get(k)];
      if (anchor !== undefined) place ??= anchor - off;
      sum += BigInt(moment[g] ?? 0) - BigInt(step) * BigInt(weight[g] ?? 0) * BigInt(off);
      all += BigInt(weight[g] ?? 0);
    }
    place ??= halfUp(sum, all * BigInt(step));
    for (const k of block) steps[k] = place + (offset.get(k) ?? 0);
  });
  return steps;
}

/** A fraction to the nearest whole number, halves upward. */
function halfUp(over: bigint, under: bigint): number {
  const [a, b] = [2n * over + under, 2n * under];
  return Number(a >= 0n || a % b === 0n ? a / b : a / b - 1n);
}

/** All groups: those without wishes as early as bounds and distances let them. */
function withFree(
  { low, edges, weight }: Lattice,
  wished: readonly number[],
  whole: readonly number[],
): readonly number[] {
  const steps = [...low];
  wished.forEach((g, k) => {
    steps[g] = whole[k] ?? 0;
  });
  for (const { from, to, steps: least } of edges)
    if ((weight[to] ?? 0) === 0) steps[to] = Math.max(steps[to] ?? 0, (steps[from] ?? 0) + least);
  return steps;
}
