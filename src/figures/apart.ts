/**
 * Places nearest to wished ones, in weighted least squares, where any two may have to keep a least distance in a
 * given order, such as next-but-one pads of a staggered side: a convex quadratic program with difference rules,
 * solved exactly by the dual active-set method (Goldfarb and Idnani, Mathematical Programming 27, 1983).
 *
 * Rules that hold with equality form a forest of blocks, and a block moves as one. A violated rule presses its two
 * blocks apart until it holds, or until the pressure of some rule inside a block falls to zero and that one lets
 * go. Within one block a rule cannot move anything: its pressure passes along the path between its ends until a
 * rule on it lets go; where none can, the rules contradict each other and the path names them. Pressures never fall below zero and
 * the distance to the wishes only grows, so no set of rules comes twice and the end is the one optimum.
 *
 * Halves are solved before their whole, so where rules join near neighbours only, few steps of a whole's length
 * follow and the time is near to linear. Where distances alternate so that joining two halves changes which rules hold all along,
 * it grows with the square.
 */
import {
  type ApartWishes,
  type Forest,
  forestOf,
  inward,
  num,
  type Press,
  pressEnd,
  pressPath,
  type Rules,
  rulesOf,
} from './blocks.ts';

export type { ApartRule, ApartWishes } from './blocks.ts';

/** What a solution stands on, or what contradicts: indices into `rules`, and places whose bound takes part. */
export interface Standing {
  readonly rules: readonly { readonly rule: number; readonly pressure: number }[];
  readonly least: readonly { readonly place: number; readonly pressure: number }[];
  readonly most: readonly { readonly place: number; readonly pressure: number }[];
}

export type ApartPlaces =
  | { readonly places: Float64Array; readonly stands: Standing }
  | { readonly conflict: Standing };

/** The places nearest to the wishes under the rules and bounds, or a set of rules that contradict each other. */
export function nearestApart(wanted: ApartWishes): ApartPlaces {
  const n = wanted.wishes.length;
  const rules = rulesOf(wanted);
  const { from, to, distance } = rules;
  const wishes = Float64Array.from(wanted.wishes);
  const weights = wanted.weights ? Float64Array.from(wanted.weights) : new Float64Array(n).fill(1);
  const places = wishes.slice();
  const pressure = new Float64Array(from.length);
  const forest = forestOf(rules, weights);
  const below = new Float64Array(n);
  const placeOf = (i: number): number => (i === n ? 0 : num(places, i));
  let scale = 1;
  for (const list of [wishes, distance]) for (const value of list) scale = Math.max(scale, Math.abs(value));
  // Below this a rule counts as held while solving; the end result is worked out afresh from its tight rules.
  const slip = 1e-12 * scale;
  const short = (rule: number): number =>
    num(distance, rule) - (placeOf(num(to, rule)) - placeOf(num(from, rule)));

  /** Presses a rule until it holds; returns what moved, or the contradiction. */
  const hold = (rule: number, moved: (order: readonly number[]) => void): Press | undefined => {
    const [before, after] = [num(from, rule), num(to, rule)];
    for (;;) {
      const press: Press = { rules: [], rates: [], moves: [] };
      const ahead = after === n ? undefined : forest.block(after);
      if (ahead && before < n && forest.found(before)) pressPath(rules, forest, press, before, 1);
      else {
        if (ahead) pressEnd(rules, forest, weights, below, press, ahead, 1);
        if (before < n) pressEnd(rules, forest, weights, below, press, forest.block(before), -1);
      }
      let closing = 0;
      for (const { speed } of press.moves) closing += Math.abs(speed);
      let step = closing > 0 ? Math.max(0, short(rule)) / closing : Number.POSITIVE_INFINITY;
      let loose = -1;
      for (const [j, k] of press.rules.entries()) {
        const rate = press.rates[j] as number;
        if (rate < 0 && num(pressure, k) < -rate * step) [step, loose] = [num(pressure, k) / -rate, k];
      }
      if (step === Number.POSITIVE_INFINITY) {
        press.rules.push(rule);
        press.rates.push(1);
        return press;
      }
      for (const [j, k] of press.rules.entries())
        pressure[k] = num(pressure, k) + step * (press.rates[j] as number);
      pressure[rule] = num(pressure, rule) + step;
      for (const { order, speed } of press.moves) {
        for (const i of order) places[i] = num(places, i) + step * speed;
        moved(order);
      }
      if (loose < 0) {
        forest.tighten(rule);
        return undefined;
      }
      pressure[loose] = 0;
      forest.loosen(loose);
    }
  };

  const waiting = new Uint8Array(from.length);
  /** Makes the given rules hold, and all others of the range that give way meanwhile. */
  const settle = (first: readonly number[], low: number, high: number): Press | undefined => {
    const queue: number[] = [];
    const inRange = (i: number): boolean => i === n || (i >= low && i < high);
    const wait = (rule: number): void => {
      if (waiting[rule] === 1 || short(rule) <= slip) return;
      if (!inRange(num(from, rule)) || !inRange(num(to, rule))) return;
      waiting[rule] = 1;
      queue.push(rule);
    };
    const moved = (order: readonly number[]): void => {
      for (const i of order) for (const rule of rules.of[i] ?? []) wait(rule);
    };
    for (const rule of first) wait(rule);
    for (const rule of queue) {
      waiting[rule] = 0;
      if (short(rule) <= slip) continue;
      const contradiction = hold(rule, moved);
      if (contradiction) return contradiction;
    }
    return undefined;
  };

  /** Solves the places of a range under the rules among them, halves first. */
  const solve = (low: number, high: number, among: readonly number[]): Press | undefined => {
    if (high - low <= 1) return settle(among, low, high);
    const middle = (low + high) >> 1;
    const parts: [number[], number[], number[]] = [[], [], []];
    for (const rule of among) {
      const ends = [num(from, rule), num(to, rule)].filter((i) => i < n);
      parts[ends.every((i) => i < middle) ? 0 : ends.every((i) => i >= middle) ? 1 : 2].push(rule);
    }
    return solve(low, middle, parts[0]) ?? solve(middle, high, parts[1]) ?? settle(parts[2], low, high);
  };

  const contradiction = n > 0 ? solve(0, n, [...from.keys()]) : undefined;
  if (contradiction)
    return { conflict: standing(rules, contradiction.rules, (_, j) => contradiction.rates[j] ?? 0) };
  const tight = finish(rules, forest, weights, wishes, places, pressure);
  return { places, stands: standing(rules, tight, (rule) => num(pressure, rule)) };
}

/** Works out places and pressures afresh from the tight rules alone, so that no rounding of the steps remains. */
function finish(
  rules: Rules,
  forest: Forest,
  weights: Float64Array,
  wishes: Float64Array,
  places: Float64Array,
  pressure: Float64Array,
): readonly number[] {
  const n = places.length;
  const done = new Uint8Array(n);
  const tight: number[] = [];
  const pull = new Float64Array(n);
  for (let start = 0; start < n; start++) {
    if (done[start] === 1) continue;
    let block = forest.block(start);
    if (block.anchorRule >= 0) block = forest.block(block.anchorPlace);
    const root = block.order[0] ?? start;
    let moment = 0;
    places[root] = 0;
    for (const i of block.order) {
      done[i] = 1;
      const parent = num(forest.parent, i);
      const rule = num(forest.ruleTo, i);
      if (parent >= 0) places[i] = num(places, parent) + inward(rules, rule, i) * num(rules.distance, rule);
      moment += num(weights, i) * (num(wishes, i) - num(places, i));
    }
    const anchored = block.anchorRule;
    const shift =
      anchored >= 0 ? inward(rules, anchored, root) * num(rules.distance, anchored) : moment / block.weight;
    for (const i of block.order) {
      places[i] = num(places, i) + shift;
      pull[i] = num(weights, i) * (num(places, i) - num(wishes, i));
    }
    for (const i of block.order.toReversed()) {
      const parent = num(forest.parent, i);
      const rule = parent >= 0 ? num(forest.ruleTo, i) : anchored;
      if (parent >= 0) pull[parent] = num(pull, parent) + num(pull, i);
      if (rule < 0) continue;
      pressure[rule] = Math.max(0, inward(rules, rule, i) * num(pull, i));
      tight.push(rule);
    }
  }
  return tight;
}

/** Rules by where they come from. */
function standing(
  { origin, from, to }: Rules,
  list: readonly number[],
  pressureOf: (rule: number, index: number) => number,
): Standing {
  const stands = {
    rules: [] as { rule: number; pressure: number }[],
    least: [] as { place: number; pressure: number }[],
    most: [] as { place: number; pressure: number }[],
  };
  for (const [j, rule] of list.entries()) {
    const pressure = pressureOf(rule, j);
    const from1 = num(origin, rule);
    if (from1 >= 0) stands.rules.push({ rule: from1, pressure });
    else if (from1 === -1) stands.least.push({ place: num(to, rule), pressure });
    else stands.most.push({ place: num(from, rule), pressure });
  }
  return stands;
}
