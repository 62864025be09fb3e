/**
 * The sides of the die and the frame of each: s runs along the side counter-clockwise, t inward from the die
 * edge. The map from (s, t) to the die is a pure rotation, so all four sides are one problem.
 */
import { type Units, units } from './units.ts';

/** The sides, counter-clockwise from the left one, which is also the order of every list of sides. */
export const SIDES = ['left', 'bottom', 'right', 'top'] as const;
export type Side = (typeof SIDES)[number];

/** A counter-clockwise rotation in degrees. */
export type Turn = 0 | 90 | 180 | 270;

/** An axis-parallel rectangle: lower-left corner and extents, in whatever frame its owner names. */
export interface Rect {
  readonly x: Units;
  readonly y: Units;
  readonly width: Units;
  readonly height: Units;
}

export interface Point {
  readonly x: Units;
  readonly y: Units;
}

export interface Extent {
  readonly width: Units;
  readonly height: Units;
}

const TURN_OF_SIDE: Readonly<Record<Side, Turn>> = { bottom: 0, right: 90, top: 180, left: 270 };

/** The rotation that brings a shape of the bottom side's frame to a side. */
export const turnOfSide = (side: Side): Turn => TURN_OF_SIDE[side];

/** A corner cell is named by the side that it follows; the one after the left side stands unturned. */
const TURN_OF_CORNER: Readonly<Record<Side, Turn>> = { left: 0, bottom: 90, right: 180, top: 270 };

/** The rotation that brings a corner drawn for the place after the left side to the place after another. */
export const turnOfCorner = (after: Side): Turn => TURN_OF_CORNER[after];

/** The sum of two rotations. */
export const addTurns = (a: number, b: number): Turn => ((((a + b) % 360) + 360) % 360) as Turn;

/** The side that follows counter-clockwise. */
export function nextSide(side: Side): Side {
  return side === 'left' ? 'bottom' : side === 'bottom' ? 'right' : side === 'right' ? 'top' : 'left';
}

/** The side that comes before, counter-clockwise. */
export const previousSide = (side: Side): Side => nextSide(nextSide(nextSide(side)));

/** Whether s of a side runs along the die's width. */
export const isHorizontal = (side: Side): boolean => side === 'bottom' || side === 'top';

/** The length of a side of the die, corner to corner. */
export const sideLength = (side: Side, die: Extent): Units => (isHorizontal(side) ? die.width : die.height);

/** A rectangle of a side's frame (s along x, t along y) in the die's axes. */
export function rectOnDie(side: Side, die: Extent, s: number, t: number, along: number, deep: number): Rect {
  switch (side) {
    case 'bottom':
      return { x: units(s), y: units(t), width: units(along), height: units(deep) };
    case 'right':
      return { x: units(die.width - t - deep), y: units(s), width: units(deep), height: units(along) };
    case 'top':
      return {
        x: units(die.width - s - along),
        y: units(die.height - t - deep),
        width: units(along),
        height: units(deep),
      };
    case 'left':
      return { x: units(t), y: units(die.height - s - along), width: units(deep), height: units(along) };
  }
}

/**
 * Where a drawing's origin (its lower-left corner) lands when the drawing of a given extent is mirrored
 * (x to -x) if asked, then turned, then moved so that its outline's lower-left corner is at `corner`.
 */
export function originOf(drawn: Extent, mirrored: boolean, turn: Turn, corner: Point): Point {
  const left = mirrored ? -drawn.width : 0;
  const right = mirrored ? 0 : drawn.width;
  const [lowX, lowY] =
    turn === 0
      ? [left, 0]
      : turn === 90
        ? [-drawn.height, left]
        : turn === 180
          ? [-right, -drawn.height]
          : [0, -right];
  return { x: units(corner.x - lowX), y: units(corner.y - lowY) };
}
