/** What was asked for of the pins, so that a placement shows by itself whether an edit has lost any of it. */
import type { AskedCell, BondPad, ListedPin, PlacedPackage, Rules } from '../format/placement.ts';
import { SIDES } from '../geometry/side.ts';
import { micrometres } from '../geometry/units.ts';
import type { Plan } from '../plan/plan.ts';
import type { PadKind } from '../spec/ring.ts';

/** The pins of the ring in ring order, one entry a landing that has one. */
export function pinsOf(
  { sides }: Plan,
  bondPads: readonly BondPad[],
  bonded: PlacedPackage | undefined,
): readonly ListedPin[] {
  const fingersAt = fingersOf(bondPads, bonded);
  return SIDES.flatMap((side) =>
    sides[side].flatMap(({ name: cell, footprint, entry, section }) =>
      footprint.landings.flatMap((landing, k): readonly ListedPin[] => {
        const name = entry?.pins[k];
        if (entry === null || name === undefined) return [];
        const contained = landing.inside !== null;
        const fingers = fingersAt(cell, landing.name);
        return [
          {
            name,
            net: entry.nets[k] ?? name,
            section: section ?? entry.section,
            footprint: footprint.name,
            landing: landing.name,
            bonded: contained || entry.pad !== null,
            ...(contained || entry.pad === null ? {} : { kind: entry.pad.name }),
            ...(fingers === undefined ? {} : { fingers }),
          },
        ];
      }),
    ),
  );
}

/** The fingers that the wires from a cell's landing go to; undefined where there is no package. */
function fingersOf(
  bondPads: readonly BondPad[],
  bonded: PlacedPackage | undefined,
): (cell: string, landing: string) => readonly (string | null)[] | undefined {
  if (bonded === undefined) return () => undefined;
  const byNumber = new Map<number, (string | null)[]>();
  for (const { bondPad, finger } of bonded.bonds) {
    const own = byNumber.get(bondPad);
    if (own === undefined) byNumber.set(bondPad, [finger]);
    else own.push(finger);
  }
  const byCell = new Map<string, Map<string, number>>();
  for (const { cell, landing, number } of bondPads) {
    const own = byCell.get(cell) ?? new Map<string, number>();
    byCell.set(cell, own.set(landing, number));
  }
  return (cell, landing) => byNumber.get(byCell.get(cell)?.get(landing) ?? 0) ?? [];
}

/** The cells that were asked for, side by side and along each; break cells are left to the sections. */
export const askedOf = ({ sides }: Plan): readonly AskedCell[] =>
  SIDES.flatMap((side) =>
    sides[side].flatMap(({ footprint, entry, section }): readonly AskedCell[] => {
      if (entry === null || section === null) return [];
      const { pins, at, gap, row, shift, tied } = entry;
      const padded = entry.pad !== null;
      return [
        {
          side,
          footprint: footprint.name,
          section,
          ...(pins.length === 0 ? {} : { pins }),
          ...(at === null ? {} : { at: micrometres(at) }),
          ...(gap === 0 ? {} : { gap: micrometres(gap) }),
          ...(row === null || !padded ? {} : { row }),
          ...(shift === 0 || !padded ? {} : { shift: micrometres(shift) }),
          ...(tied === undefined ? {} : { tied }),
        },
      ];
    }),
  );

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
