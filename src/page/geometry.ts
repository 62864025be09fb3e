/** Boxes on the die, in micrometres, y upward; and the sides' own frames. */
import type { Placement } from '../format/placement.ts';

export type Side = Placement['sides'][number]['side'];

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface Dot {
  readonly x: number;
  readonly y: number;
}

export const boxAround = ({ x, y }: Dot, size: { readonly width: number; readonly height: number }): Box => ({
  x: x - size.width / 2,
  y: y - size.height / 2,
  width: size.width,
  height: size.height,
});

export const centreOf = ({ x, y, width, height }: Box): Dot => ({ x: x + width / 2, y: y + height / 2 });

export const holds = (box: Box, { x, y }: Dot): boolean =>
  x >= box.x && x <= box.x + box.width && y >= box.y && y <= box.y + box.height;

export const meet = (a: Box, b: Box): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

/** The least box around others; undefined where there is none. */
export function around(boxes: readonly Box[]): Box | undefined {
  const [first, ...rest] = boxes;
  if (first === undefined) return undefined;
  let [x0, y0, x1, y1] = [first.x, first.y, first.x + first.width, first.y + first.height];
  for (const box of rest) {
    x0 = Math.min(x0, box.x);
    y0 = Math.min(y0, box.y);
    x1 = Math.max(x1, box.x + box.width);
    y1 = Math.max(y1, box.y + box.height);
  }
  return { x: x0, y: y0, width: x1 - x0, height: y1 - y0 };
}

/** Whether a side runs along x. */
export const lies = (side: Side): boolean => side === 'bottom' || side === 'top';

export const SIDES: readonly Side[] = ['left', 'bottom', 'right', 'top'];

/** Where the die stands: a point (x, y) of it, y upward, is at (k x + left, top - k y) in the drawing's box, in pixels. */
export interface Frame {
  readonly k: number;
  readonly left: number;
  readonly top: number;
}

/** A point of the die, in pixels of the drawing's box. */
export const toScreen = ({ k, left, top }: Frame, { x, y }: Dot): Dot => ({
  x: left + k * x,
  y: top - k * y,
});
