/**
 * What wires are to each other and to bond pads not their own: crossings, and the least distances in plan among those
 * whose heights are alike. Every wire is compared with its neighbours alone (see `mesh.ts`).
 */
import type { BondPad, PlacedPackage, Placement } from '../format/placement.ts';
import { type Frames, framesOf } from './frame.ts';
import { type Mesh, meshOf } from './mesh.ts';
import { apart, type Box, leastToBox, meet, type Segment, segmentToBox } from './segments.ts';
import type { StrungWire } from './string.ts';

/** Another wire or pad and the distance to it, metal to metal in plan; negative where they overlap. */
export interface Neighbour {
  /** Index in the list of wires or bond pads. */
  readonly index: number;
  readonly gap: number;
}

/** Indices of two wires, the lower one first. */
export type Pair = readonly [first: number, second: number];

export interface Relations {
  readonly crossings: readonly Pair[];
  /** Pairs of like heights nearer than the limit, crossing ones apart. */
  readonly close: readonly { readonly pair: Pair; readonly gap: number }[];
  /** For each wire the nearest other one of like height; null where there is none. */
  readonly nearest: readonly (Neighbour | null)[];
  /** Wires nearer to a pad not their own than the limit, unless they pass above it. */
  readonly closePads: readonly { readonly wire: number; readonly pad: number; readonly gap: number }[];
  /** For each wire the nearest pad not its own that it does not pass above; null where there is none near. */
  readonly nearestPad: readonly (Neighbour | null)[];
  /** Whether so many wires cross or lie on one spot that not all pairs were looked at. */
  readonly crowded: boolean;
}

/** More pairs of a kind than this are not told one by one. */
const MOST_PAIRS = 20_000;

/** How often wires and pads are compared: some dozens of neighbours each, so that heaps on one spot stall nothing. */
const effortFor = (count: number): { left: number } => ({ left: 200 * count + 1_000_000 });

const PICOMETRES = 1e6;

/** Whole picometres, for the exact predicates. */
const segmentOf = ({ from, to }: StrungWire): Segment => ({
  ax: Math.round(from.x * PICOMETRES),
  ay: Math.round(from.y * PICOMETRES),
  bx: Math.round(to.x * PICOMETRES),
  by: Math.round(to.y * PICOMETRES),
});

export const segmentsOf = (wires: readonly StrungWire[]): readonly Segment[] => wires.map(segmentOf);

export function relationsOf(placement: Placement, wires: readonly StrungWire[]): Relations {
  const bonded = placement.package;
  if (bonded === undefined || wires.length === 0)
    return { crossings: [], close: [], nearest: [], closePads: [], nearestPad: [], crowded: false };
  const among = amongWires(bonded, wires);
  const pads = toPads(placement, bonded, wires);
  return { ...among, ...pads, crowded: among.crowded || pads.crowded };
}

/** Whether two wires run together on purpose: from one pad, or to one finger. */
const joined = (a: StrungWire, b: StrungWire): boolean =>
  a.bondPad === b.bondPad || (a.finger !== null && a.finger === b.finger);

/** How many neighbours by number are looked at for a first guess of the nearest one. */
const FIRST_LOOK = 4;

function amongWires(
  { limits, wires: { diameter } }: PlacedPackage,
  wires: readonly StrungWire[],
): Pick<Relations, 'crossings' | 'close' | 'nearest' | 'crowded'> {
  const n = wires.length;
  const segments = segmentsOf(wires);
  const alike = (a: StrungWire, b: StrungWire): boolean => Math.abs(a.loop - b.loop) < limits.height;
  const gapOf = (a: Segment, b: Segment): number => apart(a, b) / PICOMETRES - diameter;
  const nearest: (Neighbour | null)[] = new Array(n).fill(null);
  const consider = (i: number, index: number, gap: number): void => {
    const known = nearest[i];
    if (known === null || known === undefined || gap < known.gap) nearest[i] = { index, gap };
  };
  wires.forEach((wire, i) => {
    for (let step = 1; step <= FIRST_LOOK; step++) {
      const j = (i + step) % n;
      const [other, a, b] = [wires[j], segments[i], segments[j]];
      if (j === i || other === undefined || a === undefined || b === undefined) continue;
      if (!alike(wire, other) || joined(wire, other)) continue;
      const gap = gapOf(a, b);
      consider(i, j, gap);
      consider(j, i, gap);
    }
  });
  const limit = limits.wireSpacing;
  const reachOf = (i: number): number => Math.max(nearest[i]?.gap ?? limit, limit) + diameter;
  const mesh = meshFor(segments, (i) => reachOf(i) * PICOMETRES);
  segments.forEach((segment, i) => {
    mesh.put(segment, i);
  });
  const crossings: Pair[] = [];
  const close: { pair: Pair; gap: number }[] = [];
  const effort = effortFor(n);
  let crowded = false;
  for (let i = 0; i < n && !crowded; i++) {
    const [wire, segment] = [wires[i], segments[i]];
    if (wire === undefined || segment === undefined) continue;
    mesh.near(segment, reachOf(i) * PICOMETRES, (j) => {
      const [other, theirs] = [wires[j], segments[j]];
      if (j === i || other === undefined || theirs === undefined) return true;
      if (effort.left-- <= 0) crowded = true;
      const crosses = meet(segment, theirs);
      if (crosses && j > i) {
        crossings.push([i, j]);
        crowded ||= crossings.length >= MOST_PAIRS;
      }
      if (alike(wire, other) && !joined(wire, other)) {
        const gap = gapOf(segment, theirs);
        consider(i, j, gap);
        if (j > i && !crosses && gap < limit) close.push({ pair: [i, j], gap });
        crowded ||= close.length >= MOST_PAIRS;
      }
      return !crowded;
    });
  }
  const byPair = (a: Pair, b: Pair): number => a[0] - b[0] || a[1] - b[1];
  return {
    crossings: crossings.sort(byPair),
    close: close.sort((a, b) => byPair(a.pair, b.pair)),
    nearest,
    crowded,
  };
}

/** Squares as wide as an eighth of a wire, or as the mean reach where that is more. */
function meshFor(segments: readonly Segment[], reachOf: (i: number) => number): Mesh {
  let [length, reach] = [0, 0];
  segments.forEach((s, i) => {
    length += Math.hypot(s.bx - s.ax, s.by - s.ay);
    reach += reachOf(i);
  });
  const count = Math.max(1, segments.length);
  return meshOf(segments.length, Math.max(length / 8 / count, reach / count, 1));
}

/** A pad's metal about the die's centre, on silicon, in picometres. */
function padBox(placement: Placement, frames: Frames, pad: BondPad): Box {
  const scale = placement.rules.shrink * PICOMETRES;
  const [x, y] = [
    pad.x * scale - (frames.die.width / 2) * PICOMETRES,
    pad.y * scale - (frames.die.height / 2) * PICOMETRES,
  ];
  const [dx, dy] = [(pad.width / 2) * scale, (pad.height / 2) * scale];
  return { x0: Math.round(x - dx), y0: Math.round(y - dy), x1: Math.round(x + dx), y1: Math.round(y + dy) };
}

function toPads(
  placement: Placement,
  bonded: PlacedPackage,
  wires: readonly StrungWire[],
): Pick<Relations, 'closePads' | 'nearestPad' | 'crowded'> {
  const { limits, wires: kind } = bonded;
  const frames = framesOf(placement, bonded);
  const pads = placement.bondPads;
  const boxes = pads.map((pad) => padBox(placement, frames, pad));
  const segments = wires.map(({ from, to }): Segment => {
    const [a, b] = [frames.toSilicon(from.x, from.y), frames.toSilicon(to.x, to.y)];
    const whole = (length: number): number => Math.round(length * PICOMETRES);
    return { ax: whole(a.x), ay: whole(a.y), bx: whole(b.x), by: whole(b.y) };
  });
  /** How high a pad's own wires rise: what passes has to pass above them. */
  const heights = new Map<number, number>();
  for (const wire of wires) heights.set(wire.bondPad, Math.max(heights.get(wire.bondPad) ?? 0, wire.loop));
  const indexOf = new Map(pads.map((pad, i) => [pad.number, i]));
  const gapOf = (segment: Segment, box: Box): number =>
    segmentToBox(segment, box) / PICOMETRES - kind.diameter / 2;
  const above = (wire: StrungWire, pad: BondPad): boolean =>
    wire.loop - (heights.get(pad.number) ?? 0) >= limits.height;
  const guess = wires.map((wire, i) => {
    const own = indexOf.get(wire.bondPad) ?? 0;
    let least = Number.POSITIVE_INFINITY;
    for (let step = -FIRST_LOOK; step <= FIRST_LOOK; step++) {
      const k = (own + step + pads.length) % pads.length;
      const [pad, box, segment] = [pads[k], boxes[k], segments[i]];
      if (k === own || pad === undefined || box === undefined || segment === undefined) continue;
      if (!above(wire, pad)) least = Math.min(least, gapOf(segment, box));
    }
    return Number.isFinite(least) ? Math.max(least, limits.padSpacing) : limits.padSpacing;
  });
  const mesh = meshOf(pads.length, meshWidth(boxes, segments, guess));
  boxes.forEach((box, i) => {
    mesh.putBox(box, i);
  });
  const closePads: { wire: number; pad: number; gap: number }[] = [];
  const effort = effortFor(wires.length + pads.length);
  const nearestPad = wires.map((wire, i): Neighbour | null => {
    let best: Neighbour | null = null;
    const segment = segments[i];
    if (segment === undefined) return best;
    mesh.near(segment, ((guess[i] ?? 0) + kind.diameter / 2) * PICOMETRES, (k) => {
      const [pad, box] = [pads[k], boxes[k]];
      if (effort.left-- <= 0 || closePads.length >= MOST_PAIRS) {
        effort.left = 0;
        return false;
      }
      if (pad === undefined || box === undefined || pad.number === wire.bondPad || above(wire, pad))
        return true;
      const far = best === null ? Number.POSITIVE_INFINITY : Math.max(best.gap, limits.padSpacing);
      if (leastToBox(segment, box) / PICOMETRES - kind.diameter / 2 > far) return true;
      const gap = gapOf(segment, box);
      if (best === null || gap < best.gap) best = { index: k, gap };
      if (gap < limits.padSpacing) closePads.push({ wire: i, pad: k, gap });
      return true;
    });
    return best;
  });
  return {
    closePads: closePads.sort((a, b) => a.wire - b.wire || a.pad - b.pad),
    nearestPad,
    crowded: effort.left <= 0,
  };
}

/** Squares a few pads wide; wider where pads are specks to the wires, or to how far from them is looked. */
function meshWidth(boxes: readonly Box[], segments: readonly Segment[], reaches: readonly number[]): number {
  const extent = boxes.reduce((total, b) => total + (b.x1 - b.x0) + (b.y1 - b.y0), 0);
  const length = segments.reduce((total, s) => total + Math.hypot(s.bx - s.ax, s.by - s.ay), 0);
  const reach = reaches.reduce((total, one) => total + one * PICOMETRES, 0);
  const wires = Math.max(1, segments.length);
  return Math.max(1, (2 * extent) / Math.max(1, boxes.length), length / 64 / wires, reach / 8 / wires);
}
