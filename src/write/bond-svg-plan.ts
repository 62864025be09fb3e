/**
 * Where everything of the bond diagram stands on its first sheet: die and fingers in the middle, as large as can be, the
 * fingers' labels in a row along each edge, the column of legend, tables and title at the right.
 */
import { framesOf, type Spot } from '../bond/frame.ts';
import type { StrungWire } from '../bond/string.ts';
import type { PlacedPackage, Placement } from '../format/placement.ts';
import { SIDES, type Side } from '../geometry/side.ts';
import { boundsOf, type Finger, fingerLength, fingerShape, type View, viewAt } from './bond-svg-view.ts';
import { SHEET } from './canvas.ts';
import { type Box, lies } from './frame.ts';
import { spread } from './spread.ts';
import { clean, ems, LEAST_SIZE, lineRoom, shorten } from './text.ts';

/** The column of legend, tables, findings and title, at the sheet's right edge. */
export const COLUMN = { width: 127, gap: 5 } as const;

export const AREA: Box = {
  x: SHEET.margin,
  y: SHEET.margin,
  width: SHEET.width - 2 * SHEET.margin - COLUMN.width - COLUMN.gap,
  height: SHEET.height - 2 * SHEET.margin,
};

/** A finger's label: its name, then the pads and the pins bonded to it. */
export interface Label {
  readonly finger: Finger;
  readonly side: Side;
  /** Where its leader starts. */
  readonly tail: Spot;
  /** Its place along the sheet's edge, from the left or from above. */
  readonly place: number;
  readonly number: string;
  readonly pads: string;
  readonly names: string;
}

export interface BondPlan {
  readonly view: View;
  readonly size: number;
  readonly labels: readonly Label[];
  /** How long the labels of each edge are, and how much of that fingers' names and pads' numbers take. */
  readonly long: Readonly<Record<Side, number>>;
  readonly numbers: number;
  readonly pads: number;
  /** Whether pins stand beside the fingers' names, or only on sheets of their own. */
  readonly named: boolean;
}

const SIZES = [3.2, 2.8, 2.5, LEAST_SIZE] as const;
/** From the outermost finger to the labels. */
const FAN = 9;
/** The longest names, in millimetres; what is longer is cut, and whole in the tables. */
const LONGEST = 27;
/** Between the parts of a label, over the letter size. */
export const LABEL_GAP = 0.7;
/** Labels are made smaller rather than the drawing smaller than this. */
const LEAST_SCALE = 0.8;

/** The texts of a finger's label; `longest` is the room for each part, in ems. */
export interface LabelTexts {
  readonly finger: Finger;
  readonly number: string;
  readonly pads: string;
  readonly names: string;
}

/** The labels of fingers with the pads and pins bonded to them; without wires the fingers' names alone. */
export function labelTexts(
  fingers: readonly Finger[],
  wires: readonly StrungWire[],
  longest: number,
): readonly LabelTexts[] {
  const byFinger = new Map<string, StrungWire[]>();
  for (const wire of wires) {
    if (wire.finger === null) continue;
    const known = byFinger.get(wire.finger);
    if (known === undefined) byFinger.set(wire.finger, [wire]);
    else known.push(wire);
  }
  return fingers.map((finger) => {
    const own = byFinger.get(finger.name) ?? [];
    const pads = [...new Set(own.map((wire) => wire.bondPad))].join(', ');
    const pins = [...new Set(own.map((wire) => wire.pin))].filter((pin) => pin !== finger.name).join(', ');
    return {
      finger,
      number: shorten(clean(finger.name), longest),
      pads: shorten(pads, longest),
      names: shorten(clean(pins), longest),
    };
  });
}

/** The greatest width of a part of some labels, in ems. */
export const widestOf = (texts: readonly LabelTexts[], part: 'number' | 'pads' | 'names'): number =>
  texts.reduce((most, text) => Math.max(most, ems(text[part])), 0);

/** The plan with every label, or with the numbers alone that there is room for. */
export function planBonds(
  placement: Placement,
  bonded: PlacedPackage,
  wires: readonly StrungWire[],
): BondPlan {
  const everything = boxOf(placement, bonded, wires);
  const named = best(bonded.fingers, wires, everything);
  if (named !== undefined) return named;
  for (const every of [1, 2, 5, 10, 20, 50, 100, 1000]) {
    const some = bonded.fingers.filter((_, i) => i % every === 0);
    const plan = planned(some, [], everything, LEAST_SIZE, false);
    if (plan !== undefined) return plan;
  }
  const view = fitted(everything, { left: 0, bottom: 0, right: 0, top: 0 });
  return {
    view,
    size: LEAST_SIZE,
    labels: [],
    long: { left: 0, bottom: 0, right: 0, top: 0 },
    numbers: 0,
    pads: 0,
    named: false,
  };
}

/** All that is drawn, in the package's axes. */
function boxOf(placement: Placement, bonded: PlacedPackage, wires: readonly StrungWire[]): Box {
  const { toPackage } = framesOf(placement, bonded);
  const { width, height } = placement.die;
  const length = fingerLength(bonded.fingers);
  const bare = [bonded.cavity, bonded.paddle].flatMap((room) =>
    room === null
      ? []
      : [
          { x: -room.width / 2, y: -room.height / 2 },
          { x: room.width / 2, y: room.height / 2 },
        ],
  );
  const bounds = boundsOf([
    toPackage(0, 0),
    toPackage(width, 0),
    toPackage(width, height),
    toPackage(0, height),
    ...bonded.fingers.flatMap((finger) => fingerShape(finger, length).corners),
    ...wires.map((wire) => wire.to),
    ...bare,
  ]);
  return bounds ?? { x: -1, y: -1, width: 2, height: 2 };
}

type Lengths = Readonly<Record<Side, number>>;

/** The largest view between labels of these lengths. */
function fitted(box: Box, long: Lengths): View {
  const room = {
    x: AREA.x + long.left + FAN,
    y: AREA.y + long.top + FAN,
    width: AREA.width - long.left - long.right - 2 * FAN,
    height: AREA.height - long.top - long.bottom - 2 * FAN,
  };
  const scale = Math.min(room.width / Math.max(box.width, 1), room.height / Math.max(box.height, 1));
  const middle = { x: room.x + room.width / 2, y: room.y + room.height / 2 };
  return viewAt(box.x + box.width / 2, box.y + box.height / 2, middle, scale);
}

/** The largest letters with which the drawing stays nearly as large as with the smallest. */
function best(fingers: readonly Finger[], wires: readonly StrungWire[], box: Box): BondPlan | undefined {
  const plans = SIZES.map((size) => planned(fingers, wires, box, size, true));
  const smallest = plans.at(-1);
  if (smallest === undefined) return undefined;
  return (
    plans.find((plan) => plan !== undefined && plan.view.scale >= LEAST_SCALE * smallest.view.scale) ??
    smallest
  );
}

function planned(
  fingers: readonly Finger[],
  wires: readonly StrungWire[],
  box: Box,
  size: number,
  named: boolean,
): BondPlan | undefined {
  const texts = labelTexts(fingers, wires, LONGEST / size);
  const numbers = widestOf(texts, 'number') * size;
  const pads = widestOf(texts, 'pads') * size;
  const longest = (side: Side): number => {
    const own = texts.filter(({ finger }) => finger.side === side);
    if (own.length === 0) return 0;
    const names = widestOf(own, 'names') * size;
    return numbers + (pads > 0 ? LABEL_GAP * size + pads : 0) + (names > 0 ? LABEL_GAP * size + names : 0);
  };
  const long = {
    left: longest('left'),
    bottom: longest('bottom'),
    right: longest('right'),
    top: longest('top'),
  };
  const view = fitted(box, long);
  if (view.scale <= 0) return undefined;
  const length = fingerLength(fingers);
  const labels: Label[] = [];
  for (const side of SIDES) {
    const own = texts
      .filter(({ finger }) => finger.side === side)
      .map((text) => {
        const { tail } = fingerShape(text.finger, length);
        return { ...text, side, tail: view.spot(tail.x, tail.y) };
      })
      .sort((a, b) => (lies(side) ? a.tail.x - b.tail.x : a.tail.y - b.tail.y));
    const [low, high] = lies(side)
      ? [AREA.x, AREA.x + AREA.width]
      : [AREA.y + long.top + 1, AREA.y + AREA.height - long.bottom - 1];
    const room = lineRoom(size);
    const places = spread(
      own.map(({ tail }) => ({ at: lies(side) ? tail.x : tail.y, room })),
      low,
      high,
    );
    if (places === undefined) return undefined;
    labels.push(...own.map((text, i) => ({ ...text, place: places[i] ?? 0 })));
  }
  return { view, size, labels, long, numbers, pads, named };
}

/** The area between the labels. */
export const withinLabels = ({ long }: BondPlan): Box => ({
  x: AREA.x + long.left,
  y: AREA.y + long.top,
  width: AREA.width - long.left - long.right,
  height: AREA.height - long.top - long.bottom,
});

/** Where a label's leader ends and its number begins. */
export function labelSpot({ long }: BondPlan, { side, place }: Pick<Label, 'side' | 'place'>): Spot {
  if (side === 'left') return { x: AREA.x + long.left, y: place };
  if (side === 'right') return { x: AREA.x + AREA.width - long.right, y: place };
  return side === 'top'
    ? { x: place, y: AREA.y + long.top }
    : { x: place, y: AREA.y + AREA.height - long.bottom };
}
