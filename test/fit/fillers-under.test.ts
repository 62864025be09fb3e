/**
 * Shows: which gaps are legal that bond pads overhang at both ends where some fillers allow no pad on top, the fewest
 * fillers of each and the order in which they may stand; sides with such gaps are packed as short as they can be.
 * Sources: every order of every choice of fillers, tried here; a search of every gap; the checker.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type FillerSet, fillerSet } from '../../src/fit/fillers.ts';
import { fillersUnder, type Overhang } from '../../src/fit/fillers-under.ts';
import { fills, type PackProblem, pack, placing } from '../../src/fit/pack.ts';
import { units } from '../../src/geometry/units.ts';
import type { Footprint } from '../../src/library/footprint.ts';
import { lay } from '../../src/run.ts';
import { entry, footprint, library, ring, um } from '../helpers/ring.ts';

interface Filler {
  readonly w: number;
  readonly alone: boolean;
  readonly onTop: boolean;
}

const print = ({ w, alone, onTop }: Filler): Footprint => ({
  ...footprint(`f${w}`, 'filler', 1, { standsAlone: alone, padOnTop: onTop }),
  width: units(w),
});

const choice = fc
  .uniqueArray(fc.record({ w: fc.integer({ min: 1, max: 7 }), alone: fc.boolean(), onTop: fc.boolean() }), {
    minLength: 2,
    maxLength: 4,
    selector: (f) => f.w,
  })
  .filter((list) => list.some((f) => f.onTop && f.alone) && list.some((f) => !f.onTop));

const overhangs = fc.record({
  before: fc.integer({ min: 0, max: 9 }),
  after: fc.integer({ min: 0, max: 9 }),
});

function setOf(list: readonly Filler[], overhang: Overhang): FillerSet {
  const prints = list.map(print);
  return fillersUnder(fillerSet(prints).fillers, fillerSet(prints.filter((f) => f.padOnTop)), overhang);
}

/** The fewest fillers in any order that keeps those without a pad on top off both overhangs; Infinity where there is none. */
function tryAll(gap: number, list: readonly Filler[], { before, after }: Overhang): number {
  const known = new Map<string, number>();
  const go = (at: number, ordinary: boolean): number => {
    if (at === gap) return ordinary || gap === 0 ? 0 : Number.POSITIVE_INFINITY;
    const key = `${at} ${ordinary}`;
    const there = known.get(key);
    if (there !== undefined) return there;
    let best = Number.POSITIVE_INFINITY;
    for (const { w, alone, onTop } of list)
      if (at + w <= gap && (onTop || (at >= before && at + w <= gap - after)))
        best = Math.min(best, 1 + go(at + w, ordinary || alone));
    known.set(key, best);
    return best;
  };
  return go(0, false);
}

describe('a gap that pads overhang', () => {
  it('is legal just where some order of fillers fills it, with as few as any', () => {
    fc.assert(
      fc.property(choice, overhangs, (list, overhang) => {
        const set = setOf(list, overhang);
        for (let gap = 0; gap <= 60; gap++) {
          const fewest = tryAll(gap, list, overhang);
          expect(set.isLegal(gap), `${gap}`).toBe(Number.isFinite(fewest));
          if (!Number.isFinite(fewest)) continue;
          const filling = set.fewest(gap);
          expect(filling.length).toBe(fewest);
          let at = 0;
          for (const { width, padOnTop } of filling) {
            if (!padOnTop)
              expect(at >= overhang.before && at + width <= gap - overhang.after, `${gap}`).toBe(true);
            at += width;
          }
          expect(at).toBe(gap);
          expect(gap === 0 || filling.some((f) => f.standsAlone)).toBe(true);
        }
      }),
      { numRuns: 400 },
    );
  });
  it('finds the nearest legal gaps, stays legal as it grows, and is legal at every step from some length on', () => {
    fc.assert(
      fc.property(choice, overhangs, (list, overhang) => {
        const set = setOf(list, overhang);
        const legal = Array.from({ length: 80 }, (_, gap) => set.isLegal(gap));
        for (let gap = 1; gap < 40; gap++) {
          const above = set.atLeast(gap);
          if (above < 80) expect(legal.indexOf(true, gap)).toBe(above);
          expect(legal.lastIndexOf(true, gap)).toBe(set.atMost(gap));
          for (let more = 0; more < 40; more++)
            if (legal[gap] && set.growth.isLegal(more)) expect(legal[gap + more]).toBe(true);
          if (gap >= set.denseFrom) expect(legal[gap]).toBe(gap % set.step === 0);
        }
      }),
      { numRuns: 300 },
    );
  });
  it('worked by hand: fillers 10 with pads on top and 1 without, overhangs of 12 and 3', () => {
    const list = [
      { w: 10, alone: true, onTop: true },
      { w: 1, alone: true, onTop: false },
    ];
    const set = setOf(list, { before: 12, after: 3 });
    // 10; 20; and from 30 on any: two tens before, one behind, ones between.
    expect([9, 10, 11, 20, 21, 29, 30, 31, 32].filter((gap) => set.isLegal(gap))).toEqual([
      10, 20, 30, 31, 32,
    ]);
    expect(set.fewest(32).map((f) => f.width)).toEqual([10, 10, 1, 1, 10]);
    expect(set.denseFrom).toBe(30);
  });
});

const sides = fc
  .record({
    list: choice,
    widths: fc.array(fc.integer({ min: 1, max: 6 }), { minLength: 1, maxLength: 4 }),
    over: fc.array(fc.option(overhangs, { nil: null, freq: 2 }), { minLength: 5, maxLength: 5 }),
    near: fc.array(fc.integer({ min: 0, max: 14 }), { minLength: 4, maxLength: 4 }),
    next: fc.array(fc.integer({ min: 0, max: 22 }), { minLength: 4, maxLength: 4 }),
    tail: fc.integer({ min: 0, max: 12 }),
  })
  .map((r): PackProblem => {
    const all = fillerSet(r.list.map(print));
    const sets = r.over.map((overhang) => (overhang === null ? all : setOf(r.list, overhang)));
    const n = r.widths.length;
    return {
      start: 2,
      end: 3,
      lastFillers: sets[n] ?? all,
      cells: r.widths.map((width, i) => ({
        width,
        gap: 0,
        fillers: sets[i] ?? all,
        low: 0,
        tail: i === n - 1 ? Math.max(r.tail, width + 3) : width + 3,
        fixed: null,
      })),
      rules: r.widths.flatMap((_, to) => [
        ...(to >= 2 ? [{ from: to - 2, to, distance: r.next[to] ?? 0, why: '' }] : []),
        ...(to >= 1 ? [{ from: to - 1, to, distance: r.near[to] ?? 0, why: '' }] : []),
      ]),
    };
  });

/** Whether a side of a length can be filled, by trying every gap. */
function exists({ cells, start, end, rules, lastFillers }: PackProblem, length: number): boolean {
  const places: number[] = [];
  const go = (from: number): boolean => {
    const i = places.length;
    const cell = cells[i];
    if (cell === undefined) return lastFillers.isLegal(length - end - from);
    for (let s = from; s + cell.tail <= length; s++) {
      if (!cell.fillers.isLegal(s - from)) continue;
      if (rules.some((r) => r.to === i && s - (places[r.from] ?? 0) < r.distance)) continue;
      places.push(s);
      if (go(s + cell.width)) return true;
      places.pop();
    }
    return false;
  };
  return go(start);
}

it('looks as far as the gap before and the gap after together need: 7 before and nothing after', () => {
  // The narrow ones may not stand alone and only one of them may lie at the end, under a tail: after the cell 5 and 7 are
  // illegal, and so is any change of 5 before it to 7.
  const list = [
    { w: 4, alone: true, onTop: true },
    { w: 2, alone: false, onTop: true },
    { w: 1, alone: false, onTop: false },
  ];
  const lastFillers = setOf(list, { before: 3, after: 3 });
  expect([4, 5, 6, 7, 8].filter((gap) => lastFillers.isLegal(gap))).toEqual([4, 6, 8]);
  const fillers = fillerSet(list.map(print));
  const cell = { width: 1, gap: 0, fillers, low: 0, tail: 4, fixed: null };
  const packing = pack({ start: 2, end: 3, lastFillers, cells: [cell], rules: [] });
  expect(placing(packing, 13)).toEqual([9]);
});

it('a side with such gaps fills just the lengths that the search of every gap fills', () => {
  fc.assert(
    fc.property(sides, (problem) => {
      const packing = pack(problem);
      const least = problem.cells.reduce((sum, c) => sum + c.width, problem.start + problem.end);
      for (let length = least; length < least + 40; length++) {
        const truth = exists(problem, length);
        expect(packing.stuck === null && fills(packing, length), `length ${length}`).toBe(truth);
        if (truth) expect(placing(packing, length)).not.toBeNull();
      }
    }),
    { numRuns: 250 },
  );
});

describe('fillers of a fine step', () => {
  it('a gap beyond the table is filled in order, with the pads over what allows them', () => {
    const list = [
      { w: 2000, alone: true, onTop: true },
      { w: 301, alone: true, onTop: false },
    ];
    const set = setOf(list, { before: 500, after: 100 });
    const gap = 9_000_000 + 3 * 301;
    expect(set.isLegal(gap)).toBe(true);
    const filling = set.fewest(gap);
    expect(filling.reduce((sum, f) => sum + f.width, 0)).toBe(gap);
    expect(filling.map((f) => Number(f.width)).indexOf(301)).toBeGreaterThan(0);
    expect(filling.at(-1)?.width).toBe(2000);
  });
  it('takes those that allow pads alone where there are too many ends to try', () => {
    const list = [
      { w: 20_000, alone: true, onTop: true },
      { w: 7, alone: false, onTop: true },
      { w: 1, alone: true, onTop: false },
    ];
    for (const after of [12_500, 400_000_000]) {
      const set = setOf(list, { before: 12_500, after });
      expect(set.isLegal(40_007)).toBe(true);
      expect(set.isLegal(40_001)).toBe(false);
    }
    // With fewer steps in the widest it takes the narrow one too.
    const coarse = setOf([{ w: 200, alone: true, onTop: true }, ...list.slice(1)], {
      before: 125,
      after: 125,
    });
    expect(coarse.isLegal(401)).toBe(true);
  });
});

describe('a ring whose narrow filler allows no pad on top', () => {
  const base = library(35, []);
  const [io] = base;
  if (io === undefined) throw new Error('an empty library');
  const fillers = (onTop: boolean) => [
    footprint('fill_20', 'filler', 20),
    footprint('fill_1', 'filler', 1, { padOnTop: onTop }),
  ];
  const of = (prints: readonly Footprint[], pitch: number) => {
    const supplies = base.filter((f) => f.role === 'supply');
    const pads = (side: string) =>
      Array.from({ length: 5 }, (_, i) => entry((side === 'l' ? supplies[i] : null) ?? io, `${side}${i}`));
    return ring(
      [...base, ...prints],
      'over-circuit',
      { left: pads('l'), bottom: pads('b'), right: pads('r'), top: pads('t') },
      {
        rows: { overCircuit: 1, gap: um(12), first: 'outer', inset: um(0) },
        pads: { ...ring(base, 'inline', {}).pads, pitch: um(pitch) },
      },
    );
  };
  it('takes the narrow one between two that lie under the pads: 4 pitches of 82, not of 95', () => {
    // Cells 35 wide, pads 60: each overhangs its gap by 12.5. At a pitch of 82 a gap of 47 is 20 + 7 x 1 + 20; without
    // the narrow one it would be 60. At the corner cells, which allow no pad, 12.5 need 20.
    const laid = lay(of(fillers(false), 82));
    const alone = lay(of(fillers(false).slice(0, 1), 82));
    const any = lay(of(fillers(true), 82));
    const width = (outcome: typeof laid): number => (outcome.ok ? outcome.value.die.width : Number.NaN);
    expect(width(laid)).toBe(2 * 240 + 2 * 20 + 4 * 82 + 35);
    expect(width(alone)).toBe(2 * 240 + 2 * 20 + 4 * 95 + 35);
    // 12.5 to a corner cell are 13 where every filler allows a pad.
    expect(width(any)).toBe(2 * 240 + 2 * 13 + 4 * 82 + 35);
  });
  it('and the checker finds no pad over it', () => {
    let narrow = 0;
    for (let pitch = 60; pitch <= 100; pitch += 3) {
      const laid = lay(of(fillers(false), pitch));
      if (!laid.ok) throw new Error(laid.problems.map((p) => p.message).join('; '));
      expect(laid.value.findings.filter((f) => f.severity === 'error').map((f) => f.rule)).toEqual([]);
      narrow += laid.value.cells.filter((cell) => cell.footprint === 'fill_1').length;
    }
    expect(narrow).toBeGreaterThan(100);
  });
});
