/** What was asked for of the pins, so that a placement shows by itself whether an edit has lost any of it. */
import type { ListedPin, Rules } from '../format/placement.ts';
import { SIDES } from '../geometry/side.ts';
import { micrometres } from '../geometry/units.ts';
import type { Plan } from '../plan/plan.ts';
import type { PadKind } from '../spec/ring.ts';

/** The pins of the ring in ring order, one entry a landing that has one. */
export const pinsOf = ({ sides }: Plan): readonly ListedPin[] =>
  SIDES.flatMap((side) =>
    sides[side].flatMap(({ footprint, entry, section }) =>
      footprint.landings.flatMap((landing, k): readonly ListedPin[] => {
        const name = entry?.pins[k];
        if (entry === null || name === undefined) return [];
        const contained = landing.inside !== null;
        return [
          {
            name,
            net: entry.nets[k] ?? name,
            section: section ?? entry.section,
            footprint: footprint.name,
            landing: landing.name,
            bonded: contained || entry.pad !== null,
            ...(contained || entry.pad === null ? {} : { kind: entry.pad.name }),
          },
        ];
      }),
    ),
  );

/** The kinds of bond pad that the pins have, in the order of their first pin. */
export function padKindsOf({ sides }: Plan): NonNullable<Rules['pads']['kinds']> {
  const kinds = new Map<string, PadKind>();
  for (const side of SIDES)
    for (const { footprint, entry } of sides[side]) {
      if (entry === null || entry.pad === null || entry.pins.length === 0) continue;
      if (footprint.landings.every((landing) => landing.inside !== null)) continue;
      const { name, along, deep, opening } = entry.pad;
      kinds.set(`${along} ${deep} ${opening.along} ${opening.deep} ${name}`, entry.pad);
    }
  return [...kinds.values()].map(({ name, along, deep, opening }) => ({
    name,
    along: micrometres(along),
    deep: micrometres(deep),
    opening: { along: micrometres(opening.along), deep: micrometres(opening.deep) },
  }));
}
