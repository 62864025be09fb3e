/** The package as the placement carries it: which bond pad goes to which finger, and all that judges the wires. */
import type { PlacedPackage } from '../format/placement.ts';
import { SIDES } from '../geometry/side.ts';
import { micrometres, type Units } from '../geometry/units.ts';
import { type Finger, facingSide, PADDLE, type Package } from '../spec/package.ts';
import type { PlacedPad } from './pads.ts';

export function packageOf(bonded: Package, pads: readonly PlacedPad[]): PlacedPackage {
  const { cavity, paddle, die, wires, limits } = bonded;
  const size = (of: { readonly width: Units; readonly height: Units }) => ({
    width: micrometres(of.width),
    height: micrometres(of.height),
  });
  const orNull = (length: Units | null): number | null => (length === null ? null : micrometres(length));
  return {
    name: bonded.name,
    cavity: cavity === null ? null : size(cavity),
    paddle:
      paddle === null
        ? null
        : { ...size(paddle), reach: micrometres(paddle.reach), drop: micrometres(paddle.drop) },
    die: { x: micrometres(die.x), y: micrometres(die.y), rotation: die.rotation },
    fingers: bonded.fingers.map(({ name, x, y, width, angle, tier, side }) => ({
      name,
      x: micrometres(x),
      y: micrometres(y),
      width: micrometres(width),
      angle,
      tier,
      side,
    })),
    bonds: bondsOf(bonded, pads),
    unbonded: [...bonded.bonds.unbonded],
    exchange: bonded.bonds.exchange.map((group) => [...group]),
    wires: {
      metal: wires.metal,
      diameter: micrometres(wires.diameter),
      foot: micrometres(wires.foot),
      pitch: micrometres(wires.pitch),
      loops: wires.loops.map(({ row, tier, height }) => ({ row, tier, height: micrometres(height) })),
      drops: wires.drops.map(micrometres),
      lead: wires.lead,
      currents: Object.fromEntries([...wires.currents].sort(([a], [b]) => (a < b ? -1 : 1))),
    },
    limits: {
      span: { least: orNull(limits.span.least), most: orNull(limits.span.most) },
      length: orNull(limits.length),
      angle: limits.angle,
      wireSpacing: micrometres(limits.wireSpacing),
      padSpacing: micrometres(limits.padSpacing),
      height: micrometres(limits.height),
    },
  };
}

/** The wires by pad number; those of one pad in the order in which their ends are named. */
function bondsOf({ bonds, fingers, die }: Package, pads: readonly PlacedPad[]): PlacedPackage['bonds'] {
  const ends = new Map<PlacedPad, readonly string[]>();
  const left: PlacedPad[] = [];
  for (const placed of pads) {
    const named = bonds.to.get(placed.pad.pin);
    if (named !== undefined) ends.set(placed, named);
    else if (!bonds.unbonded.includes(placed.pad.pin)) left.push(placed);
  }
  const taken = new Set([...bonds.free, ...[...bonds.to.values()].flat()]);
  const open = (list: readonly Finger[]): readonly Finger[] =>
    list.filter((finger) => !taken.has(finger.name));
  const pair = (some: readonly PlacedPad[], list: readonly Finger[], skip: number): void => {
    some.forEach((placed, i) => {
      const finger = list[i + skip];
      if (finger !== undefined) ends.set(placed, [finger.name]);
    });
  };
  if (bonds.by === 'names') for (const placed of left) ends.set(placed, [placed.pad.pin]);
  else if (bonds.by === 'order')
    pair(left, open([...fingers.slice(bonds.first), ...fingers.slice(0, bonds.first)]), 0);
  else
    for (const side of SIDES) {
      const some = left
        .filter((placed) => placed.side === side)
        .sort((a, b) => a.s - b.s || a.pad.t - b.pad.t);
      const facing = open(fingers.filter((finger) => facingSide(finger.side, die.rotation) === side));
      const list = [...facing].sort((a, b) => alongOf(a) - alongOf(b) || a.tier - b.tier);
      pair(some, list, Math.floor((list.length - some.length) / 2));
    }
  return pads.flatMap((placed, i) =>
    (ends.get(placed) ?? []).map((end) => ({
      bondPad: i + 1,
      finger: end === PADDLE ? null : end,
    })),
  );
}

/** Along the finger's side of the package, counter-clockwise. */
function alongOf({ side, x, y }: Finger): number {
  if (side === 'bottom') return x;
  if (side === 'right') return y;
  return side === 'top' ? -x : -y;
}
