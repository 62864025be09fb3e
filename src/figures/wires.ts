/**
 * Bond wires: the current that one may carry, and the inductance of straight round wires alone and side by side.
 * Lengths are micrometres, inductances nanohenry, currents ampere.
 */

export const WIRE_MATERIALS = ['gold', 'copper', 'aluminium', 'silver', 'other'] as const;
export type WireMaterial = (typeof WIRE_MATERIALS)[number];

const PER_INCH = 25_400;

/** The conductor length up to which the greater constant holds: 0.040 in. */
export const SHORT_WIRE = 0.04 * PER_INCH;

/** K of I = K d^(3/2), d in inches: up to 0.040 in, and above (MIL-PRF-38535, appendix A, A.3.5.5.3). */
const CURRENT_CONSTANTS: Readonly<Record<WireMaterial, { readonly short: number; readonly long: number }>> = {
  aluminium: { short: 22_000, long: 15_200 },
  gold: { short: 30_000, long: 20_500 },
  copper: { short: 30_000, long: 20_500 },
  silver: { short: 15_000, long: 10_500 },
  other: { short: 9_000, long: 6_300 },
};

/** K for a conductor of a total length in micrometres. */
export function currentConstant(material: WireMaterial, length: number): number {
  const { short, long } = CURRENT_CONSTANTS[material];
  return length <= SHORT_WIRE ? short : long;
}

/**
 * The root-mean-square current in ampere that a bond wire may carry, by its diameter and total conductor length in
 * micrometres: I = K d^(3/2), d in inches (MIL-PRF-38535, appendix A, A.3.5.5.3).
 */
export const wireCurrent = (material: WireMaterial, diameter: number, length: number): number =>
  currentConstant(material, length) * (diameter / PER_INCH) ** 1.5;

/** 2 l of Rosa's formulas, which take centimetres and give nanohenry, for l in micrometres. */
const twiceInCentimetres = (length: number): number => 2 * length * 1e-4;

/**
 * The self-inductance in nanohenry of a straight round wire: 2 l (ln(2 l / r) - 3/4), l in cm, with the current
 * spread evenly over the section (Rosa, Bulletin of the Bureau of Standards 4, 1908). It holds where the wire is
 * much longer than thick.
 */
export const selfInductance = (length: number, diameter: number): number =>
  length === 0 ? 0 : twiceInCentimetres(length) * (Math.log((4 * length) / diameter) - 0.75);

/**
 * The mutual inductance in nanohenry of two equal parallel wires, side by side at a distance centre to centre:
 * 2 l (ln(l/d + sqrt(1 + l^2/d^2)) - sqrt(1 + d^2/l^2) + d/l), l in cm (Rosa 1908).
 */
export function parallelMutual(length: number, distance: number): number {
  if (length === 0) return 0;
  const flat = distance / length;
  // sqrt(1 + x^2) - x without its cancellation for wires far apart.
  return twiceInCentimetres(length) * (Math.asinh(1 / flat) - 1 / (Math.sqrt(1 + flat * flat) + flat));
}

/** The inductance of a go-and-return loop of two equal wires, 2 (L - M), in the unit of its arguments. */
export const loopOfPair = (self: number, mutual: number): number => 2 * (self - mutual);
