/**
 * Places of the cells of a side nearest to wished ones: least sum of weighted squared distances over all legal
 * placings. The exact optimum without regard to fillers comes first; rounded to whole steps it is the best there is, and
 * where some gap of it cannot be filled, a search finds the nearest placing that can.
 */
import type { PackProblem } from './pack.ts';
import { isLegal, latticeOf, startEdges, type Wish } from './toward/lattice.ts';
import { relax } from './toward/relax.ts';
import { search } from './toward/search.ts';

export type { Wish } from './toward/lattice.ts';

export interface Toward {
  readonly places: readonly number[];
  /** Whether no legal placing is nearer; false where the search was given up. */
  readonly proven: boolean;
}

/**
 * The start edges nearest to the wishes on a side of a given length. `otherwise` is a legal placing: what is taken
 * where nothing can move, or where the search is given up. Wishes are whole units, with whole weights above zero.
 */
export function toward(
  problem: PackProblem,
  length: number,
  wishes: readonly (Wish | null)[],
  otherwise: readonly number[],
): Toward {
  if (wishes.every((wish) => wish === null)) return { places: otherwise, proven: true };
  const lattice = latticeOf(problem, length, wishes);
  if (lattice === undefined) return { places: otherwise, proven: true };
  const relaxed = relax(lattice);
  if (relaxed === undefined) return { places: otherwise, proven: false };
  if (isLegal(lattice, relaxed.rounded))
    return { places: startEdges(lattice, relaxed.rounded), proven: true };
  const found = search(lattice, relaxed);
  return found === null
    ? { places: otherwise, proven: false }
    : { places: startEdges(lattice, found), proven: true };
}
