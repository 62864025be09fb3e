/** Die, pads, fingers and wires of the bond diagram, drawn in any view of the package. */
import { type Frames, framesOf, type Spot } from '../bond/frame.ts';
import type { StrungWire } from '../bond/string.ts';
import type { BondPad, PlacedPackage, Placement } from '../format/placement.ts';
import { type Finger, fingerLength, fingerShape, type View } from './bond-svg-view.ts';
import { add, group, type Pen } from './canvas.ts';
import { mm } from './numbers.ts';
import { FINGER, INK, PAD, PAPER, WIRE, WIRE_DASHES } from './palette.ts';
import { type NetKind, netKinds } from './shapes.ts';

/** What the drawing functions share. */
export interface Diagram {
  readonly name: string;
  readonly placement: Placement;
  readonly bonded: PlacedPackage;
  readonly frames: Frames;
  readonly wires: readonly StrungWire[];
  readonly kinds: ReadonlyMap<string, NetKind>;
  /** The loop heights, lowest first: each has a dash of its own. */
  readonly heights: readonly number[];
}

export function diagramOf(
  name: string,
  placement: Placement,
  bonded: PlacedPackage,
  wires: readonly StrungWire[],
): Diagram {
  const heights = [...new Set(wires.map((wire) => wire.loop))].sort((a, b) => a - b);
  return {
    name,
    placement,
    bonded,
    frames: framesOf(placement, bonded),
    wires,
    kinds: netKinds(placement),
    heights,
  };
}

const pathOf = (spots: readonly Spot[]): string =>
  `${spots.map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'}${mm(x)} ${mm(y)}`).join('')}Z`;

/** Cavity and paddle, about the package's middle. */
export function drawRooms(pen: Pen, { bonded }: Diagram, view: View): void {
  for (const [what, room, dash] of [
    ['cavity', bonded.cavity, '3 1'],
    ['paddle', bonded.paddle, undefined],
  ] as const) {
    if (room === null) continue;
    const [x, y] = [room.width / 2, room.height / 2];
    add(pen, 'path', {
      class: what,
      d: pathOf([view.spot(-x, -y), view.spot(x, -y), view.spot(x, y), view.spot(-x, y)]),
      fill: 'none',
      stroke: INK.hair,
      'stroke-width': 0.25,
      'stroke-dasharray': dash,
    });
  }
}

/** Fingers as blunt strips; those without a wire are hollow, the second tier's are darker. */
export function drawFingers(
  pen: Pen,
  { name, wires }: Diagram,
  view: View,
  fingers: readonly Finger[],
): void {
  const length = fingerLength(fingers);
  const used = new Set(wires.map((wire) => wire.finger));
  const drawn = group(pen, {
    id: `${name}-fingers`,
    class: 'fingers',
    stroke: FINGER.stroke,
    'stroke-width': 0.14,
    'stroke-linejoin': 'round',
  });
  for (const finger of fingers)
    add(drawn, 'path', {
      d: pathOf(fingerShape(finger, length).corners.map(({ x, y }) => view.spot(x, y))),
      fill: !used.has(finger.name) ? PAPER : finger.tier === 1 ? FINGER.first : FINGER.second,
      'data-finger': finger.name,
    });
}

/** The die's outline, the wedge at pad 1, and the pads with their openings. */
export function drawDie(pen: Pen, diagram: Diagram, view: View, pads: readonly BondPad[]): void {
  const { name, placement, frames, kinds } = diagram;
  const { width, height } = placement.die;
  const onSheet = (x: number, y: number): Spot => {
    const spot = frames.toPackage(x, y);
    return view.spot(spot.x, spot.y);
  };
  const die = group(pen, { id: `${name}-die`, class: 'die' });
  const outline = [onSheet(0, 0), onSheet(width, 0), onSheet(width, height), onSheet(0, height)];
  add(die, 'path', {
    class: 'outline',
    d: pathOf(outline),
    fill: PAPER,
    stroke: INK.line,
    'stroke-width': 0.4,
  });
  const box = (pad: BondPad, size: { readonly width: number; readonly height: number }): string => {
    const [dx, dy] = [size.width / 2, size.height / 2];
    return pathOf([
      onSheet(pad.x - dx, pad.y - dy),
      onSheet(pad.x + dx, pad.y - dy),
      onSheet(pad.x + dx, pad.y + dy),
      onSheet(pad.x - dx, pad.y + dy),
    ]);
  };
  const metal = group(die, { id: `${name}-pads`, class: 'pads', stroke: INK.line, 'stroke-width': 0.1 });
  for (const pad of pads)
    add(metal, 'path', {
      d: box(pad, pad),
      fill: PAD[kinds.get(pad.net) ?? 'signal'],
      'data-pad': String(pad.number),
      'data-net': pad.net,
    });
  add(die, 'path', { class: 'openings', d: pads.map((pad) => box(pad, pad.opening)).join(''), fill: PAPER });
}

/** The direction out of the die over a pad's side, on the sheet. */
export function outwardOn({ frames }: Diagram, view: View, pad: BondPad): Spot {
  const step = { left: [-1, 0], bottom: [0, -1], right: [1, 0], top: [0, 1] } as const;
  const [dx, dy] = step[pad.side];
  const [from, to] = [frames.toPackage(pad.x, pad.y), frames.toPackage(pad.x + 1000 * dx, pad.y + 1000 * dy)];
  const [a, b] = [view.spot(from.x, from.y), view.spot(to.x, to.y)];
  const long = Math.hypot(b.x - a.x, b.y - a.y);
  return { x: (b.x - a.x) / long, y: (b.y - a.y) / long };
}

/** A wedge at the die's edge that points at pad 1, from outside. */
export function markFirstPad(pen: Pen, diagram: Diagram, view: View): void {
  const pad = diagram.placement.bondPads.find(({ number }) => number === 1);
  if (pad === undefined) return;
  const { width, height } = diagram.placement.die;
  const edge = {
    left: { x: 0, y: pad.y },
    bottom: { x: pad.x, y: 0 },
    right: { x: width, y: pad.y },
    top: { x: pad.x, y: height },
  };
  const { x, y } = edge[pad.side];
  const spot = diagram.frames.toPackage(x, y);
  const tip = view.spot(spot.x, spot.y);
  const out = outwardOn(diagram, view, pad);
  const base = { x: tip.x + out.x * 2.6, y: tip.y + out.y * 2.6 };
  const [sx, sy] = [-out.y * 1.4, out.x * 1.4];
  add(pen, 'path', {
    class: 'pad-1',
    d: pathOf([tip, { x: base.x + sx, y: base.y + sy }, { x: base.x - sx, y: base.y - sy }]),
    fill: INK.text,
    stroke: PAPER,
    'stroke-width': 0.25,
    'data-pad': '1',
  });
}

/** The dash of a loop height, in millimetres; none for the lowest. */
export const dashOf = ({ heights }: Diagram, loop: number): string | undefined =>
  WIRE_DASHES[Math.min(heights.indexOf(loop), WIRE_DASHES.length - 1)];

/** Wires from foot to foot: by their nets' kind in colour, by loop height in dashes. */
export function drawWires(pen: Pen, diagram: Diagram, view: View, wires: readonly StrungWire[]): void {
  const { name, kinds, bonded } = diagram;
  const drawn = group(pen, { id: `${name}-wires`, class: 'wires', fill: 'none', 'stroke-linecap': 'round' });
  // To scale, but neither vanishing nor hiding what lies below.
  const thick = Math.min(0.55, Math.max(0.2, bonded.wires.diameter * view.scale));
  const foot = Math.max(0.3, Math.min(0.9, (bonded.wires.foot / 2) * view.scale * 0.8));
  const strokes = group(drawn, { 'stroke-width': thick });
  const feet = group(drawn, { stroke: 'none' });
  for (const wire of wires) {
    const [from, to] = [view.spot(wire.from.x, wire.from.y), view.spot(wire.to.x, wire.to.y)];
    const colour = WIRE[kinds.get(wire.net) ?? 'signal'];
    add(strokes, 'path', {
      d: `M${mm(from.x)} ${mm(from.y)}L${mm(to.x)} ${mm(to.y)}`,
      stroke: colour,
      'stroke-dasharray': dashOf(diagram, wire.loop),
      'data-wire': String(wire.number),
      'data-pad': String(wire.bondPad),
      'data-finger': wire.finger ?? undefined,
      'data-net': wire.net,
    });
    for (const spot of [from, to]) add(feet, 'circle', { cx: spot.x, cy: spot.y, r: foot, fill: colour });
  }
}
