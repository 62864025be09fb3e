/** Packing a side of which cells are to be kept where they were: few have to move, so few are looked for first. */
import { type Packing, type PackProblem, pack, placing } from './pack.ts';
import { PIN_WEIGHT } from './problem.ts';

/** How many pins may move at first, and how fast that grows: each step costs as much as all before it. */
const AT_FIRST = 4;
const GROWTH = 4;

/**
 * The placings that lose no more than the least that some placing loses, and some more; for a length of the die's side,
 * or for any where it is null.
 */
export function packKeeping(problem: PackProblem, length: number | null): Packing {
  const total = problem.cells.reduce((sum, { kept }) => sum + (kept?.weight ?? 0), 0);
  for (let most = AT_FIRST * PIN_WEIGHT; most < total; most *= GROWTH) {
    const packing = pack(problem, most);
    if (packing.stuck === null && (length === null || placing(packing, length) !== null)) return packing;
  }
  return pack(problem);
}
