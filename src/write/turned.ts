/** A part of a side drawn with the die's edge turned down, from the placed shapes themselves. */
import type { Placement } from '../format/placement.ts';
import type { Side } from '../geometry/side.ts';
import { add, group, type Pen } from './canvas.ts';
import { boxAround, lengthOf, stretchOn } from './frame.ts';
import { mm, um } from './numbers.ts';
import { INK, STEM } from './palette.ts';
import { type Shapes, stampCell, stampPad } from './shapes.ts';

export interface Window {
  readonly side: Side;
  /** The part of the side, and how far inward it is shown, in micrometres. */
  readonly s0: number;
  readonly s1: number;
  readonly t1: number;
  /** Where (s0, 0) stands on the sheet, and millimetres a micrometre. */
  readonly x: number;
  readonly y: number;
  readonly scale: number;
}

/** Draws what the window shows; `id` names its clip path. */
export function drawTurned(
  defs: Pen,
  pen: Pen,
  id: string,
  placement: Placement,
  window: Window,
  shapes: Shapes,
): void {
  const { side, s0, s1, t1, x, y, scale } = window;
  const { die, rules } = placement;
  const field = { x, y: y - t1 * scale, width: (s1 - s0) * scale, height: t1 * scale };
  add(add(defs, 'clipPath', { id }), 'rect', field);
  const clipped = group(pen, { 'clip-path': `url(#${id})` });
  const turned = group(clipped, { transform: turnDown(placement, window) });
  const seen = (box: Parameters<typeof stretchOn>[2]) => {
    const stretch = stretchOn(side, die, box);
    return stretch.s0 < s1 && s0 < stretch.s1 && stretch.t0 < t1;
  };
  for (const cell of placement.cells)
    if ((cell.side === side || cell.side === null) && seen(cell))
      stampCell(turned, shapes.cells.get(cell.footprint), cell);
  const own = new Set(placement.bondPads.filter((pad) => pad.side === side).map((pad) => pad.number));
  const stems = group(turned, { class: 'stems', fill: STEM });
  for (const stem of placement.stems)
    if (own.has(stem.bondPad) && seen(stem))
      add(stems, 'rect', {
        x: um(stem.x),
        y: um(stem.y),
        width: um(stem.width),
        height: um(stem.height),
        'data-pad': String(stem.bondPad),
      });
  for (const pad of placement.bondPads)
    if (pad.side === side && seen(boxAround(pad.x, pad.y, pad))) stampPad(turned, shapes.pad(pad), pad);
  const { street, seal } = rules.edge;
  if (seal > 0)
    add(clipped, 'rect', {
      class: 'seal-ring',
      x,
      y: y - (street + seal) * scale,
      width: field.width,
      height: seal * scale,
      fill: INK.seal,
    });
  add(pen, 'path', {
    class: 'outline',
    d: `M${mm(x)} ${mm(y)}h${mm(field.width)}`,
    stroke: INK.line,
    'stroke-width': 0.5,
  });
  const cut = (at: number) => `M${mm(at)} ${mm(y)}v${mm(-field.height)}`;
  add(pen, 'path', {
    d: `${cut(x)}${cut(x + field.width)}M${mm(x)} ${mm(field.y)}h${mm(field.width)}`,
    fill: 'none',
    stroke: INK.hair,
    'stroke-width': 0.2,
    'stroke-dasharray': '4 1 0.6 1',
  });
}

/** The map from the die, in micrometres, to the sheet with the side turned downward. */
function turnDown({ die }: Placement, { side, s0, x: left, y, scale: k }: Window): string {
  const x = left - s0 * k;
  const length = lengthOf(side, die) * k;
  const numbers =
    side === 'bottom'
      ? [k, 0, 0, -k, x, y]
      : side === 'right'
        ? [0, k, k, 0, x, y - die.width * k]
        : side === 'top'
          ? [-k, 0, 0, k, x + length, y - die.height * k]
          : [0, -k, -k, 0, x + length, y];
  return `matrix(${numbers.join(' ')})`;
}
