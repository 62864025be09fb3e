/**
 * Shows: dies on a wafer. The estimate's two values are Hennessy and Patterson's, Computer Architecture, fifth edition,
 * chapter 1: 300 mm, dies of 1.5 and 1.0 cm a side, 270 and 640. Whole dies: counting them at many offsets of the grid
 * never finds more, and at the offset that a finer search finds just as many; a die alone; hand counts.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EXCLUSION, estimatedDies, WAFERS, wholeDies } from '../../src/size/wafer.ts';

it('the published estimates, and the whole dies beside them', () => {
  expect(Math.round(estimatedDies(300, 15 * 15))).toBe(270);
  expect(Math.round(estimatedDies(300, 10 * 10))).toBe(640);
  // Counted here; the estimate leaves out no edge of the wafer.
  expect([wholeDies(300, 0, 15, 15), wholeDies(300, 0, 10, 10)]).toEqual([280, 657]);
  expect([wholeDies(300, EXCLUSION, 15, 15), wholeDies(300, EXCLUSION, 10, 10)]).toEqual([268, 626]);
  expect(WAFERS).toEqual([150, 200, 300]);
});

/** Dies within a radius whose grid has a corner at (x, y). */
function count(radius: number, width: number, height: number, x: number, y: number): number {
  const reach = (length: number): number => Math.ceil(radius / length) + 1;
  let dies = 0;
  for (let i = -reach(width); i <= reach(width); i++)
    for (let j = -reach(height); j <= reach(height); j++) {
      const across = Math.max(Math.abs(x + i * width), Math.abs(x + (i + 1) * width));
      const up = Math.max(Math.abs(y + j * height), Math.abs(y + (j + 1) * height));
      if (across * across + up * up <= radius * radius + 1e-9) dies++;
    }
  return dies;
}

describe('whole dies', () => {
  it('no offset of a fine grid of offsets holds more, and the best of them nearly always as many', () => {
    let [equal, all] = [0, 0];
    fc.assert(
      fc.property(
        fc.integer({ min: 40, max: 400 }),
        fc.integer({ min: 40, max: 400 }),
        fc.constantFrom(0, 3, 5),
        (w, h, exclusion) => {
          const [width, height, radius] = [w / 10, h / 10, 75 - exclusion];
          const most = wholeDies(150, exclusion, width, height);
          let best = 0;
          for (let a = 0; a <= 24; a++)
            for (let b = 0; b <= 24; b++)
              best = Math.max(best, count(radius, width, height, (a * width) / 48, (b * height) / 48));
          expect(best).toBeLessThanOrEqual(most);
          all++;
          if (best === most) equal++;
        },
      ),
      { numRuns: 60, seed: 5 },
    );
    expect(equal).toBeGreaterThan(0.7 * all);
  });
  it('reaches its count at an offset that a finer search finds', () => {
    // 280 dies of 15 mm take an offset to a few hundredths of a millimetre.
    let best = 0;
    for (let x = 5; x < 5.12; x += 0.005)
      for (let y = 6.3; y < 6.45; y += 0.005) best = Math.max(best, count(150, 15, 15, x, y));
    expect(best).toBe(280);
  });
  it('by hand: one, two and four dies that just touch the circle, and none beyond it', () => {
    const diagonal = (width: number, height: number): number => Math.hypot(width, height);
    expect(wholeDies(diagonal(30, 40), 0, 30, 40)).toBe(1);
    expect(wholeDies(diagonal(30, 40) - 0.001, 0, 30, 40)).toBe(0);
    expect(wholeDies(diagonal(60, 40), 0, 30, 40)).toBe(2);
    expect(wholeDies(diagonal(60, 80), 0, 30, 40)).toBe(4);
    expect(wholeDies(diagonal(60, 80) + 2, 1, 40, 30)).toBe(4);
    expect(wholeDies(10, 5, 1, 1)).toBe(0);
  });
  it('the same for a die turned by a right angle', () => {
    for (const [w, h] of [
      [3.391, 2.2],
      [1.88, 1.2],
      [17, 4],
    ] as const)
      expect(wholeDies(200, 3, w, h)).toBe(wholeDies(200, 3, h, w));
  });
});
