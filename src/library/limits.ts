/** How large a library may be. Those in use stay an order of magnitude below each limit; a hostile one meets one soon. */
import { failed, found, type Outcome, type Place } from '../problems/problem.ts';
import { type Book, quoted } from './book.ts';
import type { Settled } from './footprint-of.ts';
import type { LefMacro } from './lef/lef.ts';

const LIBRARY_LIMITS = {
  cells: 10_000,
  lanes: 100,
  /** Shapes of all pins of one cell. */
  shapes: 20_000,
  /** Strips of all cells. */
  strips: 400_000,
} as const;

/** Refuses a cell that LEF draws with too many shapes. */
export function shapesHold(macros: Iterable<LefMacro>): Outcome<null> {
  for (const { name, place, pins } of macros) {
    const count = pins.reduce((sum, pin) => sum + pin.shapes.length, 0);
    if (count > LIBRARY_LIMITS.shapes)
      return tooMany(`shapes in \`${quoted(name)}\``, count, LIBRARY_LIMITS.shapes, place);
  }
  return found(null);
}

/** Refuses a library of too many cells or lanes. */
export const sizeHolds = (cells: number, lanes: number, place: Place): Outcome<null> =>
  cells > LIBRARY_LIMITS.cells
    ? tooMany('cells', cells, LIBRARY_LIMITS.cells, place)
    : lanes > LIBRARY_LIMITS.lanes
      ? tooMany('lanes', lanes, LIBRARY_LIMITS.lanes, place)
      : found(null);

/** Refuses a library of too many strips, counted cell by cell before they are built. */
export function stripsHold(
  { file, source }: Book,
  settled: readonly Settled[],
  place: Place = source.placeOf([]),
): Outcome<null> {
  const listed = (byLayer: Readonly<Record<string, readonly unknown[]>> | undefined): number =>
    Object.values(byLayer ?? {}).reduce((sum, strips) => sum + strips.length, 0);
  const common = Object.values(file.lanes ?? {}).reduce((sum, lane) => sum + listed(lane?.strips), 0);
  const total = settled.reduce((sum, { strips }) => sum + (strips?.length ?? common), 0);
  return total > LIBRARY_LIMITS.strips ? tooMany('strips', total, LIBRARY_LIMITS.strips, place) : found(null);
}

const tooMany = (what: string, count: number, most: number, place: Place): Outcome<never> =>
  failed({
    code: 'library-too-large',
    message: `the library has ${count} ${what}; at most ${most} are read`,
    mend: 'leave out what no I/O ring is made of',
    place,
  });
