/**
 * Every chain of cuts that may still be the best, one after another: for fillers with lengths that they cannot make,
 * and for rings whose corners ask for more than the sides do. The least lengths of the runs bound each chain from below;
 * what a chain really takes is for the caller to say.
 */

import { units } from '../../geometry/units.ts';
import type { DieWish } from '../../spec/order.ts';
import { type Die, lessDie } from '../die.ts';
import type { Effort } from '../pack.ts';
import { type Chain, type Cuts, leastOf, type SideNumber } from './chain.ts';

export interface Every {
  readonly chain: Chain;
  readonly wish: DieWish;
  /** The least extents for the core. */
  readonly core: { readonly width: number; readonly height: number };
  /** No chain with a longer side is looked at. */
  readonly most: { readonly width: number; readonly height: number };
  /** The least length of side k with the cells from i up to j, where the caller knows better than the runs. */
  readonly least: (k: number, i: number, j: number) => number;
  /** The die that a chain takes, or null; `chains` counts how many were asked for. */
  readonly dieOf: (cuts: Cuts) => Die | null;
  /** Only a die less than this one counts. */
  readonly than: Die | null;
  /** No die is less than this one: a chain that reaches it ends the search. */
  readonly floor: Die;
  /** After so many chains asked for the search is given up, */
  readonly patience: number;
  /** or when this is spent; each stretch looked at takes one. */
  readonly effort: Effort;
}

export interface Best {
  readonly die: Die;
  readonly cuts: Cuts;
}

/** The best chain within the bounds, or null; `complete` unless patience or effort ran out. */
export function bestOfEvery(every: Every): { readonly best: Best | null; readonly complete: boolean } {
  const { chain, wish, core, most, than, patience, effort } = every;
  const { count, cuttable, ways } = chain;
  const limits = [most.height, most.width, most.height, most.width] as const;
  let best: Best | null = null;
  let bound = than;
  let asked = 0;
  let done = false;

  const worth = (width: number, height: number): boolean => {
    if (bound === null) return true;
    const die = raised(wish, width, height);
    return lessDie(die, bound, wish.least);
  };
  const farthest = (k: SideNumber, i: number, close: number): number => {
    const from = i % count;
    return Math.min(
      close,
      i - from + Math.min(ways[k].until[from] ?? 0, ways[k].runs.farthest(from, limits[k])),
    );
  };
  const reached = reachOf(count, (k, i) => farthest(k, i, i + count));

  const follow = (first: number, cuts: readonly number[], width: number, height: number): void => {
    const close = first + count;
    const k = cuts.length;
    const i = k === 0 ? first : (cuts[k - 1] ?? first);
    const side = k as SideNumber;
    for (let j = k === 3 ? close : farthest(side, i, close); j >= (k === 3 ? close : i); j--) {
      if (done || asked >= patience || effort.left-- < 0) return;
      if (cuttable[j % count] !== true || reached(k + 1, j) < close) continue;
      const grow = (length: number): readonly [number, number] =>
        k % 2 === 0 ? [width, Math.max(height, length)] : [Math.max(width, length), height];
      const lower = leastOf(chain, side, i, j);
      if (lower > limits[side] || !worth(...grow(lower))) continue;
      const length = every.least(side, i % count, j - i + (i % count));
      const [w, h] = grow(length);
      if (length > limits[side] || !worth(w, h)) continue;
      if (k < 3) follow(first, [...cuts, j], w, h);
      else {
        const [b, r, t] = cuts;
        if (b === undefined || r === undefined || t === undefined) continue;
        asked++;
        const die = every.dieOf([first, b, r, t]);
        if (die !== null && (bound === null || lessDie(die, bound, wish.least))) {
          best = { die, cuts: [first, b, r, t] };
          bound = die;
          done = !lessDie(every.floor, die, wish.least);
        }
      }
    }
  };
  for (let first = 0; first < count && asked < patience && effort.left >= 0 && !done; first++)
    if (cuttable[first] === true) follow(first, [], wish.width ?? core.width, wish.height ?? core.height);
  return { best, complete: asked < patience && effort.left >= 0 };
}

/**
 * How far the sides from the k-th on reach from each cell, at the most: a chain that cannot close any more is not
 * followed. `farthest` is the end of what side k may hold from a cell on.
 */
function reachOf(
  count: number,
  farthest: (k: SideNumber, i: number) => number,
): (k: number, i: number) => number {
  const after: Int32Array[] = [];
  let next = Int32Array.from({ length: count }, (_, i) => i);
  const from = (table: Int32Array, i: number): number => (table[i % count] ?? 0) + i - (i % count);
  for (const k of [3, 2, 1] as const) {
    const further = next;
    next = Int32Array.from({ length: count }, (_, i) => {
      let most = i;
      for (let j = farthest(k, i); j >= i; j--) most = Math.max(most, from(further, j));
      return most;
    });
    after[k] = next;
  }
  return (k, i) => {
    const table = after[k];
    return table === undefined ? i : from(table, i);
  };
}

/** Extents with the smaller one raised as far as the aspect asks. */
function raised({ aspect }: DieWish, width: number, height: number): Die {
  if (aspect === null) return { width: units(width), height: units(height) };
  return {
    width: units(Math.max(width, height / aspect)),
    height: units(Math.max(height, width / aspect)),
  };
}
