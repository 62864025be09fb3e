/** Stretches of the drawing's box, in pixels, y downward. */
import type { Dot } from './geometry.ts';

export interface Rect {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export interface Extent {
  readonly width: number;
  readonly height: number;
}

export const rectAround = (x: number, y: number, halfX: number, halfY: number): Rect => ({
  x0: x - halfX,
  y0: y - halfY,
  x1: x + halfX,
  y1: y + halfY,
});

export const isTaken = (rect: Rect, taken: readonly Rect[]): boolean =>
  taken.some((other) => rect.x0 < other.x1 && other.x0 < rect.x1 && rect.y0 < other.y1 && other.y0 < rect.y1);

/** Whether a place is in sight, so far from the edge of the box. */
export const isWithin = ({ x, y }: Dot, { width, height }: Extent, by: number): boolean =>
  x >= by && x <= width - by && y >= by && y <= height - by;
