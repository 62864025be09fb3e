/**
 * Shows: the mutual inductance of any two straight filaments equals the closed forms where there are any, and a plain double sum
 * of Neumann's integral where there are none; filaments that touch or cross are no special case.
 * Sources: Rosa 1908 (parallel filaments, and two end to end); Campbell 1915 as Grover, Inductance Calculations, 1946, gives it
 * (two that meet at an angle), from memory; the double sum: our own, by the midpoint rule.
 */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { mutualInductance, type Place3 } from '../../src/figures/neumann.ts';
import { parallelMutual } from '../../src/figures/wires.ts';

/** Neumann's integral as the sum over n x n pairs of short pieces, once more with half of n to cancel its first error. */
function summed(from1: Place3, to1: Place3, from2: Place3, to2: Place3): number {
  const point = (from: Place3, to: Place3, s: number): Place3 => [
    from[0] + s * (to[0] - from[0]),
    from[1] + s * (to[1] - from[1]),
    from[2] + s * (to[2] - from[2]),
  ];
  const way = [0, 1, 2].reduce(
    (sum, k) => sum + ((to1[k] ?? 0) - (from1[k] ?? 0)) * ((to2[k] ?? 0) - (from2[k] ?? 0)),
    0,
  );
  const sum = (n: number): number => {
    let total = 0;
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) {
        const p = point(from1, to1, (i + 0.5) / n);
        const q = point(from2, to2, (j + 0.5) / n);
        total += 1 / Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
      }
    return (1e-4 * way * total) / (n * n);
  };
  return (4 * sum(200) - sum(100)) / 3;
}

test('parallel filaments: Rosa', () => {
  for (const distance of [1, 20, 100, 1000, 50_000]) {
    // Equal filaments side by side are taken by Rosa's form itself, so one of them is cut into unequal pieces.
    const value =
      mutualInductance([0, 0, 0], [2000, 0, 0], [0, 0, distance], [700, 0, distance]) +
      mutualInductance([0, 0, 0], [2000, 0, 0], [700, 0, distance], [2000, 0, distance]);
    expect(value / parallelMutual(2000, distance)).toBeCloseTo(1, 11);
    expect(mutualInductance([0, 0, 0], [2000, 0, 0], [0, 0, distance], [2000, 0, distance])).toBe(
      parallelMutual(2000, distance),
    );
  }
  expect(mutualInductance([0, 0, 0], [2000, 0, 0], [0, 100, 0], [2000, 100, 0])).toBeCloseTo(1.0953, 4);
});

test('filaments end to end on one line', () => {
  const closed = (l: number, m: number): number =>
    1e-4 * ((l + m) * Math.log(l + m) - l * Math.log(l) - m * Math.log(m));
  expect(mutualInductance([0, 0, 0], [1000, 0, 0], [1000, 0, 0], [1700, 0, 0])).toBeCloseTo(
    closed(1000, 700),
    12,
  );
  expect(mutualInductance([0, 0, 0], [0, 3, 0], [0, 3, 0], [0, 5000, 0])).toBeCloseTo(closed(3, 4997), 12);
});

test('filaments that meet at an angle', () => {
  for (const angle of [0.001, 0.1, 0.7, 1.5, 2.5, 3.1]) {
    const [l, m] = [1000, 700];
    const ends = Math.hypot(l - m * Math.cos(angle), m * Math.sin(angle));
    const closed = 2e-4 * Math.cos(angle) * (l * Math.atanh(m / (l + ends)) + m * Math.atanh(l / (m + ends)));
    const value = mutualInductance(
      [5, 5, 5],
      [1005, 5, 5],
      [5, 5, 5],
      [5 + m * Math.cos(angle), 5 + m * Math.sin(angle), 5],
    );
    expect(value / closed).toBeCloseTo(1, 9);
  }
});

test('filaments that cross: the sum of the four arms that meet there', () => {
  const o: Place3 = [0, 0, 0];
  const [a, b, c, d]: readonly [Place3, Place3, Place3, Place3] = [
    [-600, 0, 0],
    [900, 0, 0],
    [-300, -500, 0],
    [420, 700, 0],
  ];
  const arms =
    mutualInductance(a, o, c, o) +
    mutualInductance(a, o, o, d) +
    mutualInductance(o, b, c, o) +
    mutualInductance(o, b, o, d);
  expect(mutualInductance(a, b, c, d)).toBeCloseTo(arms, 11);
});

test('perpendicular filaments share nothing, overlapping ones have no finite value', () => {
  expect(mutualInductance([0, 0, 0], [1000, 0, 0], [50, 5, 0], [50, 900, 0])).toBe(0);
  expect(mutualInductance([0, 0, 0], [1000, 0, 0], [600, 0, 0], [1900, 0, 0])).toBe(Number.POSITIVE_INFINITY);
  expect(mutualInductance([0, 0, 0], [1000, 0, 0], [7, 7, 7], [7, 7, 7])).toBe(0);
});

test('random skew filaments: the double sum, either order, and a sign that turns with a direction', () => {
  const coordinate = fc.integer({ min: -2000, max: 2000 });
  const place = fc.tuple(coordinate, coordinate, coordinate);
  fc.assert(
    fc.property(place, place, place, place, (a, b, c, d2) => {
      // Kept apart in height, so that the plain sum converges.
      const c1: Place3 = [c[0], c[1], c[2] + 6000];
      const d1: Place3 = [d2[0], d2[1], d2[2] + 6000];
      const value = mutualInductance(a, b, c1, d1);
      expect(Math.abs(value - summed(a, b, c1, d1))).toBeLessThan(1e-9);
      expect(Math.abs(value - mutualInductance(c1, d1, a, b))).toBeLessThan(1e-11);
      expect(Math.abs(value + mutualInductance(b, a, c1, d1))).toBeLessThan(1e-11);
    }),
    { numRuns: 60 },
  );
});

test('fanning out lessens the coupling', () => {
  const spread = [0, 200, 800, 3000].map((out) =>
    mutualInductance([0, 0, 0], [0, 2000, 400], [100, 0, 0], [100 + out, 2000, 400]),
  );
  expect(spread).toEqual([...spread].sort((x, y) => y - x));
  expect(new Set(spread).size).toBe(4);
});
