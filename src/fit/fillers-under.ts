/**
 * Legal gaps where bond pads overhang the two ends and some fillers allow no pad on top: those stand only where no
 * pad reaches. So a gap is filled by fillers that allow pads alone, or by some of these at each end, long enough for
 * the overhang there, and any between.
 *
 * Any gap may still grow by what fillers that allow pads make, at an end; not by any two of such gaps together.
 */
import { commonStep } from '../geometry/units.ts';
import type { Footprint } from '../library/footprint.ts';
import { type FillerSet, NEVER } from './fillers.ts';
import { addAny, addOne, denseFrom, nothingYet, type Residues } from './residues.ts';

/** How far pads reach into a gap from the cell before it and from the cell after it. */
export interface Overhang {
  readonly before: number;
  readonly after: number;
}

/** How many steps the table of fewest fillers has at the most; what a longer gap has beyond is filled by the widest. */
const TABLE = 4_000_000;

/** Pairs of a start and an end that are tried at the most. */
const PAIRS = 30_000_000;

/** The fewest fillers by number of steps: of any kind, and with an ordinary one among them. */
interface Counts {
  any: Int32Array;
  sound: Int32Array;
}

/**
 * The gaps that `fillers` make, of which `allowing` (some of them, with an ordinary one) allow a pad on top. Fillings
 * come in the order in which they have to stand. Where the widths share so fine a step that the ends cannot all be
 * tried, only the gaps that `allowing` makes are legal.
 */
export function fillersUnder(
  fillers: readonly Footprint[],
  allowing: FillerSet,
  overhang: Overhang,
): FillerSet {
  const step = fillers.reduce((sum, f) => commonStep(sum, f.width), 0);
  if ((overhang.after + (allowing.fillers[0]?.width ?? 0)) / step > TABLE) return allowing;
  const table = tableOf(fillers, allowing.fillers, step, overhang);
  const { sums } = table;
  if (sums === null) return allowing;
  const modulus = sums.length;
  const isMixed = (k: number): boolean => k >= (sums[k % modulus] ?? Number.POSITIVE_INFINITY);
  const fillings = new Map<number, readonly Footprint[]>();
  const isLegal = (gap: number): boolean => {
    if (gap === 0) return true;
    return gap > 0 && gap % step === 0 && (isMixed(gap / step) || allowing.isLegal(gap));
  };
  return {
    fillers,
    step,
    denseFrom: denseFrom(sums) * step,
    smallest: allowing.smallest,
    growth: allowing,
    isLegal,
    atLeast: (gap) => {
      if (gap <= 0) return 0;
      let k = Math.ceil(gap / step);
      while (!isLegal(k * step)) k++;
      return k * step;
    },
    atMost: (gap) => {
      let k = Math.floor(gap / step);
      while (k > 0 && !isLegal(k * step)) k--;
      return Math.max(0, k) * step;
    },
    fewest: (gap) => {
      const known = fillings.get(gap);
      if (known !== undefined) return known;
      const plain = allowing.isLegal(gap) ? allowing.fewest(gap) : null;
      const k = gap / step;
      const long = k > TABLE && isMixed(k) ? Math.ceil((k - TABLE) / modulus) : 0;
      const rest = k - long * modulus;
      const mixed = rest > TABLE ? NEVER : long + table.count(rest);
      const filling =
        plain !== null && plain.length <= mixed
          ? plain
          : [...(long > 0 ? allowing.fewest(long * modulus * step) : []), ...table.walk(rest)];
      fillings.set(gap, filling);
      return filling;
    },
  };
}

interface Table {
  /** The fewest fillers with some that allow pads at both ends, as far as the overhang asks, and any between. */
  readonly count: (k: number) => number;
  readonly walk: (k: number) => readonly Footprint[];
  /**
   * The least of such lengths in each class modulo the widest ordinary filler that allows pads; null where there are too
   * many to be found.
   */
  readonly sums: Float64Array | null;
}

function tableOf(
  fillers: readonly Footprint[],
  allowing: readonly Footprint[],
  step: number,
  { before, after }: Overhang,
): Table {
  const [head, foot] = [Math.ceil(before / step), Math.ceil(after / step)];
  const stepsOf = (f: Footprint): number => f.width / step;
  const ends: Counts = { any: new Int32Array([0]), sound: new Int32Array([NEVER]) };
  // From the start: what covers the overhang there, then any fillers.
  const from: Counts = { any: new Int32Array([head === 0 ? 0 : NEVER]), sound: new Int32Array([NEVER]) };
  let size = 1;

  const grown = (list: Int32Array, length: number): Int32Array => {
    const more = new Int32Array(length).fill(NEVER);
    more.set(list);
    return more;
  };
  /** Takes the best of one more filler into a place of some counts. */
  const take = (counts: Counts, list: readonly Footprint[], k: number): void => {
    for (const filler of list) {
      const rest = k - stepsOf(filler);
      if (rest < 0) continue;
      const any = (counts.any[rest] ?? NEVER) + 1;
      const sound = filler.standsAlone ? any : (counts.sound[rest] ?? NEVER) + 1;
      counts.any[k] = Math.min(counts.any[k] ?? NEVER, any);
      counts.sound[k] = Math.min(counts.sound[k] ?? NEVER, sound);
    }
  };
  const grow = (k: number): void => {
    if (k < size) return;
    const length = Math.max(k + 1, Math.min(size * 2, TABLE + 1), 256);
    for (const counts of [ends, from]) {
      counts.any = grown(counts.any, length);
      counts.sound = grown(counts.sound, length);
    }
    for (let g = size; g < length; g++) {
      take(ends, allowing, g);
      if (g >= head) {
        from.any[g] = ends.any[g] ?? NEVER;
        from.sound[g] = ends.sound[g] ?? NEVER;
      }
      take(from, fillers, g);
    }
    size = length;
  };

  const widest = allowing.reduce((most, f) => Math.max(most, stepsOf(f)), 0);
  grow(foot + widest);
  // No end need be longer than what a filler less would not cover.
  const tails: number[] = [];
  for (let y = foot; y < foot + (foot === 0 ? 1 : widest); y++)
    if ((ends.any[y] ?? NEVER) < NEVER) tails.push(y);

  const best = (
    k: number,
  ): { readonly count: number; readonly tail: number; readonly soundTail: boolean } => {
    grow(k);
    let least = { count: NEVER, tail: 0, soundTail: false };
    for (const tail of tails) {
      if (tail > k) break;
      const soundHead = (from.sound[k - tail] ?? NEVER) + (ends.any[tail] ?? NEVER);
      const soundTail = (from.any[k - tail] ?? NEVER) + (ends.sound[tail] ?? NEVER);
      const count = Math.min(soundHead, soundTail);
      if (count < least.count) least = { count, tail, soundTail: soundTail < soundHead };
    }
    return least;
  };
  const counts = new Map<number, number>();
  const count = (k: number): number => {
    const known = counts.get(k);
    if (known !== undefined) return known;
    const least = best(k).count;
    counts.set(k, least);
    return least;
  };

  /** Fillers of some counts for k steps; stops where `done` says that the rest is another matter. */
  const walkIn = (
    of: Counts,
    list: readonly Footprint[],
    k: number,
    sound: boolean,
    done: (rest: number, sound: boolean) => boolean,
  ): { readonly chosen: readonly Footprint[]; readonly rest: number; readonly sound: boolean } => {
    const chosen: Footprint[] = [];
    let [rest, needs] = [k, sound];
    while (!done(rest, needs)) {
      const now = (needs ? of.sound[rest] : of.any[rest]) ?? NEVER;
      const next = list.find((f) => {
        const left = rest - stepsOf(f);
        const kept = needs && !f.standsAlone ? of.sound[left] : of.any[left];
        return left >= 0 && (kept ?? NEVER) + 1 === now;
      });
      if (next === undefined) throw new RangeError('no filling for this gap');
      chosen.push(next);
      if (next.standsAlone) needs = false;
      rest -= stepsOf(next);
    }
    return { chosen, rest, sound: needs };
  };
  const atEnd = (rest: number): boolean => rest === 0;

  const sumsOf = (): Float64Array | null => {
    const widths = allowing.map(stepsOf);
    const ordinary = allowing.filter((f) => f.standsAlone).map(stepsOf);
    const modulus = Math.max(...ordinary);
    if (modulus * tails.length > PAIRS) return null;
    const heads = nothingYet(modulus);
    addAny(heads, widths);
    const soundHeads = addOne(heads, ordinary);
    for (const { least } of [heads, soundHeads])
      least.forEach((sum, r) => {
        least[r] = sum + Math.max(0, Math.ceil((head - sum) / modulus)) * modulus;
      });
    const both = (one: Residues, allowed: readonly number[]): Residues => {
      const sum = addOne(one, allowed);
      addAny(sum, fillers.map(stepsOf));
      return sum;
    };
    const soundTails = tails.filter((tail) => (ends.sound[tail] ?? NEVER) < NEVER);
    const plain = both(heads, tails);
    const found = [
      both(soundHeads, tails),
      both(heads, soundTails),
      addOne(plain, fillers.filter((f) => f.standsAlone).map(stepsOf)),
    ].map(({ least }) => least);
    const least = plain.least.map((_, r) =>
      Math.min(...found.map((list) => list[r] ?? Number.POSITIVE_INFINITY)),
    );
    return least.some((sum) => sum > TABLE - modulus) ? null : least;
  };

  return {
    count,
    walk: (k) => {
      const { count: least, tail, soundTail } = best(k);
      if (least >= NEVER) throw new RangeError('an illegal gap has no filling');
      const middle = walkIn(from, fillers, k - tail, !soundTail, (rest, sound) => {
        const [own, plain] = sound ? [from.sound, ends.sound] : [from.any, ends.any];
        return rest >= head && own[rest] === plain[rest];
      });
      const first = walkIn(ends, allowing, middle.rest, middle.sound, atEnd);
      const last = walkIn(ends, allowing, tail, soundTail, atEnd);
      return [...first.chosen, ...middle.chosen, ...last.chosen];
    },
    sums: sumsOf(),
  };
}
