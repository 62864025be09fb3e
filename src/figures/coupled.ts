/**
 * Wires that share one net: their inductance matrix, and the one inductance that they are together. Inductances
 * are nanohenry, lengths micrometres.
 */
import { distance, mutualInductance, type Place3 } from './neumann.ts';
import { loopOfPair, selfInductance } from './wires.ts';

/** A wire from pad to finger as straight pieces between two places or more. */
export interface Wire {
  readonly places: readonly Place3[];
  readonly diameter: number;
  /** What the package lead adds in series, uncoupled. */
  readonly lead: number;
}

interface Piece {
  readonly from: Place3;
  readonly to: Place3;
}

function pieces(wire: Wire): readonly Piece[] {
  const list: Piece[] = [];
  let from: Place3 | undefined;
  for (const to of wire.places) {
    if (from) list.push({ from, to });
    from = to;
  }
  return list;
}

/** The wire's conductor length in micrometres. */
export const wireLength = (wire: Wire): number =>
  pieces(wire).reduce((sum, { from, to }) => sum + distance(from, to), 0);

/** The self-inductance of a wire with its lead: Rosa's for each piece and Neumann's between its pieces. */
export function wireSelf(wire: Wire): number {
  const list = pieces(wire);
  let total = wire.lead;
  for (const [i, { from, to }] of list.entries()) {
    total += selfInductance(distance(from, to), wire.diameter);
    for (const other of list.slice(0, i)) total += 2 * mutualInductance(from, to, other.from, other.to);
  }
  return total;
}

/** The mutual inductance of two wires: Neumann's integral, piece by piece. */
function wireMutual(a: Wire, b: Wire): number {
  let total = 0;
  for (const one of pieces(a))
    for (const two of pieces(b)) total += mutualInductance(one.from, one.to, two.from, two.to);
  return total;
}

/** The loop of a supply wire and its ground wire: L1 + L2 - 2 M, which for equal wires is 2 (L - M). */
export function wireLoop(supply: Wire, ground: Wire): number {
  const mutual = wireMutual(supply, ground);
  return loopOfPair((wireSelf(supply) + wireSelf(ground)) / 2, mutual);
}

/**
 * Wires in parallel, one added after the other: 1/(1' M^-1 1) by a Cholesky factor that grows by a row. With
 * L y = 1 the sum of the squares of y is 1' M^-1 1, so it never falls as wires are added, and neither does its
 * inverse rise. Time and memory grow with the square of the wires for each one added.
 */
export interface Bundle {
  /** Adds a wire by its self-inductance and its mutual ones with those before it; false where it cannot be. */
  readonly add: (self: number, mutuals: (index: number) => number) => boolean;
  readonly size: () => number;
  /** The inductance of all together; Infinity of none. */
  readonly inductance: () => number;
}

/** An empty bundle. A wire is refused where no real wires could have such inductances (M not positive definite). */
export function bundle(): Bundle {
  const factor: Float64Array[] = [];
  const y: number[] = [];
  let inverse = 0;
  return {
    add: (self, mutuals) => {
      const n = factor.length;
      const row = new Float64Array(n + 1);
      let rest = self;
      let right = 1;
      for (let j = 0; j < n; j++) {
        const above = factor[j] as Float64Array;
        let value = mutuals(j);
        for (let k = 0; k < j; k++) value -= (row[k] as number) * (above[k] as number);
        value /= above[j] as number;
        row[j] = value;
        rest -= value * value;
        right -= value * (y[j] as number);
      }
      if (!(rest > 0)) return false;
      const pivot = Math.sqrt(rest);
      row[n] = pivot;
      factor.push(row);
      y.push(right / pivot);
      inverse += (right / pivot) ** 2;
      return true;
    },
    size: () => factor.length,
    inductance: () => 1 / inverse,
  };
}

/** The inductance matrix of wires, row after row. It is dense: its cost grows with the square of the wires. */
export function inductanceMatrix(wires: readonly Wire[]): Float64Array {
  const n = wires.length;
  const matrix = new Float64Array(n * n);
  for (const [i, a] of wires.entries()) {
    matrix[i * n + i] = wireSelf(a);
    for (const [j, b] of wires.slice(0, i).entries()) {
      const mutual = wireMutual(a, b);
      matrix[i * n + j] = mutual;
      matrix[j * n + i] = mutual;
    }
  }
  return matrix;
}

/** 1/(1' M^-1 1) of a symmetric matrix, row after row; undefined where it is no inductance matrix of real wires. */
export function togetherInductance(matrix: Float64Array): number | undefined {
  const n = Math.round(Math.sqrt(matrix.length));
  const wires = bundle();
  for (let i = 0; i < n; i++)
    if (!wires.add(matrix[i * n + i] as number, (j) => matrix[i * n + j] as number)) return undefined;
  return wires.inductance();
}
