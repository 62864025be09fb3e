/** Fingers as pieces of metal: none lies on another, each leads away from the die, on the side that it is of. */
import type { PlacedPackage } from '../../format/placement.ts';
import type { Hit } from '../finding.ts';
import { hit } from '../say.ts';
import type { View } from '../view.ts';

type Finger = PlacedPackage['fingers'][number];
type Side = Finger['side'];

const NORMALS: Readonly<Record<Side, readonly [number, number]>> = {
  left: [-1, 0],
  bottom: [0, -1],
  right: [1, 0],
  top: [0, 1],
};

/** How far out on its side a finger lies, from the cavity's centre. */
const outOf = ({ x, y }: Finger, side: Side): number => x * NORMALS[side][0] + y * NORMALS[side][1];

/** More pairs than this nobody reads. */
const MOST = 500;

/**
 * Whether the metal of two fingers meets where wires end. Neighbours of a row lie as far apart as they are wide, along
 * the row however they fan out; a finger that ends further out by a foot is behind the other's end. Other tiers lie
 * above.
 */
function meet(a: Finger, b: Finger, foot: number): boolean {
  if (a.tier !== b.tier) return false;
  const apart = Math.hypot(a.x - b.x, a.y - b.y);
  if (apart < Math.min(a.width, b.width) / 2 - 1e-6) return true;
  return (
    a.side === b.side &&
    apart < (a.width + b.width) / 2 - 1e-6 &&
    Math.abs(outOf(a, a.side) - outOf(b, b.side)) < foot
  );
}

/** Pairs of fingers that are one piece of metal, but such as may be: those that `joinable` tells of. */
export function overlappingFingers(
  { fingers, wires }: PlacedPackage,
  joinable: (a: string, b: string) => boolean,
): readonly Hit[] {
  const hits: Hit[] = [];
  const sorted = [...fingers].sort((a, b) => a.x - b.x);
  const widest = fingers.reduce((most, { width }) => Math.max(most, width), 0);
  for (let i = 0; i < sorted.length && hits.length < MOST; i++) {
    const a = sorted[i];
    if (a === undefined) continue;
    for (let j = i + 1; j < sorted.length; j++) {
      const b = sorted[j];
      if (b === undefined || b.x - a.x >= (a.width + widest) / 2) break;
      // Those on one place are told without their widths.
      if ((a.x === b.x && a.y === b.y) || !meet(a, b, wires.foot) || joinable(a.name, b.name)) continue;
      hits.push(
        hit(`fingers "${a.name}" and "${b.name}" overlap: they are one piece of metal`, a.name, b.name),
      );
    }
  }
  return hits;
}

/** Each finger lies on its side of the cavity, and leads away from the die. */
export function fingerPlaces({ placement }: View): readonly Hit[] {
  const { package: bonded } = placement;
  if (bonded === undefined) return [];
  const reach = new Map<number, { x: number; y: number }>();
  for (const { tier, x, y } of bonded.fingers) {
    const far = reach.get(tier) ?? { x: 0, y: 0 };
    reach.set(tier, { x: Math.max(far.x, Math.abs(x)), y: Math.max(far.y, Math.abs(y)) });
  }
  return bonded.fingers.flatMap((finger): Hit[] => {
    const { name, x, y, angle, tier, side } = finger;
    const hits: Hit[] = [];
    const far = reach.get(tier) ?? { x: 0, y: 0 };
    const parts = { x: Math.abs(x) / (far.x || 1), y: Math.abs(y) / (far.y || 1) };
    const [own, other] = side === 'left' || side === 'right' ? [parts.x, parts.y] : [parts.y, parts.x];
    // A row may be bent; one that is nearer to the middle than half its reach is another side's.
    if (outOf(finger, side) <= 0 || own < other / 2)
      hits.push(hit(`finger "${name}" is said to be on the ${side} side, and does not lie there`, name));
    const [dx, dy] = [x - bonded.die.x, y - bonded.die.y];
    const turn = (angle * Math.PI) / 180;
    if (Math.cos(turn) * dx + Math.sin(turn) * dy < -1e-6)
      hits.push(hit(`finger "${name}" leads toward the die, at ${angle} degrees`, name));
    return hits;
  });
}
