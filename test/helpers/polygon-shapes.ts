/** The shapes of a placement for a general polygon library (npm clipper2-ts). Shares nothing with placer or checker. */
import { areaPaths, EndType, FillRule, inflatePaths, JoinType, type Paths64, union } from 'clipper2-ts';
import type { Placement } from '../../src/format/placement.ts';

/** Library units a micrometre: every length in these tests is a multiple of 0.025 um. */
const SCALE = 40;

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export const path = (box: Box): Paths64[number] => {
  const at = (v: number): number => Math.round(v * SCALE);
  const [x0, y0, x1, y1] = [at(box.x), at(box.y), at(box.x + box.width), at(box.y + box.height)];
  return [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ];
};

export const grown = (box: Box, by: number): Paths64 =>
  by === 0 ? [path(box)] : inflatePaths([path(box)], by * SCALE, JoinType.Miter, EndType.Polygon);

export const area = (paths: Paths64): number => Math.abs(areaPaths(paths));

/** Whether no two boxes come closer than a spacing, in x and in y at once. */
export function apart(boxes: readonly Box[], spacing: number): boolean {
  if (boxes.length === 0) return true;
  const all = boxes.flatMap((box) => grown(box, spacing / 2));
  const sum = all.reduce((total, p) => total + area([p]), 0);
  return area(union(all, FillRule.NonZero)) === sum;
}

export const centred = (
  pad: Placement['bondPads'][number],
  size: { width: number; height: number },
): Box => ({
  x: pad.x - size.width / 2,
  y: pad.y - size.height / 2,
  width: size.width,
  height: size.height,
});
