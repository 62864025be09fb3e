/** Straight segments in plan: whether two meet, exactly, and how near they come. Coordinates are whole numbers. */

/** Ends (ax, ay) and (bx, by). */
export interface Segment {
  readonly ax: number;
  readonly ay: number;
  readonly bx: number;
  readonly by: number;
}

/** A double's error bound for the determinant below (Shewchuk, Discrete & Computational Geometry 18, 1997). */
const TURN_ERROR = (3 + 16 * 2 ** -53) * 2 ** -53;

/**
 * On which side of the line from a to b a point lies: 1 left, -1 right, 0 on it. Coordinates are whole numbers below
 * 2^52, so that differences are exact; where the doubles' product leaves the sign open, whole numbers decide.
 */
export function turn(ax: number, ay: number, bx: number, by: number, px: number, py: number): -1 | 0 | 1 {
  const left = (bx - ax) * (py - ay);
  const right = (by - ay) * (px - ax);
  const det = left - right;
  if (Math.abs(det) > TURN_ERROR * (Math.abs(left) + Math.abs(right))) return det > 0 ? 1 : -1;
  const exact = BigInt(bx - ax) * BigInt(py - ay) - BigInt(by - ay) * BigInt(px - ax);
  return exact > 0n ? 1 : exact < 0n ? -1 : 0;
}

/** Whether two segments have a point in common; touching counts. */
export function meet(a: Segment, b: Segment): boolean {
  if (Math.max(a.ax, a.bx) < Math.min(b.ax, b.bx) || Math.max(b.ax, b.bx) < Math.min(a.ax, a.bx))
    return false;
  if (Math.max(a.ay, a.by) < Math.min(b.ay, b.by) || Math.max(b.ay, b.by) < Math.min(a.ay, a.by))
    return false;
  // Boxes overlap, so on one line the segments do too.
  if (turn(a.ax, a.ay, a.bx, a.by, b.ax, b.ay) * turn(a.ax, a.ay, a.bx, a.by, b.bx, b.by) > 0) return false;
  return turn(b.ax, b.ay, b.bx, b.by, a.ax, a.ay) * turn(b.ax, b.ay, b.bx, b.by, a.bx, a.by) <= 0;
}

/** The distance of a point to a segment. */
export function pointToSegment(px: number, py: number, { ax, ay, bx, by }: Segment): number {
  const [dx, dy] = [bx - ax, by - ay];
  const square = dx * dx + dy * dy;
  const along = square === 0 ? 0 : Math.min(1, Math.max(0, ((px - ax) * dx + (py - ay) * dy) / square));
  // From the nearer end, so that a far end's rounding does not show.
  const [ex, ey] =
    along <= 0.5
      ? [px - ax - along * dx, py - ay - along * dy]
      : [px - bx + (1 - along) * dx, py - by + (1 - along) * dy];
  return Math.sqrt(ex * ex + ey * ey);
}

/** The distance of two segments; 0 where they meet. */
export function apart(a: Segment, b: Segment): number {
  if (meet(a, b)) return 0;
  return Math.min(
    pointToSegment(a.ax, a.ay, b),
    pointToSegment(a.bx, a.by, b),
    pointToSegment(b.ax, b.ay, a),
    pointToSegment(b.bx, b.by, a),
  );
}

/** Where two segments that meet do so; of two on one line, the middle of what they share. */
export function meetingPoint(a: Segment, b: Segment): { readonly x: number; readonly y: number } {
  const [dx, dy, ex, ey] = [a.bx - a.ax, a.by - a.ay, b.bx - b.ax, b.by - b.ay];
  const cross = dx * ey - dy * ex;
  if (cross === 0) {
    const inner = [a.ax, a.bx, b.ax, b.bx].sort((p, q) => p - q);
    const outer = [a.ay, a.by, b.ay, b.by].sort((p, q) => p - q);
    return { x: ((inner[1] ?? 0) + (inner[2] ?? 0)) / 2, y: ((outer[1] ?? 0) + (outer[2] ?? 0)) / 2 };
  }
  const along = ((b.ax - a.ax) * ey - (b.ay - a.ay) * ex) / cross;
  return { x: a.ax + along * dx, y: a.ay + along * dy };
}

/** An axis-parallel rectangle by its bounds. */
export interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** No more than the distance of a segment to a rectangle. */
export function leastToBox(a: Segment, { x0, y0, x1, y1 }: Box): number {
  const dx = Math.max(x0 - Math.max(a.ax, a.bx), Math.min(a.ax, a.bx) - x1, 0);
  const dy = Math.max(y0 - Math.max(a.ay, a.by), Math.min(a.ay, a.by) - y1, 0);
  return Math.max(dx, dy);
}

/** The distance of a segment to a rectangle; 0 where they meet. */
export function segmentToBox(a: Segment, { x0, y0, x1, y1 }: Box): number {
  if (a.ax >= x0 && a.ax <= x1 && a.ay >= y0 && a.ay <= y1) return 0;
  return Math.min(
    apart(a, { ax: x0, ay: y0, bx: x1, by: y0 }),
    apart(a, { ax: x1, ay: y0, bx: x1, by: y1 }),
    apart(a, { ax: x1, ay: y1, bx: x0, by: y1 }),
    apart(a, { ax: x0, ay: y1, bx: x0, by: y0 }),
  );
}
