/**
 * The inside of the solver for places apart: all rules in one form, the forest of those that hold with equality,
 * and how a violated rule presses on it.
 */

/** The place `after` is at least `distance` beyond the place `before`. */
export interface ApartRule {
  readonly before: number;
  readonly after: number;
  readonly distance: number;
}

export interface ApartWishes {
  readonly wishes: readonly number[];
  /** Above zero, one for each wish; all equal where left out. */
  readonly weights?: readonly number[];
  readonly rules: readonly ApartRule[];
  /** Bounds of each place; -Infinity and Infinity leave it free, equal ones fix it. */
  readonly least?: readonly number[];
  readonly most?: readonly number[];
}

export const num = (list: Float64Array | Int32Array, i: number): number => list[i] as number;

/** All rules in one form, bounds as rules against an anchor, the place n at 0 that nothing moves. */
export interface Rules {
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly distance: Float64Array;
  /** Which of the wishes' rules each is: 0 and up, or a bound: -1 least, -2 most. */
  readonly origin: Int32Array;
  /** The rules at each place, the anchor's left out. */
  readonly of: readonly (readonly number[])[];
}

export function rulesOf({ wishes, rules, least, most }: ApartWishes): Rules {
  const n = wishes.length;
  const list: (readonly [from: number, to: number, distance: number, origin: number])[] = [];
  for (const [k, { before, after, distance }] of rules.entries()) list.push([before, after, distance, k]);
  for (const [i, bound] of (least ?? []).entries()) if (Number.isFinite(bound)) list.push([n, i, bound, -1]);
  for (const [i, bound] of (most ?? []).entries()) if (Number.isFinite(bound)) list.push([i, n, -bound, -2]);
  const of: number[][] = Array.from({ length: n }, () => []);
  for (const [k, [from, to]] of list.entries()) {
    of[from]?.push(k);
    of[to]?.push(k);
  }
  return {
    from: Int32Array.from(list, (r) => r[0]),
    to: Int32Array.from(list, (r) => r[1]),
    distance: Float64Array.from(list, (r) => r[2]),
    origin: Int32Array.from(list, (r) => r[3]),
    of,
  };
}

/** A block seen from one of its places, in the order found. */
export interface Block {
  readonly order: readonly number[];
  readonly weight: number;
  /** The tight rule that holds the block to the anchor, and the place that it holds; -1 where the block is free. */
  readonly anchorRule: number;
  readonly anchorPlace: number;
}

/** The forest of tight rules. */
export interface Forest {
  /** Explores the block of a place; `ruleTo` and `parent` then lead from each of its places back to that one. */
  readonly block: (start: number) => Block;
  readonly ruleTo: Int32Array;
  readonly parent: Int32Array;
  /** Whether the last exploration found the place. */
  readonly found: (place: number) => boolean;
  readonly tighten: (rule: number) => void;
  readonly loosen: (rule: number) => void;
}

export function forestOf({ from, to }: Rules, weights: Float64Array): Forest {
  const n = weights.length;
  const tight: number[][] = Array.from({ length: n }, () => []);
  const ruleTo = new Int32Array(n);
  const parent = new Int32Array(n);
  const seen = new Int32Array(n);
  let turn = 0;
  return {
    ruleTo,
    parent,
    found: (place) => seen[place] === turn,
    block: (start) => {
      turn++;
      const order = [start];
      seen[start] = turn;
      ruleTo[start] = -1;
      parent[start] = -1;
      let [weight, anchorRule, anchorPlace] = [0, -1, -1];
      for (const place of order) {
        weight += num(weights, place);
        for (const rule of tight[place] ?? []) {
          const other = from[rule] === place ? num(to, rule) : num(from, rule);
          if (other === n) [anchorRule, anchorPlace] = [rule, place];
          else if (seen[other] !== turn) {
            seen[other] = turn;
            ruleTo[other] = rule;
            parent[other] = place;
            order.push(other);
          }
        }
      }
      return { order, weight, anchorRule, anchorPlace };
    },
    tighten: (rule) => {
      tight[num(from, rule)]?.push(rule);
      tight[num(to, rule)]?.push(rule);
    },
    loosen: (rule) => {
      for (const end of [num(from, rule), num(to, rule)]) {
        const list = tight[end];
        list?.splice(list.indexOf(rule), 1);
      }
    },
  };
}

/** How pressures and places change as a violated rule presses: per unit of its pressure. */
export interface Press {
  readonly rules: number[];
  readonly rates: number[];
  /** Places that move, and how fast. */
  readonly moves: { readonly order: readonly number[]; readonly speed: number }[];
}

/** The rate of the rule that leads to a place, when flow runs through it into the place's part of the block. */
export const inward = ({ to }: Rules, rule: number, place: number): number => (to[rule] === place ? 1 : -1);

/** Flow of a sign from the explored start along the path to a place. */
export function pressPath(rules: Rules, forest: Forest, press: Press, place: number, sign: number): void {
  for (let i = place; num(forest.parent, i) >= 0; i = num(forest.parent, i)) {
    const rule = num(forest.ruleTo, i);
    press.rules.push(rule);
    press.rates.push(sign * inward(rules, rule, i));
  }
}

/** Presses one end of a rule with a sign: its block moves, or passes the flow on to the anchor. */
export function pressEnd(
  rules: Rules,
  forest: Forest,
  weights: Float64Array,
  below: Float64Array,
  press: Press,
  block: Block,
  sign: number,
): void {
  if (block.anchorRule >= 0) {
    pressPath(rules, forest, press, block.anchorPlace, sign);
    press.rules.push(block.anchorRule);
    press.rates.push(sign * inward(rules, block.anchorRule, weights.length));
    return;
  }
  for (const place of block.order) below[place] = num(weights, place);
  for (const place of block.order.toReversed()) {
    const parent = num(forest.parent, place);
    if (parent < 0) continue;
    below[parent] = num(below, parent) + num(below, place);
    const rule = num(forest.ruleTo, place);
    press.rules.push(rule);
    press.rates.push((sign * inward(rules, rule, place) * num(below, place)) / block.weight);
  }
  press.moves.push({ order: block.order, speed: sign / block.weight });
}
