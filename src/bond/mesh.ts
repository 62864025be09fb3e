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

/** A mesh for items numbered below `count`, with squares of a width above zero. */
export function meshOf(count: number, width: number): Mesh {
  /** By column, then by row. */
  const columns = new Map<number, Map<number, number[]>>();
  const visited = new Int32Array(count).fill(-1);
  let visits = 0;
  const square = (at: number): number => Math.floor(at / width);

  /** The squares with a point nearer to the segment than `reach` in x and in y: a column and its rows. */
  const cover = (
    s: Segment,
    reach: number,
    each: (column: number, bottom: number, top: number) => boolean,
  ): void => {
    const [left, right] = [Math.min(s.ax, s.bx), Math.max(s.ax, s.bx)];
    const [low, high] = [Math.min(s.ay, s.by), Math.max(s.ay, s.by)];
    const slope = left === right ? 0 : (s.by - s.ay) / (s.bx - s.ax);
    // A thousandth of a square more than the slope says, against its rounding.
    const spare = reach + width * 1e-3;
    for (let column = square(left - reach); column <= square(right + reach); column++) {
      const from = Math.max(left, column * width - reach);
      const to = Math.min(right, (column + 1) * width + reach);
      if (from > to) continue;
      const [y0, y1] =
        left === right ? [low, high] : [s.ay + slope * (from - s.ax), s.ay + slope * (to - s.ax)];
      const bottom = square(Math.max(low, Math.min(y0, y1)) - spare);
      const top = square(Math.min(high, Math.max(y0, y1)) + spare);
      if (!each(column, bottom, top)) return;
    }
  };
  const drop = (item: number, column: number, bottom: number, top: number): boolean => {
    let rows = columns.get(column);
    if (rows === undefined) {
      rows = new Map();
      columns.set(column, rows);
    }
    for (let row = bottom; row <= top; row++) {
      const there = rows.get(row);
      if (there === undefined) rows.set(row, [item]);
      else there.push(item);
    }
    return true;
  };

  return {
    put: (segment, item) => cover(segment, 0, (column, bottom, top) => drop(item, column, bottom, top)),
    putBox: ({ x0, y0, x1, y1 }, item) => {
      for (let column = square(x0); column <= square(x1); column++)
        drop(item, column, square(y0), square(y1));
    },
    near: (segment, reach, visit) => {
      const mark = visits++;
      cover(segment, reach, (column, bottom, top) => {
        const rows = columns.get(column);
        if (rows === undefined) return true;
        for (let row = bottom; row <= top; row++) {
          const there = rows.get(row);
          if (there === undefined) continue;
          for (const item of there) {
            if (visited[item] === mark) continue;
            visited[item] = mark;
            if (!visit(item)) return false;
          }
        }
        return true;
      });
    },
  };
}
