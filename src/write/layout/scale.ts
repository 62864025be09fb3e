/** From micrometres to the whole numbers of a layout format, exactly or not at all. */
import { exactUnits, micrometres, PER_MICROMETRE, type Units } from '../../geometry/units.ts';
import type { Problem } from '../../problems/problem.ts';

/** Both GDSII and DEF hold coordinates in four bytes with a sign. */
const MOST = 2_147_483_647;

export interface Scale {
  /** Micrometres as a whole number of steps; one that is none is remembered as a problem and becomes 0. */
  readonly whole: (length: number, item: string) => number;
  /** The whole number of steps at or below a length; for a label, whose place need not be exact. */
  readonly below: (length: number, item: string) => number;
  /** What could not be told in steps: one problem, naming the first item of each kind. */
  readonly problems: () => readonly Problem[];
}

/** Counts lengths in steps of a given size; `format` and `step` name themselves in the problems. */
export function scaleOf(step: Units, format: string): Scale {
  const off: string[] = [];
  const far: string[] = [];
  const within = (steps: number, item: string): number => {
    if (Math.abs(steps) <= MOST) return steps;
    far.push(item);
    return 0;
  };
  const whole = (length: number, item: string): number => {
    const exact = exactUnits(length);
    if (exact !== undefined && exact % step === 0) return within(exact / step + 0, item);
    off.push(item);
    return 0;
  };
  return {
    whole,
    below: (length, item) => {
      const exact = exactUnits(length);
      return exact === undefined ? whole(length, item) : within(Math.floor(exact / step), item);
    },
    problems: () => [
      ...told(off, 'off-database-unit', (items) => ({
        message: `${format} cannot hold ${items}: not a whole number of ${micrometres(step)} um`,
        mend: 'every edge must lie on the grid; check the placement first',
      })),
      ...told(far, 'beyond-database', (items) => ({
        message: `${format} cannot hold ${items}: its coordinates end at ${micrometres(step) * MOST} um`,
        mend: 'a coarser grid gives a coarser database unit',
      })),
    ],
  };
}

function told(
  items: readonly string[],
  code: string,
  words: (items: string) => { message: string; mend: string },
): readonly Problem[] {
  const [first] = items;
  if (first === undefined) return [];
  const others = new Set(items).size - 1;
  return [{ code, ...words(others === 0 ? first : `${first} and ${others} more`) }];
}

/** A box by its lower-left corner, in micrometres. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A box about a centre; halves and sums are exact in picometres, which they would not be in micrometres. */
export function boxAbout(
  centre: { readonly x: number; readonly y: number },
  size: { readonly width: number; readonly height: number },
): Box {
  const low = (middle: number, extent: number): number =>
    Math.round(middle * PER_MICROMETRE - (extent * PER_MICROMETRE) / 2) / PER_MICROMETRE;
  return {
    x: low(centre.x, size.width),
    y: low(centre.y, size.height),
    width: size.width,
    height: size.height,
  };
}
