/** A measure as dimension lines with their values. */
import { type Dot, type Frame, toScreen } from './geometry.ts';
import { exact } from './numbers.ts';
import { px } from './pool.ts';
import type { Measured, Snap } from './snap.ts';

/** A value and the middle of where it stands. */
export interface Value extends Dot {
  readonly value: string;
}

/** The lines and values of a measure: along x and along y, each at the far end of the other. */
export function dimension(
  { from, to, dx, dy }: Measured,
  frame: Frame,
): { readonly d: string; readonly values: readonly Value[] } {
  const [a, b] = [anchorOf(from, to), anchorOf(to, from)];
  const [p, q] = [toScreen(frame, a), toScreen(frame, b)];
  let d = '';
  const values: Value[] = [];
  if (dx !== undefined && (dx > 0 || dy === undefined)) {
    d += `M${px(p.x)} ${px(p.y - 5)}v10M${px(p.x)} ${px(p.y)}H${px(q.x)}m0 -5v10`;
    values.push({ x: (p.x + q.x) / 2, y: p.y - 9, value: String(exact(dx)) });
  }
  if (dy !== undefined && (dy > 0 || dx === undefined)) {
    const x = dx === undefined ? p.x : q.x;
    d += `M${px(x - 5)} ${px(p.y)}h10M${px(x)} ${px(p.y)}V${px(q.y)}m-5 0h10`;
    values.push({ x: x + 8 + String(exact(dy)).length * 3.5, y: (p.y + q.y) / 2, value: String(exact(dy)) });
  }
  return { d, values };
}

/** Where a dimension line starts: an edge gives way to the other end, where that lies beside it. */
function anchorOf(end: Snap, other: Snap): Dot {
  const middle = (one: Snap): Dot => ({ x: (one.from.x + one.to.x) / 2, y: (one.from.y + one.to.y) / 2 });
  const [own, far] = [middle(end), middle(other)];
  const within = (value: number, low: number, high: number): number => Math.max(low, Math.min(high, value));
  return {
    x: end.x ?? within(far.x, Math.min(end.from.x, end.to.x), Math.max(end.from.x, end.to.x)),
    y:
      end.y ??
      (end.x === undefined
        ? own.y
        : within(far.y, Math.min(end.from.y, end.to.y), Math.max(end.from.y, end.to.y))),
  };
}
