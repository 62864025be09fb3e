/**
 * Shows: node voltages, branch currents and feed currents of rails, open and closed, are those of ngspice's operating point of
 * the same network to 1e-9 relative, and the closed forms of ring-model section 7.
 * Sources: ngspice; I R / 8 and I R / 2 for a uniform load, two arcs of a loop in parallel.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type RailNetwork, resistanceBetween, solveRail } from '../../src/figures/rail.ts';
import { hasNgspice, ngspice, numbers } from './outside.ts';

function randomRail(seed: number, n: number, closed: boolean, feeds: number, held: number): RailNetwork {
  const random = numbers(seed);
  const branches = closed ? n : n - 1;
  return {
    closed,
    resistance: Float64Array.from({ length: branches }, () => 10 ** (-2 + 2 * random())),
    draw: Float64Array.from({ length: n }, () => (random() < 0.3 ? 0 : random() * 0.02)),
    feeds: Array.from({ length: feeds }, (_, k) => ({
      node: Math.floor(random() * n),
      voltage: k === 1 ? 1.19 : 1.2,
      resistance: k < held ? 0 : 0.01 + random(),
    })),
  };
}

/** The network as a circuit: nodes n0, n1 …, a source and a resistor a feed, a source a draw. */
function circuitOf({ closed, resistance, draw, feeds }: RailNetwork): string[] {
  const n = draw.length;
  const lines = [...resistance].map((r, i) => `rb${i} n${i} n${closed ? (i + 1) % n : i + 1} ${r}`);
  for (const [i, taken] of draw.entries()) if (taken !== 0) lines.push(`id${i} n${i} 0 dc ${taken}`);
  for (const [k, { node, voltage, resistance: own }] of feeds.entries()) {
    if (own > 0) lines.push(`vf${k} f${k} 0 dc ${voltage}`, `rf${k} f${k} n${node} ${own}`);
    else lines.push(`vf${k} n${node} 0 dc ${voltage}`);
  }
  return lines;
}

function against(rail: RailNetwork): void {
  const n = rail.draw.length;
  const solved = solveRail(rail);
  if (!solved) throw new Error('the rail is fed');
  const names = [...rail.draw.keys()].map((i) => `print v(n${i})`);
  const given = rail.feeds.map((_, k) => `print i(vf${k})`);
  const values = ngspice(circuitOf(rail), ['op', ...names, ...given]);
  for (let i = 0; i < n; i++) {
    const spice = values.get(`v(n${i})`) ?? Number.NaN;
    expect(Math.abs((solved.voltage[i] ?? 0) - spice)).toBeLessThanOrEqual(1e-9 * Math.abs(spice));
  }
  const most = Math.max(...solved.given.map(Math.abs));
  for (const k of rail.feeds.keys()) {
    const spice = -(values.get(`i(vf${k})`) ?? Number.NaN);
    expect(Math.abs((solved.given[k] ?? 0) - spice)).toBeLessThanOrEqual(1e-9 * most);
  }
}

/** Beside each network stands what ngspice 39 gave for its last node. */
describe("ngspice's operating point", () => {
  test.each([
    [1, 5, false, 1, 0, 1.186089414432096],
    [2, 12, false, 3, 0, 1.170970947011201],
    [3, 40, false, 4, 1, 1.2],
    [14, 2, true, 1, 0, 1.195172037770815],
    [5, 12, true, 2, 0, 1.183271521294414],
    [6, 60, true, 5, 0, 1.125151981583758],
    [7, 60, true, 5, 1, 1.112569882250528],
    [8, 120, true, 7, 2, 1.123387217161325],
    [9, 1, false, 1, 0, 1.2],
    [10, 300, false, 12, 0, 1.06138229717326],
    [11, 300, true, 12, 0, 0.7496238321116071],
  ] as const)(
    'network %i of %i nodes, closed %s, %i feeds of which %i hold',
    (seed, n, closed, feeds, held, recorded) => {
      const rail = randomRail(seed, n, closed, feeds, held);
      if (hasNgspice) against(rail);
      expect(Math.abs((solveRail(rail)?.voltage[n - 1] ?? 0) / recorded - 1)).toBeLessThan(1e-9);
    },
  );
});

/** n loads of I/n each at the middles of n equal pieces of a rail of resistance R, which converges as 1/n^2. */
function uniform(n: number, closed: boolean, feeds: RailNetwork['feeds'], R: number, I: number): RailNetwork {
  const resistance = new Float64Array(closed ? n : n - 1).fill(R / n);
  return { closed, resistance, draw: new Float64Array(n).fill(I / n), feeds };
}

describe('closed forms', () => {
  const [R, I] = [2.5, 0.3];
  const feed = (node: number, resistance: number) => ({ node, voltage: 1.2, resistance });

  test('a uniform load fed at both ends drops I R / 8 in the middle', () => {
    const n = 1001;
    // The ends are half a piece beyond the outermost loads.
    const rail = uniform(n, false, [feed(0, R / n / 2), feed(n - 1, R / n / 2)], R, I);
    const drop = solveRail(rail)?.drop ?? new Float64Array();
    expect(Math.max(...drop) / ((I * R) / 8)).toBeCloseTo(1, 5);
    expect(drop.indexOf(Math.max(...drop))).toBe(500);
  });

  test('fed at one end it drops I R / 2 at the other', () => {
    const n = 1000;
    const drop = solveRail(uniform(n, false, [feed(0, R / n / 2)], R, I))?.drop ?? new Float64Array();
    expect((drop[n - 1] ?? 0) / ((I * R) / 2)).toBeCloseTo(1, 5);
    expect(drop.indexOf(Math.max(...drop))).toBe(n - 1);
  });

  test('a loop fed at one node is a rail fed at both ends', () => {
    const n = 1000;
    const drop = solveRail(uniform(n, true, [feed(0, 0)], R, I))?.drop ?? new Float64Array();
    expect((drop[n / 2] ?? 0) / ((I * R) / 8)).toBeCloseTo(1, 5);
  });

  test('between two points of a loop its two arcs are in parallel', () => {
    const random = numbers(99);
    const resistance = Float64Array.from({ length: 50 }, () => 0.1 + random());
    const between = resistanceBetween({ closed: true, resistance });
    for (const [a, b] of [
      [0, 1],
      [0, 25],
      [49, 0],
      [13, 44],
    ] as const) {
      const [low, high] = [Math.min(a, b), Math.max(a, b)];
      const arc = resistance.slice(low, high).reduce((sum, r) => sum + r, 0);
      const other = resistance.reduce((sum, r) => sum + r, 0) - arc;
      expect(between(a, b)).toBeCloseTo(1 / (1 / arc + 1 / other), 12);
      // And as a network: 1 A in at one, out at the other.
      const draw = new Float64Array(50);
      draw[b] = 1;
      const drop = solveRail({ closed: true, resistance, draw, feeds: [feed(a, 0)] })?.drop;
      expect(drop?.[b]).toBeCloseTo(between(a, b), 12);
    }
  });
});

describe('what the solver promises', () => {
  const arbitrary = fc
    .record({ n: fc.integer({ min: 1, max: 40 }), closed: fc.boolean(), seed: fc.integer() })
    .chain(({ n, closed, seed }) =>
      fc.record({
        rail: fc
          .record({ feeds: fc.integer({ min: 1, max: 5 }), held: fc.integer({ min: 0, max: 1 }) })
          .map((f) => randomRail(seed, n, closed && n > 1, f.feeds, f.held)),
      }),
    );

  test('Kirchhoff holds at every node and Ohm in every branch', () => {
    fc.assert(
      fc.property(arbitrary, ({ rail }) => {
        const solved = solveRail(rail);
        const n = rail.draw.length;
        const into = new Float64Array(n);
        let scale = 1e-3;
        for (const [i, current] of (solved?.current ?? []).entries()) {
          into[i] = (into[i] ?? 0) - current;
          into[(i + 1) % n] = (into[(i + 1) % n] ?? 0) + current;
          scale = Math.max(scale, Math.abs(current));
        }
        for (const [k, { node }] of rail.feeds.entries())
          into[node] = (into[node] ?? 0) + (solved?.given[k] ?? 0);
        for (const [i, taken] of rail.draw.entries())
          expect(Math.abs((into[i] ?? 0) - taken)).toBeLessThan(1e-11 * scale);
      }),
      { numRuns: 300 },
    );
  });

  test('a drop far below the voltage keeps its digits', () => {
    const resistance = new Float64Array(9).fill(1e-3);
    const draw = new Float64Array(10).fill(1e-9);
    const rail = (voltage: number): RailNetwork => ({
      closed: false,
      resistance,
      draw,
      feeds: [{ node: 0, voltage, resistance: 1e-3 }],
    });
    const low = solveRail(rail(0))?.drop ?? [];
    expect(solveRail(rail(1e6))?.drop).toEqual(low);
    // 10 + 9 + … + 1 steps of 1e-12 V.
    expect((low[9] ?? 0) / 55e-12).toBeCloseTo(1, 12);
  });

  test('a rail that nothing feeds has no solution, and one node cannot be at two voltages', () => {
    const bare = { closed: false, resistance: Float64Array.of(1), draw: Float64Array.of(0, 1) };
    expect(solveRail({ ...bare, feeds: [] })).toBeUndefined();
    const held = (voltage: number) => ({ node: 1, voltage, resistance: 0 });
    expect(() => solveRail({ ...bare, feeds: [held(1.2), held(1.3)] })).toThrow(
      'node 1 is held at two voltages',
    );
    const twice = solveRail({ ...bare, feeds: [held(1.2), held(1.2)] });
    expect([...(twice?.given ?? [])]).toEqual([1, 0]);
  });

  test('a rail of 100 000 nodes is solved in one pass', () => {
    const rail = randomRail(5, 100_000, true, 4000, 0);
    const solved = solveRail(rail);
    expect(solved?.given.reduce((sum, i) => sum + i, 0)).toBeCloseTo(
      rail.draw.reduce((sum, i) => sum + i, 0),
      6,
    );
  });
});
