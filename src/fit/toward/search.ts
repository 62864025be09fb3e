/**
 * The nearest legal placing where rounding alone leaves gaps that no fillers fill.
 *
 * By the optimality conditions of the exact optimum x, a placing u costs more than it by the sum of w (u - x)^2 and,
 * for each distance and bound, twice its pressure times what u has to spare there: a sum of terms that are never
 * negative, each known as soon as the groups up to it are placed. The search takes placings of the first groups in
 * order of what they cost more at the least, that of the rest estimated from below by the legal gaps of direct
 * neighbours, so the first complete placing is the nearest one. No place beyond the square root of an allowance over
 * the weight is looked at; where nothing is found within the allowance, it is widened.
 */
import type { Edge, Lattice } from './lattice.ts';
import { queueOf } from './queue.ts';
import type { Pressed, Relaxed } from './relax.ts';

/** How many places are looked at before the search is given up: some seconds' worth. */
const MOST_LOOKED = 200_000_000;
/** How often the allowance is widened: by four each time. */
const MOST_WIDENED = 24;

/** What is left of the places that may be looked at. */
interface Effort {
  left: number;
}

/** A placing of the groups up to one. */
interface Partial {
  readonly group: number;
  readonly steps: number;
  readonly before: Partial | null;
  /** What it costs more than the exact optimum, and what it costs by itself. */
  readonly excess: number;
  readonly cost: number;
}

/** The steps of every group; null where the search was given up or nothing is legal. */
export function search(lattice: Lattice, relaxed: Relaxed): readonly number[] | null {
  const groups = lattice.weight.length;
  const byTo: Edge[][] = Array.from({ length: groups }, () => []);
  for (const edge of lattice.edges) byTo[edge.to]?.push(edge);
  const pressing = pressingBy(lattice, relaxed);
  const effort = { left: MOST_LOOKED };
  let allowance = 4 * Math.max(1, ...relaxed.wished.map((g) => lattice.weight[g] ?? 1));
  for (let round = 0; round < MOST_WIDENED && effort.left > 0; round++, allowance *= 4) {
    const rest = estimates(lattice, relaxed, pressing, allowance, effort);
    if (rest === null) return null;
    const found = within(lattice, relaxed, byTo, pressing, rest, allowance, effort);
    if (found !== null) return found;
  }
  return null;
}

/** What presses on a group: distances from groups before it, in groups' own numbers, and bounds. */
interface Pressing {
  readonly edges: readonly Pressed[];
  readonly least: number;
  readonly most: number;
  /** The exact place. */
  readonly place: number;
  /** The index among the groups with wishes. */
  readonly index: number;
}

function pressingBy({ weight }: Lattice, relaxed: Relaxed): readonly (Pressing | null)[] {
  const list: (Pressing | null)[] = weight.map(() => null);
  const edges: Pressed[][] = relaxed.wished.map(() => []);
  for (const edge of relaxed.edges)
    if (edge.pressure > 0)
      edges[edge.to]?.push({
        ...edge,
        from: relaxed.wished[edge.from] ?? 0,
        to: relaxed.wished[edge.to] ?? 0,
      });
  relaxed.wished.forEach((g, k) => {
    list[g] = {
      edges: edges[k] ?? [],
      least: relaxed.least.get(k) ?? 0,
      most: relaxed.most.get(k) ?? 0,
      place: relaxed.places[k] ?? 0,
      index: k,
    };
  });
  return list;
}

/** The places of a group within an allowance, and from each the least that all after it costs more. */
interface Estimate {
  readonly first: number;
  readonly last: number;
  readonly at: Float64Array;
  /** The least of all from each place on. */
  readonly onward: Float64Array;
}

/** What a place of a group costs more by itself. */
function ownExcess(lattice: Lattice, group: number, pressing: Pressing, steps: number): number {
  return (
    (lattice.weight[group] ?? 0) * (steps - pressing.place) ** 2 +
    2 * pressing.least * (steps - (lattice.low[group] ?? 0)) +
    2 * pressing.most * ((lattice.high[group] ?? 0) - steps)
  );
}

/** Estimates by group, from the last one back; groups without wishes have none. */
function estimates(
  lattice: Lattice,
  relaxed: Relaxed,
  pressing: readonly (Pressing | null)[],
  allowance: number,
  effort: Effort,
): readonly (Estimate | null)[] | null {
  const { weight, low, high, legal, denseFrom, total, edges } = lattice;
  const list: (Estimate | null)[] = weight.map(() => null);
  const direct = new Map<number, number>();
  for (const { from, to, steps } of edges) if (to === from + 1) direct.set(to, steps);
  const irregular = denseFrom.map((dense, g) => gapsBelow(legal[g], dense, (high.at(-1) ?? 0) + 1));
  for (const g of [...relaxed.wished].reverse()) {
    const own = pressing[g];
    if (own === null || own === undefined) continue;
    const reach = Math.sqrt(allowance / (weight[g] ?? 1));
    const first = Math.max(low[g] ?? 0, Math.ceil(own.place - reach));
    const last = Math.min(high[g] ?? 0, Math.floor(own.place + reach));
    const size = Math.max(0, last - first + 1);
    effort.left -= size * (1 + (irregular[g + 1]?.length ?? 0));
    if (effort.left <= 0) return null;
    const at = new Float64Array(size).fill(Number.POSITIVE_INFINITY);
    const next = nextWished(list, g);
    for (let k = 0; k < size; k++) {
      const u = first + k;
      let after = 0;
      if (next === null) {
        if (g === weight.length - 1 && legal[g + 1]?.(total - u) !== true) after = Number.POSITIVE_INFINITY;
      } else if (next.group === g + 1) {
        const least = Math.max(0, direct.get(g + 1) ?? 0);
        const dense = Math.max(least, denseFrom[g + 1] ?? 0);
        after = onwardFrom(next.estimate, u + dense);
        for (const gap of irregular[g + 1] ?? [])
          if (gap >= least) after = Math.min(after, atPlace(next.estimate, u + gap));
      } else after = onwardFrom(next.estimate, u);
      at[k] = after + ownExcess(lattice, g, own, u);
    }
    const onward = at.slice();
    for (let k = size - 2; k >= 0; k--) onward[k] = Math.min(onward[k] ?? 0, onward[k + 1] ?? 0);
    list[g] = { first, last, at, onward };
  }
  return list;
}

function nextWished(
  list: readonly (Estimate | null)[],
  after: number,
): { readonly group: number; readonly estimate: Estimate } | null {
  for (let group = after + 1; group < list.length; group++) {
    const estimate = list[group];
    if (estimate !== null && estimate !== undefined) return { group, estimate };
  }
  return null;
}

const atPlace = ({ first, at }: Estimate, steps: number): number =>
  at[steps - first] ?? Number.POSITIVE_INFINITY;

const onwardFrom = ({ first, onward }: Estimate, steps: number): number =>
  onward[Math.max(0, steps - first)] ?? Number.POSITIVE_INFINITY;

/** The legal gaps that come before all are legal. */
function gapsBelow(
  legal: ((steps: number) => boolean) | undefined,
  dense: number,
  most: number,
): readonly number[] {
  const gaps: number[] = [];
  for (let gap = 0; gap < Math.min(dense, most); gap++) if (legal?.(gap) === true) gaps.push(gap);
  return gaps;
}

/** The nearest placing that costs no more than the allowance beyond the exact optimum. */
function within(
  lattice: Lattice,
  relaxed: Relaxed,
  byTo: readonly (readonly Edge[])[],
  pressing: readonly (Pressing | null)[],
  rest: readonly (Estimate | null)[],
  allowance: number,
  effort: Effort,
): readonly number[] | null {
  const { weight, low, high, legal, denseFrom, total } = lattice;
  const groups = weight.length;
  const oldest = oldestNeeded(lattice, relaxed);
  const closed = new Map<string, Partial[]>();
  const queue = queueOf<Partial>();

  const onward = (from: Partial | null): void => {
    const group = (from?.group ?? -1) + 1;
    const end = from?.steps ?? 0;
    const own = pressing[group] ?? null;
    let need = Math.max(end, low[group] ?? 0);
    for (const edge of byTo[group] ?? []) need = Math.max(need, placeOf(from, edge.from) + edge.steps);
    if (own === null) {
      for (const steps of freePlaces(
        legal[group],
        legal[group + 1],
        denseFrom[group + 1] ?? 0,
        end,
        need,
        high[group] ?? 0,
        effort,
      )) {
        if (group === groups - 1 && legal[groups]?.(total - steps) !== true) continue;
        const next = nextWished(rest, group);
        const after = next === null ? 0 : onwardFrom(next.estimate, steps);
        const excess = from?.excess ?? 0;
        if (excess + after <= allowance)
          queue.put(excess + after, { group, steps, before: from, excess, cost: from?.cost ?? 0 });
      }
      return;
    }
    const estimate = rest[group];
    if (estimate === null || estimate === undefined) return;
    effort.left -= Math.max(1, estimate.last - Math.max(need, estimate.first));
    for (let steps = Math.max(need, estimate.first); steps <= estimate.last; steps++) {
      if (legal[group]?.(steps - end) !== true) continue;
      const after = atPlace(estimate, steps);
      let excess = from?.excess ?? 0;
      for (const edge of own.edges)
        excess += 2 * edge.pressure * (steps - placeOf(from, edge.from) - edge.steps);
      if (excess + after > allowance) continue;
      const least = excess + after;
      excess += ownExcess(lattice, group, own, steps);
      const wish = relaxed.wishes[own.index] ?? 0;
      const cost = (from?.cost ?? 0) + (weight[group] ?? 0) * (steps - wish) ** 2;
      queue.put(least, { group, steps, before: from, excess, cost });
    }
  };

  onward(null);
  for (let partial = queue.take(); partial !== undefined; partial = queue.take()) {
    if (partial.group === groups - 1) return stepsOf(partial);
    if (effort.left <= 0) return null;
    const key = `${partial.group}:${partial.steps}`;
    const known = closed.get(key) ?? [];
    const { group } = partial;
    if (known.some((other) => rulesOut(other, partial as Partial, oldest[group] ?? group))) continue;
    known.push(partial);
    closed.set(key, known);
    onward(partial);
  }
  return null;
}

/** Whether whatever completes the one placing completes the other too, at no more cost. */
function rulesOut(a: Partial, b: Partial, oldest: number): boolean {
  if (a.cost > b.cost) return false;
  let [x, y]: [Partial | null, Partial | null] = [a.before, b.before];
  while (x !== null && y !== null && x.group >= oldest) {
    if (x === y) return true;
    if (x.steps > y.steps) return false;
    [x, y] = [x.before, y.before];
  }
  return true;
}

/** For each group the earliest one that a later group still looks back to. */
function oldestNeeded({ weight, edges }: Lattice, relaxed: Relaxed): readonly number[] {
  const oldest = weight.map((_, g) => g);
  const look = (from: number, to: number): void => {
    for (let g = from; g < to; g++) oldest[g] = Math.min(oldest[g] ?? g, from);
  };
  for (const { from, to } of edges) look(from, to);
  for (const edge of relaxed.edges)
    if (edge.pressure > 0) look(relaxed.wished[edge.from] ?? 0, relaxed.wished[edge.to] ?? 0);
  return oldest;
}

function placeOf(partial: Partial | null, group: number): number {
  let here = partial;
  while (here !== null && here.group > group) here = here.before;
  return here?.steps ?? 0;
}

function stepsOf(partial: Partial): readonly number[] {
  const steps: number[] = [];
  for (let here: Partial | null = partial; here !== null; here = here.before) steps.push(here.steps);
  return steps.reverse();
}

/**
 * Places worth trying for a group that has no wish: the earliest legal one, and later ones that the gap after it could
 * not make up for.
 */
function* freePlaces(
  legal: ((steps: number) => boolean) | undefined,
  next: ((steps: number) => boolean) | undefined,
  dense: number,
  end: number,
  need: number,
  high: number,
  effort: Effort,
): Generator<number> {
  let first: number | undefined;
  for (let steps = need; steps <= high && effort.left > 0; steps++) {
    effort.left--;
    if (legal?.(steps - end) !== true) continue;
    first ??= steps;
    if (Number.isFinite(dense) && steps - first > dense) return;
    if (steps === first || next?.(steps - first) !== true) yield steps;
  }
}
