/** Lengths that two opposite sides share. */
import type { Side } from '../geometry/side.ts';
import { commonStep } from '../geometry/units.ts';
import { nextLength, type Packing, type PackProblem } from './pack.ts';
import { stepOf } from './tight.ts';

export type Packings = Readonly<Record<Side, Packing>>;

/** How many placings the search for a length that both sides fill looks at before it is given up. */
const MOST_LOOKS = 4_000_000;

/** How many lengths two packings can be tried at. */
export const mostLengths = (a: Packing, b: Packing): number =>
  Math.min(200_000, Math.max(1000, Math.floor(MOST_LOOKS / (1 + a.labels.length + b.labels.length))));

/** What a side is long without any fillers: all its lengths are whole steps of them longer. */
const bare = ({ start, end, cells }: PackProblem): number =>
  cells.reduce((sum, cell) => sum + cell.width, start + end);

/** Whether no two lengths of two sides can ever be alike: they differ by parts of a step. */
function neverAlike(a: PackProblem, b: PackProblem): boolean {
  const step = commonStep(stepOf(a), stepOf(b));
  const apart = bare(a) - bare(b);
  return step === 0 ? apart !== 0 : apart % step !== 0;
}

/** The least length from `atLeast` on that two packings both fill; null where there is none. */
export function commonLength(a: Packing, b: Packing, atLeast: number): number | null {
  if (neverAlike(a.problem, b.problem)) return null;
  let length = atLeast;
  let most = 1;
  for (let tried = 0; tried < most; tried++) {
    const first = nextLength(a, length);
    const second = nextLength(b, first);
    if (!Number.isFinite(second)) return null;
    if (second === first) return first;
    // The placings are counted only where the first length does not do.
    if (tried === 0) most = mostLengths(a, b);
    length = second;
  }
  return null;
}
