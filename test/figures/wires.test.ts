/**
 * Shows: the currents of bond wires and the inductances of straight ones, alone and side by side.
 * Sources: MIL-PRF-38535, appendix A, A.3.5.5.3 (currents); Rosa, Bulletin of the Bureau of Standards 4, 1908
 * (inductances); ring-model section 6 (the worked figures); about 1 nH per mm: common practice, no source.
 */
import { expect, test } from 'vitest';
import {
  inductanceMatrix,
  togetherInductance,
  wireLength,
  wireLoop,
  wireSelf,
} from '../../src/figures/coupled.ts';
import { mutualInductance } from '../../src/figures/neumann.ts';
import {
  currentConstant,
  loopOfPair,
  parallelMutual,
  SHORT_WIRE,
  selfInductance,
  WIRE_MATERIALS,
  wireCurrent,
} from '../../src/figures/wires.ts';
import { rowInductance } from './row.ts';

const MIL = 25.4;

test.each([
  ['gold', 0.949, 0.648],
  ['copper', 0.949, 0.648],
  ['aluminium', 0.696, 0.481],
  ['silver', 0.474, 0.332],
] as const)('a one-mil %s wire carries %f A up to 0.040 in and %f A above', (material, short, long) => {
  expect(wireCurrent(material, MIL, 500)).toBeCloseTo(short, 3);
  expect(wireCurrent(material, MIL, SHORT_WIRE)).toBeCloseTo(short, 3);
  expect(wireCurrent(material, MIL, SHORT_WIRE + 0.01)).toBeCloseTo(long, 3);
  expect(wireCurrent(material, MIL, 2000)).toBeCloseTo(long, 3);
});

test("the standard's constants, and the current's growth with d to the power of 3/2", () => {
  const table = WIRE_MATERIALS.map((m) => [m, currentConstant(m, 1000), currentConstant(m, 1100)]);
  expect(table).toEqual([
    ['gold', 30_000, 20_500],
    ['copper', 30_000, 20_500],
    ['aluminium', 22_000, 15_200],
    ['silver', 15_000, 10_500],
    ['other', 9_000, 6_300],
  ]);
  expect(wireCurrent('gold', 4 * MIL, 2000) / wireCurrent('gold', MIL, 2000)).toBeCloseTo(8, 12);
  expect(SHORT_WIRE).toBe(1016);
});

test.each([
  [500, 0.362],
  [1000, 0.862],
  [2000, 2.001],
  [3000, 3.245],
  [5000, 5.919],
])('a 25.4 um wire %i um long has %f nH', (length, inductance) => {
  expect(selfInductance(length, MIL)).toBeCloseTo(inductance, 3);
});

test('two 2 mm wires 0.1 mm apart share 1.0953 nH', () => {
  expect(parallelMutual(2000, 100)).toBeCloseTo(1.0953, 4);
});

test("Rosa's formulas as he writes them", () => {
  for (const [length, distance] of [
    [1000, 10],
    [2000, 100],
    [500, 3000],
  ] as const) {
    const l = length * 1e-4;
    const d = distance * 1e-4;
    const written =
      2 * l * (Math.log(l / d + Math.sqrt(1 + (l * l) / (d * d))) - Math.sqrt(1 + (d * d) / (l * l)) + d / l);
    expect(parallelMutual(length, distance) / written).toBeCloseTo(1, 9);
    const r = MIL * 0.5e-4;
    expect(selfInductance(length, MIL)).toBeCloseTo(2 * l * (Math.log((2 * l) / r) - 0.75), 12);
  }
});

test('three wires 0.1 mm apart are 1.334 nH together, not 0.667', () => {
  const row = { length: 2000, diameter: MIL, pitch: 100, lead: 0 };
  expect(rowInductance(row, 3)).toBeCloseTo(1.334, 3);
  expect(selfInductance(2000, MIL) / 3).toBeCloseTo(0.667, 3);
  // The 3 x 3 system by hand: M^-1 1 by Cramer's rule for a symmetric middle wire.
  const L = selfInductance(2000, MIL);
  const near = parallelMutual(2000, 100);
  const far = parallelMutual(2000, 200);
  const outer = (L - near) / (L * L + L * far - 2 * near * near);
  const middle = (L + far - 2 * near) / (L * L + L * far - 2 * near * near);
  expect(rowInductance(row, 3)).toBeCloseTo(1 / (2 * outer + middle), 12);
});

test('package leads add in series with each wire', () => {
  const far = { length: 2000, diameter: MIL, pitch: 1e9, lead: 3 };
  expect(rowInductance(far, 4)).toBeCloseTo((selfInductance(2000, MIL) + 3) / 4, 6);
  expect(rowInductance({ ...far, pitch: 100 }, 1)).toBeCloseTo(selfInductance(2000, MIL) + 3, 12);
});

test('an actual bundle of parallel wires is the same as the row', () => {
  const wires = Array.from({ length: 6 }, (_, i) => ({
    places: [
      [0, i * 100, 0],
      [2000, i * 100, 0],
    ] as const,
    diameter: MIL,
    lead: 0,
  }));
  const matrix = inductanceMatrix(wires);
  const row = rowInductance({ length: 2000, diameter: MIL, pitch: 100, lead: 0 }, 6) ?? 0;
  expect(togetherInductance(matrix)).toBeCloseTo(row, 10);
  expect(wires.map(wireLength)).toEqual(Array(6).fill(2000));
});

test('a matrix that no wires have is refused', () => {
  expect(togetherInductance(Float64Array.of(1, 2, 2, 1))).toBeUndefined();
  expect(rowInductance({ length: 2000, diameter: MIL, pitch: 1, lead: 0 }, 2)).toBeUndefined();
});

test('supply and ground side by side form the loop 2 (L - M), smaller than apart', () => {
  const wire = (y: number) => ({
    places: [
      [0, y, 0],
      [2000, y, 0],
    ] as const,
    diameter: MIL,
    lead: 0,
  });
  const beside = wireLoop(wire(0), wire(100));
  expect(beside).toBeCloseTo(loopOfPair(selfInductance(2000, MIL), parallelMutual(2000, 100)), 10);
  expect(beside).toBeLessThan(wireLoop(wire(0), wire(800)));
});

test('a wire in two straight pieces has the inductance of the whole', () => {
  const bent = {
    places: [
      [0, 0, 0],
      [1200, 0, 0],
      [2000, 0, 0],
    ] as const,
    diameter: MIL,
    lead: 0.5,
  };
  // Rosa's self-inductance is Neumann's integral at the section's mean distance, so pieces differ by ends only.
  expect(wireSelf(bent) - 0.5).toBeCloseTo(selfInductance(2000, MIL), 2);
  const pieces = selfInductance(1200, MIL) + selfInductance(800, MIL);
  const between = mutualInductance([0, 0, 0], [1200, 0, 0], [1200, 0, 0], [2000, 0, 0]);
  expect(wireSelf(bent)).toBeCloseTo(pieces + 2 * between + 0.5, 12);
});
