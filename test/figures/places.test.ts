/**
 * Shows: places nearest to wished ones, least sum of weighted squares, under distances between direct neighbours (bounded isotonic
 * regression) and between any two (a quadratic program): the optimality conditions hold on random sides, a quadratic-program
 * solver finds the same, and contradictions are named.
 * Sources: Karush-Kuhn-Tucker conditions; npm `highs`; ring-model section 9's three pads.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type ApartWishes, nearestApart, type Standing } from '../../src/figures/apart.ts';
import { nearestInOrder, type OrderedWishes } from './isotonic.ts';
import { numbers, solveProgram } from './outside.ts';

test('ring-model section 9: wishes 0, 10, 20 with neighbours 35 and next-but-one 90 give -35, 10, 55', () => {
  const rules = [
    { before: 0, after: 1, distance: 35 },
    { before: 1, after: 2, distance: 35 },
    { before: 0, after: 2, distance: 90 },
  ];
  const solved = nearestApart({ wishes: [0, 10, 20], rules });
  if (!('places' in solved)) throw new Error('solved');
  expect([...solved.places]).toEqual([-35, 10, 55]);
  expect(solved.stands).toEqual({ rules: [{ rule: 2, pressure: 35 }], least: [], most: [] });
  // With neighbours alone they stand 35 apart around 10.
  const free = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const inOrder = nearestInOrder({
    wishes: [0, 10, 20],
    distances: [35, 35],
    least: free,
    most: free.map((x) => -x),
  });
  expect(inOrder).toEqual({ places: [-25, 10, 45] });
});

/** A staggered side: graded corner pitches, wide cells now and then, next-but-one rules, ends bounded, some places fixed. */
function side(seed: number, n: number, fixes: boolean): Required<ApartWishes> {
  const random = numbers(seed);
  const direct = Array.from({ length: n - 1 }, (_, i) => {
    const corner = Math.min(i, n - 2 - i);
    return (random() < 0.1 ? 80 : 35) + (corner < 2 ? 15 - 5 * corner : 0);
  });
  const rules = direct.map((distance, i) => ({ before: i, after: i + 1, distance }));
  for (let i = 0; i + 2 < n; i++)
    rules.push({ before: i, after: i + 2, distance: 60 + Math.floor(random() * 50) });
  const finger = 20 + 60 * random();
  const wishes = Array.from({ length: n }, (_, i) => 300 + i * finger + 400 * (random() - 0.5) ** 3);
  const weights = Array.from({ length: n }, () => 0.5 + Math.floor(4 * random()));
  const least = Array<number>(n).fill(0);
  const most = Array<number>(n).fill(n * 95);
  if (fixes && n > 6) {
    const k = 2 + Math.floor(random() * (n - 4));
    least[k] = 70 * k;
    most[k] = 70 * k;
  }
  return { wishes, weights, rules, least, most };
}

/** Asserts that places and pressures are feasible, complementary and stationary: the one optimum of a strictly convex program. */
function optimal(wanted: Required<ApartWishes>, places: ArrayLike<number>, stands: Standing): void {
  const n = wanted.wishes.length;
  const scale = 1e-9 * Math.max(...wanted.wishes.map(Math.abs), ...wanted.rules.map((r) => r.distance), 1);
  const pull = Array.from(
    { length: n },
    (_, i) => (wanted.weights[i] ?? 1) * ((places[i] ?? 0) - (wanted.wishes[i] ?? 0)),
  );
  for (const { before, after, distance } of wanted.rules)
    expect((places[after] ?? 0) - (places[before] ?? 0)).toBeGreaterThanOrEqual(distance - scale);
  for (let i = 0; i < n; i++) {
    expect(places[i]).toBeGreaterThanOrEqual((wanted.least[i] ?? 0) - scale);
    expect(places[i]).toBeLessThanOrEqual((wanted.most[i] ?? 0) + scale);
  }
  for (const { rule, pressure } of stands.rules) {
    const { before = 0, after = 0, distance = 0 } = wanted.rules[rule] ?? {};
    expect(pressure).toBeGreaterThanOrEqual(0);
    if (pressure > 0)
      expect(Math.abs((places[after] ?? 0) - (places[before] ?? 0) - distance)).toBeLessThan(scale);
    pull[after] = (pull[after] ?? 0) - pressure;
    pull[before] = (pull[before] ?? 0) + pressure;
  }
  for (const { place, pressure } of stands.least) {
    expect(pressure).toBeGreaterThanOrEqual(0);
    expect(places[place]).toBeCloseTo(wanted.least[place] ?? 0, 6);
    pull[place] = (pull[place] ?? 0) - pressure;
  }
  for (const { place, pressure } of stands.most) {
    expect(pressure).toBeGreaterThanOrEqual(0);
    expect(places[place]).toBeCloseTo(wanted.most[place] ?? 0, 6);
    pull[place] = (pull[place] ?? 0) + pressure;
  }
  for (const rest of pull) expect(Math.abs(rest)).toBeLessThan(1e3 * scale);
}

describe('rules between any two places', () => {
  test('the optimality conditions hold on 1000 random sides', () => {
    let [pressed, contradicted] = [0, 0];
    for (let seed = 0; seed < 1000; seed++) {
      const wanted = side(seed, 2 + (seed % 60), seed % 3 === 0);
      const solved = nearestApart(wanted);
      if ('conflict' in solved) contradicted++;
      else {
        optimal(wanted, solved.places, solved.stands);
        pressed += solved.stands.rules.filter(({ rule }) => rule >= wanted.wishes.length - 1).length;
      }
    }
    // The cases are no empty ones: next-but-one rules do press, and few contradict.
    expect(pressed).toBeGreaterThan(5000);
    expect(contradicted).toBeLessThan(100);
  });

  test('equal to a quadratic-program solver', () => {
    for (let seed = 0; seed < 25; seed++) {
      const wanted = side(seed, 4 + (seed % 12), seed % 2 === 0);
      const solved = nearestApart(wanted);
      const name = (i: number): string => `x${i}`;
      // Wishes are taken off, so that the objective is small and the solver keeps its digits.
      const text = [
        'Minimize',
        ` obj: [ ${wanted.weights.map((w, i) => `${2 * w} ${name(i)} ^ 2`).join(' + ')} ] / 2`,
        'Subject To',
        ...wanted.rules.map(({ before, after, distance }, k) => {
          const wish = (wanted.wishes[after] ?? 0) - (wanted.wishes[before] ?? 0);
          return ` r${k}: ${name(after)} - ${name(before)} >= ${distance - wish}`;
        }),
        'Bounds',
        ...wanted.wishes.map(
          (wish, i) => ` ${(wanted.least[i] ?? 0) - wish} <= ${name(i)} <= ${(wanted.most[i] ?? 0) - wish}`,
        ),
        'End',
        '',
      ].join('\n');
      const outside = solveProgram(text);
      if (!('places' in solved)) {
        expect(outside).toBeUndefined();
        continue;
      }
      for (const [i, wish] of wanted.wishes.entries())
        expect(
          Math.abs((solved.places[i] ?? 0) - wish - (outside?.value(name(i)) ?? Number.NaN)),
        ).toBeLessThan(1e-3);
    }
  });

  test('any rules, forward and backward: optimal, or the named ones contradict', () => {
    const place = fc.integer({ min: 0, max: 7 });
    const wishes = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 8, maxLength: 8 });
    const rule = fc.record({ before: place, after: place, distance: fc.integer({ min: -30, max: 30 }) });
    let [solvedCount, conflictCount] = [0, 0];
    fc.assert(
      fc.property(
        wishes,
        fc.array(rule, { maxLength: 18 }),
        fc.array(fc.option(fc.integer({ min: -40, max: 20 }), { freq: 2 }), { minLength: 8, maxLength: 8 }),
        fc.array(fc.option(fc.integer({ min: -20, max: 40 }), { freq: 2 }), { minLength: 8, maxLength: 8 }),
        (wished, any, low, high) => {
          const wanted = {
            wishes: wished,
            weights: wished.map(() => 1),
            rules: any.filter((r) => r.before !== r.after),
            least: low.map((x) => x ?? Number.NEGATIVE_INFINITY),
            most: high.map((x) => x ?? Number.POSITIVE_INFINITY),
          };
          const solved = nearestApart(wanted);
          if ('places' in solved) {
            solvedCount++;
            optimal(wanted, solved.places, solved.stands);
            return;
          }
          // Farkas: weighted by their pressures the rules cancel every place and still demand something above zero.
          conflictCount++;
          const net = Array<number>(8).fill(0);
          const { conflict } = solved;
          let demand = 0;
          for (const { rule: k, pressure } of conflict.rules) {
            const { before = 0, after = 0, distance = 0 } = wanted.rules[k] ?? {};
            expect(pressure).toBeGreaterThan(0);
            net[after] = (net[after] ?? 0) + pressure;
            net[before] = (net[before] ?? 0) - pressure;
            demand += pressure * distance;
          }
          for (const { place: i, pressure } of conflict.least) {
            net[i] = (net[i] ?? 0) + pressure;
            demand += pressure * (wanted.least[i] ?? 0);
          }
          for (const { place: i, pressure } of conflict.most) {
            net[i] = (net[i] ?? 0) - pressure;
            demand -= pressure * (wanted.most[i] ?? 0);
          }
          expect(net).toEqual(Array(8).fill(0));
          expect(demand).toBeGreaterThan(0);
        },
      ),
      { numRuns: 1500 },
    );
    expect(Math.min(solvedCount, conflictCount)).toBeGreaterThan(150);
  });

  test('no place and no rule', () => {
    expect(nearestApart({ wishes: [], rules: [] })).toMatchObject({ places: new Float64Array(0) });
    expect(nearestApart({ wishes: [3], rules: [], least: [5] })).toMatchObject({
      places: Float64Array.of(5),
    });
  });

  test('2000 pads of one side, all pressed together, in picometres', () => {
    const n = 2000;
    const wanted = {
      wishes: Array.from({ length: n }, (_, i) => i * 30e6),
      weights: Array<number>(n).fill(1),
      rules: Array.from({ length: n - 1 }, (_, i) => ({ before: i, after: i + 1, distance: 35e6 })),
      least: Array<number>(n).fill(0),
      most: Array<number>(n).fill(1e12),
    };
    for (let i = 0; i + 2 < n; i++)
      wanted.rules.push({ before: i, after: i + 2, distance: 70e6 + (i % 3) * 1e6 });
    const solved = nearestApart(wanted);
    if (!('places' in solved)) throw new Error('solved');
    optimal(wanted, solved.places, solved.stands);
  });
});

describe('distances between direct neighbours', () => {
  const ordered = fc.integer({ min: 1, max: 25 }).chain((n) =>
    fc.record({
      wishes: fc.array(fc.integer({ min: -100, max: 400 }), { minLength: n, maxLength: n }),
      weights: fc.array(fc.integer({ min: 1, max: 5 }), { minLength: n, maxLength: n }),
      distances: fc.array(fc.integer({ min: 0, max: 40 }), { minLength: n - 1, maxLength: n - 1 }),
      least: fc.array(fc.oneof(fc.constant(Number.NEGATIVE_INFINITY), fc.integer({ min: -50, max: 80 })), {
        minLength: n,
        maxLength: n,
      }),
      most: fc.array(fc.oneof(fc.constant(Number.POSITIVE_INFINITY), fc.integer({ min: 80, max: 600 })), {
        minLength: n,
        maxLength: n,
      }),
    }),
  );

  test('equal to the quadratic program, bounds and all; a conflict is one there too, and its two places are its ends', () => {
    let [solvedCount, conflictCount] = [0, 0];
    fc.assert(
      fc.property(ordered, (wanted: OrderedWishes) => {
        const rules = wanted.distances.map((distance, i) => ({ before: i, after: i + 1, distance }));
        const general = nearestApart({ ...wanted, weights: wanted.weights ?? [], rules });
        const solved = nearestInOrder(wanted);
        if ('conflict' in solved) {
          conflictCount++;
          expect('conflict' in general).toBe(true);
          const [first, last] = solved.conflict;
          const between = wanted.distances.slice(first, last).reduce((sum, d) => sum + d, 0);
          expect((wanted.least[first] ?? 0) + between).toBeGreaterThan(wanted.most[last] ?? 0);
          return;
        }
        solvedCount++;
        if (!('places' in general)) throw new Error('the program has a solution too');
        for (const [i, place] of solved.places.entries())
          expect(place).toBeCloseTo(general.places[i] ?? 0, 7);
      }),
      { numRuns: 1000 },
    );
    expect(Math.min(solvedCount, conflictCount)).toBeGreaterThan(100);
  });

  test('wishes that keep their distances are met exactly', () => {
    const free = [1, 2, 3, 4].map(() => Number.NEGATIVE_INFINITY);
    const wanted = { wishes: [0.1, 40.2, 81.3, 200], distances: [40, 40, 40], least: free };
    expect(nearestInOrder({ ...wanted, most: free.map((x) => -x) })).toEqual({
      places: [0.1, 40.2, 81.3, 200],
    });
  });

  test('a place fixed in a crowd parts it', () => {
    const inf = Number.POSITIVE_INFINITY;
    const solved = nearestInOrder({
      wishes: [50, 50, 50, 50],
      distances: [10, 10, 10],
      least: [-inf, -inf, 42, -inf],
      most: [inf, inf, 42, inf],
    });
    expect(solved).toEqual({ places: [22, 32, 42, 52] });
  });
});
