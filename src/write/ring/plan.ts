/**
 * Where the die and the pads' labels stand on the sheet. Labels stand in a row outside each side, spread where
 * they need more room than the pads, with a leader to each pad; the die is as large as that allows.
 */
import type { BondPad, Placement } from '../../format/placement.ts';
import { SIDES, type Side } from '../../geometry/side.ts';
import { SHEET } from '../canvas.ts';
import { type Box, lies } from '../frame.ts';
import { spread, type Wish } from '../spread.ts';
import { clean, ems, LEAST_SIZE, lineRoom } from '../text.ts';
import { apart, type Corner } from './corners.ts';

/** The column of title, legend and lists, at the sheet's right edge. */
export const COLUMN = { width: 62, gap: 5 } as const;

export interface Label {
  readonly pad: BondPad;
  /** Its pad's centre and its own place along the side, in sheet millimetres from the left or from above. */
  readonly at: number;
  readonly place: number;
}

export interface RingPlan {
  /** Letter size of the labels. */
  readonly size: number;
  /** Sheet millimetres for a micrometre. */
  readonly scale: number;
  /** The die on the sheet; x and y are its upper left corner. */
  readonly die: Box;
  /** From the die's edge to the labels: beside it, and above and below. */
  readonly fan: { readonly beside: number; readonly above: number };
  /** The room that numbers take in a label. */
  readonly numbers: number;
  /** Whether the names stand beside the numbers, or only on sheets of their own. */
  readonly named: boolean;
  readonly labels: Readonly<Record<Side, readonly Label[]>>;
}

const LARGER_SIZES = [3.2, 2.8, 2.5] as const;
/** How much of the die's size larger letters may cost. */
const NEARLY = 0.84;
const LEAST_FAN = 7;
const LEAST_DIE = 90;
/** The straight ends of a leader. */
export const LEADER_END = 1.6;
/** A leader runs aside at most this many times as far as outward. */
const STEEPEST = 2.4;

/** The part of the sheet that is left to the die and its labels. */
const AREA: Box = {
  x: SHEET.margin,
  y: SHEET.margin,
  width: SHEET.width - 2 * SHEET.margin - COLUMN.width - COLUMN.gap,
  height: SHEET.height - 2 * SHEET.margin,
};

export const numberGap = (size: number): number => 0.7 * size;

/** Pads of a side from the left or from above. */
const inRow = (placement: Placement, side: Side): readonly BondPad[] =>
  placement.bondPads
    .filter((pad) => pad.side === side)
    .sort((a, b) => (lies(side) ? a.x - b.x : b.y - a.y) || a.number - b.number);

/** The plan with all names at the pads, else with every number, else with the numbers that there is room for. */
export function planRing(placement: Placement): RingPlan {
  const all = new Map(SIDES.map((side) => [side, inRow(placement, side)]));
  const rows = (side: Side) => all.get(side) ?? [];
  const named = best(placement, rows, true);
  if (named !== undefined) return named;
  for (const every of [1, 2, 5, 10, 20, 50, 100, 1000]) {
    const some = (side: Side) => rows(side).filter((pad) => pad.number === 1 || pad.number % every === 0);
    const plan = best(placement, some, false);
    if (plan !== undefined) return plan;
  }
  return barePlan(placement);
}

type Rows = (side: Side) => readonly BondPad[];

/** The largest letters with which the die stays nearly as large as with the smallest. */
function best(placement: Placement, rows: Rows, named: boolean): RingPlan | undefined {
  const least = LEAST_DIE / Math.max(placement.die.width, placement.die.height);
  const smallest = largest(placement, rows, named, LEAST_SIZE, least);
  if (smallest === undefined) return undefined;
  for (const size of LARGER_SIZES) {
    const plan = largest(placement, rows, named, size, NEARLY * smallest.scale);
    if (plan !== undefined) return plan;
  }
  return smallest;
}

/** The largest die, down to a least scale, around which labels of a size find room. */
function largest(
  placement: Placement,
  rows: Rows,
  named: boolean,
  size: number,
  least: number,
): RingPlan | undefined {
  const room = lineRoom(size);
  if (SIDES.some((side) => rows(side).length * room > (lies(side) ? AREA.width : AREA.height)))
    return undefined;
  const pads = placement.bondPads;
  const numbers = Math.max(0, ...pads.map((pad) => ems(String(pad.number)))) * size;
  const names = (up: boolean) =>
    Math.max(0, ...pads.filter((pad) => lies(pad.side) === up).map((pad) => ems(clean(pad.pin)))) * size;
  const length = (up: boolean) => numbers + (named ? numberGap(size) + names(up) : 0);
  const lengths = { size, room, above: length(true), beside: length(false) };
  const most = Math.min(
    (AREA.height - 2 * (lengths.above + LEAST_FAN)) / placement.die.height,
    (AREA.width - 2 * (lengths.beside + LEAST_FAN)) / placement.die.width,
  );
  for (let scale = most; scale >= least; scale *= 0.975) {
    const fit = fitted(placement, rows, scale, lengths);
    if (fit !== undefined) return { size, scale, numbers, named, ...fit };
  }
  return undefined;
}

interface Lengths {
  readonly size: number;
  readonly room: number;
  readonly above: number;
  readonly beside: number;
}

type Fit = Pick<RingPlan, 'die' | 'fan' | 'labels'>;

/** The shortest leaders with which the labels of neighbouring sides keep off each other at one scale. */
function fitted(placement: Placement, rows: Rows, scale: number, lengths: Lengths): Fit | undefined {
  const [width, height] = [placement.die.width * scale, placement.die.height * scale];
  const die = { x: AREA.x + (AREA.width - width) / 2, y: AREA.y + (AREA.height - height) / 2, width, height };
  const mostBeside = (AREA.width - width) / 2 - lengths.beside;
  const mostAbove = (AREA.height - height) / 2 - lengths.above;
  const attempt = (beside: number, above: number): Fit | undefined => {
    const fan = { beside, above };
    const labels = rowsOfLabels(placement, rows, scale, die, fan, lengths.room);
    return labels && cornersFree(labels, die, fan, lengths) ? { die, fan, labels } : undefined;
  };
  const longest = attempt(mostBeside, mostAbove);
  if (longest === undefined) return undefined;
  for (const above of steps(LEAST_FAN, mostAbove))
    for (const beside of steps(LEAST_FAN, mostBeside)) {
      const fit = attempt(beside, above);
      if (fit !== undefined) return fit;
    }
  return longest;
}

function steps(low: number, high: number): number[] {
  const out: number[] = [];
  for (let value = low; value <= high + 1e-9; value *= 1.25) out.push(Math.min(value, high));
  return out;
}

function rowsOfLabels(
  placement: Placement,
  rows: Rows,
  scale: number,
  die: Box,
  fan: RingPlan['fan'],
  room: number,
): Fit['labels'] | undefined {
  const made = new Map<Side, Label[]>();
  for (const side of SIDES) {
    const pads = rows(side);
    const up = lies(side);
    const wishes: Wish[] = pads.map((pad) => ({
      at: up ? die.x + pad.x * scale : die.y + (placement.die.height - pad.y) * scale,
      room,
    }));
    const [low, high] = up
      ? [die.x - fan.beside, die.x + die.width + fan.beside]
      : [AREA.y, AREA.y + AREA.height];
    const places = spread(wishes, low, high);
    if (places === undefined) return undefined;
    const reach = (up ? fan.above : fan.beside) - 2 * LEADER_END;
    if (wishes.some(({ at }, i) => Math.abs((places[i] ?? at) - at) > STEEPEST * reach)) return undefined;
    made.set(
      side,
      pads.map((pad, i) => ({ pad, at: wishes[i]?.at ?? 0, place: places[i] ?? 0 })),
    );
  }
  const of = (side: Side) => made.get(side) ?? [];
  return { left: of('left'), bottom: of('bottom'), right: of('right'), top: of('top') };
}

/** Whether the outermost labels at each corner of the die keep off each other; the others lie behind them. */
function cornersFree(labels: Fit['labels'], die: Box, fan: RingPlan['fan'], lengths: Lengths): boolean {
  const [right, below] = [die.x + die.width, die.y + die.height];
  const upper = (label: Label | undefined) => label && { pad: die.y - label.at, label: die.y - label.place };
  const lower = (label: Label | undefined) => label && { pad: label.at - below, label: label.place - below };
  const lefter = (label: Label | undefined) => label && { pad: die.x - label.at, label: die.x - label.place };
  const righter = (label: Label | undefined) =>
    label && { pad: label.at - right, label: label.place - right };
  const corners: readonly Corner[] = [
    { beside: upper(labels.left[0]), above: lefter(labels.top[0]) },
    { beside: lower(labels.left.at(-1)), above: lefter(labels.bottom[0]) },
    { beside: upper(labels.right[0]), above: righter(labels.top.at(-1)) },
    { beside: lower(labels.right.at(-1)), above: righter(labels.bottom.at(-1)) },
  ];
  return corners.every((corner) => apart(corner, fan, lengths, LEADER_END));
}

/** A die that no label can be set at, such as one that is all but a line: the drawing without any. */
function barePlan(placement: Placement): RingPlan {
  const scale = Math.min(
    (AREA.width - 2 * LEAST_FAN) / placement.die.width,
    (AREA.height - 2 * LEAST_FAN) / placement.die.height,
  );
  const [width, height] = [placement.die.width * scale, placement.die.height * scale];
  return {
    size: LEAST_SIZE,
    scale,
    die: { x: AREA.x + (AREA.width - width) / 2, y: AREA.y + (AREA.height - height) / 2, width, height },
    fan: { beside: LEAST_FAN, above: LEAST_FAN },
    numbers: 0,
    named: false,
    labels: { left: [], bottom: [], right: [], top: [] },
  };
}
