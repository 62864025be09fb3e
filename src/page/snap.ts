/** What the measure snaps to: edges and centres of what is drawn. */
import type { BondPad } from '../format/placement.ts';
import { type Box, boxAround, centreOf, type Dot, type Side } from './geometry.ts';
import { type Model, padBox } from './model.ts';
import { exact } from './numbers.ts';
import type { Shown } from './parts.ts';

export const SPOTS = ['centre', 'left edge', 'right edge', 'lower edge', 'upper edge'] as const;
export type Spot = (typeof SPOTS)[number];

/** A shape that can be measured from. */
export interface Shape {
  readonly name: string;
  readonly box: Box;
  readonly pad?: BondPad;
  readonly layer: keyof Shown | 'die';
}

/** A centre (both coordinates) or an edge (one of them), with where it is drawn. */
export interface Snap {
  readonly shape: Shape;
  readonly spot: Spot;
  readonly x?: number;
  readonly y?: number;
  readonly from: Dot;
  readonly to: Dot;
}

export const snapName = ({ shape, spot }: Snap): string => `${spot} of ${shape.name}`;

/** Everything that can be measured from, the uppermost first. */
export function shapesOf({ placement }: Model): readonly Shape[] {
  const { die, core, rules } = placement;
  const inset = (by: number): Box => ({
    x: by,
    y: by,
    width: die.width - 2 * by,
    height: die.height - 2 * by,
  });
  const { street, seal } = rules.edge;
  return [
    ...placement.bondPads.map((pad) => ({
      name: padName(pad),
      box: padBox(pad),
      pad,
      layer: 'pads' as const,
    })),
    ...placement.bondPads.map((pad) => ({
      name: `the opening of ${padName(pad)}`,
      box: boxAround(pad, pad.opening),
      pad,
      layer: 'pads' as const,
    })),
    ...placement.stems.map((stem) => ({
      name: `the stem of pad ${stem.bondPad}`,
      box: stem,
      layer: 'stems' as const,
    })),
    ...placement.rails.flatMap((rail) =>
      rail.rectangles.map((box, i) => ({
        name: `stretch ${i + 1} of rail ${rail.lane} ${rail.net}`,
        box,
        layer: 'rails' as const,
      })),
    ),
    ...placement.cells.map((cell) => ({ name: `cell ${cell.name}`, box: cell, layer: 'cells' as const })),
    ...(core.width > 0 && core.height > 0 ? [{ name: 'the core', box: core, layer: 'core' as const }] : []),
    ...(seal > 0
      ? [
          { name: 'the seal ring, inside', box: inset(street + seal), layer: 'die' as const },
          { name: 'the seal ring, outside', box: inset(street), layer: 'die' as const },
        ]
      : []),
    { name: 'the die', box: inset(0), layer: 'die' },
  ];
}

const padName = (pad: BondPad): string => `pad ${pad.number} ${pad.pin}`;

export function snapAt(shape: Shape, spot: Spot): Snap {
  const { x, y, width, height } = shape.box;
  const { pad } = shape;
  // A pad's centre is what the placement says, not what its edges come to.
  const centre = pad === undefined ? centreOf(shape.box) : { x: pad.x, y: pad.y };
  const [right, upper] = [exact(x + width), exact(y + height)];
  switch (spot) {
    case 'centre':
      return { shape, spot, x: exact(centre.x), y: exact(centre.y), from: centre, to: centre };
    case 'left edge':
      return { shape, spot, x: exact(x), from: { x, y }, to: { x, y: upper } };
    case 'right edge':
      return { shape, spot, x: right, from: { x: right, y }, to: { x: right, y: upper } };
    case 'lower edge':
      return { shape, spot, y: exact(y), from: { x, y }, to: { x: right, y } };
    case 'upper edge':
      return { shape, spot, y: upper, from: { x, y: upper }, to: { x: right, y: upper } };
  }
}

/** How much nearer a centre counts than it is: it is a dot among lines. */
const CENTRE_PULL = 0.6;

/** The nearest edge or centre within a reach (micrometres) of a place, of the parts that are shown. */
export function snapNear(shapes: readonly Shape[], shown: Shown, dot: Dot, reach: number): Snap | undefined {
  let [best, least]: [Snap | undefined, number] = [undefined, reach];
  for (const shape of shapes) {
    if (shape.layer !== 'die' && !shown[shape.layer]) continue;
    const { x, y, width, height } = shape.box;
    if (dot.x < x - reach || dot.x > x + width + reach || dot.y < y - reach || dot.y > y + height + reach)
      continue;
    for (const spot of SPOTS) {
      const snap = snapAt(shape, spot);
      const far = distanceTo(snap, dot) * (spot === 'centre' ? CENTRE_PULL : 1);
      if (far < least) [best, least] = [snap, far];
    }
  }
  return best;
}

function distanceTo({ from, to }: Snap, { x, y }: Dot): number {
  const nearX = Math.min(Math.max(x, Math.min(from.x, to.x)), Math.max(from.x, to.x));
  const nearY = Math.min(Math.max(y, Math.min(from.y, to.y)), Math.max(from.y, to.y));
  return Math.hypot(x - nearX, y - nearY);
}

export interface Measured {
  readonly from: Snap;
  readonly to: Snap;
  /** Along x and y, where both ends have that coordinate; never negative. */
  readonly dx?: number;
  readonly dy?: number;
  /** For two pads of one side: what the distance along it is called. */
  readonly pads?: {
    readonly side: Side;
    readonly along: number;
    readonly across: number;
    readonly word: 'pitch' | 'stagger';
  };
}

/** The distance between two ends. */
export function measure(from: Snap, to: Snap): Measured {
  const dx = from.x === undefined || to.x === undefined ? undefined : exact(Math.abs(to.x - from.x));
  const dy = from.y === undefined || to.y === undefined ? undefined : exact(Math.abs(to.y - from.y));
  const [a, b] = [from.shape.pad, to.shape.pad];
  const base = { from, to, ...(dx === undefined ? {} : { dx }), ...(dy === undefined ? {} : { dy }) };
  if (
    a === undefined ||
    b === undefined ||
    a === b ||
    a.side !== b.side ||
    dx === undefined ||
    dy === undefined
  )
    return base;
  const [along, across] = a.side === 'bottom' || a.side === 'top' ? [dx, dy] : [dy, dx];
  const word = a.row === b.row ? 'pitch' : 'stagger';
  return { ...base, pads: { side: a.side, along, across, word } };
}

/** Every shape that belongs to a pad or a cell of a name, for measuring without a pointer. */
export const shapeNamed = (shapes: readonly Shape[], name: string): Shape | undefined =>
  shapes.find((shape) => shape.name === name);
