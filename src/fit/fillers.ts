/**
 * Legal gaps. A gap is legal when filler widths add up to it; a filler that may not stand alone needs at least
 * one ordinary filler in the same gap. The empty gap is legal, and two legal gaps make a legal one: the set is
 * closed under addition, which the packing of a side relies on. Where pads overhang a gap it may be closed under the
 * addition of fewer gaps (fillers-under.ts).
 */
import { commonStep, type Units, units } from '../geometry/units.ts';
import type { Footprint } from '../library/footprint.ts';
import { addAny, addOne, denseFrom, madeOf, nothingYet } from './residues.ts';

export interface FillerSet {
  /** Widest first; of one width the ordinary one first, then by name. */
  readonly fillers: readonly Footprint[];
  /** Every legal gap is a multiple of this; 0 where there is no filler. */
  readonly step: number;
  /** From here on, and no sooner, every multiple of the step is legal; Infinity where there is no ordinary filler. */
  readonly denseFrom: number;
  /** The narrowest ordinary filler: any gap may grow by it; null where there is none. */
  readonly smallest: Footprint | null;
  /** Any legal gap stays legal when it grows by a legal gap of this set. */
  readonly growth: FillerSet;
  readonly isLegal: (gap: number) => boolean;
  /** The least legal gap that is not below a length; Infinity where there is none. */
  readonly atLeast: (gap: number) => number;
  /** The greatest legal gap that is not above a length (the empty one is always legal). */
  readonly atMost: (gap: number) => number;
  /** The fewest fillers that fill a legal gap, in an order in which they may stand. */
  readonly fewest: (gap: number) => readonly Footprint[];
}

/** No count of fillers reaches this. */
export const NEVER = 0x3fffffff;

/**
 * How many steps the table of fewest fillers has at the most: sixteen millimetres at a step of a nanometre, 128 MB. What a
 * longer gap has beyond is filled by the widest; only where two widths share no coarser step does it come to that.
 */
const TABLE = 16_000_000;

/** The fillers in the order in which the set lists them, one of each width. */
function ordered(fillers: readonly Footprint[]): readonly Footprint[] {
  const sorted = [...fillers].sort(
    (a, b) =>
      b.width - a.width ||
      Number(b.standsAlone) - Number(a.standsAlone) ||
      (a.name < b.name ? -1 : a.name > b.name ? 1 : 0),
  );
  return sorted.filter((f, i) => f.width !== sorted[i - 1]?.width);
}

/** The legal gaps that a choice of fillers makes, by dynamic programming over multiples of their common step. */
export function fillerSet(choice: readonly Footprint[]): FillerSet {
  const fillers = ordered(choice);
  const ordinary = fillers.filter((f) => f.standsAlone);
  const smallest = ordinary.at(-1) ?? null;
  if (smallest === null) return emptySet();
  const step = fillers.reduce((sum, f) => commonStep(sum, f.width), 0);
  const widths = fillers.map((f) => f.width / step);
  const table = countTable(
    widths,
    fillers.map((f) => f.standsAlone),
  );
  // The same few gaps come again and again along a side.
  const fillings = new Map<number, readonly Footprint[]>();
  const isLegal = (gap: number): boolean => {
    if (gap === 0) return true;
    return gap > 0 && gap % step === 0 && table.legal(gap / step);
  };
  const set: FillerSet = {
    fillers,
    step,
    denseFrom: table.denseFrom * step,
    smallest,
    get growth() {
      return set;
    },
    isLegal,
    atLeast: (gap) => {
      if (gap <= 0) return 0;
      let k = Math.ceil(gap / step);
      while (!table.legal(k)) k++;
      return k * step;
    },
    atMost: (gap) => {
      let k = Math.floor(gap / step);
      while (k > 0 && !table.legal(k)) k--;
      return Math.max(0, k) * step;
    },
    fewest: (gap) => {
      const known = fillings.get(gap);
      if (known !== undefined) return known;
      const filling = gap === 0 ? [] : table.fewest(gap / step).map((index) => at(fillers, index));
      fillings.set(gap, filling);
      return filling;
    },
  };
  return set;
}

/** The set where nothing fills: only the empty gap is legal. */
function emptySet(): FillerSet {
  const set: FillerSet = {
    fillers: [],
    step: 0,
    denseFrom: Number.POSITIVE_INFINITY,
    smallest: null,
    get growth() {
      return set;
    },
    isLegal: (gap) => gap === 0,
    atLeast: (gap) => (gap <= 0 ? 0 : Number.POSITIVE_INFINITY),
    atMost: () => 0,
    fewest: () => [],
  };
  return set;
}

function at<T>(list: readonly T[], index: number): T {
  const value = list[index];
  if (value === undefined) throw new RangeError(`no item ${index} in a list of ${list.length}`);
  return value;
}

interface CountTable {
  readonly legal: (k: number) => boolean;
  readonly denseFrom: number;
  readonly fewest: (k: number) => readonly number[];
}

/**
 * Fewest fillers for a gap of k steps: `any` counts any mixture, `sound` those with an ordinary filler. No best filling
 * has more than `widest` of the others (among `widest` of them, one ordinary filler set aside, some add up to a multiple
 * of the widest, which takes fewer of it), so beyond that many of the second every gap is one more of the widest.
 */
function countTable(widths: readonly number[], alone: readonly boolean[]): CountTable {
  let any: Int32Array = new Int32Array([0]);
  let sound: Int32Array = new Int32Array([NEVER]);
  let size = 1;
  const widest = at(widths, 0);
  const bound = (widest + 1) * (widths[1] ?? 1) + widest;
  const sums = soundSums(widths, alone);

  const grow = (k: number): void => {
    if (k < size) return;
    const length = Math.max(k + 1, Math.min(size * 2, TABLE + 1), 256);
    const [moreAny, moreSound] = [new Int32Array(length).fill(NEVER), new Int32Array(length).fill(NEVER)];
    moreAny.set(any);
    moreSound.set(sound);
    for (let g = size; g < length; g++) {
      for (let i = 0; i < widths.length; i++) {
        const before = g - (widths[i] ?? 0);
        if (before < 0) continue;
        const count = (moreAny[before] ?? NEVER) + 1;
        if (count < (moreAny[g] ?? NEVER)) moreAny[g] = count;
        const kept = alone[i] === true ? count : (moreSound[before] ?? NEVER) + 1;
        if (kept < (moreSound[g] ?? NEVER)) moreSound[g] = kept;
      }
    }
    [any, sound, size] = [moreAny, moreSound, length];
  };

  /** Walks back through the table; a filler that may not stand alone leaves the demand for an ordinary one. */
  const walk = (k: number): number[] => {
    grow(k);
    const chosen: number[] = [];
    let needsOrdinary = true;
    let g = k;
    while (g > 0) {
      const best = (needsOrdinary ? sound[g] : any[g]) ?? NEVER;
      const index = widths.findIndex((w, i) => {
        if (w > g) return false;
        const rest = needsOrdinary && alone[i] !== true ? sound[g - w] : any[g - w];
        return (rest ?? NEVER) + 1 === best;
      });
      if (index < 0) throw new RangeError('no filling for this gap');
      if (alone[index] === true) needsOrdinary = false;
      chosen.push(index);
      g -= at(widths, index);
    }
    return chosen;
  };

  return {
    legal: sums.legal,
    denseFrom: sums.denseFrom,
    fewest: (k) => {
      if (!sums.legal(k)) throw new RangeError('an illegal gap has no filling');
      const most = Math.min(bound, TABLE);
      const extra = k > most ? Math.ceil((k - most) / widest) : 0;
      const rest = k - extra * widest;
      const chosen = sums.legal(rest)
        ? [...new Array<number>(extra).fill(0), ...walk(rest)]
        : [...sums.filling(k, walk)];
      return chosen.sort((a, b) => Number(alone[a] !== true) - Number(alone[b] !== true) || a - b);
    },
  };
}

interface Sums {
  readonly legal: (k: number) => boolean;
  readonly denseFrom: number;
  /** A filling of a legal k: as many of one filler as leave a rest within the table, which `short` fills. */
  readonly filling: (k: number, short: (rest: number) => readonly number[]) => readonly number[];
}

/** What the fillers add up to with an ordinary one among them, from classes modulo the widest of these. */
function soundSums(widths: readonly number[], alone: readonly boolean[]): Sums {
  const main = alone.indexOf(true);
  const modulus = at(widths, main);
  const any = nothingYet(modulus);
  addAny(any, widths);
  const ordinary = widths.flatMap((_, i) => (alone[i] === true ? [i] : []));
  const one = ordinary.map((i) => at(widths, i));
  const sound = addOne(any, one);
  const least = (k: number): number => sound.least[k % modulus] ?? Number.POSITIVE_INFINITY;
  return {
    legal: (k) => k === 0 || k >= least(k),
    denseFrom: denseFrom(sound.least),
    filling: (k, short) => {
      const first = least(k);
      const times = (from: number): number[] => new Array<number>((k - from) / modulus).fill(main);
      if (first <= TABLE) {
        const rest = first + Math.floor((TABLE - first) / modulus) * modulus;
        return [...times(rest), ...short(rest)];
      }
      const index = at(ordinary, sound.last[k % modulus] ?? 0);
      const before = (k - at(widths, index)) % modulus;
      return [...times(first), index, ...madeOf(any, widths, before)];
    },
  };
}

/** The sum of the widths of a list of fillers. */
export const widthOf = (fillers: readonly Footprint[]): Units =>
  units(fillers.reduce((sum, f) => sum + f.width, 0));
