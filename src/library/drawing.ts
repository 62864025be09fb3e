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
export function rectInCell(standing: Standing, drawn: Extent, { x, y, width, height }: Rect): Rect {
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
  const byLayer = new Map<string, LefShape[]>();
  for (const shape of shapesInCell(standing, drawn, pin)) {
    const shapes = byLayer.get(shape.layer);
    if (shapes) shapes.push(shape);
    else byLayer.set(shape.layer, [shape]);
  }
  return [...byLayer].flatMap(([layer, shapes]) =>
    stripsOfLayer(standing.corner, extent, shapes).map((strip) => ({ pin: pin.name, layer, ...strip })),
  );
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
): readonly Omit<DrawnStrip, 'pin' | 'layer'>[] {
  const pieces = piecesOf(shapes);
  const starts: Contact[] = [];
  const ends: Contact[] = [];
  shapes.forEach((r, i) => {
    const piece = pieces[i] ?? i;
    const [top, right] = [r.y + r.height, r.x + r.width];
    const deep = { from: r.y, to: units(top), piece };
    // A corner's start edge is its upper one, where the side before it ends.
    if (corner && top >= extent.height) starts.push({ from: r.x, to: units(right), piece });
    if (!corner && r.x <= 0) starts.push(deep);
    if (right >= extent.width) ends.push(deep);
  });
  const first = merged(starts, corner ? extent.width : extent.height);
  const second = merged(ends, extent.height);
  const strips: Omit<DrawnStrip, 'pin' | 'layer'>[] = [];
  for (const { from, to, piece } of first) {
    const other = second.find((one) => one.from === from && one.to === to);
    strips.push({ from, to, edges: other ? 'both' : 'start', joined: other?.piece === piece });
  }
  for (const { from, to } of second)
    if (!first.some((one) => one.from === from && one.to === to))
      strips.push({ from, to, edges: 'end', joined: false });
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
    while (owner[at] !== at) at = owner[at] ?? at;
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

/** How many strips a set of pins has at both edges, in a standing. */
export function stripsAtBoth(standing: Standing, drawn: Extent, pins: readonly LefPin[]): number {
  let count = 0;
  for (const pin of pins)
    for (const strip of stripsOfPin(standing, drawn, pin)) if (strip.edges === 'both') count++;
  return count;
}

/** What the strips at a macro's edges say of its shape: a row's cell, a corner and which, or nothing. */
export type Seen =
  | { readonly kind: 'row'; readonly upright: boolean }
  | { readonly kind: 'corner'; readonly follows: Side }
  | { readonly kind: 'nothing' };

/** Strips at opposite edges make a cell of a row, strips at neighbouring ones a corner cell. */
export function seenIn({ size, pins }: LefMacro): Seen {
  if (!size) return { kind: 'nothing' };
  const power = pins.filter(isPower);
  const count = (corner: boolean, drawnFor: Side): number => stripsAtBoth({ corner, drawnFor }, size, power);
  const [upright, lying] = [count(false, 'bottom'), count(false, 'left')];
  let best: { follows: Side; strips: number } = { follows: 'left', strips: 0 };
  for (const follows of SIDES) {
    const strips = count(true, follows);
    if (strips > best.strips) best = { follows, strips };
  }
  if (best.strips > Math.max(upright, lying)) return { kind: 'corner', follows: best.follows };
  if (upright === 0 && lying === 0) return { kind: 'nothing' };
  return { kind: 'row', upright: upright >= lying };
}

export const isPower = ({ use }: LefPin): boolean => use === 'POWER' || use === 'GROUND';
