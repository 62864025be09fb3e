/** Core strips as boxes in exact picometres. */
import type { CoreStrip } from '../format/placement.ts';

export interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export const pm = (micrometres: number): number => Math.round(micrometres * 1e6);
export const boxOf = (r: { x: number; y: number; width: number; height: number }): Box => ({
  x0: pm(r.x),
  y0: pm(r.y),
  x1: pm(r.x) + pm(r.width),
  y1: pm(r.y) + pm(r.height),
});
export const overlap = (a: Box, b: Box): boolean => a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
/** Whether two boxes are nearer to each other than a distance, in x and in y. */
export const within = (a: Box, b: Box, by: number): boolean =>
  a.x0 < b.x1 + by && b.x0 < a.x1 + by && a.y0 < b.y1 + by && b.y0 < a.y1 + by;
export const covers = (a: Box, b: Box): boolean =>
  a.x0 <= b.x0 && a.y0 <= b.y0 && a.x1 >= b.x1 && a.y1 >= b.y1;
export const middle = (b: Box) => ({ x: (b.x0 + b.x1) / 2, y: (b.y0 + b.y1) / 2 });
export const um = (length: number): string => `${length / 1e6} um`;

/** What the sides of a strip take up together; undefined where it has none. */
export function outerOf({ rectangles }: CoreStrip): Box | undefined {
  let outer: Box | undefined;
  for (const b of rectangles.map(boxOf))
    outer =
      outer === undefined
        ? b
        : {
            x0: Math.min(outer.x0, b.x0),
            y0: Math.min(outer.y0, b.y0),
            x1: Math.max(outer.x1, b.x1),
            y1: Math.max(outer.y1, b.y1),
          };
  return outer;
}
