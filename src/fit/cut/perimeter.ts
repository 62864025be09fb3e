/**
 * A bound for the sum of a die's width and height that no cut gets below. The cells of the whole lap, placed as one run
 * that owes nothing to corners, are no longer than the stretches between any cuts together with one step from each to
 * the next; and opposite sides are each at most as long as their extent.
 */
import type { Chain } from './chain.ts';
import { type Distances, distancesOf } from './distances.ts';
import { runsOf } from './runs.ts';
import type { Strand } from './strand.ts';

/** How many steps a cut ring adds to its lap at the most: one a cut, and one where the lap's own run begins. */
const STEPS = 5;

/** The bound; 0 where none is known: sides of several kinds, or a fixed cell. */
export function leastHalfPerimeter({ count, ways }: Chain): number {
  const [{ runs }] = ways;
  const { strand, depths } = runs.setting;
  if (strand.holds || count === 0 || ways.some((way) => way.runs.setting.strand !== strand)) return 0;
  const nearest = inAnyRows(distancesOf(strand, depths));
  const none = new Float64Array(2 * count).fill(Number.NEGATIVE_INFINITY);
  const plain: Strand = {
    ...strand,
    rowsMatter: false,
    padDeep: new Float64Array(strand.padDeep.length),
    graded: new Float64Array(0),
    low: none,
    tail: none,
    lowBeside: none,
    tailBeside: none,
  };
  const lap = runsOf(
    { strand: plain, depths: { outer: 0, inner: 0, padded: true }, start: 0, end: 0 },
    () => nearest,
  );
  const length = lap.least(0, count);
  if (!Number.isFinite(length)) return 0;
  const corners = ways.reduce((sum, way) => sum + way.runs.setting.start + way.runs.setting.end, 0);
  return Math.max(0, (corners + length - STEPS * longestStep(strand, nearest)) / 2);
}

/** Between each two pads the least distance that any rows of theirs ask for. */
function inAnyRows(distances: Distances): Distances {
  const least = distances.least.slice();
  for (let k = 0; k < distances.from.length; k++) {
    const own = least.subarray(4 * k, 4 * k + 4);
    own.fill(own.reduce((a, b) => Math.min(a, b)));
  }
  return { ...distances, least };
}

/** From the start edge of one cell to that of the next, no rule asks for more. */
function longestStep(strand: Strand, distances: Distances): number {
  let longest = distances.least.reduce((a, b) => Math.max(a, b), 0);
  longest = strand.ruleDistance.reduce((a, b) => Math.max(a, b), longest);
  for (let c = 0; c < strand.width.length; c++)
    longest = Math.max(longest, (strand.width[c] ?? 0) + (strand.gap[c] ?? 0));
  return longest + strand.step;
}
