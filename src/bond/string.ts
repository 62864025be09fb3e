/**
 * The wires of a placement, one by one: where each starts on its pad and ends on its finger, its loop, length and
 * angle, and what current it may carry. What they are to each other is in `near.ts`.
 */
import { wireCurrent } from '../figures/wires.ts';
import type { BondPad, PlacedPackage, Placement } from '../format/placement.ts';
import type { Side } from '../geometry/side.ts';
import { type Frames, framesOf, type Spot, toPicometre, turnOf } from './frame.ts';

type Finger = PlacedPackage['fingers'][number];

export interface StrungWire {
  /** From 1, by pad number. */
  readonly number: number;
  readonly bondPad: number;
  readonly pin: string;
  readonly net: string;
  readonly side: Side;
  readonly row: BondPad['row'];
  /** The finger's name; null for a wire down to the paddle. */
  readonly finger: string | null;
  /** The finger's tier; 0 for the paddle. */
  readonly tier: number;
  /** In the package's axes, from the centre of the cavity. */
  readonly from: Spot;
  readonly to: Spot;
  /** How high it rises above the pad, and how far its end lies below it. */
  readonly loop: number;
  readonly drop: number;
  /** Length in plan, and with the loop: straight up to its height and straight down to the finger. */
  readonly span: number;
  readonly length: number;
  /** Along the side, counter-clockwise, from its start to its end; negative the other way. */
  readonly along: number;
  /** To the normal of the side, degrees; above 90 where it runs inward. */
  readonly angle: number;
  /** The root-mean-square current that it may carry (MIL-PRF-38535), and the one that it does; null: not known. */
  readonly mostCurrent: number;
  readonly current: number | null;
}

/** A wire before its feet are set side by side. */
interface Bond {
  readonly pad: BondPad;
  readonly finger: Finger | null;
}

/** The wires by pad number; none where the placement has no package, or from or to a place that cannot be. */
export function stringWires(placement: Placement): readonly StrungWire[] {
  const bonded = placement.package;
  if (bonded === undefined) return [];
  const frames = framesOf(placement, bonded);
  const pads = new Map(placement.bondPads.map((pad) => [pad.number, pad]));
  const fingers = new Map(bonded.fingers.map((finger) => [finger.name, finger]));
  const bonds = bonded.bonds.flatMap(({ bondPad, finger }): Bond[] => {
    const pad = pads.get(bondPad);
    const end = finger === null ? null : fingers.get(finger);
    return pad === undefined || end === undefined ? [] : [{ pad, finger: end }];
  });
  bonds.sort((a, b) => a.pad.number - b.pad.number);
  const starts = startsOf(placement, bonded, frames, bonds);
  const ends = endsOf(bonded, frames, bonds, starts);
  const known = bonds.flatMap((bond, i) => {
    const [from, to] = [starts[i] ?? ORIGIN, ends[i] ?? ORIGIN];
    return within(from) && within(to) ? [{ bond, from, to }] : [];
  });
  const shares = new Map<string, number>();
  for (const { bond } of known) shares.set(bond.pad.pin, (shares.get(bond.pad.pin) ?? 0) + 1);
  return known.map(({ bond, from, to }, i) =>
    wireOf(bonded, frames, bond, i + 1, from, to, shares.get(bond.pad.pin) ?? 1),
  );
}

/** A kilometre: a placement that was edited may say anything, and nothing is strung beyond that. */
const FARTHEST = 1e9;

const within = ({ x, y }: Spot): boolean => Math.abs(x) <= FARTHEST && Math.abs(y) <= FARTHEST;

const ORIGIN: Spot = { x: 0, y: 0 };

function wireOf(
  bonded: PlacedPackage,
  frames: Frames,
  { pad, finger }: Bond,
  number: number,
  from: Spot,
  to: Spot,
  share: number,
): StrungWire {
  const { wires, paddle } = bonded;
  const tier = finger?.tier ?? 0;
  const loop = loopOf(bonded, pad.row, tier);
  const drop = finger === null ? (paddle?.drop ?? 0) : (wires.drops[tier - 1] ?? 0);
  const span = Math.hypot(to.x - from.x, to.y - from.y);
  const length = loop + Math.hypot(span, loop + drop);
  const [start, end] = [from, to].map((spot) => {
    const silicon = frames.toSilicon(spot.x, spot.y);
    return frames.toSide(pad.side, silicon.x, silicon.y);
  });
  const along = (end?.s ?? 0) - (start?.s ?? 0);
  const outward = (start?.t ?? 0) - (end?.t ?? 0);
  const current = Object.hasOwn(wires.currents, pad.pin) ? wires.currents[pad.pin] : undefined;
  return {
    number,
    bondPad: pad.number,
    pin: pad.pin,
    net: pad.net,
    side: pad.side,
    row: pad.row,
    finger: finger?.name ?? null,
    tier,
    from,
    to,
    loop,
    drop,
    span,
    length,
    along,
    angle: (Math.atan2(Math.abs(along), outward) * 180) / Math.PI,
    mostCurrent: wireCurrent(wires.metal, wires.diameter, length),
    current: current === undefined ? null : current / share,
  };
}

/** The loop height of the last entry that fits. */
function loopOf({ wires }: PlacedPackage, row: BondPad['row'], tier: number): number {
  return (
    wires.loops.findLast((l) => (l.row === null || l.row === row) && (l.tier === null || l.tier === tier))
      ?.height ?? 0
  );
}

/** Which of some bonds share a thing. */
function together<K>(bonds: readonly Bond[], key: (bond: Bond) => K): ReadonlyMap<K, readonly number[]> {
  const groups = new Map<K, number[]>();
  bonds.forEach((bond, i) => {
    const group = groups.get(key(bond));
    if (group === undefined) groups.set(key(bond), [i]);
    else group.push(i);
  });
  return groups;
}

/** Whether several feet on a pad stand one behind the other instead of along the side: where it is deeper than wide. */
export const feetInward = ({ side, opening }: BondPad): boolean =>
  side === 'bottom' || side === 'top' ? opening.height > opening.width : opening.width > opening.height;

/**
 * Where wires start. Several on one pad stand a pitch apart about its centre: along the side in the order of their
 * ends, or, on a deep pad, one behind the other with the most slanted one innermost, so that none crosses.
 */
function startsOf(
  placement: Placement,
  bonded: PlacedPackage,
  frames: Frames,
  bonds: readonly Bond[],
): readonly Spot[] {
  const pitch = bonded.wires.pitch / placement.rules.shrink;
  const starts: Spot[] = [];
  for (const indices of together(bonds, (bond) => bond.pad).values()) {
    const pad = bonds[indices[0] ?? 0]?.pad;
    if (pad === undefined) continue;
    const centre = frames.toPackage(pad.x, pad.y);
    const aside = indices.map((i) => asideOf(frames, pad.side, centre, bonds[i]?.finger ?? null));
    const inward = feetInward(pad);
    const order = indices.map((_, k) => k);
    order.sort((a, b) => {
      const [left, right] = [aside[a] ?? 0, aside[b] ?? 0];
      return inward ? Math.abs(left) - Math.abs(right) : left - right;
    });
    order.forEach((k, rank) => {
      const [s, t] = inward ? [0, 1] : [1, 0];
      const off = (rank - (order.length - 1) / 2) * pitch;
      const [dx, dy] = onDie(pad.side, s * off, t * off);
      starts[indices[k] ?? 0] = frames.toPackage(pad.x + dx, pad.y + dy);
    });
  }
  return starts;
}

/** How far along the side a finger lies from a pad; 0 for the paddle. */
function asideOf(frames: Frames, side: Side, from: Spot, finger: Finger | null): number {
  if (finger === null) return 0;
  const [start, end] = [from, finger].map((spot) => {
    const silicon = frames.toSilicon(spot.x, spot.y);
    return frames.toSide(side, silicon.x, silicon.y).s;
  });
  return (end ?? 0) - (start ?? 0);
}

/** A step along and inward of a side in the die's axes. */
function onDie(side: Side, s: number, t: number): readonly [number, number] {
  switch (side) {
    case 'bottom':
      return [s, t];
    case 'right':
      return [-t, s];
    case 'top':
      return [-s, -t];
    case 'left':
      return [t, -s];
  }
}

/** Where wires end. Several on one finger stand a pitch apart across it, in the order of their pads; a down-bond ends straight outside its pad. */
function endsOf(
  bonded: PlacedPackage,
  frames: Frames,
  bonds: readonly Bond[],
  starts: readonly Spot[],
): readonly Spot[] {
  const ends: Spot[] = [];
  for (const [finger, indices] of together(bonds, (bond) => bond.finger)) {
    if (finger === null) {
      for (const i of indices) ends[i] = downBondEnd(bonded, frames, bonds[i], starts[i]);
      continue;
    }
    const [cosine, sine] = turnOf(finger.angle);
    const across = (i: number): number => {
      const start = starts[i] ?? ORIGIN;
      return -sine * (start.x - finger.x) + cosine * (start.y - finger.y);
    };
    const order = [...indices].sort((a, b) => across(a) - across(b) || a - b);
    order.forEach((i, rank) => {
      const off = (rank - (order.length - 1) / 2) * bonded.wires.pitch;
      ends[i] = { x: toPicometre(finger.x - sine * off), y: toPicometre(finger.y + cosine * off) };
    });
  }
  return ends;
}

function downBondEnd(
  bonded: PlacedPackage,
  frames: Frames,
  bond: Bond | undefined,
  start: Spot | undefined,
): Spot {
  if (bond === undefined || start === undefined) return ORIGIN;
  const { side } = bond.pad;
  const silicon = frames.toSilicon(start.x, start.y);
  const { t } = frames.toSide(side, silicon.x, silicon.y);
  const [dx, dy] = onDie(side, 0, -(t + (bonded.paddle?.reach ?? 0)));
  const [cosine, sine] = turnOf(bonded.die.rotation);
  return {
    x: toPicometre(start.x + cosine * dx - sine * dy),
    y: toPicometre(start.y + sine * dx + cosine * dy),
  };
}
