/** Chains of cuts near a likely one, for fillers with lengths that they cannot make. */
import { units } from '../../geometry/units.ts';
import type { DieWish } from '../../spec/order.ts';
import { type Die, lessDie } from '../die.ts';
import type { Chain, Cuts } from './chain.ts';
import type { Best } from './every.ts';

/**
 * A good die near some cuts, so that the search of every chain has little left to look at: cuts move by a cell or two as
 * long as that makes the die less.
 */
export function bestNear(
  from: Cuts,
  { count, cuttable, ways }: Chain,
  wish: DieWish,
  dieOf: (cuts: Cuts) => Die | null,
): Best | null {
  /** No side is shorter than its run is. */
  const least = (cuts: Cuts, k: 0 | 1 | 2 | 3): number => {
    const from = cuts[k] % count;
    const to = (k === 3 ? cuts[0] + count : (cuts[k + 1] ?? 0)) - cuts[k] + from;
    return to > (ways[k].until[from] ?? 0) ? Number.POSITIVE_INFINITY : ways[k].runs.least(from, to);
  };
  const isHopeless = (cuts: Cuts, than: Die): boolean =>
    !lessDie(
      {
        width: units(Math.max(least(cuts, 1), least(cuts, 3))),
        height: units(Math.max(least(cuts, 0), least(cuts, 2))),
      },
      than,
      wish.least,
    );
  const isAllowed = (cuts: Cuts): boolean => SIDE_NUMBERS.every((k) => Number.isFinite(least(cuts, k)));
  const first = dieOf(from);
  let best: Best | null = first === null ? null : { die: first, cuts: from };
  const tried = new Set<string>();
  let centre: Cuts | null = from;
  while (centre !== null) {
    const [a, b, c, d]: Cuts = centre;
    centre = null;
    for (const [k, l, m, n] of STEPS) {
      const shift = a + k < 0 ? count : a + k >= count ? -count : 0;
      const cuts: Cuts = [a + k + shift, b + l + shift, c + m + shift, d + n + shift];
      const [p, q, r, t] = cuts;
      if (p > q || q > r || r > t || t > p + count) continue;
      if (tried.has(cuts.join()) || cuts.some((cut) => cuttable[cut % count] !== true)) continue;
      tried.add(cuts.join());
      if (!isAllowed(cuts) || (best !== null && isHopeless(cuts, best.die))) continue;
      const die = dieOf(cuts);
      if (die === null || (best !== null && !lessDie(die, best.die, wish.least))) continue;
      best = { die, cuts };
      centre = cuts;
    }
  }
  return best;
}

const SIDE_NUMBERS = [0, 1, 2, 3] as const;

/** By how many cells each cut may move at once: one each, or two of one. */
const STEPS: readonly Cuts[] = [-2, -1, 0, 1, 2].flatMap((k) =>
  [-2, -1, 0, 1, 2].flatMap((l) =>
    [-2, -1, 0, 1, 2].flatMap((m) =>
      [-2, -1, 0, 1, 2].flatMap((n): readonly Cuts[] => {
        const all = [k, l, m, n].map(Math.abs);
        const isWide = all.some((by) => by > 1);
        return isWide && all.filter((by) => by > 0).length > 1 ? [] : [[k, l, m, n]];
      }),
    ),
  ),
);
