/**
 * Shows that cells stand as near to their wished places as any legal placing does. Sources: for small sides every
 * legal placing, enumerated in toward-cases.ts; for a thousand random sides with graded corners and rules between
 * next-but-one pads the optimality (KKT) conditions of the exact optimum, and a general QP solver (npm highs); by
 * hand ring-model section 9's three pads.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FillerSet } from '../../src/fit/fillers.ts';
import type { PackProblem } from '../../src/fit/pack.ts';
import { isLegal } from '../../src/fit/toward/lattice.ts';
import { search } from '../../src/fit/toward/search.ts';
import { toward } from '../../src/fit/toward.ts';
import {
  againstAll,
  againstSolver,
  type Case,
  distanceFrom,
  holdsKkt,
  loadSolver,
  relaxedOf,
  setOf,
  sides,
  small,
} from './toward-cases.ts';

describe('on small sides', () => {
  it('no legal placing is nearer, and the one found is legal', () => {
    const seen = { all: 0, searched: 0 };
    fc.assert(
      fc.property(small, (c) => {
        seen.all++;
        if (againstAll(c).searched) seen.searched++;
      }),
      { numRuns: 1500 },
    );
    // Rounding alone does not do on a good part of them.
    expect(seen.searched).toBeGreaterThan(seen.all / 10);
  });
});

describe('on a thousand random sides with graded corners and rules between next-but-one pads', () => {
  it('the exact optimum meets the optimality conditions, and rounding it is legal', () => {
    let tight = 0;
    fc.assert(
      fc.property(sides, (c) => {
        const { lattice, relaxed } = relaxedOf(c);
        holdsKkt(lattice, relaxed);
        tight += relaxed.edges.filter((edge) => edge.pressure > 0 && edge.to - edge.from > 1).length;
        // Fillers of half a micrometre make every gap of whole steps legal.
        expect(isLegal(lattice, relaxed.rounded)).toBe(true);
      }),
      { numRuns: 1000 },
    );
    expect(tight).toBeGreaterThan(500);
  });

  it('a general QP solver finds no better', async () => {
    const highs = await loadSolver();
    let compared = 0;
    fc.assert(
      fc.property(sides, (c) => {
        if (againstSolver(highs, c)) compared++;
      }),
      { numRuns: 1000 },
    );
    expect(compared).toBeGreaterThan(950);
  });
});

describe('by hand', () => {
  /** Cells of no width at wishes 0, 10, 20 with neighbours 35 and next-but-one 90 apart (ring-model, section 9). */
  const three = (fillers: FillerSet): Case => ({
    problem: {
      start: -1000,
      end: -1000,
      lastFillers: fillers,
      cells: [0, 1, 2].map(() => ({ width: 0, gap: 0, fillers, low: -1000, tail: -1000, fixed: null })),
      rules: [
        { from: 0, to: 1, distance: 35, why: '' },
        { from: 0, to: 2, distance: 90, why: '' },
        { from: 1, to: 2, distance: 35, why: '' },
      ],
    },
    length: 0,
    wishes: [0, 10, 20].map((at) => ({ at, weight: 1 })),
  });

  it('three pads with neighbours 35 and next-but-one 90 apart', () => {
    const c = three(setOf([1]));
    expect(toward(c.problem, c.length, c.wishes, []).places).toEqual([-35, 10, 55]);
  });

  it('with fillers of 20 alone the nearest legal places', () => {
    const c = three(setOf([20]));
    // Gaps of 40 or more in twenties, next but one 90 or more, so 100: -40, 0 or 20, 60 cost 40^2 + 10^2 + 40^2.
    const found = toward(c.problem, c.length, c.wishes, []);
    expect(found.proven).toBe(true);
    expect(distanceFrom(c.wishes, found.places)).toBe(3300);
  });

  it('a gap that cannot be filled costs the least that legal gaps cost', () => {
    // Fillers of 10 and one of 1 that may not stand alone: a gap is 0 or at least 10. The second cell wants 4.
    const fillers = setOf([10], [1, false]);
    const cell = { width: 100, gap: 0, fillers, low: 0, tail: 0, fixed: null };
    const problem: PackProblem = { start: 0, end: 0, lastFillers: fillers, cells: [cell, cell], rules: [] };
    const wishes = [
      { at: 20, weight: 1 },
      { at: 124, weight: 1 },
    ];
    const found = toward(problem, 300, wishes, []);
    // Abutting at 22 and 122 costs 2^2 + 2^2; ten apart, at 17 and 127, 3^2 + 3^2.
    expect(found).toEqual({ places: [22, 122], proven: true });
  });
});

it('the search alone agrees with rounding where every gap is legal', () => {
  fc.assert(
    fc.property(sides, (c) => {
      const { lattice, relaxed } = relaxedOf(c);
      if (lattice.weight.length > 12) return;
      const found = search(lattice, relaxed);
      expect(found).not.toBeNull();
      const cost = (steps: readonly number[]): number =>
        relaxed.wished.reduce(
          (sum, g, k) => sum + (lattice.weight[g] ?? 0) * ((steps[g] ?? 0) - (relaxed.wishes[k] ?? 0)) ** 2,
          0,
        );
      const [ours, rounded] = [cost(found ?? []), cost(relaxed.rounded)];
      expect(Math.abs(ours - rounded)).toBeLessThanOrEqual(1e-9 * Math.max(1, rounded));
    }),
    { numRuns: 300 },
  );
});
