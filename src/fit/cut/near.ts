/** Chains of cuts near a likely one, for fillers with lengths that they cannot make. */
import { units } from '../../geometry/units.ts';
import type { DieWish } from '../../spec/order.ts';
import { type Die, lessDie } from '../die.ts';
import { type Chain, type Cuts, endOf, leastOf, SIDE_NUMBERS, type SideNumber } from './chain.ts';
import type { Best } from './every.ts';

/**
 * A good die near some cuts, so that the search of every chain has little left to look at: cuts move by a cell or two as
 * long as that makes the die less.
 */
export function bestNear(
  from: Cuts,
  chain: Chain,
  wish: DieWish,
  dieOf: (cuts: Cuts) => Die | null,
): Best | null {
  const { count, cuttable } = chain;
  const least = (cuts: Cuts, k: SideNumber): number => leastOf(chain, k, cuts[k], endOf(cuts, k, count));
  /** No side is shorter than its run is. */
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

const BY_ONE = [-1, 0, 1] as const;

/** By how many cells each cut may move at once: each by one, or a single one by two. */
const STEPS: readonly Cuts[] = [
  ...BY_ONE.flatMap((k) =>
    BY_ONE.flatMap((l) => BY_ONE.flatMap((m) => BY_ONE.map((n): Cuts => [k, l, m, n]))),
  ),
  ...[-2, 2].flatMap((by): readonly Cuts[] => [
    [by, 0, 0, 0],
    [0, by, 0, 0],
    [0, 0, by, 0],
    [0, 0, 0, by],
  ]),
];
