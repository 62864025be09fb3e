/**
 * Switching noise: n drivers that switch together make n (dI/dt) Leff on the net that they share. Currents change
 * in mA/ns, capacitances are pF, times ns, inductances nH and voltages V, in which mA/ns times nH is a millivolt.
 * The drivers' own feedback, which lowers the noise, is left out (Senthinathan and Prince, IEEE JSSC 26(11), 1991).
 */
import { countFor, ratio } from './figure.ts';

export const EDGE_SHAPES = ['handbook', 'gaussian', 'raised-cosine'] as const;
export type EdgeShape = (typeof EDGE_SHAPES)[number];

/** z of the normal distribution's 90 % point: a Gaussian edge's 10-90 % time is 2 z sigma. */
const NORMAL_90 = 1.2815515655446004;

/**
 * k of dI/dt = k C dV / T^2 for a 10-90 % edge T. `handbook` is 1.52 (Johnson and Graham, High-Speed Digital
 * Design, from memory), which is no bound; the others follow from the edge's greatest second derivative:
 * exp(-1/2)/sqrt(2 pi) (2 z)^2 = 1.59 for a Gaussian edge, and for (1 - cos(pi t/T0))/2, whose 10-90 % time is
 * T0 (pi - 2 acos(0.8))/pi, (pi - 2 acos(0.8))^2/2 = 1.72.
 */
export const EDGE_CONSTANTS: Readonly<Record<EdgeShape, number>> = {
  handbook: 1.52,
  gaussian: (Math.exp(-0.5) / Math.sqrt(2 * Math.PI)) * (2 * NORMAL_90) ** 2,
  'raised-cosine': (Math.PI - 2 * Math.acos(0.8)) ** 2 / 2,
};

/** The greatest change of a driver's current in mA/ns: load in pF, swing in V, 10-90 % edge in ns. */
export const currentSlope = (shape: EdgeShape, load: number, swing: number, edge: number): number =>
  (EDGE_CONSTANTS[shape] * load * swing) / (edge * edge);

/** The noise in volt of a total current slope in mA/ns through an inductance in nH. */
export const switchingNoise = (slope: number, inductance: number): number => slope * inductance * 1e-3;

/** The least count of wires far apart, L/N, that keep a total slope within a budget: optimistic. `each` is nH. */
export const wiresFarApart = (slope: number, budget: number, each: number): number =>
  countFor(switchingNoise(slope, each), budget);

/**
 * The least count of wires that keep a total slope within a budget, where `together` says what n of them are, falling as n
 * grows, in nH; undefined where not even `most` do. It asks for a number of counts that grows with the count's logarithm.
 */
export function wiresCoupled(
  slope: number,
  budget: number,
  together: (n: number) => number | undefined,
  most: number,
): { readonly count: number; readonly inductance: number; readonly noise: number } | undefined {
  const left = (count: number) => {
    const inductance = together(count) ?? Number.POSITIVE_INFINITY;
    return { count, inductance, noise: switchingNoise(slope, inductance) };
  };
  const holds = ({ noise }: { readonly noise: number }): boolean => ratio(noise, budget) <= 1;
  let high = left(1);
  while (!holds(high) && high.count < most) high = left(Math.min(2 * high.count, most));
  if (!holds(high)) return undefined;
  let low = high.count >> 1;
  while (high.count - low > 1) {
    const middle = left((low + high.count) >> 1);
    if (holds(middle)) high = middle;
    else low = middle.count;
  }
  return high;
}
