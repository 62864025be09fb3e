/**
 * Shows: the slope of a driver's current by edge shape, the worked counts of ring-model section 6, and the noise of n drivers on
 * coupled wires against ngspice: equal for ideal ramps within 1 %, at or above what MOS drivers give, for 1 to 64 drivers.
 * Sources: Johnson and Graham, High-Speed Digital Design (k = 1.52), from memory; the curvature of the shapes themselves; ngspice with a level-1
 * model of our own. The MOS drivers' slope is what the same driver gives with no inductance, as a library would
 * publish it: the slope from load and edge is no bound, and a case below holds that too.
 */
import { describe, expect, test } from 'vitest';
import {
  currentSlope,
  EDGE_CONSTANTS,
  switchingNoise,
  wiresCoupled,
  wiresFarApart,
} from '../../src/figures/noise.ts';
import { parallelMutual, selfInductance } from '../../src/figures/wires.ts';
import { hasNgspice, ngspice } from './outside.ts';
import { rowInductance, type WireRow } from './row.ts';

const ROW: WireRow = { length: 2000, diameter: 25.4, pitch: 100, lead: 0 };

describe('by hand', () => {
  test('the constants of the edge shapes', () => {
    expect(EDGE_CONSTANTS.handbook).toBe(1.52);
    expect(EDGE_CONSTANTS.gaussian).toBeCloseTo(1.59, 2);
    expect(EDGE_CONSTANTS['raised-cosine']).toBeCloseTo(1.72, 2);
  });

  test('the shapes by their curves: greatest second difference times the square of the 10-90 % time', () => {
    const constant = (edge: (t: number) => number): number => {
      const h = 1e-3;
      let [curvature, t10, t90] = [0, 0, 0];
      for (let t = -5; t < 5; t += h) {
        curvature = Math.max(curvature, (edge(t + h) - 2 * edge(t) + edge(t - h)) / (h * h));
        if (edge(t) < 0.1) t10 = t;
        if (edge(t) < 0.9) t90 = t;
      }
      return curvature * (t90 - t10) ** 2;
    };
    // The normal distribution, summed up in steps of the trapezium rule.
    const step = 1e-3;
    const bell = (t: number): number => Math.exp((-t * t) / 2) / Math.sqrt(2 * Math.PI);
    const table: number[] = [0];
    for (let t = -8; t < 8; t += step)
      table.push((table.at(-1) ?? 0) + (step * (bell(t) + bell(t + step))) / 2);
    const normal = (t: number): number => table[Math.round((t + 8) / step)] ?? 1;
    expect(constant(normal)).toBeCloseTo(EDGE_CONSTANTS.gaussian, 1);
    const cosine = (t: number): number => (t <= 0 ? 0 : t >= 2 ? 1 : (1 - Math.cos((Math.PI * t) / 2)) / 2);
    expect(constant(cosine)).toBeCloseTo(EDGE_CONSTANTS['raised-cosine'], 1);
  });

  test('dI/dt = k C dV / T^2 in mA/ns: 15 pF, 3.3 V, 2 ns', () => {
    expect(currentSlope('handbook', 15, 3.3, 2)).toBeCloseTo((1.52 * 15 * 3.3) / 4, 12);
    expect(currentSlope('handbook', 15, 3.3, 1)).toBeCloseTo(4 * currentSlope('handbook', 15, 3.3, 2), 12);
  });

  test('sixteen drivers at 25 mA/ns and 0.4 V: L/N says three cells, the matrix seven; six make 0.408 V', () => {
    const slope = 16 * 25;
    expect(wiresFarApart(slope, 0.4, selfInductance(ROW.length, ROW.diameter))).toBe(3);
    const coupled = wiresCoupled(slope, 0.4, (n) => rowInductance(ROW, n), 512);
    expect(coupled?.count).toBe(7);
    expect(coupled?.noise).toBeLessThanOrEqual(0.4);
    expect(switchingNoise(slope, rowInductance(ROW, 6) ?? 0)).toBeCloseTo(0.408, 3);
    expect(switchingNoise(slope, rowInductance(ROW, 3) ?? 0)).toBeCloseTo(0.4 * 1.334, 3);
  });

  test('leads add, and a budget that no row keeps has no count', () => {
    expect(wiresFarApart(400, 0.4, selfInductance(ROW.length, ROW.diameter) + 2)).toBe(5);
    expect(wiresCoupled(400, 0.4, (n) => rowInductance({ ...ROW, lead: 2 }, n), 512)?.count).toBeGreaterThan(
      7,
    );
    expect(wiresCoupled(400, 0.01, (n) => rowInductance(ROW, n), 512)).toBeUndefined();
    expect(wiresCoupled(400, 0.4, () => undefined, 512)).toBeUndefined();
  });

  test('the search finds the least count that trying each one finds', () => {
    for (const budget of [0.8, 0.5, 0.4, 0.33, 0.25]) {
      let least = 1;
      while (switchingNoise(400, rowInductance(ROW, least) ?? 0) > budget) least++;
      expect(wiresCoupled(400, budget, (n) => rowInductance(ROW, n), 512)?.count).toBe(least);
    }
  });

  test('more wires never make more noise', () => {
    let last = Number.POSITIVE_INFINITY;
    for (let n = 1; n <= 40; n++) {
      const together = rowInductance(ROW, n) ?? Number.NaN;
      expect(together).toBeLessThan(last);
      last = together;
    }
  });
});

/** N coupled wires from the net `g` to ground, with a resistance that keeps parallel inductors solvable. */
function wires(count: number): string[] {
  const self = selfInductance(ROW.length, ROW.diameter);
  const lines: string[] = [];
  for (let i = 0; i < count; i++) {
    lines.push(`lw${i} g w${i} ${self}n`, `rw${i} w${i} 0 1u`);
    for (let j = 0; j < i; j++)
      lines.push(`k${i}_${j} lw${i} lw${j} ${parallelMutual(ROW.length, (i - j) * ROW.pitch) / self}`);
  }
  return lines;
}

/** ngspice 39's own noise in volt, by wires and drivers. */
const DRIVERS = [1, 2, 4, 8, 16, 32, 64] as const;
const WIRES = [1, 2, 4, 8] as const;
const RAMPS: readonly (readonly number[])[] = [
  [0.05002449, 0.100049, 0.200098, 0.4001959, 0.8003918, 1.600784, 3.201567],
  [0.03870352, 0.07740704, 0.1548141, 0.3096281, 0.6192563, 1.238513, 2.477025],
  [0.0299145, 0.05982901, 0.119658, 0.239316, 0.478632, 0.9572641, 1.914528],
  [0.0225875, 0.04517501, 0.09035001, 0.1807, 0.3614, 0.7228001, 1.4456],
];
const MOS: readonly (readonly number[])[] = [
  [0.3921686, 0.6443039, 0.9243316, 1.198714, 1.449757, 1.663075, 1.835016],
  [0.3203359, 0.5411595, 0.8218861, 1.098694, 1.360732, 1.588926, 1.776103],
  [0.2591554, 0.4490794, 0.7179965, 0.9961225, 1.266571, 1.508754, 1.711399],
  [0.2037914, 0.3622668, 0.6022615, 0.8834781, 1.159303, 1.414986, 1.634295],
];
/** The MOS driver alone: its greatest slope in mA/ns and its 10-90 % edge in ns. */
const MOS_ALONE = { slope: 258.7349, edge: 0.729674 };

describe('against ngspice', () => {
  test('ideal ramps: equal within 1 %', () => {
    for (const [w, count] of WIRES.entries())
      for (const [d, drivers] of DRIVERS.entries()) {
        const estimate = switchingNoise(drivers * 25, rowInductance(ROW, count) ?? Number.NaN);
        const recorded = RAMPS[w]?.[d] ?? Number.NaN;
        expect(Math.abs(estimate / recorded - 1)).toBeLessThan(0.01);
        if (hasNgspice) {
          // 25 mA/ns for 1 ns, each driver its own source.
          const sources = Array.from(
            { length: drivers },
            (_, i) => `i${i} 0 g pwl(0 0 0.2n 0 1.2n 25m 5n 25m)`,
          );
          const values = ngspice(
            [...sources, ...wires(count)],
            ['tran 2p 1.1n 0 2p', 'meas tran noise find v(g) at=0.7n'],
          );
          expect(Math.abs(estimate / (values.get('noise') ?? Number.NaN) - 1)).toBeLessThan(0.01);
        }
      }
  });

  test('MOS drivers: the estimate is at or above what they give', () => {
    const driver = (i: number, source: string): string[] => [
      `m${i} o${i} in ${source} 0 nm w=100u l=0.35u`,
      `c${i} o${i} 0 20p ic=3.3`,
    ];
    const model = [
      '.model nm nmos level=1 vto=0.6 kp=120u lambda=0.05 gamma=0.4 phi=0.7',
      'vin in 0 pwl(0 0 0.5n 0 1.5n 3.3 9n 3.3)',
    ];
    const run = ['tran 2p 6n uic'];
    const { slope, edge } = MOS_ALONE;
    if (hasNgspice) {
      // The driver alone, its source on a firm ground: what a library would publish.
      const alone = ngspice(
        [...model, ...driver(0, 's'), 'vs s 0 0'],
        [
          ...run,
          'let slope = deriv(i(vs))',
          'meas tran most max slope',
          'meas tran t1 when v(o0)=2.97 fall=1',
          'meas tran t2 when v(o0)=0.33 fall=1',
        ],
      );
      expect((alone.get('most') ?? 0) * 1e-6).toBeCloseTo(slope, 1);
      expect(((alone.get('t2') ?? 0) - (alone.get('t1') ?? 0)) * 1e9).toBeCloseTo(edge, 3);
    }
    for (const [w, count] of WIRES.entries())
      for (const [d, drivers] of DRIVERS.entries()) {
        const estimate = switchingNoise(drivers * slope, rowInductance(ROW, count) ?? Number.NaN);
        const recorded = MOS[w]?.[d] ?? Number.NaN;
        expect(estimate).toBeGreaterThanOrEqual(recorded);
        if (hasNgspice) {
          const all = Array.from({ length: drivers }, (_, i) => driver(i, 'g')).flat();
          const values = ngspice([...model, ...all, ...wires(count)], [...run, 'meas tran noise max v(g)']);
          const noise = values.get('noise') ?? Number.NaN;
          expect(estimate).toBeGreaterThanOrEqual(noise);
          expect(Math.abs(noise / recorded - 1)).toBeLessThan(0.01);
        }
      }
    // From load and edge alone one driver on one wire would come out too low: k = 1.52 is no bound.
    const fromEdge = currentSlope('handbook', 20, 3.3, edge);
    expect(switchingNoise(fromEdge, rowInductance(ROW, 1) ?? 0)).toBeLessThan(MOS[0]?.[0] ?? 0);
  });
});
