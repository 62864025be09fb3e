/**
 * Resistances of drawn strips: sheet resistance times squares. Lengths are in any one unit, resistances ohm.
 */

/**
 * What the corner square of a right-angle bend counts in squares: 1 - (2/pi) ln 2, by conformal map of two
 * half-infinite arms.
 */
export const CORNER_SQUARES = 1 - (2 / Math.PI) * Math.LN2;

/** The squares of a strip: the length of its straight stretches over its width, and its bends. */
export const squares = (straight: number, width: number, corners = 0): number =>
  straight / width + corners * CORNER_SQUARES;

/** A strip's resistance in ohm from its sheet resistance in ohm a square. */
export const stripResistance = (sheet: number, straight: number, width: number, corners = 0): number =>
  sheet * squares(straight, width, corners);

/** Resistances side by side; one of zero shorts the others, and none leaves Infinity. */
export function parallel(resistances: readonly number[]): number {
  let conductance = 0;
  for (const r of resistances) conductance += 1 / r;
  return 1 / conductance;
}
