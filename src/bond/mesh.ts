/**
 * A mesh of squares over the plane, each with what lies in it, so that only neighbours are compared: wires of a
 * package lie side by side, a few to a square, and the time grows with their number alone.
 */
import type { Box, Segment } from './segments.ts';

export interface Mesh {
  readonly put: (segment: Segment, item: number) => void;
  readonly putBox: (box: Box, item: number) => void;
  /** Visits every item with a point nearer to a segment than `reach`, once; others too; until told to stop. */
  readonly near: (segment: Segment, reach: number, visit: (item: number) => boolean) => void;
}

/** Squares of a row are told apart from those of the next by this: wider than any package in squares. */
const STRIDE = 2 ** 26;

/** A mesh for items numbered below `count`, with squares of a width above zero. */
export function meshOf(count: number, width: number): Mesh {
  const squares = new Map<number, number[]>();
  const visited = new Int32Array(count).fill(-1);
  let visits = 0;
  const square = (at: number): number => Math.floor(at / width);

  /** The squares with a point nearer to the segment than `reach` in x and in y, column by column. */
  const cover = (s: Segment, reach: number, each: (key: number) => boolean): void => {
    const [left, right] = [Math.min(s.ax, s.bx), Math.max(s.ax, s.bx)];
    const [low, high] = [Math.min(s.ay, s.by), Math.max(s.ay, s.by)];
    const slope = left === right ? 0 : (s.by - s.ay) / (s.bx - s.ax);
    for (let column = square(left - reach); column <= square(right + reach); column++) {
      const from = Math.max(left, column * width - reach);
      const to = Math.min(right, (column + 1) * width + reach);
      if (from > to) continue;
      const [y0, y1] =
        left === right ? [low, high] : [s.ay + slope * (from - s.ax), s.ay + slope * (to - s.ax)];
      // A thousandth of a square more than the slope says, against its rounding.
      const spare = reach + width * 1e-3;
      const bottom = square(Math.max(low, Math.min(y0, y1)) - spare);
      const top = square(Math.min(high, Math.max(y0, y1)) + spare);
      for (let row = bottom; row <= top; row++) if (!each(column * STRIDE + row)) return;
    }
  };
  const drop = (key: number, item: number): boolean => {
    const there = squares.get(key);
    if (there === undefined) squares.set(key, [item]);
    else there.push(item);
    return true;
  };

  return {
    put: (segment, item) => cover(segment, 0, (key) => drop(key, item)),
    putBox: ({ x0, y0, x1, y1 }, item) => {
      for (let column = square(x0); column <= square(x1); column++)
        for (let row = square(y0); row <= square(y1); row++) drop(column * STRIDE + row, item);
    },
    near: (segment, reach, visit) => {
      const mark = visits++;
      cover(segment, reach, (key) => {
        for (const item of squares.get(key) ?? []) {
          if (visited[item] === mark) continue;
          visited[item] = mark;
          if (!visit(item)) return false;
        }
        return true;
      });
    },
  };
}
