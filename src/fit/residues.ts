/**
 * What filler widths add up to, whole: in each class of lengths modulo one width the least sum, from which on every length
 * of the class is a sum. Lists as long as that width, however long a gap is.
 * Source: the round-robin walk of S. Boecker and Zs. Liptak, "A fast and simple algorithm for the money changing
 * problem", Algorithmica 48 (2007); from memory.
 */
import { commonStep } from '../geometry/units.ts';

/** The least sum of each class modulo `least.length`; Infinity where there is none. */
export interface Residues {
  readonly least: Float64Array;
  /** Which width was added last to come to the least sum; -1 where none was. */
  readonly last: Int32Array;
}

/** A list of least sums, of which only that of nothing at all is known. */
export function nothingYet(modulus: number): Residues {
  const least = new Float64Array(modulus).fill(Number.POSITIVE_INFINITY);
  least[0] = 0;
  return { least, last: new Int32Array(modulus).fill(-1) };
}

/** Takes any number of further fillers into least sums, in place. Widths are whole. */
export function addAny({ least, last }: Residues, widths: readonly number[]): void {
  const modulus = least.length;
  widths.forEach((width, index) => {
    const stride = width % modulus;
    if (stride === 0) return;
    const cycles = commonStep(stride, modulus);
    for (let first = 0; first < cycles; first++) {
      let sum = Number.POSITIVE_INFINITY;
      // Twice around each cycle: the least sum may stand anywhere in it.
      let p = first;
      for (let count = (2 * modulus) / cycles; count > 0; count--) {
        const here = least[p] ?? Number.POSITIVE_INFINITY;
        if (sum < here) {
          least[p] = sum;
          last[p] = index;
        } else sum = here;
        sum += width;
        p += stride;
        if (p >= modulus) p -= modulus;
      }
    }
  });
}

/** Least sums with just one of some widths more. */
export function addOne({ least }: Residues, widths: readonly number[]): Residues {
  const modulus = least.length;
  const more: Residues = {
    least: new Float64Array(modulus).fill(Number.POSITIVE_INFINITY),
    last: new Int32Array(modulus).fill(-1),
  };
  widths.forEach((width, index) => {
    for (let p = 0; p < modulus; p++) {
      const q = (p + width) % modulus;
      const sum = (least[p] ?? Number.POSITIVE_INFINITY) + width;
      if (sum >= (more.least[q] ?? Number.POSITIVE_INFINITY)) continue;
      more.least[q] = sum;
      more.last[q] = index;
    }
  });
  return more;
}

/** The indices of the widths that make the least sum of a class up. */
export function madeOf({ last }: Residues, widths: readonly number[], residue: number): readonly number[] {
  const modulus = last.length;
  const made: number[] = [];
  for (let p = residue; ; ) {
    const index = last[p] ?? -1;
    if (index < 0) return made;
    made.push(index);
    p = (((p - (widths[index] ?? 0)) % modulus) + modulus) % modulus;
  }
}

/** From here on every length is a sum: one less than what some class lacks. */
export function denseFrom(least: Float64Array): number {
  let most = 0;
  for (const sum of least) most = Math.max(most, sum);
  const first = most - least.length + 1;
  return first <= 1 ? 0 : first;
}
