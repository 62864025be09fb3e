/** Names of fingers and pins along the sheet's edges, pad numbers inside the die, and the mark of finger 1. */
import type { Spot } from '../bond/frame.ts';
import type { BondPad } from '../format/placement.ts';
import { type Diagram, outwardOn } from './bond-svg-draw.ts';
import { type BondPlan, LABEL_GAP, type Label, labelSpot } from './bond-svg-plan.ts';
import type { View } from './bond-svg-view.ts';
import { add, group, lettering, type Pen, write } from './canvas.ts';
import { type Box, lies } from './frame.ts';
import { mm } from './numbers.ts';
import { INK } from './palette.ts';
import { ems, LEAST_SIZE, lineRoom } from './text.ts';

/** Finger, pads and pins, with a leader from each finger; above and below they read upward. */
export function drawLabels(pen: Pen, { name }: Diagram, plan: BondPlan): void {
  const all = group(pen, { id: `${name}-names`, class: 'names' });
  const leaders = group(all, { class: 'leaders', fill: 'none', stroke: INK.hair, 'stroke-width': 0.13 });
  add(leaders, 'path', { d: plan.labels.map((label) => leader(plan, label)).join('') });
  for (const side of ['left', 'bottom', 'right', 'top'] as const) {
    const own = plan.labels.filter((label) => label.side === side);
    if (own.length === 0) continue;
    const anchor = side === 'left' || side === 'bottom' ? 'end' : undefined;
    const numbers = lettering(all, plan.size, { class: 'numbers', fill: INK.quiet, 'text-anchor': anchor });
    const pads = lettering(all, plan.size, { class: 'label-pads', fill: INK.text, 'text-anchor': anchor });
    const pins = lettering(all, plan.size, { class: 'pins', fill: INK.text, 'text-anchor': anchor });
    for (const label of own) {
      const about = { 'data-finger': label.finger.name };
      const upward = lies(side);
      const spot = labelSpot(plan, label);
      write(numbers, spot.x, spot.y, label.number, { upward }, about);
      const [dx, dy] = OUTWARD[side];
      const second = plan.numbers + LABEL_GAP * plan.size;
      write(pads, spot.x + dx * second, spot.y + dy * second, label.pads, { upward }, about);
      const third = second + plan.pads + LABEL_GAP * plan.size;
      write(pins, spot.x + dx * third, spot.y + dy * third, label.names, { upward }, about);
    }
  }
}

const OUTWARD = { left: [-1, 0], right: [1, 0], top: [0, -1], bottom: [0, 1] } as const;
/** The straight end of a leader. */
const END = 1.6;

function leader(plan: BondPlan, label: Label): string {
  const spot = labelSpot(plan, label);
  const [dx, dy] = OUTWARD[label.side];
  const knee = { x: spot.x - dx * (END + 0.6), y: spot.y - dy * (END + 0.6) };
  const near = { x: spot.x - dx * 0.6, y: spot.y - dy * 0.6 };
  return `M${mm(label.tail.x)} ${mm(label.tail.y)}L${mm(knee.x)} ${mm(knee.y)}L${mm(near.x)} ${mm(near.y)}`;
}

/** A ring around the first finger's tail. */
export function markFirstFinger(pen: Pen, plan: BondPlan, first: string | undefined): void {
  const label = plan.labels.find(({ finger }) => finger.name === first);
  if (label === undefined) return;
  add(pen, 'circle', {
    class: 'finger-1',
    cx: label.tail.x,
    cy: label.tail.y,
    r: 1.3,
    fill: 'none',
    stroke: INK.text,
    'stroke-width': 0.45,
    'data-finger': label.finger.name,
  });
}

/** Boxes on the sheet that nothing more may cover. */
export interface Taken {
  readonly free: (box: Box) => boolean;
  readonly take: (box: Box) => void;
}

export function takenBoxes(): Taken {
  const MESH = 12;
  const squares = new Map<string, Box[]>();
  const keys = ({ x, y, width, height }: Box): readonly string[] => {
    const list: string[] = [];
    for (let i = Math.floor(x / MESH); i <= Math.floor((x + width) / MESH); i++)
      for (let j = Math.floor(y / MESH); j <= Math.floor((y + height) / MESH); j++) list.push(`${i}:${j}`);
    return list;
  };
  return {
    free: (box) =>
      keys(box).every((key) =>
        (squares.get(key) ?? []).every(
          (other) =>
            other.x >= box.x + box.width ||
            box.x >= other.x + other.width ||
            other.y >= box.y + box.height ||
            box.y >= other.y + other.height,
        ),
      ),
    take: (box) => {
      for (const key of keys(box)) squares.set(key, [...(squares.get(key) ?? []), box]);
    },
  };
}

const SIZE = LEAST_SIZE;
/** How many rows of numbers stand inside the pads at the most. */
const ROWS = 3;
/** Of round numbers this part at least must have room. */
const ENOUGH = 0.75;

interface PlacedNumber {
  readonly text: string;
  readonly at: Spot;
  readonly upward: boolean;
  readonly along: number;
  readonly box: Box;
  /** From the pad to the number, where that stands off. */
  readonly hair: string;
}

/**
 * Pad numbers inside the die, each as near to its pad as there is room, with a hair where it stands off: all of them, or
 * else the round ones alone; the labels outside name every pad.
 */
export function drawPadNumbers(
  pen: Pen,
  diagram: Diagram,
  view: View,
  pads: readonly BondPad[],
  taken: Taken,
): void {
  const spots = pads.map((pad) => ({ pad, edge: edgeSpot(diagram, view, pad) }));
  const row = ems('0'.repeat(String(diagram.placement.bondPads.length).length)) * SIZE + 1;
  for (const every of [1, 5, 10, 50, 100, 1000]) {
    const some = spots.filter(({ pad }) => pad.number === 1 || pad.number % every === 0);
    const numbers = placeNumbers(some, deepestBySide(spots), row);
    if (numbers.length < some.length * (every === 1 ? 1 : ENOUGH)) continue;
    const all = group(pen, { id: `${diagram.name}-numbers`, class: 'pad-numbers' });
    const letters = lettering(all, SIZE, { fill: INK.text });
    for (const { text, at, upward, along, box } of numbers) {
      taken.take(box);
      const place = upward ? ({ upward } as const) : ({ anchor: 'middle' } as const);
      write(letters, at.x, at.y + (upward ? along / 2 : 0), text, place, { 'data-pad': text });
    }
    const d = numbers.map(({ hair }) => hair).join('');
    if (d !== '')
      add(all, 'path', { class: 'leaders', d, stroke: INK.hair, 'stroke-width': 0.1, fill: 'none' });
    return;
  }
}

interface PadSpot {
  readonly pad: BondPad;
  readonly edge: EdgeSpot;
}

/** Places for some numbers, as far as there is room. */
function placeNumbers(
  spots: readonly PadSpot[],
  deepest: ReadonlyMap<BondPad['side'], number>,
  row: number,
): readonly PlacedNumber[] {
  const taken = takenBoxes();
  const placed: PlacedNumber[] = [];
  for (const { pad, edge } of spots) {
    const number = placeNumber(pad, edge, (deepest.get(pad.side) ?? 0) - edge.depth, row, taken);
    if (number === undefined) continue;
    taken.take(number.box);
    placed.push(number);
  }
  return placed;
}

function placeNumber(
  pad: BondPad,
  { x, y, out }: EdgeSpot,
  start: number,
  row: number,
  taken: Taken,
): PlacedNumber | undefined {
  const text = String(pad.number);
  const upward = Math.abs(out.y) > Math.abs(out.x);
  const [along, across] = [ems(text) * SIZE, lineRoom(SIZE)];
  for (let k = 0; k < ROWS; k++) {
    const away = start + 0.8 + along / 2 + k * row;
    const at = { x: x - out.x * away, y: y - out.y * away };
    const [width, height] = upward ? [across, along] : [along, across];
    const box = { x: at.x - width / 2, y: at.y - height / 2, width, height };
    if (!taken.free(box)) continue;
    const near = away - along / 2 - 0.3;
    const hair =
      near > 1.2
        ? `M${mm(x - out.x * 0.3)} ${mm(y - out.y * 0.3)}L${mm(x - out.x * near)} ${mm(y - out.y * near)}`
        : '';
    return { text, at, upward, along, box, hair };
  }
  return undefined;
}

interface EdgeSpot extends Spot {
  readonly out: Spot;
  /** How deep the pad's inner edge lies below the die's edge, on the sheet. */
  readonly depth: number;
}

/** The middle of a pad's inner edge. */
function edgeSpot(diagram: Diagram, view: View, pad: BondPad): EdgeSpot {
  const out = outwardOn(diagram, view, pad);
  const { shrink } = diagram.placement.rules;
  const half = ((lies(pad.side) ? pad.height : pad.width) / 2) * shrink * view.scale;
  const spot = diagram.frames.toPackage(pad.x, pad.y);
  const centre = view.spot(spot.x, spot.y);
  const { die } = diagram.placement;
  const t = { left: pad.x, bottom: pad.y, right: die.width - pad.x, top: die.height - pad.y }[pad.side];
  return {
    x: centre.x - out.x * half,
    y: centre.y - out.y * half,
    out,
    depth: t * shrink * view.scale + half,
  };
}

function deepestBySide(spots: readonly PadSpot[]): ReadonlyMap<BondPad['side'], number> {
  const deepest = new Map<BondPad['side'], number>();
  for (const { pad, edge } of spots) deepest.set(pad.side, Math.max(deepest.get(pad.side) ?? 0, edge.depth));
  return deepest;
}
