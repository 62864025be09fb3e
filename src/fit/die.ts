/** The least die that holds the packed sides and the core, within what the user wishes of it. */
import { micrometres, type Units, units } from '../geometry/units.ts';
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import type { DieWish } from '../spec/order.ts';
import type { Ring } from '../spec/ring.ts';
import { coreWays, leastForCore } from './core.ts';
import { dieTooSmall } from './explain.ts';
import { commonLength, type Packings } from './lengths.ts';
import { fills, nextLength, type Packing } from './pack.ts';
import type { AllRows } from './problem.ts';

export type Limit = 'pads' | 'core' | 'given';

export interface Die {
  readonly width: Units;
  readonly height: Units;
}

export interface Sized {
  readonly die: Die;
  /** What decides the die in each axis. */
  readonly limits: { readonly width: Limit; readonly height: Limit };
}

/** Nothing wished: any die, the least larger side first. */
const ANY: DieWish = { width: null, height: null, aspect: null, least: 'side' };

/** The wish for a ring's die. */
export const wishOf = (ring: Ring): DieWish => ring.dieWish ?? ANY;

/** Whether a die is less than another: the larger side first and then the smaller one, or the area first. */
export function lessDie(a: Die, b: Die, least: DieWish['least'] = 'side'): boolean {
  const [areaA, areaB] = [a.width * a.height, b.width * b.height];
  if (least === 'area' && areaA !== areaB) return areaA < areaB;
  const [sideA, sideB] = [Math.max(a.width, a.height), Math.max(b.width, b.height)];
  return sideA !== sideB ? sideA < sideB : Math.min(a.width, a.height) < Math.min(b.width, b.height);
}

/** One axis: the two sides that share its length, the least that the core leaves it, and a fixed extent. */
interface Axis {
  readonly pair: readonly [Packing, Packing];
  readonly core: number;
  readonly fixed: number | null;
}

/** The least length of an axis from some length on; null where there is none. */
function lengthOf({ pair, core, fixed }: Axis, atLeast: number): number | null {
  const from = Math.max(core, atLeast);
  if (fixed === null) return commonLength(pair[0], pair[1], from);
  return fixed >= from && fills(pair[0], fixed) && fills(pair[1], fixed) ? fixed : null;
}

const limitOf = ({ pair, core, fixed }: Axis, length: number): Limit => {
  if (fixed !== null) return 'given';
  const pads = Math.max(nextLength(pair[0], 0), nextLength(pair[1], 0));
  if (commonLength(pair[0], pair[1], core) !== length) return 'given';
  return pads >= core ? 'pads' : 'core';
};

/** Both extents, the smaller one raised until the aspect holds; null where the fixed one or the fillers forbid it. */
function within(width: Axis, height: Axis, aspect: number | null): Sized | null {
  let w = lengthOf(width, 0);
  let h = lengthOf(height, 0);
  while (w !== null && h !== null && aspect !== null && Math.max(w, h) > aspect * Math.min(w, h)) {
    if (w > h) h = lengthOf(height, Math.ceil(w / aspect));
    else w = lengthOf(width, Math.ceil(h / aspect));
  }
  if (w === null || h === null) return null;
  return {
    die: { width: units(w), height: units(h) },
    limits: { width: limitOf(width, w), height: limitOf(height, h) },
  };
}

/** The least die that some packings fill, that is no smaller than the core asks and keeps to the wish; null: none. */
export function dieOfPackings(
  packings: Packings,
  core: { readonly width: number; readonly height: number },
  wish: DieWish,
): Die | null {
  const width = { pair: [packings.bottom, packings.top], core: core.width, fixed: wish.width } as const;
  const height = { pair: [packings.left, packings.right], core: core.height, fixed: wish.height } as const;
  return within(width, height, wish.aspect)?.die ?? null;
}

/** The least die that both sides of each axis fill legally, that holds the core and keeps to the wish. */
export function leastDie(ring: Ring, rows: AllRows, packings: Packings): Outcome<Sized> {
  const wish = wishOf(ring);
  const ways = coreWays(ring, rows);
  const axes = [ways.width, ways.height].map((insets) => {
    const core = leastForCore(ring, insets);
    return {
      width: { pair: [packings.bottom, packings.top], core: core.width, fixed: wish.width },
      height: { pair: [packings.left, packings.right], core: core.height, fixed: wish.height },
    } as const;
  });
  let best: Sized | null = null;
  for (const { width, height } of axes) {
    const sized = within(width, height, wish.aspect);
    if (sized !== null && (best === null || lessDie(sized.die, best.die, wish.least))) best = sized;
  }
  if (best !== null) return found(best);
  const core = leastForCore(ring, ways.width);
  const other = leastForCore(ring, ways.height);
  return failed(
    ...wishProblems(ring, packings, wish, {
      width: units(Math.min(core.width, other.width)),
      height: units(Math.min(core.height, other.height)),
    }),
  );
}

/** Whether a die leaves the core its room, whichever way corner cells give way to it. */
export function holdsCore(ring: Ring, rows: AllRows, die: Die): boolean {
  const ways = coreWays(ring, rows);
  return [ways.width, ways.height].some((insets) => {
    const core = leastForCore(ring, insets);
    return core.width <= die.width && core.height <= die.height;
  });
}

const um = (length: number): string => `${micrometres(units(Math.ceil(length)))} um`;

/** Which limit stands in the way, and by how much it must give. */
function wishProblems(ring: Ring, packings: Packings, wish: DieWish, core: Die): readonly Problem[] {
  const problems: Problem[] = [];
  for (const axis of ['width', 'height'] as const) {
    const fixed = wish[axis];
    if (fixed === null) continue;
    if (fixed < core[axis])
      problems.push({
        code: 'core-too-large',
        message: `the core with its clearance and the ring needs a die ${axis} of ${um(core[axis])}, and it is fixed at ${um(fixed)}: ${um(core[axis] - fixed)} too small`,
        mend: `relax the ${axis} of \`die\` to ${um(core[axis])} or more, or make the core ${um(core[axis] - fixed)} smaller in ${axis}`,
        place: ring.diePlace,
      });
    const sides = axis === 'width' ? (['bottom', 'top'] as const) : (['left', 'right'] as const);
    const die = { width: units(fixed), height: units(fixed) };
    problems.push(...sides.flatMap((side) => dieTooSmall(ring, packings, side, die)));
  }
  if (problems.length > 0) return problems;
  const width = commonLength(packings.bottom, packings.top, core.width);
  const height = commonLength(packings.left, packings.right, core.height);
  if (width !== null && height !== null && wish.aspect !== null) {
    const [w, h] = [wish.width ?? width, wish.height ?? height];
    const needed = Math.ceil((Math.max(w, h) / Math.min(w, h)) * 1000) / 1000;
    return [
      {
        code: 'aspect-too-narrow',
        message: `the die would be ${um(w)} by ${um(h)}, and its larger side may be at most ${wish.aspect} times the smaller`,
        mend: `relax \`aspect\` to ${needed} or more, or leave the fixed side free`,
        place: ring.diePlace,
      },
    ];
  }
  return [
    {
      code: 'no-common-length',
      message: 'no die makes every gap of two opposite sides legal: the filler widths never add up',
      mend: 'add a narrower filler to the cell file (a filler as wide as the grid step always works)',
      place: ring.diePlace,
    },
  ];
}
