/** How a part of the package lies on a sheet of the bond diagram, and the fingers' shapes there. */
import type { Spot } from '../bond/frame.ts';
import type { PlacedPackage } from '../format/placement.ts';
import type { Side } from '../geometry/side.ts';
import type { Box } from './frame.ts';

export type Finger = PlacedPackage['fingers'][number];

/** From the package's axes, in micrometres, to the sheet. */
export interface View {
  readonly spot: (x: number, y: number) => Spot;
  /** Millimetres for a micrometre. */
  readonly scale: number;
  /** Quarter turns counter-clockwise by which the package stands turned on the sheet. */
  readonly quarters: number;
}

const TURNS = [
  [1, 0],
  [0, 1],
  [-1, 0],
  [0, -1],
] as const;

/** A view with the package's place (x, y) at a spot of the sheet. */
export function viewAt(x: number, y: number, at: Spot, scale: number, quarters = 0): View {
  const [cosine, sine] = TURNS[((quarters % 4) + 4) % 4] ?? TURNS[0];
  return {
    scale,
    quarters,
    spot: (px, py) => {
      const [dx, dy] = [(px - x) * scale, (py - y) * scale];
      return { x: at.x + cosine * dx - sine * dy, y: at.y - (sine * dx + cosine * dy) };
    },
  };
}

/** How many quarter turns counter-clockwise bring a side of the package down. */
export const QUARTERS_DOWN: Readonly<Record<Side, number>> = { bottom: 0, left: 1, top: 2, right: 3 };

/** The direction in which a finger leads, in the package's axes. */
export function directionOf({ angle }: Finger): Spot {
  const turn = (angle * Math.PI) / 180;
  return { x: Math.cos(turn), y: Math.sin(turn) };
}

/** How long a finger is drawn: a few widths, short of the tips of the next tier. */
export function fingerLength(fingers: readonly Finger[]): number {
  let [widest, nearest] = [0, Number.POSITIVE_INFINITY];
  fingers.forEach((finger, i) => {
    widest = Math.max(widest, finger.width);
    const next = fingers[i + 1];
    if (next !== undefined && next.tier !== finger.tier)
      nearest = Math.min(nearest, Math.hypot(next.x - finger.x, next.y - finger.y));
  });
  return Math.min(2.6 * widest, Math.max(0.8 * widest, 0.7 * nearest));
}

/** A finger's corners and the end from which a label's leader starts, in the package's axes. */
export function fingerShape(
  finger: Finger,
  length: number,
): { readonly corners: readonly Spot[]; readonly tail: Spot } {
  const out = directionOf(finger);
  const half = finger.width / 2;
  const tip = { x: finger.x - out.x * half, y: finger.y - out.y * half };
  const tail = { x: tip.x + out.x * length, y: tip.y + out.y * length };
  const [ax, ay] = [-out.y * half, out.x * half];
  return {
    corners: [
      { x: tip.x + ax, y: tip.y + ay },
      { x: tip.x - ax, y: tip.y - ay },
      { x: tail.x - ax, y: tail.y - ay },
      { x: tail.x + ax, y: tail.y + ay },
    ],
    tail,
  };
}

/** The box of places. */
export function boundsOf(spots: Iterable<Spot>): Box | undefined {
  let [x0, y0, x1, y1] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const { x, y } of spots) {
    [x0, y0] = [Math.min(x0, x), Math.min(y0, y)];
    [x1, y1] = [Math.max(x1, x), Math.max(y1, y)];
  }
  return x1 < x0 ? undefined : { x: x0, y: y0, width: x1 - x0, height: y1 - y0 };
}
