/**
 * Exact lengths. One unit is a picometre, so every micrometre figure with up to six decimals is a whole
 * number, half of any grid that is a multiple of 2 pm is one too, and a die of a metre (1e12) stays far
 * below 2^53. Lengths are branded so that micrometres and units cannot be mixed.
 */
declare const unitsBrand: unique symbol;
/** A length in whole picometres. */
export type Units = number & { readonly [unitsBrand]: true };

/** Units in a micrometre. */
export const PER_MICROMETRE = 1_000_000;

/** Marks a whole number of picometres as a length. */
export const units = (wholePicometres: number): Units => wholePicometres as Units;

export const ZERO = units(0);

/** Nothing on a chip, and no die, is longer. */
export const METRE = units(1e6 * PER_MICROMETRE);

/** A length in micrometres to units; undefined where it is not a whole number of picometres or not finite. */
export function exactUnits(micrometres: number): Units | undefined {
  const scaled = micrometres * PER_MICROMETRE;
  const whole = Math.round(scaled);
  if (!Number.isSafeInteger(whole)) return undefined;
  return whole / PER_MICROMETRE === micrometres ? units(whole + 0) : undefined;
}

/** Units to the nearest double in micrometres: the shortest decimal that reads back as the same length. */
export const micrometres = (length: Units): number => length / PER_MICROMETRE;

/** Whether a length is a whole multiple of a step. */
export const onStep = (length: Units, step: Units): boolean => length % step === 0;

/** The least multiple of a step that is not below a length. */
export const stepUp = (length: number, step: number): Units => units(Math.ceil(length / step) * step);

/** The greatest multiple of a step that is not above a length. */
export const stepDown = (length: number, step: number): Units => units(Math.floor(length / step) * step);

/** Greatest common divisor of two whole lengths; gcd(0, a) is a. */
export function commonStep(a: number, b: number): number {
  let [x, y] = [Math.abs(a), Math.abs(b)];
  while (y !== 0) [x, y] = [y, x % y];
  return x;
}
