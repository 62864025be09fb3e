/** Actual wires as the figures take them: their places in space, and the inductance of each by itself. */
import { type Wire as Conductor, wireSelf } from '../figures/coupled.ts';
import { type Figure, figure, input, notAssessed } from '../figures/figure.ts';
import type { Placement } from '../format/placement.ts';
import { framesOf } from './frame.ts';
import { type StrungWire, stringWires } from './string.ts';

/**
 * The conductors of each bond pad by its number, in the die's axes on silicon: straight up from the pad to the loop's
 * height, and straight from there to the finger. The package's lead comes in series where it is known.
 */
export function actualWires(placement: Placement): ReadonlyMap<number, readonly Conductor[]> {
  const bonded = placement.package;
  const byPad = new Map<number, Conductor[]>();
  if (bonded === undefined) return byPad;
  const { shrink } = placement.rules;
  const { toDie } = framesOf(placement, bonded);
  const lead = bonded.wires.lead ?? 0;
  for (const wire of stringWires(placement)) {
    const [from, to] = [wire.from, wire.to].map(({ x, y }) => {
      const spot = toDie(x, y);
      return [spot.x * shrink, spot.y * shrink] as const;
    });
    if (from === undefined || to === undefined) continue;
    const places = [
      [from[0], from[1], 0],
      [from[0], from[1], wire.loop],
      [to[0], to[1], 0 - wire.drop],
    ] as const;
    const conductor = { places, diameter: bonded.wires.diameter, lead };
    const known = byPad.get(wire.bondPad);
    if (known === undefined) byPad.set(wire.bondPad, [conductor]);
    else known.push(conductor);
  }
  return byPad;
}

/** The inductance in nanohenry of one wire by itself, lead and all; its couplings are for whoever adds wires up. */
export function inductanceOf(placement: Placement, wire: StrungWire): Figure {
  const bonded = placement.package;
  if (bonded === undefined) return notAssessed('a package');
  const { diameter, lead } = bonded.wires;
  const slant = wire.length - wire.loop;
  const places = [
    [0, 0, 0],
    [0, 0, wire.loop],
    [wire.span, 0, 0 - wire.drop],
  ] as const;
  return figure(
    wireSelf({ places, diameter, lead: lead ?? 0 }),
    'nH',
    `the sum over rise and slant of 2 l (ln(4 l / d) - 3/4), l in cm, and twice their mutual inductance${lead === null ? '' : ', and the lead'}`,
    [
      input('rise', wire.loop, 'um'),
      input('slant', slant, 'um'),
      input('d', diameter, 'um'),
      ...(lead === null ? [] : [input('lead', lead, 'nH')]),
    ],
    "Rosa, Bulletin of the Bureau of Standards 4, 1908; Neumann's integral between the two pieces",
  );
}
