/** What was asked for of the pins, so that a placement shows by itself whether an edit has lost any of it. */
import type { ListedPin, Rules } from '../format/placement.ts';
import { SIDES } from '../geometry/side.ts';
import { micrometres } from '../geometry/units.ts';
import type { Plan } from '../plan/plan.ts';
import type { PadKind } from '../spec/ring.ts';

/** The pins of the ring in ring order, one entry a landing that has one. */
export function pinsOf({ sides }: Plan): readonly ListedPin[] {
  const pins: ListedPin[] = [];
  for (const side of SIDES)
    for (const { footprint, entry, section } of sides[side]) {
      if (entry === null) continue;
      for (let k = 0; k < footprint.landings.length; k++) {
        const landing = footprint.landings[k];
        const name = entry.pins[k];
        if (landing === undefined || name === undefined) continue;
        const contained = landing.inside !== null;
        const pin: { -readonly [K in keyof ListedPin]: ListedPin[K] } = {
          name,
          net: entry.nets[k] ?? name,
          section: section ?? entry.section,
          footprint: footprint.name,
          landing: landing.name,
          bonded: contained || entry.pad !== null,
        };
        if (!contained && entry.pad !== null) pin.kind = entry.pad.name;
        pins.push(pin);
      }
    }
  return pins;
}

/** The kinds of bond pad that the pins have, in the order of their first pin. */
export function padKindsOf({ sides }: Plan): NonNullable<Rules['pads']['kinds']> {
  const used = new Set<PadKind>();
  for (const side of SIDES)
    for (const { footprint, entry } of sides[side]) {
      if (entry === null || entry.pad === null || entry.pins.length === 0 || used.has(entry.pad)) continue;
      if (footprint.landings.every((landing) => landing.inside !== null)) continue;
      used.add(entry.pad);
    }
  const kinds = new Map<string, PadKind>();
  for (const kind of used) {
    const { name, along, deep, opening } = kind;
    kinds.set(`${along} ${deep} ${opening.along} ${opening.deep} ${name}`, kind);
  }
  return [...kinds.values()].map(({ name, along, deep, opening }) => ({
    name,
    along: micrometres(along),
    deep: micrometres(deep),
    opening: { along: micrometres(opening.along), deep: micrometres(opening.deep) },
  }));
}
