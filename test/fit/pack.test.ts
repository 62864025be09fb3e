/**
 * Shows: the lengths that a side can fill are exactly those that an exhaustive search finds, with awkward fillers,
 * next-but-one rules, least gaps and fixed cells. Source: the search below, which tries every legal gap.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { fillerSet } from '../../src/fit/fillers.ts';
import { fills, nextLength, type PackProblem, pack, placing } from '../../src/fit/pack.ts';
import { moveSlack } from '../../src/fit/slack.ts';
import { units } from '../../src/geometry/units.ts';
import { SLACKS } from '../../src/spec/ring.ts';
import { footprint } from '../helpers/ring.ts';

const filler = (width: number, alone: boolean) => ({
  ...footprint(`f${width}`, 'filler', 1, { standsAlone: alone }),
  width: units(width),
});

const problems = fc
  .record({
    fillers: fc.uniqueArray(fc.record({ w: fc.integer({ min: 1, max: 7 }), alone: fc.boolean() }), {
      minLength: 1,
      maxLength: 3,
      selector: (f) => f.w,
    }),
    widths: fc.array(fc.integer({ min: 1, max: 6 }), { minLength: 1, maxLength: 4 }),
    gaps: fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 4, maxLength: 4 }),
    near: fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 4, maxLength: 4 }),
    next: fc.array(fc.integer({ min: 0, max: 16 }), { minLength: 4, maxLength: 4 }),
    low: fc.integer({ min: 0, max: 6 }),
    tail: fc.integer({ min: 0, max: 9 }),
    fixed: fc.option(fc.tuple(fc.nat(3), fc.integer({ min: 2, max: 20 })), { nil: null, freq: 3 }),
  })
  .map((r): PackProblem => {
    const set = fillerSet(r.fillers.map((f) => filler(f.w, f.alone)));
    const n = r.widths.length;
    const at = r.fixed === null ? null : { cell: r.fixed[0] % n, s: r.fixed[1] };
    return {
      start: 2,
      end: 3,
      lastFillers: set,
      cells: r.widths.map((width, i) => ({
        width,
        gap: (r.gaps[i] ?? 0) % 3,
        fillers: set,
        low: i === 0 ? r.low : 0,
        tail: i === n - 1 ? r.tail : width + 3,
        fixed: at?.cell === i ? at.s : null,
      })),
      rules: r.widths.flatMap((_, to) => [
        ...(to >= 2 ? [{ from: to - 2, to, distance: r.next[to] ?? 0, why: '' }] : []),
        ...(to >= 1 ? [{ from: to - 1, to, distance: r.near[to] ?? 0, why: '' }] : []),
      ]),
    };
  });

/** Whether places given in full keep every rule for a side of a length. */
function sound(problem: PackProblem, places: readonly number[], length: number): boolean {
  let end = problem.start;
  for (let i = 0; i < places.length; i++) {
    const [cell, s] = [problem.cells[i], places[i]];
    if (cell === undefined || s === undefined) return false;
    if (!cell.fillers.isLegal(s - end) || s - end < cell.gap || s < cell.low || length < s + cell.tail)
      return false;
    if (cell.fixed !== null && s !== cell.fixed) return false;
    end = s + cell.width;
  }
  return (
    problem.lastFillers.isLegal(length - problem.end - end) &&
    problem.rules.every((r) => (places[r.to] ?? 0) - (places[r.from] ?? 0) >= r.distance)
  );
}

/** Every placing of a side of a length, by trying every gap. */
function exists(problem: PackProblem, length: number): boolean {
  const go = (places: readonly number[], end: number): boolean => {
    const i = places.length;
    const cell = problem.cells[i];
    if (cell === undefined) return sound(problem, places, length);
    for (let s = end; s + cell.width <= length - problem.end; s++)
      if (cell.fillers.isLegal(s - end) && go([...places, s], s + cell.width)) return true;
    return false;
  };
  return go([], problem.start);
}

it('fills just the lengths that the exhaustive search fills, and each placing given is sound', () => {
  fc.assert(
    fc.property(problems, (problem) => {
      const packing = pack(problem);
      const least = problem.cells.reduce((sum, c) => sum + c.width, problem.start + problem.end);
      for (let length = least; length < least + 22; length++) {
        const truth = exists(problem, length);
        const claimed = packing.stuck === null && fills(packing, length);
        expect(claimed).toBe(truth);
        if (!truth) continue;
        const places = placing(packing, length);
        expect(places !== null && sound(problem, places, length)).toBe(true);
      }
    }),
    { numRuns: 400 },
  );
});

it('moves slack to where it is wanted and stays sound; `after` leaves the last cell as early as any placing has it', () => {
  fc.assert(
    fc.property(problems, fc.integer({ min: 0, max: 40 }), (problem, more) => {
      const packing = pack(problem);
      if (packing.stuck !== null) return;
      const length = nextLength(
        packing,
        problem.cells.reduce((sum, c) => sum + c.width, more),
      );
      if (!Number.isFinite(length)) return;
      const packed = placing(packing, length) ?? [];
      for (const slack of SLACKS) {
        const places = moveSlack(problem, packed, length, slack);
        expect(sound(problem, places, length)).toBe(true);
        expect(places.every((s, i) => s >= (packed[i] ?? 0))).toBe(true);
      }
    }),
    { numRuns: 600 },
  );
});

it('shares slack evenly: with a unit filler no two gaps of equal cells differ by more than one unit', () => {
  const set = fillerSet([filler(1, true)]);
  const problem: PackProblem = {
    start: 2,
    end: 3,
    lastFillers: set,
    cells: Array.from({ length: 7 }, () => ({
      width: 4,
      gap: 0,
      fillers: set,
      low: 0,
      tail: 7,
      fixed: null,
    })),
    rules: [],
  };
  const packed = placing(pack(problem), 50) ?? [];
  const gapsOf = (places: readonly number[]): number[] =>
    [...places, 47].map((s, i) => s - (i === 0 ? 2 : (places[i - 1] ?? 0) + 4));
  expect(gapsOf(packed)).toEqual([0, 0, 0, 0, 0, 0, 0, 17]);
  expect(gapsOf(moveSlack(problem, packed, 50, 'before'))).toEqual([17, 0, 0, 0, 0, 0, 0, 0]);
  expect(gapsOf(moveSlack(problem, packed, 50, 'around'))).toEqual([8, 0, 0, 0, 0, 0, 0, 9]);
  const shared = gapsOf(moveSlack(problem, packed, 50, 'shared'));
  expect(Math.max(...shared) - Math.min(...shared)).toBe(1);
  expect(shared.reduce((a, b) => a + b, 0)).toBe(17);
});
