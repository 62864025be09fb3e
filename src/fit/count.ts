/** How large a ring is and how many cells it has, so that one that cannot be meant is refused before it is placed. */
import { SIDES, sideLength } from '../geometry/side.ts';
import { METRE, micrometres } from '../geometry/units.ts';
import type { Problem } from '../problems/problem.ts';
import type { FillerSet } from './fillers.ts';
import type { Fit } from './fit.ts';
import { cornerEnd, cornerStart } from './problem.ts';

/**
 * Ten thousand pins with five fillers beside each. A ring of so many cells is laid in seconds; one of millions (a
 * die of a kilometre that is filled by the micrometre) would take minutes and files that no program opens.
 */
export const MOST_CELLS = 60_000;

/** What stands against a die of more than a metre. */
export function tooLargeDie({ plan, die }: Fit): readonly Problem[] {
  if (die.width <= METRE && die.height <= METRE) return [];
  return [
    {
      code: 'die-too-large',
      message: `the die would be ${micrometres(die.width)} by ${micrometres(die.height)} um, more than a metre`,
      mend: 'correct the widths and distances that make it so large; lengths are in micrometres',
      place: plan.ring.diePlace,
    },
  ];
}

/** What stands against placing a ring of too many cells; nothing where it has few enough. */
export function tooManyCells(fit: Fit, most: number): readonly Problem[] {
  // The bound first: to count millions of fillers would take the time that this spares.
  const least = countCells(fit, leastFillers);
  const count = least.all > most ? least : countCells(fit, fewestFillers);
  if (count.all <= most) return [];
  return [
    {
      code: 'too-many-cells',
      message: `the ring would have ${count.all} cells or more, ${count.fillers} of them fillers; at most ${most} are laid`,
      mend: 'make the die smaller, or add a wider filler to the cell file; lengths are in micrometres',
      place: fit.plan.ring.diePlace,
    },
  ];
}

type CountOfGap = (gap: number, set: FillerSet | undefined) => number;

function countCells(
  { plan, rows, gaps, places, die }: Fit,
  countOf: CountOfGap,
): { readonly all: number; readonly fillers: number } {
  let listed = 4;
  let fillers = 0;
  for (const side of SIDES) {
    const cells = plan.sides[side];
    listed += cells.length;
    let s = cornerStart(plan.ring, rows, side);
    cells.forEach((cell, i) => {
      const from = places[side][i] ?? s;
      fillers += countOf(from - s, gaps[side][i]);
      s = from + cell.footprint.width;
    });
    const end = sideLength(side, die) - cornerEnd(plan.ring, rows, side);
    fillers += countOf(end - s, gaps[side][cells.length]);
  }
  return { all: listed + fillers, fillers };
}

/** No gap takes fewer than it would of the widest alone. */
const leastFillers: CountOfGap = (gap, set) => {
  const widest = set?.fillers[0]?.width;
  return widest === undefined ? 0 : Math.ceil(gap / widest);
};

const fewestFillers: CountOfGap = (gap, set) => set?.fewest(gap).length ?? 0;
