/** Micrometres of the file as exact units, with a list of the figures that are none. */
import type { Placement } from '../format/placement.ts';
import { PER_MICROMETRE } from '../geometry/units.ts';

/** A figure that is no whole number of picometres, or is beyond what is exact. */
export interface Inexact {
  readonly path: string;
  readonly value: number;
  /** The thing it belongs to, as findings name it. */
  readonly item: string;
}

/** Far beyond any die, and small enough that sums and halves stay exact. */
const FARTHEST = 2 ** 50;

/** Whether any length read so far has no exact units. */
export interface Doubt {
  any: boolean;
}

/**
 * A length in micrometres as units. One that has no exact units is rounded, so that the other rules can go on, and
 * reported by `inexactLengths`.
 */
export function whole(micrometres: number, doubt?: Doubt): number {
  const nearest = Math.round(micrometres * PER_MICROMETRE);
  if (isUnits(nearest, micrometres)) return nearest + 0;
  if (doubt !== undefined) doubt.any = true;
  if (Number.isNaN(nearest)) return 0;
  return Math.max(-FARTHEST, Math.min(FARTHEST, nearest));
}

/** Whether a length in micrometres is just so many units, and not beyond what is exact. */
const isUnits = (units: number, micrometres: number): boolean =>
  units / PER_MICROMETRE === micrometres && units <= FARTHEST && units >= -FARTHEST;

export const isExact = (micrometres: number): boolean =>
  isUnits(Math.round(micrometres * PER_MICROMETRE), micrometres);

/**
 * Every length of a placement that is no exact number of units; its shapes are gone through only where one of their
 * lengths is in doubt. Areas and counts are not lengths.
 */
export function inexactLengths(placement: Placement, doubt: Doubt): readonly Inexact[] {
  const found: Inexact[] = [];
  const look: Look = (item, list, index, field, value) => {
    if (!isExact(value)) found.push({ path: `${list}[${index}].${field}`, value, item });
  };
  if (doubt.any) shapes(placement, look);
  rare(placement, (item, path, value) => {
    if (!isExact(value)) found.push({ path, value, item });
  });
  return found;
}

type Look = (item: string, list: string, index: number, field: string, value: number) => void;

/** What a file holds for each shape. */
function shapes(placement: Placement, look: Look): void {
  placement.cells.forEach((c, i) => {
    look(c.name, 'cells', i, 'x', c.x);
    look(c.name, 'cells', i, 'y', c.y);
    look(c.name, 'cells', i, 'width', c.width);
    look(c.name, 'cells', i, 'height', c.height);
    look(c.name, 'cells', i, 'origin.x', c.origin.x);
    look(c.name, 'cells', i, 'origin.y', c.origin.y);
  });
  placement.bondPads.forEach((p, i) => {
    look(p.pin, 'bondPads', i, 'x', p.x);
    look(p.pin, 'bondPads', i, 'y', p.y);
    look(p.pin, 'bondPads', i, 'width', p.width);
    look(p.pin, 'bondPads', i, 'height', p.height);
    look(p.pin, 'bondPads', i, 'opening.width', p.opening.width);
    look(p.pin, 'bondPads', i, 'opening.height', p.opening.height);
    look(p.pin, 'bondPads', i, 'shift', p.shift ?? 0);
  });
  placement.stems.forEach((s, i) => {
    const item =
      isExact(s.x) && isExact(s.y) && isExact(s.width) && isExact(s.height) ? '' : stemItem(s.bondPad);
    look(item, 'stems', i, 'x', s.x);
    look(item, 'stems', i, 'y', s.y);
    look(item, 'stems', i, 'width', s.width);
    look(item, 'stems', i, 'height', s.height);
  });
}

/** How findings name a stem: by the number of its bond pad. */
export const stemItem = (bondPad: number): string => `stem of bond pad ${bondPad}`;

/** What a file holds once, or once a footprint. */
function rare(placement: Placement, look: (item: string, path: string, value: number) => void): void {
  const { die, core, units, rules, footprints, rails, sides } = placement;
  look('units', 'units.grid', units.grid);
  look('die', 'die.width', die.width);
  look('die', 'die.height', die.height);
  look('core', 'core.x', core.x);
  look('core', 'core.y', core.y);
  look('core', 'core.width', core.width);
  look('core', 'core.height', core.height);
  const { edge, pads, rows, stems, corners } = rules;
  const limits: readonly (readonly [string, number])[] = [
    ['edge.street', edge.street],
    ['edge.seal', edge.seal],
    ['edge.clearance', edge.clearance],
    ['core.width', rules.core.width],
    ['core.height', rules.core.height],
    ['core.clearance', rules.core.clearance],
    ['pads.pitch', pads.pitch],
    ['pads.spacing', pads.spacing],
    ['pads.openingSpacing', pads.openingSpacing],
    ['pads.openingInset', pads.openingInset],
    ['pads.openingToSeal.least', pads.openingToSeal.least],
    ['pads.openingToSeal.most', pads.openingToSeal.most ?? 0],
    ['pads.toCell', pads.toCell],
    ['rows.gap', rows.gap],
    ['rows.inset', rows.inset],
    ['stems.width', stems.width],
    ['stems.spacing', stems.spacing],
    ['corners.clearance', corners.clearance],
    ...(pads.kinds ?? []).flatMap((kind, i) =>
      [kind.along, kind.deep, kind.opening.along, kind.opening.deep].map(
        (value) => [`pads.kinds[${i}]`, value] as const,
      ),
    ),
    ...corners.pitches.map((step, i) => [`corners.pitches[${i}].pitch`, step.pitch] as const),
    ...rules.neighbours.map((n, i) => [`neighbours[${i}]`, n.kind === 'apart' ? n.distance : 0] as const),
  ];
  for (const [path, value] of limits) look('rules', `rules.${path}`, value);
  footprints.forEach((f, i) => {
    const path = `footprints[${i}]`;
    look(f.name, `${path}.width`, f.width);
    look(f.name, `${path}.height`, f.height);
    look(f.name, `${path}.setback`, f.setback);
    for (const landing of f.landings) {
      look(f.name, `${path}.landings`, landing.at);
      if (landing.inside === null) continue;
      const { t, along, deep, opening } = landing.inside;
      for (const value of [t, along, deep, opening.along, opening.deep])
        look(f.name, `${path}.landings`, value);
    }
    for (const lane of f.lanes)
      for (const strip of lane.strips) {
        look(f.name, `${path}.lanes`, strip.from);
        look(f.name, `${path}.lanes`, strip.to);
      }
  });
  rails.forEach((rail, i) => {
    for (const r of rail.rectangles)
      for (const value of [r.x, r.y, r.width, r.height]) look(rail.lane, `rails[${i}].rectangles`, value);
  });
  placement.asked?.forEach((asked, i) => {
    for (const field of ['at', 'gap', 'shift'] as const) {
      const value = asked[field];
      if (value !== undefined) look(asked.footprint, `asked[${i}].${field}`, value);
    }
  });
  sides.forEach((side, i) => {
    look(side.side, `sides[${i}].length`, side.length);
    look(side.side, `sides[${i}].filled`, side.filled);
  });
}
