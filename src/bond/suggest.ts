/**
 * Exchanges of pins that part crossing wires: within each group that allows it, the pins take its pads in the order in
 * which their fingers lie around the package. Two wires of a group that cross never cross less by standing in the wrong
 * order, so sorting is the best that exchanges can do; of the ways to begin around the ring the shortest wires decide.
 */
import type { BondPad, Placement } from '../format/placement.ts';
import { type Frames, framesOf } from './frame.ts';
import { relationsOf } from './near.ts';
import { type StrungWire, stringWires } from './string.ts';

export interface Suggestion {
  /** To be carried out one after the other. */
  readonly swaps: readonly (readonly [string, string])[];
  /** Crossings before and after. */
  readonly before: number;
  readonly after: number;
}

/** The exchanges that leave the fewest crossings; none where the groups cannot lower them. */
export function suggestOrder(placement: Placement): Suggestion {
  const before = crossingsOf(placement);
  let [now, left] = [placement, before];
  const swaps: (readonly [string, string])[] = [];
  for (const group of placement.package?.exchange ?? []) {
    const order = sortedGroup(now, new Set(group));
    if (order.length === 0) continue;
    const tried = rearranged(now, order);
    const crossings = crossingsOf(tried);
    if (crossings >= left) continue;
    swaps.push(...swapsOf(order));
    [now, left] = [tried, crossings];
  }
  return { swaps, before, after: left };
}

const crossingsOf = (placement: Placement): number =>
  relationsOf(placement, stringWires(placement)).crossings.length;

/** A bond pad of a group, and the one whose pin it gets. */
interface Move {
  readonly to: BondPad;
  readonly from: BondPad;
}

/** The pads of a group with the pins that they get: in the order of their fingers around the package. */
function sortedGroup(placement: Placement, group: ReadonlySet<string>): readonly Move[] {
  const bonded = placement.package;
  if (bonded === undefined) return [];
  const frames = framesOf(placement, bonded);
  const wires = new Map<number, StrungWire[]>();
  for (const wire of stringWires(placement)) {
    const known = wires.get(wire.bondPad);
    if (known === undefined) wires.set(wire.bondPad, [wire]);
    else known.push(wire);
  }
  const pads = placement.bondPads
    .filter((pad) => group.has(pad.pin) && wires.has(pad.number))
    .map((pad) => ({ pad, spot: padSpot(frames, pad), end: meanEnd(frames, wires.get(pad.number) ?? []) }));
  const around = ({ x, y }: { readonly x: number; readonly y: number }): number => Math.atan2(y, x);
  const slots = [...pads].sort((a, b) => around(a.spot) - around(b.spot) || a.pad.number - b.pad.number);
  const pins = [...pads].sort((a, b) => around(a.end) - around(b.end) || a.pad.number - b.pad.number);
  const n = slots.length;
  let best: readonly Move[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (let shift = 0; shift < n; shift++) {
    let sum = 0;
    const moves = slots.flatMap((slot, i): Move[] => {
      const pin = pins[(i + shift) % n];
      if (pin === undefined) return [];
      sum += (slot.spot.x - pin.end.x) ** 2 + (slot.spot.y - pin.end.y) ** 2;
      return [{ to: slot.pad, from: pin.pad }];
    });
    if (sum < least) [best, least] = [moves, sum];
  }
  return best;
}

/** A pad about the die's centre, on silicon. */
function padSpot(frames: Frames, { x, y }: BondPad): { readonly x: number; readonly y: number } {
  const spot = frames.toPackage(x, y);
  return frames.toSilicon(spot.x, spot.y);
}

function meanEnd(frames: Frames, wires: readonly StrungWire[]): { readonly x: number; readonly y: number } {
  const ends = wires.map(({ to }) => frames.toSilicon(to.x, to.y));
  const mean = (of: (spot: { readonly x: number; readonly y: number }) => number): number =>
    ends.reduce((sum, end) => sum + of(end), 0) / Math.max(1, ends.length);
  return { x: mean((end) => end.x), y: mean((end) => end.y) };
}

/** The placement with pins, nets and wires moved to other pads. */
function rearranged(placement: Placement, moves: readonly Move[]): Placement {
  const { package: bonded } = placement;
  if (bonded === undefined) return placement;
  const from = new Map(moves.map((move) => [move.to.number, move.from]));
  const to = new Map(moves.map((move) => [move.from.number, move.to.number]));
  return {
    ...placement,
    bondPads: placement.bondPads.map((pad) => {
      const other = from.get(pad.number);
      return other === undefined ? pad : { ...pad, pin: other.pin, net: other.net };
    }),
    package: {
      ...bonded,
      bonds: bonded.bonds.map((bond) => ({ ...bond, bondPad: to.get(bond.bondPad) ?? bond.bondPad })),
    },
  };
}

/** Moves as exchanges of two pins each, the fewest there can be. */
function swapsOf(moves: readonly Move[]): readonly (readonly [string, string])[] {
  const now = new Map(moves.map(({ to }) => [to.number, to.pin]));
  const swaps: (readonly [string, string])[] = [];
  for (const { to, from } of moves) {
    const here = now.get(to.number);
    if (here === undefined || here === from.pin) continue;
    const there = [...now].find(([, pin]) => pin === from.pin)?.[0];
    if (there === undefined) continue;
    swaps.push([here, from.pin]);
    now.set(to.number, from.pin);
    now.set(there, here);
  }
  return swaps;
}
