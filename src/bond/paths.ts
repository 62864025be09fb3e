/** The wires as paths in space, for their inductance: straight up from the pad to the loop, then down to the finger. */
import type { Wire } from '../figures/coupled.ts';
import type { Placement } from '../format/placement.ts';
import { stringWires } from './string.ts';

/** By the number of their bond pad; lengths in micrometres, the lead's inductance in nH. None without a package. */
export function wirePaths(placement: Placement): ReadonlyMap<number, readonly Wire[]> {
  const paths = new Map<number, Wire[]>();
  const bonded = placement.package;
  if (bonded === undefined) return paths;
  const { diameter, lead } = bonded.wires;
  for (const { bondPad, from, to, loop, drop } of stringWires(placement)) {
    const list = paths.get(bondPad) ?? [];
    paths.set(bondPad, list);
    list.push({
      places: [
        [from.x, from.y, 0],
        [from.x, from.y, loop],
        [to.x, to.y, -drop],
      ],
      diameter,
      lead: lead ?? 0,
    });
  }
  return paths;
}
