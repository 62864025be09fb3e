/** One die of the difference: everything pale, what changed in its colour and with its mark. */
import { type Attributes, add, group, type Pen } from '../canvas.ts';
import { boxAround } from '../frame.ts';
import { mm } from '../numbers.ts';
import { INK, PAPER } from '../palette.ts';
import { type Kind, LOOKS, type Marked } from './looks.ts';
import type { View } from './plan.ts';

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export function drawDie(pen: Pen, view: View, marked: readonly Marked[]): void {
  const { placement } = view;
  const frame = (box: Box): string => rectPath(view, box);
  const whole = { x: 0, y: 0, ...placement.die };
  add(pen, 'path', { d: frame(whole), fill: PAPER, stroke: INK.line, 'stroke-width': 0.35 });
  const { cells, bondPads } = placement;
  const breaks = cells.filter((cell) => cell.role === 'break');
  const fillers = cells.filter((cell) => cell.role === 'filler');
  const plain = cells.filter((cell) => cell.role !== 'break' && cell.role !== 'filler');
  paths(pen, fillers.map(frame), { class: 'fillers', fill: 'none', stroke: '#dde2e3', 'stroke-width': 0.06 });
  paths(pen, plain.map(frame), { class: 'cells', fill: '#f5f7f7', stroke: '#c3cacc', 'stroke-width': 0.1 });
  paths(pen, breaks.map(frame), { class: 'breaks', fill: PAPER, stroke: INK.line, 'stroke-width': 0.25 });

  const cellOf = new Map(cells.map((cell) => [cell.name, cell]));
  const tinted = group(pen, { class: 'changed-cells', 'stroke-width': 0.15 });
  for (const { kind, pin } of marked) {
    const cell = cellOf.get(pin.details['cell name']);
    if (cell) add(tinted, 'path', { d: frame(cell), fill: LOOKS[kind].tint, stroke: LOOKS[kind].colour });
  }
  const pads = bondPads.map((pad) => frame(boxAround(pad.x, pad.y, pad)));
  paths(pen, pads, { class: 'pads', fill: '#e6eaeb', stroke: '#a9b3b7', 'stroke-width': 0.08 });

  const padAt = new Map(bondPads.map((pad) => [`${pad.pin}\n${pad.number}`, pad]));
  const marks = group(pen, { class: 'marks' });
  for (const { kind, pin } of marked) {
    const pad = padAt.get(`${pin.pin}\n${pin.number}`);
    const box = pad
      ? boxAround(pad.x, pad.y, pad)
      : boxAround(pin.place.x, pin.place.y, { width: 2 / view.scale, height: 2 / view.scale });
    add(marks, 'path', {
      d: frame(box),
      fill: kind === 'removed' || kind === 'changed' ? PAPER : LOOKS[kind].colour,
      stroke: LOOKS[kind].colour,
      'stroke-width': 0.25,
      'data-pin': pin.key,
      'data-change': kind,
    });
    const half = Math.max(0.35, Math.min(1.1, (Math.min(box.width, box.height) * view.scale) / 2 - 0.25));
    const { x, y } = at(view, pin.place.x, pin.place.y);
    drawMark(marks, kind, x, y, half);
  }
}

/** The mark of a kind of change about a point, `half` as large to each side. */
export function drawMark(pen: Pen, kind: Kind, x: number, y: number, half: number): void {
  const { colour } = LOOKS[kind];
  const line = (d: string, stroke: string): unknown =>
    add(pen, 'path', { d, stroke, fill: 'none', 'stroke-width': Math.max(0.2, half * 0.4) });
  const [h, u] = [mm(half), mm(-half)];
  if (kind === 'added')
    line(`M${mm(x - half)} ${mm(y)}h${mm(2 * half)}M${mm(x)} ${mm(y - half)}v${mm(2 * half)}`, PAPER);
  else if (kind === 'removed')
    line(
      `M${mm(x - half)} ${mm(y - half)}L${mm(x + half)} ${mm(y + half)}M${mm(x - half)} ${mm(y + half)}L${mm(x + half)} ${mm(y - half)}`,
      colour,
    );
  else if (kind === 'changed')
    add(pen, 'path', { d: `M${mm(x)} ${mm(y - half)}l${h} ${h}l${u} ${h}l${u} ${u}z`, fill: colour });
  else if (kind === 'renumbered') line(`M${mm(x - half)} ${mm(y)}h${mm(2 * half)}`, PAPER);
}

const at = (view: View, x: number, y: number): { x: number; y: number } => ({
  x: view.x + x * view.scale,
  y: view.y - y * view.scale,
});

function rectPath(view: View, { x, y, width, height }: Box): string {
  const corner = at(view, x, y + height);
  const [w, h] = [width * view.scale, height * view.scale];
  return `M${mm(corner.x)} ${mm(corner.y)}h${mm(w)}v${mm(h)}h${mm(-w)}z`;
}

function paths(pen: Pen, list: readonly string[], attributes: Attributes): void {
  if (list.length > 0) add(pen, 'path', { d: list.join(''), ...attributes });
}
