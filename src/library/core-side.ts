/** What a cell that LEF draws has at its inner edge, toward the core. */
import { type Units, ZERO } from '../geometry/units.ts';
import type { Book, Candidate } from './book.ts';
import { extentInCell, isPower, middleOf, type Standing, shapesInCell } from './drawing.ts';
import type { CoreSignal, Strap } from './footprint.ts';
import type { LefMacro, LefPin, LefShape } from './lef/lef.ts';

export interface CoreSite {
  readonly standing: Standing;
  readonly laneOfPin: (pin: LefPin) => string | undefined;
}

const DIRECTIONS = { INPUT: 'input', OUTPUT: 'output', INOUT: 'inout', FEEDTHRU: 'inout' } as const;

/** The pins that are neither power nor the bond pad's, with their places at the inner edge. */
export function signalsOf(
  book: Book,
  cell: Candidate,
  macro: LefMacro,
  site: CoreSite,
): readonly CoreSignal[] {
  const padPins = cell.entry.padPin === undefined ? book.file.padPins : [cell.entry.padPin];
  return macro.pins
    .filter((pin) => !isPower(pin) && site.laneOfPin(pin) === undefined && !padPins.includes(pin.name))
    .map((pin) => {
      const { shapes, depth } = innerShapes(macro, site.standing, pin);
      const at = shapes.length === 0 ? {} : { at: { s: middleOf(shapes, 'x', 'width'), t: depth } };
      return { name: pin.name, direction: DIRECTIONS[pin.direction], ...at };
    });
}

/** Metal of lanes that a cell draws at its inner edge. */
export function strapsOf(macro: LefMacro, site: CoreSite): readonly Strap[] {
  return macro.pins.flatMap((pin) => {
    const lane = site.laneOfPin(pin);
    if (lane === undefined) return [];
    const { shapes, depth } = innerShapes(macro, site.standing, pin);
    return shapes.map((r) => ({
      lane,
      layer: r.layer,
      at: middleOf([r], 'x', 'width'),
      width: r.width,
      t: depth,
    }));
  });
}

function innerShapes(
  { size }: LefMacro,
  standing: Standing,
  pin: LefPin,
): { readonly shapes: readonly LefShape[]; readonly depth: Units } {
  if (!size) return { shapes: [], depth: ZERO };
  const { height } = extentInCell(standing, size);
  return {
    shapes: shapesInCell(standing, size, pin).filter((r) => r.y + r.height >= height),
    depth: height,
  };
}
