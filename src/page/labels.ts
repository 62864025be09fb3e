/**
 * Where the names stand on the screen: outside the die, each in line with its pad, all of one size at every zoom. Where
 * the die's edge is out of sight they keep to the edge of the drawing's box. Names that would come too close to each
 * other are moved aside a little; where even that has no room, a round number here and there is left.
 */
import type { BondPad } from '../format/placement.ts';
import { EDGE, fanned, GAP, LINE, textOf } from './fan.ts';
import { type Frame, lies, SIDES, type Side } from './geometry.ts';
import type { Model } from './model.ts';
import { isTaken, type Rect } from './screen.ts';

export interface Label {
  readonly pad: BondPad;
  /** Whether the name stands beside the number. */
  readonly named: boolean;
  readonly text: string;
  /** Where the text begins or ends, next to the die, in pixels of the box; and its pad's line at the die. */
  readonly x: number;
  readonly y: number;
  readonly anchor: 'start' | 'end';
  /** Read from below upward. */
  readonly upward: boolean;
  readonly rect: Rect;
  readonly leader: readonly [x0: number, y0: number, x1: number, y1: number] | undefined;
}

export interface Setting {
  readonly frame: Frame;
  readonly width: number;
  readonly height: number;
  /** Pixels that a text takes. */
  readonly measure: (text: string) => number;
  /** Pads whose names come first where there is no room for all. */
  readonly first: ReadonlySet<number>;
}

/** Pads this far apart on the screen, in pixels, are large enough to be written over. */
const WIDE = 34;
/** How much wider the bold letters of what is lit or chosen are. */
const BOLD = 1.14;
/** So many names may lie over the drawing where they are wanted and there is no room for them outside. */
const FEW = 8;
const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500];

interface Wish {
  readonly pad: BondPad;
  /** The pad's line, along the side, in pixels. */
  readonly at: number;
}

interface Placed extends Wish {
  readonly place: number;
  readonly named: boolean;
  readonly gap: number;
}

/** The names and numbers to show; none overlaps another, nor what is taken already. */
export function labelsOf(model: Model, setting: Setting, occupied: readonly Rect[]): readonly Label[] {
  const taken = [...occupied];
  const labels: Label[] = [];
  for (const side of SIDES)
    for (const placed of placesOn(model, side, setting)) {
      const label = labelAt(model, side, placed, setting);
      if (isTaken(label.rect, taken)) continue;
      taken.push(label.rect);
      labels.push(label);
    }
  return labels;
}

function placesOn(model: Model, side: Side, setting: Setting): readonly Placed[] {
  const wishes = visibleOn(model, side, setting);
  const high = lies(side) ? setting.width : setting.height;
  const { places, gap } = fanned(
    wishes.map(({ at }) => at),
    { low: EDGE, high: high - EDGE },
  );
  if (gap <= GAP.most && isRoom(model, side, wishes, gap, setting))
    return wishes.map((wish, i) => ({ ...wish, place: places[i] ?? wish.at, named: true, gap }));
  const { first } = setting;
  const written = (wish: Wish): boolean =>
    first.has(wish.pad.number) && (first.size <= FEW || isRoom(model, side, [wish], GAP.least, setting));
  return thinned(wishes, first, written);
}

/**
 * Whether names may be written out: where they stand clear of the die, or where the pads are so large that they may
 * lie over the drawing.
 */
function isRoom(
  { placement: { die } }: Model,
  side: Side,
  wishes: readonly Wish[],
  gap: number,
  { frame: { k, left, top }, width, height, measure }: Setting,
): boolean {
  const places = wishes.map(({ at }) => at);
  const closest = Math.min(...places.slice(1).map((at, i) => at - (places[i] ?? at)));
  if (wishes.length > 1 && closest >= WIDE) return true;
  const outside = {
    left,
    right: width - left - k * die.width,
    bottom: height - top,
    top: top - k * die.height,
  }[side];
  return wishes.every(({ pad }) => gap + measure(textOf(pad, side)) + EDGE <= outside + 1);
}

/** The pads of a side that are in sight, from the left or from above. */
function visibleOn({ placement }: Model, side: Side, { frame, width, height }: Setting): readonly Wish[] {
  const { k, left, top } = frame;
  const length = lies(side) ? width : height;
  return placement.bondPads
    .filter((pad) => {
      if (pad.side !== side) return false;
      const [x, y] = [left + k * pad.x, top - k * pad.y];
      const [w, h] = [(k * pad.width) / 2, (k * pad.height) / 2];
      return x + w > 0 && x - w < width && y + h > 0 && y - h < height;
    })
    .map((pad) => ({ pad, at: lies(side) ? left + k * pad.x : top - k * pad.y }))
    .filter(({ at }) => at > LINE / 2 && at < length - LINE / 2)
    .sort((a, b) => a.at - b.at || a.pad.number - b.pad.number);
}

/** What is wanted first, then numbers of the smallest round step for which there is room. */
function thinned(
  wishes: readonly Wish[],
  first: ReadonlySet<number>,
  written: (wish: Wish) => boolean,
): readonly Placed[] {
  const kept: Placed[] = [];
  const add = (wish: Wish): boolean => {
    if (kept.some(({ at }) => Math.abs(at - wish.at) < LINE)) return false;
    kept.push({ ...wish, place: wish.at, named: written(wish), gap: GAP.least });
    return true;
  };
  for (const wish of wishes) if (first.has(wish.pad.number)) add(wish);
  const of = (step: number): readonly Wish[] =>
    wishes.filter(({ pad }) => pad.number === 1 || pad.number % step === 0);
  const step = STEPS.find((by) => apart(of(by)));
  if (step !== undefined) for (const wish of of(step)) add(wish);
  return kept.sort((a, b) => a.at - b.at);
}

const apart = (wishes: readonly Wish[]): boolean =>
  wishes.every(({ at }, i) => i === 0 || at - (wishes[i - 1]?.at ?? at) >= LINE);

function labelAt(
  { placement }: Model,
  side: Side,
  { pad, at, place, named, gap }: Placed,
  setting: Setting,
): Label {
  const { frame, width, height } = setting;
  const { k, left, top } = frame;
  const edge = {
    left,
    right: left + k * placement.die.width,
    bottom: top,
    top: top - k * placement.die.height,
  }[side];
  const text = named ? textOf(pad, side) : String(pad.number);
  const room = setting.measure(text) * (setting.first.has(pad.number) ? BOLD : 1);
  const upward = lies(side);
  const base = (x: number, y: number, anchor: Label['anchor']) => ({
    ...{ pad, named, text, upward, x, y, anchor },
    rect: rectOf(x, y, anchor, upward, room),
  });
  switch (side) {
    case 'left':
    case 'right': {
      const out = side === 'left' ? -1 : 1;
      const x = clamped(
        edge + out * gap,
        side === 'left' ? [room + EDGE, width - EDGE] : [EDGE, width - EDGE - room],
      );
      return {
        ...base(x, place, side === 'left' ? 'end' : 'start'),
        leader: (edge - x) * out < 0 ? [edge, at, x - out * 2, place] : undefined,
      };
    }
    case 'top':
    case 'bottom': {
      const out = side === 'top' ? -1 : 1;
      const y = clamped(
        edge + out * gap,
        side === 'top' ? [room + EDGE, height - EDGE] : [EDGE, height - EDGE - room],
      );
      return {
        ...base(place, y, side === 'top' ? 'start' : 'end'),
        leader: (edge - y) * out < 0 ? [at, edge, place, y - out * 2] : undefined,
      };
    }
  }
}

const clamped = (value: number, [low, high]: readonly [number, number]): number =>
  Math.max(low, Math.min(high, value));

function rectOf(x: number, y: number, anchor: Label['anchor'], upward: boolean, length: number): Rect {
  const half = LINE / 2 - 0.25;
  const back = anchor === 'end' ? length : 0;
  // Read upward, a text runs toward smaller y.
  return upward
    ? { x0: x - half, y0: y - length + back, x1: x + half, y1: y + back }
    : { x0: x - back, y0: y - half, x1: x + length - back, y1: y + half };
}
