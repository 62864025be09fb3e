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
