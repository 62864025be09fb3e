/** Lengths of the description: defaults as units, the manufacturing grid, and limits from silicon to drawn. */
import { exactUnits, micrometres, onStep, stepDown, type Units, units, ZERO } from '../geometry/units.ts';
import type { Place } from '../problems/problem.ts';
import type { Report } from './report.ts';

/** Refuses a length that places or sizes a shape and is no multiple of the grid. */
export function mustBeOnGrid(
  report: Report,
  grid: Units,
  length: Units,
  what: string,
  place: () => Place,
): void {
  if (onStep(length, grid)) return;
  const below = stepDown(length, grid);
  report.error(
    place(),
    'off-grid',
    `${what} is ${micrometres(length)}, which is no multiple of the grid of ${micrometres(grid)}`,
    `the nearest multiples are ${micrometres(below)} and ${micrometres(units(below + grid))}`,
  );
}

/** Whether the edges of a shape lie on the grid, from its centre, which may lie half a step off it. */
export const edgesOnGrid = (grid: Units, centre: number, extent: number): boolean =>
  (2 * centre - extent) % (2 * grid) === 0;

/** A default's micrometres; the tables of defaults hold whole picometres only. */
export const exact = (micrometresOfDefault: number): Units => exactUnits(micrometresOfDefault) ?? ZERO;

/** A least distance on silicon as it must be drawn, where silicon is drawn times `shrink`: rounded up. */
export const drawnLeast = (onSilicon: Units, shrink: number): Units => divided(onSilicon, shrink, true);

/** A largest distance on silicon as it may be drawn: rounded down. */
export const drawnMost = (onSilicon: Units, shrink: number): Units => divided(onSilicon, shrink, false);

/** The factor is taken as the decimal that was written, so that 63 on silicon at 0.9 is exactly 70 drawn. */
function divided(length: Units, shrink: number, up: boolean): Units {
  const [mantissa = '1', exponent = '0'] = String(shrink).split('e');
  const [whole = '0', fraction = ''] = mantissa.split('.');
  const places = fraction.length - Number(exponent);
  const numerator = BigInt(length) * 10n ** BigInt(Math.max(0, places));
  const denominator = BigInt(whole + fraction) * 10n ** BigInt(Math.max(0, -places));
  return units(Number((numerator + (up ? denominator - 1n : 0n)) / denominator));
}
