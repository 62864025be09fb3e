/** Where wires start and end, and the room that feet and die have. */
import { within } from '../../figures/figure.ts';
import type { PlacedPackage } from '../../format/placement.ts';
import { feetInward } from '../string.ts';
import type { Wire } from '../wires.ts';
import { at, type Bonded, called, type Look, type Looking, um, type WireHit } from './say.ts';

const unbonded: Look = ({ placement, bonded }) => {
  const wired = new Set(bonded.bonds.map((bond) => bond.bondPad));
  const bare = new Set(bonded.unbonded);
  return placement.bondPads
    .filter((pad) => wired.has(pad.number) === bare.has(pad.pin))
    .map((pad) => ({
      message: bare.has(pad.pin)
        ? `the bond pad of "${pad.pin}" has a wire, and the package lists it among those without one`
        : `the bond pad of "${pad.pin}" has no wire`,
      items: [pad.pin],
      at: { x: Math.round(pad.x * 1e6), y: Math.round(pad.y * 1e6) },
    }));
};

const unknownEnd: Look = ({ placement, bonded }) => {
  const pads = new Map(placement.bondPads.map((pad) => [pad.number, pad]));
  const fingers = new Set(bonded.fingers.map((finger) => finger.name));
  return bonded.bonds.flatMap(({ bondPad, finger }): WireHit[] => {
    const pad = pads.get(bondPad);
    if (pad === undefined)
      return [{ message: `a wire starts at bond pad ${bondPad}, which there is not`, items: [`${bondPad}`] }];
    const message =
      finger === null
        ? bonded.paddle === null
          ? `the wire from "${pad.pin}" goes down to a paddle, and the package has none`
          : null
        : fingers.has(finger)
          ? null
          : `the wire from "${pad.pin}" goes to finger "${finger}", which the package has not`;
    return message === null ? [] : [{ message, items: finger === null ? [pad.pin] : [pad.pin, finger] }];
  });
};

/** The length that some feet side by side take. */
const roomOf = (count: number, { wires }: PlacedPackage): number => (count - 1) * wires.pitch + wires.foot;

const openings: Look = (of) => {
  const counts = new Map<number, number>();
  for (const { bondPad } of of.wires) counts.set(bondPad, (counts.get(bondPad) ?? 0) + 1);
  const { shrink } = of.placement.rules;
  return of.placement.bondPads.flatMap((pad): WireHit[] => {
    const count = counts.get(pad.number) ?? 0;
    const { width, height } = pad.opening;
    const long = Math.max(width, height) * shrink;
    const short = Math.min(width, height) * shrink;
    const room = roomOf(count, of.bonded);
    const place = { items: [pad.pin], at: { x: Math.round(pad.x * 1e6), y: Math.round(pad.y * 1e6) } };
    if (count > 0 && !within(room, long))
      return [
        {
          message: `the opening of "${pad.pin}" is ${um(long, room)} long${feetInward(pad) ? '' : ' along the side'}, too short for ${count === 1 ? 'the foot of its wire' : `its ${count} wires`}: ${room} um are needed`,
          ...place,
        },
      ];
    return count > 0 && !within(of.bonded.wires.foot, short)
      ? [
          {
            message: `the opening of "${pad.pin}" is ${um(short, of.bonded.wires.foot)} narrow, less than a foot of ${of.bonded.wires.foot} um`,
            ...place,
          },
        ]
      : [];
  });
};

const fingers: Look = (of) => {
  const groups = new Map<string, Wire[]>();
  for (const wire of of.wires)
    if (wire.finger !== null) groups.set(wire.finger, [...(groups.get(wire.finger) ?? []), wire]);
  return of.bonded.fingers.flatMap((finger): WireHit[] => {
    const count = groups.get(finger.name)?.length ?? 0;
    const room = roomOf(count, of.bonded);
    if (count === 0 || within(room, finger.width)) return [];
    return [
      {
        message: `finger "${finger.name}" is ${um(finger.width, room)} wide, too narrow for ${count === 1 ? 'the foot of its wire' : `its ${count} wires`}: ${room} um are needed`,
        items: [finger.name],
        at: at(of, finger.x, finger.y),
      },
    ];
  });
};

const inDie: Look = (of) =>
  of.bonded.fingers.flatMap((finger): WireHit[] => {
    const { x, y } = of.frames.toSilicon(finger.x, finger.y);
    const { width, height } = of.frames.die;
    if (Math.abs(x) >= width / 2 || Math.abs(y) >= height / 2) return [];
    return [
      {
        message: `finger "${finger.name}" lies inside the die`,
        items: [finger.name],
        at: at(of, finger.x, finger.y),
      },
    ];
  });

/** The corners of the die in the package. */
function cornersOf({ placement, frames }: Bonded): readonly { readonly x: number; readonly y: number }[] {
  const { width, height } = placement.die;
  return [
    frames.toPackage(0, 0),
    frames.toPackage(width, 0),
    frames.toPackage(width, height),
    frames.toPackage(0, height),
  ];
}

const dieRoom: Look = (of) => {
  const corners = cornersOf(of);
  const outside = (room: { readonly width: number; readonly height: number }): boolean =>
    corners.some(({ x, y }) => Math.abs(x) > room.width / 2 || Math.abs(y) > room.height / 2);
  const { cavity, paddle } = of.bonded;
  const hits: WireHit[] = [];
  const say = (what: string): void => {
    hits.push({ message: `the die does not lie within the ${what}`, items: [what] });
  };
  if (cavity !== null && outside(cavity)) say('cavity');
  if (paddle !== null && outside(paddle)) say('paddle');
  return hits;
};

const downBond: Look = (of) => {
  const { paddle } = of.bonded;
  if (paddle === null) return [];
  return of.wires
    .filter((wire) => wire.finger === null)
    .filter(({ to }) => Math.abs(to.x) > paddle.width / 2 || Math.abs(to.y) > paddle.height / 2)
    .map((wire) => ({
      message: `${called(wire)} ends beyond the paddle's edge`,
      items: [wire.pin],
      at: at(of, wire.to.x, wire.to.y),
    }));
};

export const END_RULES: readonly Looking[] = [
  {
    name: 'pin-unbonded',
    severity: 'error',
    protects: 'That no pin is forgotten, and that none gets a wire which is to have none.',
    mend: 'Name a finger for it under `package.bonds.to`, or list it under `unbonded`; not both.',
    look: unbonded,
  },
  {
    name: 'wire-without-end',
    severity: 'error',
    protects: 'That every wire starts at a bond pad and ends at a finger that there are.',
    mend: "Name a bond pad and a finger of the placement's own lists.",
    look: unknownEnd,
  },
  {
    name: 'opening-too-short',
    severity: 'error',
    protects: 'That all wires of a bond pad find room in its opening.',
    mend: 'Take a longer opening, fewer wires, or more pads.',
    look: openings,
  },
  {
    name: 'finger-too-narrow',
    severity: 'error',
    protects: 'That all wires of a finger find room side by side.',
    mend: 'Spread the wires over more fingers.',
    look: fingers,
  },
  {
    name: 'finger-in-die',
    severity: 'error',
    protects: 'That the die does not cover a finger.',
    mend: 'Take a larger package or a smaller die, or move the die.',
    look: inDie,
  },
  {
    name: 'die-out-of-room',
    severity: 'error',
    protects: 'That the die lies within the cavity and on the paddle.',
    mend: 'Take a larger package or a smaller die, or move the die.',
    look: dieRoom,
  },
  {
    name: 'down-bond-off-paddle',
    severity: 'error',
    protects: 'That a down-bond ends on the paddle.',
    mend: "Shorten the paddle's `reach`, or take a larger one.",
    look: downBond,
  },
];
