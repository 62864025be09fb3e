/**
 * Shows that crossings and clearances of random wire sets are those of a general geometry library and of exact
 * whole-number arithmetic, pair by pair. Sources: npm clipper2-ts for crossings, and for clearances by its growth of
 * paths; the definition of the distance of two segments, in whole numbers without any rounding.
 */
import { Clipper, EndType, FillRule, InternalClipper, inflatePaths, intersect, JoinType } from 'clipper2-ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { relationsOf } from '../../src/bond/near.ts';
import { apart, meet, pointToSegment, type Segment, segmentToBox, turn } from '../../src/bond/segments.ts';
import type { StrungWire } from '../../src/bond/string.ts';
import type { Placement } from '../../src/format/placement.ts';
import { bareWire, bondedRing, each, laid, lead, packageOf, pins } from './sample.ts';

const BASE = laid(bondedRing(packageOf(lead(2, 300, 2000)), pins(each(1))));

function placementWith(limits: { readonly spacing: number; readonly diameter: number }): Placement {
  const { package: bonded } = BASE;
  if (bonded === undefined) throw new Error('no package');
  return {
    ...BASE,
    package: {
      ...bonded,
      wires: { ...bonded.wires, diameter: limits.diameter },
      limits: { ...bonded.limits, wireSpacing: limits.spacing },
    },
  };
}

type Point = readonly [number, number];

/** Places on a coarse grid, where wires touch, lie on one line and share ends, and anywhere to the picometre. */
const coarse = fc.tuple(fc.integer({ min: -6, max: 6 }), fc.integer({ min: -6, max: 6 }));
const fine = fc.tuple(
  fc.integer({ min: -900_000_000, max: 900_000_000 }),
  fc.integer({ min: -900_000_000, max: 900_000_000 }),
);
const coarseSet = fc.array(fc.tuple(coarse, coarse), { minLength: 2, maxLength: 40 });
const fineSet = fc
  .array(fc.tuple(fine, fine), { minLength: 2, maxLength: 60 })
  .map((list) => list.map(([a, b]) => [scale(a), scale(b)] as const));
const scale = ([x, y]: Point): Point => [x / 1e6, y / 1e6];
/** A fan as bond wires make it: starts in a row, ends in a wider row, some of them exchanged. */
const fanSet = fc
  .tuple(
    fc.integer({ min: 2, max: 60 }),
    fc.integer({ min: 40, max: 90 }),
    fc.integer({ min: 60, max: 250 }),
    fc.array(fc.tuple(fc.nat(59), fc.nat(59)), { maxLength: 4 }),
  )
  .map(([n, pitch, wide, swaps]) => {
    const order = Array.from({ length: n }, (_, i) => i);
    for (const [a, b] of swaps) {
      const [i, j] = [a % n, b % n];
      [order[i], order[j]] = [order[j] ?? 0, order[i] ?? 0];
    }
    return order.map((end, i): readonly [Point, Point] => [
      [(i - n / 2) * pitch, 0],
      [(end - n / 2) * wide, -1500],
    ]);
  });

const wiresOf = (set: readonly (readonly [Point, Point])[]): readonly StrungWire[] =>
  set.map(([from, to], i) => bareWire(i, from, to));

const whole = ({ from, to }: StrungWire): Segment => ({
  ax: Math.round(from.x * 1e6),
  ay: Math.round(from.y * 1e6),
  bx: Math.round(to.x * 1e6),
  by: Math.round(to.y * 1e6),
});

/** The library's answer; its products are whole numbers below 2^53 where coordinates are below 6.7e7. */
function librarySays(a: Segment, b: Segment, unit: number): boolean {
  const at = (x: number, y: number) => ({ x: x / unit, y: y / unit });
  return InternalClipper.segsIntersect(at(a.ax, a.ay), at(a.bx, a.by), at(b.ax, b.ay), at(b.bx, b.by), true);
}

/** Segments in common point or not, by whole numbers alone. */
function meetExactly(a: Segment, b: Segment): boolean {
  const side = (px: number, py: number, s: Segment): bigint => {
    const value = BigInt(s.bx - s.ax) * BigInt(py - s.ay) - BigInt(s.by - s.ay) * BigInt(px - s.ax);
    return value > 0n ? 1n : value < 0n ? -1n : 0n;
  };
  const between = (p: number, q: number, r: number): boolean => Math.min(p, q) <= r && r <= Math.max(p, q);
  const on = (px: number, py: number, s: Segment): boolean =>
    side(px, py, s) === 0n && between(s.ax, s.bx, px) && between(s.ay, s.by, py);
  if (on(a.ax, a.ay, b) || on(a.bx, a.by, b) || on(b.ax, b.ay, a) || on(b.bx, b.by, a)) return true;
  return side(a.ax, a.ay, b) * side(a.bx, a.by, b) < 0n && side(b.ax, b.ay, a) * side(b.bx, b.by, a) < 0n;
}

/** Whether the distance of a point to a segment is below `limit`, by whole numbers alone. */
function nearExactly(px: number, py: number, s: Segment, limit: number): boolean {
  const [dx, dy, ex, ey] = [s.bx - s.ax, s.by - s.ay, px - s.ax, py - s.ay].map(BigInt) as [
    bigint,
    bigint,
    bigint,
    bigint,
  ];
  const square = dx * dx + dy * dy;
  const along = ex * dx + ey * dy;
  const least = BigInt(limit) * BigInt(limit);
  if (square === 0n || along <= 0n) return ex * ex + ey * ey < least;
  if (along >= square) {
    const [fx, fy] = [BigInt(px - s.bx), BigInt(py - s.by)];
    return fx * fx + fy * fy < least;
  }
  const cross = ex * dy - ey * dx;
  return cross * cross < least * square;
}

const closerExactly = (a: Segment, b: Segment, limit: number): boolean =>
  meetExactly(a, b) ||
  nearExactly(a.ax, a.ay, b, limit) ||
  nearExactly(a.bx, a.by, b, limit) ||
  nearExactly(b.ax, b.ay, a, limit) ||
  nearExactly(b.bx, b.by, a, limit);

function* pairsOf(n: number): Generator<readonly [number, number]> {
  for (let i = 0; i < n; i++) for (let j = i + 1; j < n; j++) yield [i, j];
}

const DIAMETER = 25;

describe('crossings', () => {
  const crossingsOf = (wires: readonly StrungWire[]) =>
    relationsOf(placementWith({ spacing: 0, diameter: DIAMETER }), wires).crossings;

  test.each([
    ['on a coarse grid', coarseSet, 1e6, 300],
    ['anywhere', fineSet, 1, 150],
    ['in fans', fanSet, 1e6, 150],
  ] as const)('are those of the library and of whole numbers: %s', (_, sets, unit, runs) => {
    let crossing = 0;
    fc.assert(
      fc.property(sets, (set) => {
        const wires = wiresOf(set);
        const segments = wires.map(whole);
        const exact = [...pairsOf(wires.length)].filter(([i, j]) =>
          meetExactly(segments[i] as Segment, segments[j] as Segment),
        );
        expect(crossingsOf(wires)).toEqual(exact);
        crossing += exact.length;
        if (unit > 1)
          for (const [i, j] of pairsOf(wires.length)) {
            const [a, b] = [segments[i] as Segment, segments[j] as Segment];
            // The library takes a segment of no length for one that meets nothing, and one on the line of another likewise.
            const flat =
              turn(a.ax, a.ay, a.bx, a.by, b.ax, b.ay) === 0 &&
              turn(a.ax, a.ay, a.bx, a.by, b.bx, b.by) === 0;
            if (!flat && (a.ax !== a.bx || a.ay !== a.by) && (b.ax !== b.bx || b.ay !== b.by))
              expect(librarySays(a, b, unit)).toBe(meet(a, b));
          }
      }),
      { numRuns: runs },
    );
    expect(crossing).toBeGreaterThan(100);
  });

  test('a turn that doubles cannot tell is told exactly', () => {
    // The point is one picometre off a line a metre long.
    expect(turn(0, 0, 1e12, 999_999_999_999, 5e11, 499_999_999_999)).toBe(-1);
    expect(turn(0, 0, 1e12, 1e12, 5e11, 5e11)).toBe(0);
  });
});

describe('clearances', () => {
  test.each([
    [
      'on a coarse grid',
      coarseSet.map((set) =>
        set.map(
          ([a, b]) => [a.map((v) => v * 40), b.map((v) => v * 40)] as unknown as readonly [Point, Point],
        ),
      ),
      200,
    ],
    ['anywhere', fineSet, 100],
    ['in fans', fanSet, 150],
  ] as const)('below a limit are those of whole numbers: %s', (_, sets, runs) => {
    let [close, far] = [0, 0];
    fc.assert(
      fc.property(sets, fc.integer({ min: 0, max: 120 }), (set, spacing) => {
        const wires = wiresOf(set);
        const segments = wires.map(whole);
        const found = relationsOf(placementWith({ spacing, diameter: DIAMETER }), wires);
        const told = new Set([
          ...found.close.map(({ pair }) => pair.join()),
          ...found.crossings.map((pair) => pair.join()),
        ]);
        for (const [i, j] of pairsOf(wires.length)) {
          const [a, b] = [segments[i] as Segment, segments[j] as Segment];
          const limit = (spacing + DIAMETER) * 1e6;
          const exact = closerExactly(a, b, limit);
          // A gap that is the limit to the last picometre may be told either way by doubles.
          if (closerExactly(a, b, limit - 1) !== closerExactly(a, b, limit + 1)) continue;
          expect(told.has(`${i},${j}`)).toBe(exact);
          if (exact) close++;
          else far++;
        }
      }),
      { numRuns: runs },
    );
    expect(Math.min(close, far)).toBeGreaterThan(100);
  });

  test('the nearest wire of each is the nearest of all', () => {
    fc.assert(
      fc.property(fc.oneof(fineSet, fanSet), (set) => {
        const wires = wiresOf(set);
        const segments = wires.map(whole);
        const { nearest } = relationsOf(placementWith({ spacing: 0, diameter: DIAMETER }), wires);
        wires.forEach((_, i) => {
          const gaps = segments.flatMap((s, j) =>
            j === i ? [] : [apart(segments[i] as Segment, s) / 1e6 - DIAMETER],
          );
          expect(nearest[i]?.gap).toBe(Math.min(...gaps));
        });
      }),
      { numRuns: 150 },
    );
  });

  test("the library's grown paths overlap just where a gap is below the sum of the growths", () => {
    let seen = 0;
    fc.assert(
      fc.property(
        fc.tuple(fc.tuple(fine, fine), fc.tuple(fine, fine)),
        fc.integer({ min: 20, max: 400 }),
        ([first, second], grow) => {
          const segment = ([[ax, ay], [bx, by]]: readonly [Point, Point]): Segment => ({
            ax: Math.round(ax / 1e3),
            ay: Math.round(ay / 1e3),
            bx: Math.round(bx / 1e3),
            by: Math.round(by / 1e3),
          });
          const [a, b] = [segment(first), segment(second)];
          const gap = apart(a, b);
          const reach = grow * 1000;
          // The library's round ends are polygons.
          if (Math.abs(gap - 2 * reach) < 0.01 * reach) return;
          const grown = (s: Segment) =>
            inflatePaths(
              [
                [
                  { x: s.ax, y: s.ay },
                  { x: s.bx, y: s.by },
                ],
              ],
              reach,
              JoinType.Round,
              EndType.Round,
              2,
              1,
            );
          const overlap = Clipper.areaPaths(intersect(grown(a), grown(b), FillRule.NonZero));
          expect(Math.abs(overlap) > 0).toBe(gap < 2 * reach);
          seen++;
        },
      ),
      { numRuns: 200 },
    );
    expect(seen).toBeGreaterThan(150);
  });

  test('a point and a rectangle, by hand', () => {
    // A 3-4-5 triangle; beyond the end the distance is to the end.
    expect(pointToSegment(3, 4, { ax: 0, ay: 0, bx: 6, by: 0 })).toBe(4);
    expect(pointToSegment(9, 4, { ax: 0, ay: 0, bx: 6, by: 0 })).toBe(5);
    const box = { x0: 0, y0: 0, x1: 10, y1: 4 };
    expect(segmentToBox({ ax: 13, ay: 8, bx: 20, by: 8 }, box)).toBe(5);
    expect(segmentToBox({ ax: -5, ay: 2, bx: 15, by: 2 }, box)).toBe(0);
    expect(segmentToBox({ ax: 1, ay: 1, bx: 2, by: 2 }, box)).toBe(0);
  });
});
