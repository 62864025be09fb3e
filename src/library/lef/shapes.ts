/** The shapes of a pin's port: rectangles, polygons and paths, all as rectangles. */
import { type Units, units } from '../../geometry/units.ts';
import type { LefShape } from './lef.ts';
import { LEF_LIMITS, lengthOf, note, numberOf, type Reading, wrongStatement } from './statements.ts';

interface Corner {
  readonly x: number;
  readonly y: number;
}

/** The shapes that a RECT, POLYGON or PATH statement adds, in the macro's frame before its ORIGIN. */
export function shapesOf(
  reading: Reading,
  keyword: 'RECT' | 'POLYGON' | 'PATH',
  statement: readonly string[],
  layer: string | null,
  width: Units | null,
): readonly LefShape[] {
  if (layer === null) {
    wrongStatement(
      reading,
      'lef-syntax',
      `a \`${keyword}\` stands before any \`LAYER\``,
      'put `LAYER` and the name of its layer before it',
    );
    return [];
  }
  if (reading.left.shapes < 0) return [];
  const { points, steps } = pointsOf(reading, keyword, statement);
  const one = outline(reading, keyword, points, width);
  if (!spend(reading, one.length * steps.length)) return [];
  return one.flatMap((r) =>
    steps.map((step) => ({
      layer,
      x: units(r.x + step.x),
      y: units(r.y + step.y),
      width: r.width,
      height: r.height,
    })),
  );
}

/** Takes from the shapes that are left; a problem once where they do not suffice. */
function spend(reading: Reading, count: number): boolean {
  const before = reading.left.shapes;
  reading.left.shapes -= count;
  if (reading.left.shapes < 0 && before >= 0)
    wrongStatement(
      reading,
      'lef-too-large',
      `the pins have more than ${LEF_LIMITS.shapes} shapes`,
      'leave out the macros that are no I/O cells',
    );
  return reading.left.shapes >= 0;
}

type Bare = Omit<LefShape, 'layer'>;

function outline(
  reading: Reading,
  keyword: string,
  points: readonly Corner[],
  width: Units | null,
): readonly Bare[] {
  const [a, b] = points;
  if (keyword === 'RECT') {
    if (a && b && points.length === 2) return [box(a, b)];
    wrongStatement(reading, 'lef-syntax', 'a `RECT` needs two corners', 'write it as `RECT 0 10 60 40 ;`');
    return [];
  }
  if (keyword === 'PATH') {
    if (width !== null && a) return path(reading, points, width);
    note(reading, 'lef-path', 'a `PATH` without a `WIDTH` is left out');
    return [];
  }
  if (points.length < 3) {
    wrongStatement(
      reading,
      'lef-syntax',
      'a `POLYGON` needs at least three corners',
      'write x and y of each',
    );
    return [];
  }
  reading.left.cuts -= points.length * points.length;
  if (points.length > LEF_LIMITS.corners || reading.left.cuts < 0) {
    wrongStatement(
      reading,
      'lef-too-large',
      `a pin\u2019s polygons have too many corners to be cut into rectangles`,
      'draw them as rectangles',
    );
    return [];
  }
  return polygon(reading, points);
}

/** The points of a statement, and the offsets at which `DO … BY … STEP` repeats it. */
function pointsOf(
  reading: Reading,
  keyword: string,
  statement: readonly string[],
): { points: readonly Corner[]; steps: readonly Corner[] } {
  const words = statement.filter((word) => word !== '(' && word !== ')' && word !== 'ITERATE');
  const from = words[0] === 'MASK' ? 2 : 0;
  const loop = words.indexOf('DO');
  const until = loop < 0 ? words.length : loop;
  const points: Corner[] = [];
  if ((until - from) % 2 !== 0)
    wrongStatement(
      reading,
      'lef-syntax',
      `a corner of this \`${keyword}\` lacks its y`,
      'write x and y of each corner',
    );
  for (let i = from; i + 1 < until; i += 2)
    points.push({ x: lengthOf(reading, words[i], keyword), y: lengthOf(reading, words[i + 1], keyword) });
  return { points, steps: loop < 0 ? [{ x: 0, y: 0 }] : stepsOf(reading, words.slice(loop)) };
}

/** `DO columns BY rows STEP dx dy` as offsets. */
function stepsOf(reading: Reading, words: readonly string[]): readonly Corner[] {
  const [columns, rows] = [numberOf(words[1]) ?? 0, numberOf(words[3]) ?? 0];
  const count = columns * rows;
  if (!Number.isInteger(columns) || !Number.isInteger(rows) || columns < 1 || rows < 1 || count > 10_000) {
    wrongStatement(
      reading,
      'lef-syntax',
      '`DO` needs two whole numbers above zero, at most 10000 places in all',
      'write it as `DO 3 BY 1 STEP 20 0`',
    );
    return [];
  }
  const [dx, dy] = [lengthOf(reading, words[5], 'STEP'), lengthOf(reading, words[6], 'STEP')];
  return Array.from({ length: count }, (_, i) => ({
    x: (i % columns) * dx,
    y: Math.floor(i / columns) * dy,
  }));
}

const box = (a: Corner, b: Corner): Bare => ({
  x: units(Math.min(a.x, b.x)),
  y: units(Math.min(a.y, b.y)),
  width: units(Math.abs(a.x - b.x)),
  height: units(Math.abs(a.y - b.y)),
});

/** A path's straight pieces, each half a width longer at both ends; slanted ones are left out. */
function path(reading: Reading, points: readonly Corner[], width: Units): readonly Bare[] {
  const half = Math.floor(width / 2);
  const pieces: Bare[] = [];
  for (let i = 0; i < Math.max(1, points.length - 1); i++) {
    const a = points[i];
    const b = points[i + 1] ?? a;
    if (!a || !b) break;
    if (a.x !== b.x && a.y !== b.y) {
      note(reading, 'lef-slanted', 'a slanted piece of a `PATH` is left out');
      continue;
    }
    const r = box(a, b);
    pieces.push({
      x: units(r.x - half),
      y: units(r.y - half),
      width: units(r.width + 2 * half),
      height: units(r.height + 2 * half),
    });
  }
  return pieces;
}

/**
 * A polygon as upright slabs between its corners' x. Where an edge is slanted, a slab takes in only what the whole of it
 * covers.
 */
function polygon(reading: Reading, points: readonly Corner[]): readonly Bare[] {
  const xs = [...new Set(points.map((p) => p.x))].toSorted((a, b) => a - b);
  const edges = points.map((a, i) => ({ a, b: points[(i + 1) % points.length] ?? a }));
  if (edges.some(({ a, b }) => a.x !== b.x && a.y !== b.y))
    note(reading, 'lef-slanted', 'a polygon with slanted edges is taken as the upright slabs inside it');
  const slabs: Bare[] = [];
  xs.forEach((left, i) => {
    const right = xs[i + 1];
    if (right === undefined) return;
    const crossed = edges
      .filter(({ a, b }) => Math.min(a.x, b.x) <= left && Math.max(a.x, b.x) >= right && a.x !== b.x)
      .map(({ a, b }) => {
        const y = (x: number): number => a.y + ((b.y - a.y) * (x - a.x)) / (b.x - a.x);
        return { left: y(left), right: y(right) };
      })
      .toSorted((p, q) => p.left + p.right - q.left - q.right);
    for (let k = 0; k + 1 < crossed.length; k += 2) {
      const [low, high] = [crossed[k], crossed[k + 1]];
      if (!low || !high) continue;
      const bottom = Math.ceil(Math.max(low.left, low.right));
      const top = Math.floor(Math.min(high.left, high.right));
      if (bottom < top) slabs.push(box({ x: left, y: bottom }, { x: right, y: top }));
    }
  });
  return slabs;
}
