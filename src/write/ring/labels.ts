/** Numbers and names outside the die, with a leader from each to its pad, and the mark of pad 1. */
import type { Placement } from '../../format/placement.ts';
import { SIDES, type Side } from '../../geometry/side.ts';
import { add, group, type Lettering, lettering, type Pen, write } from '../canvas.ts';
import { boxAround, lies, seenFrom, stretchOn } from '../frame.ts';
import { mm } from '../numbers.ts';
import { INK, PAPER } from '../palette.ts';
import { ems, LINE_BOX } from '../text.ts';
import { onSheet, type Spot } from './place.ts';
import { type Label, LEADER_END, numberGap, type RingPlan } from './plan.ts';

export function drawLabels(page: Pen, name: string, placement: Placement, plan: RingPlan): void {
  const pen = group(page, { id: `${name}-names`, class: 'names' });
  const leaders = group(pen, { class: 'leaders', fill: 'none', stroke: INK.hair, 'stroke-width': 0.13 });
  for (const side of SIDES) {
    const labels = plan.labels[side];
    if (labels.length === 0) continue;
    add(leaders, 'path', { d: labels.map((label) => leader(placement, plan, side, label)).join('') });
    const anchor = side === 'left' || side === 'bottom' ? 'end' : undefined;
    const numbers = lettering(pen, plan.size, { class: 'numbers', fill: INK.quiet, 'text-anchor': anchor });
    const names = lettering(pen, plan.size, { class: 'pins', 'text-anchor': anchor });
    for (const label of labels) writeLabel(numbers, names, plan, side, label);
  }
}

/** A spot outside a side, from its distance to the die's edge and its place along the sheet. */
function outside(plan: RingPlan, side: Side, place: number, away: number): Spot {
  const { die } = plan;
  switch (side) {
    case 'left':
      return { x: die.x - away, y: place };
    case 'right':
      return { x: die.x + die.width + away, y: place };
    case 'top':
      return { x: place, y: die.y - away };
    case 'bottom':
      return { x: place, y: die.y + die.height + away };
  }
}

function leader(placement: Placement, plan: RingPlan, side: Side, { pad, at, place }: Label): string {
  const { t0 } = stretchOn(side, placement.die, boxAround(pad.x, pad.y, pad));
  const reach = lies(side) ? plan.fan.above : plan.fan.beside;
  const spots = [
    outside(plan, side, at, -t0 * plan.scale),
    outside(plan, side, at, LEADER_END),
    outside(plan, side, place, reach - LEADER_END),
    outside(plan, side, place, reach - 0.6),
  ];
  return spots.map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'}${mm(x)} ${mm(y)}`).join('');
}

/** The number next to the leader, the name behind it; above and below the die both read upward. */
function writeLabel(numbers: Lettering, names: Lettering, plan: RingPlan, side: Side, label: Label): void {
  const { pad, place } = label;
  const reach = lies(side) ? plan.fan.above : plan.fan.beside;
  const upward = lies(side);
  const about = { 'data-pad': String(pad.number) };
  const first = outside(plan, side, place, reach);
  if (pad.number === 1) boxNumber(numbers, side, first);
  write(numbers, first.x, first.y, String(pad.number), { upward }, about);
  if (!plan.named) return;
  const second = outside(plan, side, place, reach + plan.numbers + numberGap(plan.size));
  write(names, second.x, second.y, pad.pin, { upward }, about);
}

/** A frame around number 1. */
function boxNumber({ pen, size }: Lettering, side: Side, { x, y }: Spot): void {
  const long = ems('1') * size + 0.7;
  const high = size * LINE_BOX * 0.86;
  const [width, height] = lies(side) ? [high, long] : [long, high];
  const left = side === 'left' ? x - long + 0.35 : side === 'right' ? x - 0.35 : x - high / 2;
  const top = side === 'top' ? y - long + 0.35 : side === 'bottom' ? y - 0.35 : y - high / 2;
  add(pen, 'rect', {
    class: 'pad-1',
    x: left,
    y: top,
    width,
    height,
    rx: 0.4,
    fill: 'none',
    stroke: INK.line,
    'stroke-width': 0.2,
  });
}

/** A wedge on the die's edge that points at pad 1. */
export function markFirstPad(page: Pen, placement: Placement, plan: RingPlan): void {
  const pad = placement.bondPads.find(({ number }) => number === 1);
  if (pad === undefined) return;
  const { s } = seenFrom(pad.side, placement.die, pad.x, pad.y);
  const half = 1.3 / plan.scale;
  const tip = 2.4 / plan.scale;
  const dots = [
    onSheet(plan, placement.die, pad.side, s - half, 0),
    onSheet(plan, placement.die, pad.side, s + half, 0),
    onSheet(plan, placement.die, pad.side, s, tip),
  ];
  add(page, 'path', {
    class: 'pad-1',
    d: `${dots.map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'}${mm(x)} ${mm(y)}`).join('')}Z`,
    fill: INK.text,
    stroke: PAPER,
    'stroke-width': 0.25,
    'data-pad': '1',
  });
}
