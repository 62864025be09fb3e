/** What moved: an arrow inside the ring for a pin that slid along its side, across the die for one that changed sides. */
import type { Moved } from '../../compare/difference.ts';
import { SIDES, type Side } from '../../geometry/side.ts';
import { add, group, type Pen } from '../canvas.ts';
import { mm } from '../numbers.ts';
import { LOOKS } from './looks.ts';
import { depthOf, onSheet, type View } from './plan.ts';

/** Millimetres: head of an arrow, least length of one, distance of the lanes in which arrows keep off each other. */
const HEAD = 1.3;
const SHORTEST = 2;
const LANE = 1.9;
const MOST_LANES = 8;

interface Dot {
  readonly x: number;
  readonly y: number;
}

/** Arrows on the later die, old places seen in its sides' frames. */
export function drawArrows(page: Pen, view: View, moved: readonly Moved[]): void {
  const { colour } = LOOKS.moved;
  const pen = group(page, { class: 'moves', stroke: colour, fill: 'none', 'stroke-width': 0.3 });
  for (const side of SIDES) {
    const own = moved.filter(({ along, to }) => along !== null && to.side === side);
    slides(pen, view, side, own);
  }
  for (const { pin, from, to, along } of moved) {
    if (along !== null) continue;
    const start = onSheet(view, from.side, from.s, depthOf(view.placement, from.side));
    const end = onSheet(view, to.side, to.s, depthOf(view.placement, to.side) + 0.6 / view.scale);
    const { die } = view.placement;
    const middle = onSheet(view, 'bottom', die.width / 2, die.height / 2);
    const bend = {
      x: (start.x + end.x) / 4 + middle.x / 2,
      y: (start.y + end.y) / 4 + middle.y / 2,
    };
    add(pen, 'circle', { cx: start.x, cy: start.y, r: 0.7 });
    add(pen, 'path', {
      d: `M${dot(start)}Q${dot(bend)} ${dot(end)}`,
      'stroke-dasharray': '1.6 0.8',
      'data-pin': pin,
    });
    head(pen, bend, end, colour);
  }
}

/** Each arrow in the outermost lane that is free over its length. */
function slides(pen: Pen, view: View, side: Side, moved: readonly Moved[]): void {
  const { scale } = view;
  const depth = depthOf(view.placement, side);
  const ends: number[] = [];
  const spans = moved
    .map((move) => {
      const middle = (move.from.s + move.to.s) / 2;
      const half = Math.max(Math.abs(move.to.s - move.from.s), SHORTEST / scale) / 2;
      return { move, low: middle - half, high: middle + half };
    })
    .sort((a, b) => a.low - b.low || a.high - b.high);
  for (const { move, low, high } of spans) {
    const free = ends.findIndex((end) => end + 0.5 / scale <= low);
    const lane = free >= 0 ? free : Math.min(ends.length, MOST_LANES - 1);
    ends[lane] = Math.max(high, ends[lane] ?? high);
    const t = depth + ((lane + 1) * LANE) / scale;
    const { along, inward, from, to, pin } = move;
    const [start, end] =
      along === 0
        ? [
            onSheet(view, side, to.s, t),
            onSheet(view, side, to.s, t + Math.sign(inward ?? 0) * (LANE / scale)),
          ]
        : [
            onSheet(view, side, to.s > from.s ? low : high, t),
            onSheet(view, side, to.s > from.s ? high : low, t),
          ];
    add(pen, 'path', { d: `M${dot(start)}L${dot(end)}`, 'data-pin': pin });
    add(pen, 'circle', { cx: start.x, cy: start.y, r: 0.25, fill: LOOKS.moved.colour, stroke: 'none' });
    head(pen, start, end, LOOKS.moved.colour);
  }
}

const dot = ({ x, y }: Dot): string => `${mm(x)} ${mm(y)}`;

/** A filled head whose tip is at the end of a line. */
export function head(pen: Pen, from: Dot, tip: Dot, fill: string): void {
  const length = Math.hypot(tip.x - from.x, tip.y - from.y) || 1;
  const [x, y] = [((tip.x - from.x) / length) * HEAD, ((tip.y - from.y) / length) * HEAD];
  const [left, right] = [
    { x: tip.x - x - y * 0.4, y: tip.y - y + x * 0.4 },
    { x: tip.x - x + y * 0.4, y: tip.y - y - x * 0.4 },
  ];
  add(pen, 'path', { d: `M${dot(tip)}L${dot(left)}L${dot(right)}z`, fill, stroke: 'none' });
}
