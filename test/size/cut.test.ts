/**
 * Shows: the least length of a side between any two cuts is the engine's own; the cut into sides makes the die as small
 * as any cut does, with break cells, groups, sides that cells are bound to, fixed cells, cores, fixed extents, aspects
 * and the least area; an order that cannot be cut has an error. Source: trying every cut with the engine that lays
 * bound rings, which test/fit holds to an exhaustive search of its own.
 */
import { describe, expect, it } from 'vitest';
import { cutOrder } from '../../src/fit/cut/cut.ts';
import { depthsOf } from '../../src/fit/cut/distances.ts';
import { withSides } from '../../src/fit/cut/lap.ts';
import { runsOf } from '../../src/fit/cut/runs.ts';
import { loneSide, strandOf } from '../../src/fit/cut/strand.ts';
import { type Die, lessDie, wishOf } from '../../src/fit/die.ts';
import { fitSides } from '../../src/fit/fit.ts';
import { nextLength, pack } from '../../src/fit/pack.ts';
import { fillerChoice, sideProblem } from '../../src/fit/problem.ts';
import { type SideRows, sideRows } from '../../src/fit/rows.ts';
import { SIDES, type Side } from '../../src/geometry/side.ts';
import { plan } from '../../src/plan/plan.ts';
import type { Entry } from '../../src/spec/ring.ts';
import { entry, footprint, library, ring, um } from '../helpers/ring.ts';
import { COARSE, type FreeOptions, type FreeRing, freeRing } from './free-rings.ts';

/** The least die over all cuts, each laid by the engine. */
function leastOfAll(ring: FreeRing): Die | null {
  const { cells, groups } = ring.order;
  const n = cells.length;
  const whole = new Set(groups.flatMap((g) => (g.whole ? g.cells.slice(1) : [])));
  let best: Die | null = null;
  const lay = (cuts: readonly number[]): void => {
    if (cuts.slice(0, 4).some((cut) => whole.has(cut % n))) return;
    const entries: Record<Side, Entry[]> = { left: [], bottom: [], right: [], top: [] };
    for (const [k, side] of SIDES.entries())
      for (let c = cuts[k] ?? 0; c < (cuts[k + 1] ?? 0); c++) {
        const entry = cells[c % n]?.on[side];
        if (entry === undefined) return;
        entries[side].push(entry);
      }
    const planned = plan(withSides(ring, entries));
    const fit = planned.ok ? fitSides(planned.value) : planned;
    if (!fit.ok) return;
    if (best === null || (ring.die === null && lessDie(fit.value.die, best, wishOf(ring).least)))
      best = fit.value.die;
  };
  for (let a = 0; a < n; a++)
    for (let b = a; b <= a + n; b++)
      for (let c = b; c <= a + n; c++) for (let d = c; d <= a + n; d++) lay([a, b, c, d, a + n]);
  return best;
}

/** Holds random rings to trying every cut. */
function compare(rings: number, options: FreeOptions): { readonly none: number; readonly unproven: number } {
  const different: number[] = [];
  const seen = { none: 0, unproven: 0 };
  for (let seed = 0; seed < rings; seed++) {
    const ring = freeRing(seed, options);
    const least = leastOfAll(ring);
    const cut = cutOrder(ring, ring.order);
    const die = cut.ok ? cut.value.fit.die : null;
    if (least === null) seen.none++;
    if (cut.ok && cut.notes.length > 0) seen.unproven++;
    const { least: by } = wishOf(ring);
    const same =
      least === null || die === null ? least === die : !lessDie(least, die, by) && !lessDie(die, least, by);
    if (!same) different.push(seed);
  }
  console.info(`cut: ${rings} rings, ${seen.none} cannot be cut, ${seen.unproven} not proven`);
  expect(different).toEqual([]);
  return seen;
}

describe('the cut into sides', () => {
  it('makes the die as small as trying every cut does, on 120 rings', () => {
    const seen = compare(120, { cells: [3, 5], awkward: null });
    expect(seen.none).toBeLessThan(40);
    expect(seen.unproven).toBeLessThan(6);
  });
  it('and where cells are no whole steps of the fillers wide, so that few cuts leave opposite sides alike', () => {
    const seen = compare(60, { cells: [3, 5], awkward: null, fillers: COARSE });
    expect(seen.none).toBeLessThan(30);
    expect(seen.unproven).toBeLessThan(6);
  });
  it('of such a ring of 60 cells is found at once', () => {
    // Nine cells of 52 and nine of 20 among those of 35, fillers of 10 and 5.
    const cells = library(35, [10, 5]);
    const [io] = cells;
    if (io === undefined) throw new Error('an empty library');
    const [wide, bare] = [footprint('wide', 'signal', 52), footprint('bare', 'clamp', 20)];
    const order = Array.from({ length: 60 }, (_, i) => {
      const own = i % 7 === 3 ? wide : i % 7 === 5 ? bare : io;
      const one = entry(own, own === bare ? null : `P${i}`);
      return { on: { left: one, bottom: one, right: one, top: one } };
    });
    const free = ring([...cells, wide, bare], 'inline', {}, { order: { cells: order, groups: [] } });
    const cut = cutOrder(free, { cells: order, groups: [] });
    expect(cut.ok && cut.notes).toEqual([]);
    // Opposite sides take 52s whose numbers differ by fives.
    const wides = SIDES.map((side) =>
      cut.ok ? cut.value.ring.sides[side].entries.filter((e) => e.footprint === wide).length : -1,
    );
    expect(
      [((wides[0] ?? 0) - (wides[2] ?? 0)) % 5, ((wides[1] ?? 0) - (wides[3] ?? 0)) % 5].map(Math.abs),
    ).toEqual([0, 0]);
    expect(wides.reduce((a, b) => a + b)).toBe(9);
  });

  it('puts every cell on one side, in order, with its break cells', () => {
    for (let seed = 500; seed < 560; seed++) {
      const ring = freeRing(seed, { cells: [8, 30], awkward: false });
      const cut = cutOrder(ring, ring.order);
      if (!cut.ok) continue;
      const laid = SIDES.flatMap((side) =>
        cut.value.ring.sides[side].entries.map((entry) => ({ side, entry })),
      );
      expect(laid.length).toBe(ring.order.cells.length);
      const first = ring.order.cells.findIndex(({ on }) =>
        Object.values(on).includes(laid[0]?.entry as Entry),
      );
      laid.forEach(({ side, entry }, i) => {
        expect(ring.order.cells[(first + i) % laid.length]?.on[side]).toBe(entry);
      });
      const differ = laid.filter(({ entry }, i) => entry.section !== laid.at(i - 1)?.entry.section).length;
      const breaks = SIDES.flatMap((side) => cut.value.fit.plan.sides[side]).filter(
        (cell) => cell.section === null,
      );
      expect(breaks.length).toBe(differ);
    }
  });
});

it('knows the least length of a side between any two cuts', () => {
  let compared = 0;
  for (let seed = 1000; seed < 1090; seed++) {
    const coarse = seed < 1060 ? {} : { fillers: COARSE };
    const ring = freeRing(seed, { cells: [3, 10], awkward: false, ...coarse });
    const entries = ring.order.cells.map(({ on }) => Object.values(on)[0] as Entry);
    const planned = plan(withSides(ring, { left: [], bottom: entries, right: [], top: [] }));
    if (!planned.ok) throw new Error('no break cell');
    const lap = planned.value.sides.bottom;
    const strand = strandOf(ring, 'bottom', lap);
    if (!strand.ok) throw new Error('wrong style');
    const t0s = [um(60), um(seed % 2 === 0 ? 133 : 60)] as const;
    const stub = (side: Side, k: 0 | 1): SideRows => ({
      side,
      cells: [],
      pads: [],
      t0: t0s[k],
      inner: t0s[k],
      over: false,
    });
    const { width, depth } = ring.corners.footprint;
    const runs = depthsOf(strand.value).map((depths) =>
      runsOf({ strand: strand.value, depths, start: t0s[0] + width, end: t0s[1] + depth }),
    );
    const fillers = fillerChoice(ring);
    for (let i = 0; i < lap.length; i++)
      for (let j = i; j <= i + lap.length; j++) {
        const rows = sideRows(loneSide(ring, 'bottom', [...lap, ...lap].slice(i, j)), 'bottom');
        if (!rows.ok) throw new Error('wrong style');
        const all = {
          left: stub('left', 0),
          bottom: rows.value,
          right: stub('right', 1),
          top: stub('top', 1),
        };
        const { problem, tooClose } = sideProblem(ring, all, 'bottom', fillers, []);
        const packing = pack(problem);
        const stands = tooClose.length === 0 && packing.stuck === null;
        const truth = stands ? nextLength(packing, 0) : Number.POSITIVE_INFINITY;
        const least = Math.min(...runs.map((r) => r.least(i, j)));
        expect(least, `seed ${seed}, cells ${i} to ${j}`).toBe(truth);
        if (stands) expect(Math.max(...runs.map((r) => r.farthest(i, truth)))).toBeGreaterThanOrEqual(j);
        compared++;
      }
  }
  expect(compared).toBeGreaterThan(2000);
});
