/** From a library's drawing to the cell's own frame, and which strips reach the edges there. */
import { type Extent, type Rect, SIDES, type Side, turnOfCorner, turnOfSide } from '../geometry/side.ts';
import { type Units, units } from '../geometry/units.ts';
import type { Strip } from './footprint.ts';
import type { LefMacro, LefPin, LefShape } from './lef/lef.ts';

/** How a drawing stands in the ring; see Footprint.drawnFor. */
export interface Standing {
  readonly corner: boolean;
  readonly drawnFor: Side;
}

const turnOf = ({ corner, drawnFor }: Standing): number =>
  corner ? turnOfCorner(drawnFor) : turnOfSide(drawnFor);

/** The extent in the cell's frame: along s and along t; a corner's along the side after it and the one before. */
export const extentInCell = (standing: Standing, drawn: Extent): Extent =>
  turnOf(standing) % 180 === 0 ? drawn : { width: drawn.height, height: drawn.width };

/** A rectangle of the drawing in the cell's frame, x along s and y along t. */
function rectInCell(standing: Standing, drawn: Extent, { x, y, width, height }: Rect): Rect {
  const right = units(drawn.width - x - width);
  const above = units(drawn.height - y - height);
  switch (turnOf(standing)) {
    case 90:
      return { x: y, y: right, width: height, height: width };
    case 180:
      return { x: right, y: above, width, height };
    case 270:
      return { x: above, y: x, width: height, height: width };
    default:
      return { x, y, width, height };
  }
}

/** A pin's shapes in the cell's frame. */
export const shapesInCell = (standing: Standing, drawn: Extent, pin: LefPin): readonly LefShape[] =>
  pin.shapes.map((shape) => ({ ...rectInCell(standing, drawn, shape), layer: shape.layer }));

/** The middle of all shapes together along one axis, on a whole picometre. */
export function middleOf(shapes: readonly Rect[], start: 'x' | 'y', size: 'width' | 'height'): Units {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const shape of shapes) {
    low = Math.min(low, shape[start]);
    high = Math.max(high, shape[start] + shape[size]);
  }
  return units(Math.round((low + high) / 2));
}

/** A strip as LEF draws it: whether its two ends are one piece of metal. */
export interface DrawnStrip extends Omit<Strip, 'carry'> {
  readonly pin: string;
  readonly joined: boolean;
}

/** The strips of a pin at the two edges that its neighbours meet, layer by layer. */
export function stripsOfPin(standing: Standing, drawn: Extent, pin: LefPin): readonly DrawnStrip[] {
  const extent = extentInCell(standing, drawn);
  return [...byLayer(standing, drawn, pin)].flatMap(([layer, shapes]) => {
    const pieces = piecesOf(shapes);
    return stripsOfLayer(standing.corner, extent, shapes, (i) => pieces[i] ?? i).map((strip) => ({
      pin: pin.name,
      layer,
      ...strip,
    }));
  });
}

function byLayer(standing: Standing, drawn: Extent, pin: LefPin): ReadonlyMap<string, readonly LefShape[]> {
  const layers = new Map<string, LefShape[]>();
  for (const shape of shapesInCell(standing, drawn, pin)) {
    const shapes = layers.get(shape.layer);
    if (shapes) shapes.push(shape);
    else layers.set(shape.layer, [shape]);
  }
  return layers;
}

interface Contact {
  readonly from: Units;
  readonly to: Units;
  readonly piece: number;
}

function stripsOfLayer(
  corner: boolean,
  extent: Extent,
  shapes: readonly Rect[],
  pieceOf: (shape: number) => number,
): readonly Omit<DrawnStrip, 'pin' | 'layer'>[] {
  const starts: Contact[] = [];
  const ends: Contact[] = [];
  shapes.forEach((r, i) => {
    const [top, right] = [r.y + r.height, r.x + r.width];
    const deep = { from: r.y, to: units(top), piece: pieceOf(i) };
    // A corner's start edge is its upper one, where the side before it ends.
    if (corner && top >= extent.height) starts.push({ from: r.x, to: units(right), piece: pieceOf(i) });
    if (!corner && r.x <= 0) starts.push(deep);
    if (right >= extent.width) ends.push(deep);
  });
  const first = merged(starts, corner ? extent.width : extent.height);
  const second = merged(ends, extent.height);
  const extentOf = ({ from, to }: Contact): string => `${from} ${to}`;
  const startsAt = new Set(first.map(extentOf));
  const endsAt = new Map(second.map((one) => [extentOf(one), one.piece] as const));
  const strips: Omit<DrawnStrip, 'pin' | 'layer'>[] = [];
  for (const one of first) {
    const other = endsAt.get(extentOf(one));
    const edges = other === undefined ? 'start' : 'both';
    strips.push({ from: one.from, to: one.to, edges, joined: other === one.piece });
  }
  for (const one of second)
    if (!startsAt.has(extentOf(one)))
      strips.push({ from: one.from, to: one.to, edges: 'end', joined: false });
  return strips.toSorted((a, b) => a.from - b.from);
}

/** Contacts of one edge that overlap or abut as one, within the edge. */
function merged(contacts: readonly Contact[], end: Units): readonly Contact[] {
  const done: Contact[] = [];
  for (const one of contacts.toSorted((a, b) => a.from - b.from)) {
    const last = done.at(-1);
    if (last && one.from <= last.to)
      done[done.length - 1] = { ...last, to: units(Math.max(last.to, one.to)) };
    else done.push(one);
  }
  return done
    .map(({ from, to, piece }) => ({
      from: units(Math.max(0, from)),
      to: units(Math.min(end, to)),
      piece,
    }))
    .filter(({ from, to }) => from < to);
}

/** Above this many shapes of one pin and layer, which touch which is not looked into: each is its own piece. */
const MANY = 300;

/** For each rectangle the piece of metal it belongs to: those that overlap, or share more than a corner, are one. */
function piecesOf(shapes: readonly Rect[]): readonly number[] {
  const owner = shapes.map((_, i) => i);
  if (shapes.length > MANY) return owner;
  const find = (i: number): number => {
    let at = i;
    for (let up = owner[at] ?? at; up !== at; up = owner[at] ?? at) {
      // Halving the way keeps it short.
      owner[at] = owner[up] ?? up;
      at = up;
    }
    return at;
  };
  shapes.forEach((a, i) => {
    for (let j = 0; j < i; j++) {
      const b = shapes[j];
      if (b && touch(a, b)) owner[find(i)] = find(j);
    }
  });
  return owner.map((_, i) => find(i));
}

function touch(a: Rect, b: Rect): boolean {
  const across = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
  const along = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
  return across >= 0 && along >= 0 && across + along > 0;
}

/** What the strips at a macro's edges say of it. */
export type Seen = {
  /** The power and ground pins that reach a neighbour. */
  readonly pins: readonly string[];
  /** Those with a strip at both edges. */
  readonly carried: readonly string[];
} & (
  | { readonly kind: 'row'; readonly upright: boolean }
  | { readonly kind: 'corner'; readonly follows: Side }
  | { readonly kind: 'nothing' }
);

export const NOTHING_SEEN: Seen = { kind: 'nothing', pins: [], carried: [] };

/** Strips at opposite edges make a cell of a row, strips at neighbouring ones a corner cell. */
export function seenIn({ size, pins }: LefMacro): Seen {
  if (!size) return NOTHING_SEEN;
  const power = pins.filter(isPower);
  const look = (corner: boolean, drawnFor: Side): Look => lookAt({ corner, drawnFor }, size, power);
  const upright = look(false, 'bottom');
  const lying = look(false, 'left');
  let follows: Side = 'left';
  let corner = look(true, follows);
  for (const side of SIDES) {
    const other = look(true, side);
    if (other.strips > corner.strips) [follows, corner] = [side, other];
  }
  const row = upright.strips >= lying.strips ? upright : lying;
  if (corner.strips > row.strips)
    return { kind: 'corner', follows, pins: corner.pins, carried: corner.carried };
  if (row.strips === 0) return { ...NOTHING_SEEN, pins: upright.pins };
  return { kind: 'row', upright: row === upright, pins: row.pins, carried: row.carried };
}

interface Look {
  /** How many strips show at both edges. */
  readonly strips: number;
  readonly pins: readonly string[];
  readonly carried: readonly string[];
}

function lookAt(standing: Standing, drawn: Extent, power: readonly LefPin[]): Look {
  const extent = extentInCell(standing, drawn);
  const pins = new Set<string>();
  const carried = new Set<string>();
  let strips = 0;
  for (const pin of power)
    for (const shapes of byLayer(standing, drawn, pin).values())
      for (const { edges } of stripsOfLayer(standing.corner, extent, shapes, (i) => i)) {
        pins.add(pin.name);
        if (edges !== 'both') continue;
        carried.add(pin.name);
        strips++;
      }
  return { strips, pins: [...pins], carried: [...carried] };
}

export const isPower = ({ use }: LefPin): boolean => use === 'POWER' || use === 'GROUND';
