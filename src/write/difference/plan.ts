/** Where the two dies, the lists and the column stand on the sheet of the difference. */
import type { Placement } from '../../format/placement.ts';
import type { Side } from '../../geometry/side.ts';
import { SHEET } from '../canvas.ts';
import { stretchOn } from '../frame.ts';

export const COLUMN = { width: 62, gap: 6 } as const;
export const AREA = {
  x: SHEET.margin,
  y: SHEET.margin,
  width: SHEET.width - 2 * SHEET.margin - COLUMN.width - COLUMN.gap,
  height: SHEET.height - 2 * SHEET.margin,
} as const;

/** Around each die, for names. */
export const BAND = 25;
/** Above each die, for what it is. */
const HEAD = 6;
/** The least height that the lists get. */
const LISTS = 70;

/** One die on the sheet. */
export interface View {
  readonly placement: Placement;
  /** Its lower-left corner on the sheet, and millimetres a micrometre. */
  readonly x: number;
  readonly y: number;
  readonly scale: number;
}

export interface Plan {
  readonly before: View;
  readonly now: View;
  /** Where the lists begin. */
  readonly lists: number;
}

/** Both dies to the largest one scale that leaves names and lists their room; they stand on one line. */
export function planDifference(a: Placement, b: Placement): Plan {
  const high = Math.max(a.die.height, b.die.height);
  const scale = Math.min(
    (AREA.width - 4 * BAND) / (a.die.width + b.die.width),
    (AREA.height - LISTS - HEAD - 2 * BAND) / high,
  );
  const spare = AREA.width - 4 * BAND - (a.die.width + b.die.width) * scale;
  const y = AREA.y + HEAD + BAND + high * scale;
  const before = { placement: a, x: AREA.x + BAND + spare / 4, y, scale };
  const now = { placement: b, x: before.x + a.die.width * scale + 2 * BAND + spare / 2, y, scale };
  return { before, now, lists: y + BAND };
}

/** A place of a side's frame on the sheet, in millimetres; `out` leads outward from the die's edge. */
export function onSheet(view: View, side: Side, s: number, t: number): { x: number; y: number } {
  const { die } = view.placement;
  const [x, y] =
    side === 'bottom'
      ? [s, t]
      : side === 'right'
        ? [die.width - t, s]
        : side === 'top'
          ? [die.width - s, die.height - t]
          : [t, die.height - s];
  return { x: view.x + x * view.scale, y: view.y - y * view.scale };
}

/** How deep a side's cells and pads reach, in micrometres. */
export function depthOf({ cells, bondPads, die }: Placement, side: Side): number {
  const boxes = [
    ...cells.filter((cell) => cell.side === side),
    ...bondPads
      .filter((pad) => pad.side === side)
      .map(({ x, y, width, height }) => ({ x: x - width / 2, y: y - height / 2, width, height })),
  ];
  return boxes.reduce((most, box) => Math.max(most, stretchOn(side, die, box).t1), 0);
}
