/**
 * The checker's own turn: from a cell's frame to the library's drawing, from the drawing to the die, and from the
 * die to the frame of a side. It follows section 1 of the ring model by itself and shares nothing with the placer.
 */
import type { BondPad, PlacedFootprint } from '../format/placement.ts';

export type SideName = BondPad['side'];

/** The sides counter-clockwise; everything in the checker speaks of them by their index here. */
export const SIDE_NAMES: readonly SideName[] = ['left', 'bottom', 'right', 'top'];

export const sideIndex = (name: SideName): number =>
  name === 'left' ? 0 : name === 'bottom' ? 1 : name === 'right' ? 2 : 3;

export const sideName = (index: number): SideName => SIDE_NAMES[index & 3] ?? 'left';

/** Whether s of a side runs along the die's height. */
export const isVertical = (side: number): boolean => side === 0 || side === 2;

interface Vector {
  readonly x: number;
  readonly y: number;
}

/** Mirrored first (x to -x), then turned counter-clockwise by a multiple of 90 degrees, about the origin. */
function turned({ x, y }: Vector, mirrored: boolean, rotation: number): Vector {
  const flipped = mirrored ? -x : x;
  if (rotation === 90) return { x: -y, y: flipped };
  if (rotation === 180) return { x: -flipped, y: -y };
  if (rotation === 270) return { x: y, y: -flipped };
  return { x: flipped, y };
}

/** Into the die, that is to say along t, seen from a side. */
const INWARD: readonly Vector[] = [
  { x: 1, y: 0 },
  { x: 0, y: 1 },
  { x: -1, y: 0 },
  { x: 0, y: -1 },
];

/** Along s of a side: to the right of the way inward. */
const ALONG: readonly Vector[] = [
  { x: 0, y: -1 },
  { x: 1, y: 0 },
  { x: 0, y: 1 },
  { x: -1, y: 0 },
];

const same = (a: Vector | undefined, b: Vector | undefined): boolean =>
  a !== undefined && b !== undefined && a.x === b.x && a.y === b.y;

/** The opposite of a direction, without a negative zero. */
const reverse = ({ x, y }: Vector): Vector => ({ x: 0 - x, y: 0 - y });

/** How a footprint stands once mirrored and turned. */
export interface Pose {
  /** The side that its outward edge belongs to; a corner cell: the side that it follows. */
  readonly faces: number;
  /** Whether its own s runs against that side's: then its start edge lies at the high end. */
  readonly reversed: boolean;
  readonly width: number;
  readonly height: number;
  /** The outline's lower-left corner, seen from the drawing's origin. */
  readonly lowX: number;
  readonly lowY: number;
}

/**
 * The pose of a drawing of a given extent. A side's cell is known by where its t axis points, a corner cell by the
 * two edges that it turns to its neighbours: one back along the side before, one on along the side that follows.
 */
export function poseOf(
  width: number,
  height: number,
  footprint: Pick<PlacedFootprint, 'role' | 'drawnFor'>,
  mirrored: boolean,
  rotation: number,
): Pose {
  const drawnFor = sideIndex(footprint.drawnFor);
  const far = turned({ x: width, y: height }, mirrored, rotation);
  const low = { x: Math.min(0, far.x), y: Math.min(0, far.y) };
  const turn = (v: Vector | undefined): Vector => {
    const { x, y } = turned(v ?? { x: 0, y: 0 }, mirrored, rotation);
    return { x: x + 0, y: y + 0 };
  };
  const outline = { width: Math.abs(far.x), height: Math.abs(far.y), lowX: low.x, lowY: low.y };
  if (footprint.role !== 'corner') {
    const inward = turn(INWARD[drawnFor]);
    const along = turn(ALONG[drawnFor]);
    const faces = INWARD.findIndex((v) => same(v, inward));
    return { ...outline, faces, reversed: !same(ALONG[faces], along) };
  }
  const start = turn(reverse(ALONG[drawnFor] ?? { x: 0, y: 0 }));
  const end = turn(ALONG[(drawnFor + 1) & 3]);
  for (let after = 0; after < 4; after++) {
    const back = reverse(ALONG[after] ?? { x: 0, y: 0 });
    const on = ALONG[(after + 1) & 3];
    if (same(back, start) && same(on, end)) return { ...outline, faces: after, reversed: false };
    if (same(back, end) && same(on, start)) return { ...outline, faces: after, reversed: true };
  }
  return { ...outline, faces: 0, reversed: false };
}

/** An axis-parallel box by its edges. */
export interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export interface Frame {
  readonly width: number;
  readonly height: number;
}

/** The low and high edge of a box along s of a side. */
export const lowS = (side: number, die: Frame, b: Box): number =>
  side === 0 ? die.height - b.y1 : side === 1 ? b.x0 : side === 2 ? b.y0 : die.width - b.x1;
export const highS = (side: number, die: Frame, b: Box): number =>
  side === 0 ? die.height - b.y0 : side === 1 ? b.x1 : side === 2 ? b.y1 : die.width - b.x0;

/** The outer and inner edge of a box along t of a side. */
export const lowT = (side: number, die: Frame, b: Box): number =>
  side === 0 ? b.x0 : side === 1 ? b.y0 : side === 2 ? die.width - b.x1 : die.height - b.y1;
export const highT = (side: number, die: Frame, b: Box): number =>
  side === 0 ? b.x1 : side === 1 ? b.y1 : side === 2 ? die.width - b.x0 : die.height - b.y0;

/** The length of a side of the die. */
export const lengthOf = (side: number, die: Frame): number => (isVertical(side) ? die.height : die.width);

/** A box of a side's frame on the die. */
export function onDie(side: number, die: Frame, s0: number, s1: number, t0: number, t1: number): Box {
  if (side === 0) return { x0: t0, x1: t1, y0: die.height - s1, y1: die.height - s0 };
  if (side === 1) return { x0: s0, x1: s1, y0: t0, y1: t1 };
  if (side === 2) return { x0: die.width - t1, x1: die.width - t0, y0: s0, y1: s1 };
  return { x0: die.width - s1, x1: die.width - s0, y0: die.height - t1, y1: die.height - t0 };
}
