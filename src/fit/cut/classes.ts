/**
 * Lengths by class. Gaps are whole steps of the fillers; where cells are not, how much a side's length exceeds whole
 * steps depends on which cells lie on it, and opposite sides must agree in that. So for each choice of a class for the
 * width and one for the height only stretches of cells of that class are allowed, and within it every length that is a
 * whole number of steps longer can be filled as well.
 */
import type { Ways } from './chain.ts';
import type { Runs } from './runs.ts';
import type { Strand } from './strand.ts';

/** By how much the lengths of an axis exceed whole steps beyond its corner cells. */
export interface ClassPair {
  readonly width: number;
  readonly height: number;
}

/** More classes, or pairs of them, than this are not told apart. */
const MOST_CLASSES = 64;
const MOST_PAIRS = 400;

/** By cell, by how much the widths before it exceed whole steps. */
function excesses({ width }: Strand, step: number): Float64Array {
  const sums = new Float64Array(width.length + 1);
  for (let c = 0; c < width.length; c++) sums[c + 1] = ((sums[c] ?? 0) + (width[c] ?? 0)) % step;
  return sums;
}

const between = (sums: Float64Array, i: number, j: number, step: number): number =>
  ((sums[j] ?? 0) - (sums[i] ?? 0) + step) % step;

/**
 * The pairs that a closed chain can have, however long its sides; null where they are too many. `step` is that of the
 * fillers of all sides.
 */
export function classesOf(
  strands: readonly [Strand, Strand, Strand, Strand],
  step: number,
  cuttable: readonly boolean[],
): readonly ClassPair[] | null {
  if (step === 0) return null;
  const [left, bottom, right, top] = strands.map((strand) => excesses(strand, step));
  if (left === undefined || bottom === undefined || right === undefined || top === undefined) return null;
  const of = (sums: Float64Array): ReadonlySet<number> | null => {
    const values = new Set(sums);
    if (values.size > MOST_CLASSES) return null;
    return new Set([...values].flatMap((a) => [...values].map((b) => (b - a + step) % step)));
  };
  const [h, w, h2, w2] = [of(left), of(bottom), of(right), of(top)];
  if (h === null || w === null || h2 === null || w2 === null) return null;
  const same = [bottom, right, top].every((sums) => sums.every((sum, c) => sum === left[c]));
  const lap = left[strands[0].count] ?? 0;
  const closes = closing([left, bottom, right], step, cuttable);
  const pairs: ClassPair[] = [];
  for (const width of w)
    for (const height of h) {
      if (!w2.has(width) || !h2.has(height)) continue;
      // The four sides hold the whole lap.
      if (same && (2 * (width + height)) % step !== lap) continue;
      if (!closes({ width, height })) continue;
      pairs.push({ width, height });
    }
  return pairs.length > MOST_PAIRS ? null : pairs;
}

/** Whether from some cell on three stretches of a pair's classes, each as short as it can be, leave the fourth its room. */
function closing(
  by: readonly Float64Array[],
  step: number,
  cuttable: readonly boolean[],
): (pair: ClassPair) => boolean {
  const count = cuttable.length;
  // By side and class: from each cell over two laps the nearest one before which a corner may lie.
  const nearest = by.map((sums) => {
    const tables = new Map<number, Int32Array>();
    for (const own of new Set(sums)) {
      const table = new Int32Array(2 * count + 1).fill(2 * count + 1);
      for (let c = 2 * count; c >= 0; c--)
        table[c] = sums[c] === own && cuttable[c % count] === true ? c : (table[c + 1] ?? 2 * count + 1);
      tables.set(own, table);
    }
    return tables;
  });
  const next = (side: number, from: number, own: number): number =>
    nearest[side]?.get(((by[side]?.[from] ?? 0) + own) % step)?.[from] ?? 2 * count + 1;
  return ({ width, height }) =>
    cuttable.some((may, first) => {
      if (!may) return false;
      const end = next(
        2,
        Math.min(2 * count, next(1, Math.min(2 * count, next(0, first, height)), width)),
        height,
      );
      return end <= first + count;
    });
}

/** Whether every cell is whole steps wide: then all lengths are of one class whatever the cut. */
export const areWhole = (ways: Ways, step: number): boolean =>
  ways.every(({ runs }) => runs.setting.strand.width.every((width) => width % step === 0));

/** The ways with stretches of a pair's classes only. */
export function waysOf(ways: Ways, step: number, { width, height }: ClassPair): Ways {
  const kept = new Map<Runs, Map<number, Runs>>();
  const runsOf = (runs: Runs, own: number): Runs => {
    const known = kept.get(runs) ?? new Map<number, Runs>();
    kept.set(runs, known);
    const there = known.get(own);
    if (there !== undefined) return there;
    const sums = excesses(runs.setting.strand, step);
    const least = (i: number, j: number): number =>
      between(sums, i, j, step) === own ? runs.least(i, j) : Number.POSITIVE_INFINITY;
    const filtered = { ...runs, least };
    known.set(own, filtered);
    return filtered;
  };
  const [left, bottom, right, top] = ways;
  return [
    { ...left, runs: runsOf(left.runs, height) },
    { ...bottom, runs: runsOf(bottom.runs, width) },
    { ...right, runs: runsOf(right.runs, height) },
    { ...top, runs: runsOf(top.runs, width) },
  ];
}
