/**
 * Shows: what a right-angle corner counts in squares, and the worked discharge path of ring-model section 7.
 * Sources: 1 - (2/pi) ln 2 by conformal map (outside-checks.md), held against a finite-difference grid of our own;
 * the human-body model: ANSI/ESDA/JEDEC JS-001.
 */
import { expect, test } from 'vitest';
import { BODY_RESISTANCE, dischargePeak } from '../../src/figures/discharge.ts';
import { resistanceBetween } from '../../src/figures/rail.ts';
import { CORNER_SQUARES, parallel, squares, stripResistance } from '../../src/figures/strips.ts';

/**
 * The corner's squares on a grid of n cells a width: an L of two arms of three widths each, a node in each cell, unit links
 * between neighbours, electrodes half a cell beyond the arms' ends; the arms' own squares taken off. Conjugate gradients.
 */
function gridCorner(n: number): number {
  const span = 4 * n;
  const index = new Int32Array(span * span).fill(-1);
  const cells: (readonly [number, number])[] = [];
  for (let y = 0; y < span; y++)
    for (let x = 0; x < span; x++)
      if (x < n || y < n) {
        index[y * span + x] = cells.length;
        cells.push([x, y]);
      }
  const links = cells.map(([x, y]) =>
    [
      [x + 1, y],
      [x - 1, y],
      [x, y + 1],
      [x, y - 1],
    ].flatMap(([a = 0, b = 0]) => {
      const other = a >= 0 && b >= 0 && a < span && b < span ? (index[b * span + a] ?? -1) : -1;
      return other >= 0 ? [other] : [];
    }),
  );
  const high = cells.map(([x]) => (x === span - 1 ? 2 : 0));
  const low = cells.map(([, y]) => (y === span - 1 ? 2 : 0));
  const times = (p: readonly number[]): number[] =>
    links.map((list, i) => {
      let sum = (list.length + (high[i] ?? 0) + (low[i] ?? 0)) * (p[i] ?? 0);
      for (const j of list) sum -= p[j] ?? 0;
      return sum;
    });
  const dot = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, value, i) => sum + value * (b[i] ?? 0), 0);
  let voltage: number[] = cells.map(() => 0);
  let rest: number[] = high;
  let way = rest;
  let size = dot(rest, rest);
  while (size > 1e-22) {
    const pushed = times(way);
    const step = size / dot(way, pushed);
    voltage = voltage.map((v, i) => v + step * (way[i] ?? 0));
    rest = rest.map((r, i) => r - step * (pushed[i] ?? 0));
    const now = dot(rest, rest);
    way = rest.map((r, i) => r + (now / size) * (way[i] ?? 0));
    size = now;
  }
  return 1 / dot(low, voltage) - 6;
}

test('the corner is 0.5587 squares: the conformal value, and where finite differences go', () => {
  expect(CORNER_SQUARES).toBeCloseTo(0.5587, 4);
  const [c8, c16, c24] = [gridCorner(8), gridCorner(16), gridCorner(24)];
  expect(c8).toBeCloseTo(0.581, 3);
  expect(c16).toBeCloseTo(0.567, 3);
  expect(c24).toBeCloseTo(0.564, 3);
  // The inner corner's singularity makes the error fall with h^(4/3), then h^2: both taken out leave the limit.
  const [x, y] = [8, 16, 24]
    .map((n) => [n ** (-4 / 3), n ** -2] as const)
    .reduce<readonly [number[], number[]]>(
      ([a, b], [p, q]) => [
        [...a, p],
        [...b, q],
      ],
      [[], []],
    );
  const determinant = (a: readonly number[], b: readonly number[], c: readonly number[]): number =>
    [0, 1, 2].reduce((sum, i) => {
      const [j, k] = [(i + 1) % 3, (i + 2) % 3];
      return sum + (a[i] ?? 0) * ((b[j] ?? 0) * (c[k] ?? 0) - (b[k] ?? 0) * (c[j] ?? 0));
    }, 0);
  const limit = determinant([c8, c16, c24], x, y) / determinant([1, 1, 1], x, y);
  expect(Math.abs(limit - CORNER_SQUARES)).toBeLessThan(5e-5);
});

test('strips in parallel, squares and bends', () => {
  expect(squares(780, 10)).toBe(78);
  expect(stripResistance(0.05, 780, 10, 2)).toBeCloseTo(0.05 * (78 + 2 * CORNER_SQUARES), 12);
  expect(parallel([6, 3, 2])).toBeCloseTo(1, 12);
  expect(parallel([])).toBe(Number.POSITIVE_INFINITY);
  expect(parallel([0, 5])).toBe(0);
});

test('2 kV through 1500 ohm is 1.33 A', () => {
  expect(BODY_RESISTANCE).toBe(1500);
  expect(dischargePeak(2000)).toBeCloseTo(1.33, 2);
});

test('the worked loop: 3.928 ohm between clamp and pad, 5.24 V at 2 kV', () => {
  // Die 1000 x 1000, lane from t 100 to 110: straight stretches of 780 between the corner squares.
  const half = stripResistance(0.05, 390, 10);
  const side = stripResistance(0.05, 780, 10);
  const corner = stripResistance(0.05, 0, 10, 1);
  // Node 0 is the clamp in the middle of the bottom, node 3 the pad in the middle of the top.
  const resistance = Float64Array.of(half + corner, side, corner + half, half + corner, side, corner + half);
  const between = resistanceBetween({ closed: true, resistance });
  expect(between(0, 3)).toBeCloseTo(3.928, 3);
  expect(between(3, 0)).toBe(between(0, 3));
  expect(dischargePeak(2000) * between(0, 3)).toBeCloseTo(5.24, 2);
  // Through one half alone it would be twice as much.
  expect(resistanceBetween({ closed: false, resistance })(0, 3)).toBeCloseTo(2 * 3.928, 2);
});
