/** Which sides the cells of an order can keep to, whatever their lengths: the cut that puts the fewest on a wrong one. */
import { SIDES, type Side } from '../../geometry/side.ts';
import type { Cuts } from './chain.ts';
import type { Lap } from './lap.ts';

/** A cell of the lap on a side where it may not lie. */
export interface Misplaced {
  readonly cell: number;
  readonly side: Side;
}

export interface Keeping {
  readonly cuts: Cuts;
  readonly misplaced: readonly Misplaced[];
}

/**
 * The cut that misplaces the fewest cells; none where all can keep to their sides. Walks once around from each cut, on
 * one side after the other. Null where no corner may lie anywhere.
 */
export function fewestMisplaced(lap: Lap): Keeping | null {
  const { count, cuttable, mayLie } = lap;
  const wrong = SIDES.map((side) => mayLie[side].map((may) => (may ? 0 : 1)));
  const anywhere = wrong.every((side) => side.every((cost) => cost === 0));
  let best: { cost: number; cuts: Cuts } | null = null;
  for (let first = 0; first < count; first++) {
    if (cuttable[first] !== true) continue;
    // By side: the fewest misplaced so far with the walk on it, and where each side began.
    let cost = [0, 0, 0, 0];
    let begins: readonly (readonly number[])[] = [
      [first],
      [first, first],
      [first, first, first],
      [first, first, first, first],
    ];
    for (let c = first; c < first + count; c++) {
      if (c > first && cuttable[c % count] === true) {
        const [nextCost, nextBegins] = [[...cost], [...begins]];
        for (let k = 1; k < 4; k++)
          if ((nextCost[k - 1] ?? 0) < (nextCost[k] ?? 0)) {
            nextCost[k] = nextCost[k - 1] ?? 0;
            nextBegins[k] = [...(nextBegins[k - 1] ?? []), c];
          }
        [cost, begins] = [nextCost, nextBegins];
      }
      cost = cost.map((sum, k) => sum + (wrong[k]?.[c % count] ?? 0));
    }
    cost.forEach((sum, k) => {
      if (best !== null && best.cost <= sum) return;
      const [a = first, b = first + count, c = first + count, d = first + count] = begins[k] ?? [];
      best = { cost: sum, cuts: [a, b, c, d] };
    });
    if (anywhere) break;
  }
  return best === null ? null : misplacedOf(lap, best);
}

function misplacedOf(lap: Lap, { cuts }: { readonly cuts: Cuts }): Keeping {
  const misplaced = SIDES.flatMap((side, k) => {
    const to = k === 3 ? cuts[0] + lap.count : (cuts[k + 1] ?? 0);
    const cells: Misplaced[] = [];
    for (let c = cuts[k] ?? 0; c < to; c++)
      if (lap.mayLie[side][c % lap.count] !== true) cells.push({ cell: c % lap.count, side });
    return cells;
  });
  return { cuts, misplaced };
}
