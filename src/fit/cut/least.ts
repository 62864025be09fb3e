/**
 * The least die that a chain of sides allows. Lengths that hold the sides hold them too when longer, so each extent
 * is found by halving; `side` asks for the least larger extent first and the least area with it, `area` walks along the
 * front where neither extent can give without the other.
 */
import { units } from '../../geometry/units.ts';
import type { DieWish } from '../../spec/order.ts';
import { type Die, lessDie } from '../die.ts';
import { type Chain, cutsWithin } from './chain.ts';
import { leastHalfPerimeter } from './perimeter.ts';

/** Lengths that an axis can have: `residue` and whole steps. */
export interface Lattice {
  readonly step: number;
  readonly residue: number;
}

/** What is asked of a die: its least extents (the core with the ring around it), and the wish. */
export interface Asked {
  readonly chain: Chain;
  readonly width: Lattice;
  readonly height: Lattice;
  readonly core: { readonly width: number; readonly height: number };
  readonly wish: DieWish;
}

/** The least length on a lattice from some length on. */
export function latticeUp({ step, residue }: Lattice, length: number): number {
  if (step === 0) return Math.max(length, residue);
  return residue + Math.max(0, Math.ceil((length - residue) / step)) * step;
}

const dieOf = (width: number, height: number): Die => ({ width: units(width), height: units(height) });

/** Whether the chain holds within a width and a height. */
export const holds = ({ chain }: Asked, width: number, height: number): boolean =>
  cutsWithin(chain, [height, width, height, width]) !== null;

/** Beyond this no side can be asked to go: the whole lap with every need on one side. */
function farthestNeed({ chain }: Asked): number {
  let most = 0;
  for (const { runs } of chain.ways) {
    const { strand, start, end } = runs.setting;
    let sum = start + end;
    for (let c = 0; c < strand.count; c++)
      sum += (strand.width[c] ?? 0) + (strand.gap[c] ?? 0) + strand.step + strand.farthest;
    const bounds = [...strand.low, ...strand.tail, ...strand.fixed].filter(Number.isFinite);
    most = Math.max(most, sum + 2 * bounds.reduce((a, b) => Math.max(a, b), 0));
  }
  return most;
}

/** The least length of a lattice, from `low` up to `high`, that passes; null where not even `high` does. */
function halve(
  lattice: Lattice,
  low: number,
  high: number,
  passes: (length: number) => boolean,
): number | null {
  const first = latticeUp(lattice, low);
  if (passes(first)) return first;
  if (first >= high || !passes(high)) return null;
  if (lattice.step === 0) return high;
  let [fails, holdsAt] = [0, Math.ceil((high - first) / lattice.step)];
  while (holdsAt - fails > 1) {
    const middle = Math.floor((fails + holdsAt) / 2);
    if (passes(first + middle * lattice.step)) holdsAt = middle;
    else fails = middle;
  }
  return first + holdsAt * lattice.step;
}

/** A length at which the chain holds, and one below it at which it does not, as far as one is known. */
interface Between {
  readonly good: number;
  readonly bad: number | null;
}

/**
 * A length from `low` on at which the chain holds, found by doubling; null where none does. `guess` is a length that
 * none is much less than.
 */
function someLength(
  asked: Asked,
  low: number,
  guess: number,
  passes: (length: number) => boolean,
): Between | null {
  const most = Math.max(low, farthestNeed(asked));
  const [way] = asked.chain.ways;
  const { strand, start, end } = way.runs.setting;
  const widths = strand.width.reduce((a, b) => a + b, 0) / 2;
  const plain = start + end + widths / 4;
  let length = Math.max(low, plain, guess);
  let bad: number | null = null;
  for (let more = (guess > plain ? strand.farthest / 2 : widths / 64) + 1; length < most; more *= 2) {
    if (passes(length)) return { good: length, bad };
    bad = length;
    length += more;
  }
  return passes(most) ? { good: most, bad } : null;
}

/** The least length of a lattice from `low` on that passes; `some` lies around it. */
function leastBetween(
  lattice: Lattice,
  low: number,
  { good, bad }: Between,
  passes: (length: number) => boolean,
): number | null {
  return halve(lattice, Math.max(low, bad ?? low), latticeUp(lattice, good), passes);
}

/** The least die, or null where the chain holds in none that the wish allows. A die not less than `than` need not be found. */
export function leastWithin(asked: Asked, than: Die | null): Die | null {
  const { wish, core, width, height } = asked;
  const low = { width: latticeUp(width, core.width), height: latticeUp(height, core.height) };
  if (wish.width !== null || wish.height !== null) return leastFixed(asked, low);
  const both = leastSides(asked, low, wish.least === 'side' ? than : null);
  if (both === null) return null;
  return wish.least === 'side' ? both : leastArea(asked, low, both);
}

type Low = { readonly width: number; readonly height: number };

function leastFixed(asked: Asked, low: Low): Die | null {
  const { wish } = asked;
  if (wish.width !== null && wish.height !== null)
    return wish.width >= low.width && wish.height >= low.height && holds(asked, wish.width, wish.height)
      ? dieOf(wish.width, wish.height)
      : null;
  const fixed = wish.width ?? wish.height ?? 0;
  const isWidth = wish.width !== null;
  if (fixed < (isWidth ? asked.core.width : asked.core.height)) return null;
  const passes = (free: number): boolean => (isWidth ? holds(asked, fixed, free) : holds(asked, free, fixed));
  const lattice = isWidth ? asked.height : asked.width;
  const from = Math.max(isWidth ? low.height : low.width, wish.aspect === null ? 0 : fixed / wish.aspect);
  const some = someLength(asked, from, 0, passes);
  const free = some === null ? null : leastBetween(lattice, from, some, passes);
  if (free === null || (wish.aspect !== null && free > fixed * wish.aspect)) return null;
  return isWidth ? dieOf(fixed, free) : dieOf(free, fixed);
}

/** The least larger extent, then the least area; the smaller extent no less than the aspect lets it be. */
function leastSides(asked: Asked, low: Low, than: Die | null): Die | null {
  const { width, height, wish } = asked;
  const from = Math.max(low.width, low.height);
  const square = (length: number): boolean => holds(asked, length, length);
  const known = than === null ? null : Math.max(than.width, than.height);
  if (known !== null && (from > known || !square(known))) return null;
  const some =
    known === null
      ? someLength(asked, from, leastHalfPerimeter(asked.chain) / 2, square)
      : { good: known, bad: null };
  if (some === null) return null;
  const either = { step: common(width, height), residue: width.residue };
  const most = leastBetween(either, from, some, square);
  if (most === null) return null;
  const least = wish.aspect === null ? 0 : most / wish.aspect;
  const w = down(width, latticeUp(width, most), Math.max(low.width, least), (x) => holds(asked, x, most));
  const h = down(height, latticeUp(height, most), Math.max(low.height, least), (x) => holds(asked, most, x));
  const dies = [
    dieOf(latticeUp(width, Math.max(most - width.step + 1, low.width)), h),
    dieOf(w, latticeUp(height, Math.max(most - height.step + 1, low.height))),
  ].filter((die) => holds(asked, die.width, die.height));
  return dies.reduce<Die | null>((best, die) => (best === null || lessDie(die, best) ? die : best), null);
}

/** The common step of two lattices, their residues' difference taken in. */
function common(a: Lattice, b: Lattice): number {
  let [x, y] = [a.step, Math.abs(a.residue - b.residue)];
  while (y !== 0) [x, y] = [y, x % y];
  let z = b.step;
  while (z !== 0) [x, z] = [z, x % z];
  return x;
}

/**
 * The least area within the aspect. The front, where neither extent can give without the other, is walked from the
 * widest die towards the middle and from the highest one towards the middle. Width and height are together no less than
 * `half`, so that a die of some width has no less area than width times the rest of `half`: where that is no less than
 * the best area known, nothing is to be gained, and with it nowhere nearer to the middle.
 */
function leastArea(asked: Asked, low: Low, start: Die): Die {
  const half = leastHalfPerimeter(asked.chain);
  const wide = frontFrom(asked, low, start, half);
  if (!wide.stopped) return wide.die;
  const turnedStart = dieOf(wide.die.height, wide.die.width);
  const high = frontFrom(turned(asked), { width: low.height, height: low.width }, turnedStart, half);
  return dieOf(high.die.height, high.die.width);
}

/** The same question of the ring turned by a quarter. */
export function turned(asked: Asked): Asked {
  const { chain, width, height, core } = asked;
  const [left, bottom, right, top] = chain.ways;
  return {
    ...asked,
    chain: { ...chain, ways: [bottom, right, top, left] },
    width: height,
    height: width,
    core: { width: core.height, height: core.width },
  };
}

/** The least width that any height goes with; null where none does. */
export function narrowest(asked: Asked): number | null {
  const tall = latticeUp(asked.height, Math.max(asked.core.height, farthestNeed(asked)));
  const passes = (width: number): boolean => holds(asked, width, tall);
  const low = latticeUp(asked.width, asked.core.width);
  const some = someLength(asked, low, 0, passes);
  return some === null ? null : leastBetween(asked.width, low, some, passes);
}

/** The best die of the front from the widest on; `stopped` where the middle may hold no better one. */
function frontFrom(
  asked: Asked,
  low: Low,
  start: Die,
  half: number,
): { readonly die: Die; readonly stopped: boolean } {
  const { width, height, wish } = asked;
  const { aspect } = wish;
  let best = start;
  const area = (): number => best.width * best.height;
  const limit = aspect === null ? farthestNeed(asked) : Math.sqrt(area() * aspect);
  let w = latticeUp(width, Math.max(limit, low.width));
  let h = leastHeight(asked, low, w);
  while (h !== null) {
    const top = h;
    const narrow = down(width, w, low.width, (x) => holds(asked, x, top));
    const die = dieOf(
      aspect === null ? narrow : latticeUp(width, Math.max(narrow, top / aspect)),
      aspect === null ? top : latticeUp(height, Math.max(top, narrow / aspect)),
    );
    if (lessDie(die, best, 'area')) best = die;
    if (aspect !== null && top > narrow * aspect && top * (top / aspect) >= area()) break;
    w = narrow - Math.max(1, width.step);
    if (w < low.width) break;
    if (w * (half - w) >= area()) return { die: best, stopped: true };
    const next = w;
    h = up(height, top, (x) => holds(asked, next, x), farthestNeed(asked));
  }
  return { die: best, stopped: false };
}

/** The least length of a lattice down to `low` that passes, where `from` passes; looked for near it first. */
function down(lattice: Lattice, from: number, low: number, passes: (length: number) => boolean): number {
  const first = latticeUp(lattice, low);
  if (lattice.step === 0) return passes(first) ? first : from;
  let good = from;
  for (let by = 1; good > first; by *= 2) {
    const tried = Math.max(first, good - by * lattice.step);
    if (!passes(tried)) return halve(lattice, tried, good, passes) ?? good;
    good = tried;
  }
  return good;
}

/** The least length of a lattice from `from` on that passes, looked for near it first; null where none up to `most` does. */
function up(
  lattice: Lattice,
  from: number,
  passes: (length: number) => boolean,
  most: number,
): number | null {
  if (passes(from)) return from;
  if (lattice.step === 0) return null;
  let bad = from;
  for (let by = 1; bad < most; by *= 2) {
    const tried = bad + by * lattice.step;
    if (passes(tried)) return halve(lattice, bad, tried, passes);
    bad = tried;
  }
  return null;
}

function leastHeight(asked: Asked, low: Low, width: number): number | null {
  const passes = (h: number): boolean => holds(asked, width, h);
  const some = someLength(asked, low.height, 0, passes);
  return some === null ? null : leastBetween(asked.height, low.height, some, passes);
}
