/**
 * Shows: which gaps are legal and the fewest fillers that fill them. Source: ring-model section 4's worked gaps;
 * for random widths an exhaustive enumeration of filler multisets written here.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fillerSet } from '../../src/fit/fillers.ts';
import { footprint, um } from '../helpers/ring.ts';

const filler = (width: number, standsAlone = true) =>
  footprint(`f${width}${standsAlone ? '' : 'n'}`, 'filler', width, { standsAlone });

describe('the worked gaps: fillers 10, 5, 1 and a 0.1 that may not stand alone', () => {
  const set = fillerSet([filler(10), filler(5), filler(1), filler(0.1, false)]);
  it('0.9 is illegal, 1.9 takes ten, 24.3 takes nine', () => {
    expect(set.isLegal(um(0.9))).toBe(false);
    expect(set.fewest(um(1.9)).length).toBe(10);
    expect(set.fewest(um(24.3)).length).toBe(9);
    expect(() => set.fewest(um(0.9))).toThrow(/illegal/);
  });
  it('6 from 4, 3 and 1 is 3 + 3, where the widest first would take three', () => {
    expect(
      fillerSet([filler(4), filler(3), filler(1)])
        .fewest(um(6))
        .map((f) => f.name),
    ).toEqual(['f3', 'f3']);
  });
  it('rounds to the nearest legal gaps', () => {
    expect(set.atLeast(um(0.05))).toBe(um(1));
    expect(set.atMost(um(0.95))).toBe(0);
    expect(set.atLeast(um(1.01))).toBe(um(1.1));
    expect(fillerSet([]).isLegal(0)).toBe(true);
    expect(fillerSet([filler(0.1, false)]).isLegal(um(0.2))).toBe(false);
  });
});

/** Fewest fillers of a gap by enumerating every multiset whose widths add up to it; Infinity where there is none. */
function enumerate(gap: number, widths: readonly { w: number; alone: boolean }[]): number {
  let best = Number.POSITIVE_INFINITY;
  const go = (index: number, rest: number, count: number, ordinary: boolean): void => {
    if (rest === 0) {
      if (ordinary || count === 0) best = Math.min(best, count);
      return;
    }
    const f = widths[index];
    if (f === undefined || count >= best) return;
    for (let k = 0; k * f.w <= rest; k++)
      go(index + 1, rest - k * f.w, count + k, ordinary || (k > 0 && f.alone));
  };
  go(0, gap, 0, false);
  return best;
}

describe('any choice of fillers', () => {
  const choice = fc.uniqueArray(fc.record({ w: fc.integer({ min: 1, max: 14 }), alone: fc.boolean() }), {
    minLength: 1,
    maxLength: 4,
    selector: (f) => f.w,
  });
  it('finds the same gaps legal as the enumeration, with as few fillers, and the fillers add up', () => {
    fc.assert(
      fc.property(choice, fc.integer({ min: 0, max: 60 }), (widths, gap) => {
        const set = fillerSet(widths.map((f) => filler(f.w, f.alone)));
        const least = enumerate(gap, widths);
        expect(set.isLegal(um(gap))).toBe(Number.isFinite(least));
        if (!Number.isFinite(least)) return;
        const used = set.fewest(um(gap));
        expect(used.length).toBe(least);
        expect(used.reduce((sum, f) => sum + f.width, 0)).toBe(um(gap));
        expect(used.length === 0 || used.some((f) => f.standsAlone)).toBe(true);
      }),
      { numRuns: 600 },
    );
  });

  it('needs no more for a gap far beyond its table than the enumeration of what the widest leaves', () => {
    const set = fillerSet([filler(10), filler(7), filler(3)]);
    const direct = enumerate(
      997,
      [10, 7, 3].map((w) => ({ w, alone: true })),
    );
    expect(set.fewest(um(997)).length).toBe(direct);
  });

  it('a legal gap stays legal beyond `denseFrom`, and the last illegal one lies just before it', () => {
    fc.assert(
      fc.property(choice, (widths) => {
        const set = fillerSet(widths.map((f) => filler(f.w, f.alone)));
        if (set.step === 0) return;
        const k = Math.round(set.denseFrom / set.step);
        for (let g = k; g < k + 40; g++) expect(set.isLegal(g * set.step)).toBe(true);
        if (k > 1) expect(set.isLegal((k - 1) * set.step)).toBe(false);
      }),
      { numRuns: 300 },
    );
  });
});

describe('fillers that share only a step far below their widths', () => {
  it('two that differ by a nanometre: a gap of n of them is legal up to n nm short, and has one filling', () => {
    const set = fillerSet([filler(20), filler(19.999)]);
    expect(set.fewest(um(20 * 400 - 0.123)).filter((f) => f.width === um(19.999)).length).toBe(123);
    expect(set.isLegal(um(20 * 400 - 0.4))).toBe(true);
    expect(set.isLegal(um(20 * 400 - 0.401))).toBe(false);
    // Frobenius number of a and a - 1 (J. J. Sylvester, 1882; from memory): (a - 1) (a - 2) - 1 steps.
    expect(set.denseFrom).toBe(19_999 * 19_998 * um(0.001));
    // Longer than the table of fewest fillers, by one of them and by a thousand.
    const long = set.fewest(um(20 * 5000 - 3.001));
    expect(long.length).toBe(5000);
    expect(long.filter((f) => f.width === um(19.999)).length).toBe(3001);
    expect(set.fewest(um(20 * 30_000 - 18.5)).length).toBe(30_000);
  });
  it('a widest one that may not stand alone: as many of it as of any', () => {
    const set = fillerSet([filler(500.001, false), filler(20), filler(0.001)]);
    expect(set.fewest(um(300_000 * 500.001 + 20)).length).toBe(300_001);
    expect(set.isLegal(um(500.001))).toBe(true);
    expect(set.fewest(um(500.001)).length).toBe(26);
    expect(set.denseFrom).toBe(0);
  });
  it('a gap longer than the table is filled, if not by the fewest for certain', () => {
    const set = fillerSet([filler(20), filler(19.999), filler(1)]);
    for (const gap of [16_000, 16_015.5, 40_000.017, 123_456.789]) {
      const filling = set.fewest(um(gap));
      expect(filling.reduce((sum, f) => sum + f.width, 0)).toBe(um(gap));
      expect(filling.length).toBeLessThan(gap / 20 + 600);
    }
  });
});
