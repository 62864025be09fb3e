/** What was asked for of the pins, so that a placement shows by itself whether an edit has lost any of it. */
import type { AskedCell, BondPad, ListedPin, PlacedPackage, Rules } from '../format/placement.ts';
import { SIDES } from '../geometry/side.ts';
import { micrometres } from '../geometry/units.ts';
import type { Plan } from '../plan/plan.ts';
import type { PadKind } from '../spec/ring.ts';

/** Optional fields are set one by one, in the order of the file: objects spread into each other cost three times as much. */
type Growing<T> = { -readonly [K in keyof T]: T[K] };

/** The pins of the ring in ring order, one entry a landing that has one. */
export function pinsOf(
  { sides }: Plan,
  bondPads: readonly BondPad[],
  bonded: PlacedPackage | undefined,
): readonly ListedPin[] {
  const fingersAt = fingersOf(bondPads, bonded);
  const pins: ListedPin[] = [];
  for (const side of SIDES)
    for (const { name: cell, footprint, entry, section } of sides[side]) {
      if (entry === null) continue;
      for (let k = 0; k < footprint.landings.length; k++) {
        const landing = footprint.landings[k];
        const name = entry.pins[k];
        if (landing === undefined || name === undefined) continue;
        const contained = landing.inside !== null;
        const pin: Growing<ListedPin> = {
          name,
          net: entry.nets[k] ?? name,
          section: section ?? entry.section,
          footprint: footprint.name,
          landing: landing.name,
          bonded: contained || entry.pad !== null,
        };
        if (!contained && entry.pad !== null) pin.kind = entry.pad.name;
        const fingers = fingersAt(cell, landing.name);
        if (fingers !== undefined) pin.fingers = fingers;
        pins.push(pin);
      }
    }
  return pins;
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
export function askedOf({ sides }: Plan): readonly AskedCell[] {
  const asked: AskedCell[] = [];
  for (const side of SIDES)
    for (const { footprint, entry, section, rowAsked } of sides[side]) {
      if (entry === null || section === null) continue;
      const { pins, at, gap, shift, tied, pad } = entry;
      const row = rowAsked === undefined ? entry.row : rowAsked;
      const cell: Growing<AskedCell> = { side, footprint: footprint.name, section };
      if (pins.length > 0) cell.pins = pins;
      if (at !== null) cell.at = micrometres(at);
      if (gap !== 0) cell.gap = micrometres(gap);
      if (row !== null && pad !== null) cell.row = row;
      if (shift !== 0 && pad !== null) cell.shift = micrometres(shift);
      if (tied !== undefined) cell.tied = tied;
      asked.push(cell);
    }
  return asked;
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
