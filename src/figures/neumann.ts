/**
 * The mutual inductance of straight filaments anywhere in space: Neumann's double integral
 * M = mu0/(4 pi) cos(e) times the double integral of ds du / R. The inner integral is closed; the outer one is a
 * double-exponential quadrature, split wherever its integrand can have a kink or, at touching ends and crossings,
 * a logarithm. Lengths are micrometres, inductances nanohenry.
 */

import { parallelMutual } from './wires.ts';

/** A place in space. */
export type Place3 = readonly [x: number, y: number, z: number];

/** mu0 / (4 pi) in nanohenry per micrometre. */
const PER_MICROMETRE = 1e-4;

const minus = (a: Place3, b: Place3): Place3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: Place3, b: Place3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const scaled = (a: Place3, k: number): Place3 => [a[0] * k, a[1] * k, a[2] * k];
export const distance = (a: Place3, b: Place3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

const far = (along: number, off: number): number => Math.sqrt(along * along + off * off);

/**
 * The integral of 1/R along a filament, seen from a point: `before` is the filament's start and `after` its end,
 * both measured along it from the point's foot, and `off` is the point's distance from its line. Each of the three forms is a
 * sum of positive terms, so that nothing cancels.
 */
function potential(before: number, after: number, off: number): number {
  if (before >= 0) return Math.log((after + far(after, off)) / (before + far(before, off)));
  if (after <= 0) return Math.log((-before + far(before, off)) / (-after + far(after, off)));
  return Math.asinh(after / off) + Math.asinh(-before / off);
}

interface Node {
  /** The node's distance from the nearer end of an interval of length 1, and its weight per unit of step. */
  readonly near: number;
  readonly weight: number;
}

/** The nodes t = step, 3 step, 5 step … of tanh-sinh quadrature (Takahasi and Mori 1974) on an interval of length 1. */
function levelNodes(step: number, stride: number): readonly Node[] {
  const nodes: Node[] = [];
  for (let k = 1; ; k += stride) {
    const t = k * step;
    const grown = Math.exp(Math.PI * Math.sinh(t));
    const near = 1 / (1 + grown);
    const weight = Math.PI * Math.cosh(t) * near * (1 - near);
    if (!(weight > 1e-20)) return nodes;
    nodes.push({ near, weight });
  }
}

/** Level 0 has step 1; each further level halves the step and adds the nodes between. */
const LEVELS: readonly (readonly Node[])[] = Array.from({ length: 9 }, (_, level) =>
  levelNodes(2 ** -level, level === 0 ? 1 : 2),
);

/** At which relative change from level to level to stop: convergence is quadratic, so the last level is far better. */
const SETTLED = 1e-10;

function integrate(integrand: (s: number) => number, from: number, to: number): number {
  const length = to - from;
  // A node that rounding puts onto a logarithm's pole has a weight below the last digit, so it is left out.
  const f = (s: number): number => {
    const value = integrand(s);
    return Number.isFinite(value) ? value : 0;
  };
  let sum = (Math.PI / 4) * f(from + length / 2);
  let last = Number.NaN;
  for (const [level, nodes] of LEVELS.entries()) {
    for (const { near, weight } of nodes) sum += weight * (f(from + length * near) + f(to - length * near));
    const value = sum * length * 2 ** -level;
    if (level > 2 && Math.abs(value - last) <= SETTLED * Math.abs(value)) return value;
    last = value;
  }
  return last;
}

/**
 * The mutual inductance in nanohenry of two straight filaments, positive where their currents run the same way.
 * They may touch at their ends or cross; two that run along one line and overlap have no finite one, and give
 * Infinity.
 */
export function mutualInductance(from1: Place3, to1: Place3, from2: Place3, to2: Place3): number {
  const length1 = distance(from1, to1);
  const length2 = distance(from2, to2);
  if (length1 === 0 || length2 === 0) return 0;
  const along1 = scaled(minus(to1, from1), 1 / length1);
  const along2 = scaled(minus(to2, from2), 1 / length2);
  const slant = dot(along1, along2);
  if (slant === 0) return 0;
  const apart = minus(from1, from2);
  const foot0 = dot(apart, along2);
  // The offset from line 2 is off0 + s * drift, both normal to it.
  const off0 = minus(apart, scaled(along2, foot0));
  const drift = minus(along1, scaled(along2, slant));
  const seen = (s: number): number => {
    const foot = foot0 + slant * s;
    const [x, y, z] = [off0[0] + s * drift[0], off0[1] + s * drift[1], off0[2] + s * drift[2]];
    const off = Math.sqrt(x * x + y * y + z * z);
    return potential(-foot, length2 - foot, off);
  };
  const turning = dot(drift, drift);
  if (turning === 0 && foot0 === 0 && length1 === length2 && slant > 0) {
    // Side by side and equal, where Rosa's form is exact and quick.
    const beside = Math.hypot(...off0);
    return beside === 0 ? Number.POSITIVE_INFINITY : parallelMutual(length1, beside);
  }
  const ends = [foot0, foot0 + slant * length1];
  const onOneLine = Math.hypot(...off0) + Math.sqrt(turning) * length1 <= 1e-12 * (length1 + length2);
  const touch = 1e-12 * length2;
  if (onOneLine && Math.max(...ends) > touch && Math.min(...ends) < length2 - touch)
    return Number.POSITIVE_INFINITY * slant;
  const splits = [-foot0 / slant, (length2 - foot0) / slant];
  if (turning > 0) splits.push(-dot(off0, drift) / turning);
  const inside = splits.filter((s) => s > length1 * 1e-12 && s < length1 * (1 - 1e-12)).sort((a, b) => a - b);
  let total = 0;
  let start = 0;
  for (const end of [...inside, length1]) {
    if (end > start) total += integrate(seen, start, end);
    start = end;
  }
  return PER_MICROMETRE * slant * total;
}
