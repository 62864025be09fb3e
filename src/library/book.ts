/** What building a library's footprints has at hand: the cell file, its places, and what was wrong so far. */
import { nearest } from '../problems/nearest.ts';
import type { Place, Problem } from '../problems/problem.ts';
import { LIMITS } from '../source/limits.ts';
import { type Path, type Source, shortText } from '../source/source.ts';
import type { CellEntry, CellFile } from './cell-file.ts';
import type { Seen } from './drawing.ts';
import type { LefMacro } from './lef/lef.ts';

export interface Book {
  readonly file: CellFile;
  readonly source: Source;
  /** The lanes' names, in the order that every list of lanes keeps. */
  readonly lanes: readonly string[];
  /** The names of the library's cells. */
  readonly cells: ReadonlySet<string>;
  readonly problems: Problem[];
  readonly notes: Problem[];
}

/** A cell before it is a footprint. */
export interface Candidate {
  readonly name: string;
  readonly macro: LefMacro | undefined;
  readonly seen: Seen;
  readonly entry: Partial<CellEntry>;
}

/** Where the cell file speaks of a cell, or LEF if it does not. */
export function placeOf({ file, source }: Book, cell: Candidate, ...path: Path): Place {
  return cell.macro === undefined || Object.hasOwn(file.cells, cell.name)
    ? source.placeOfKey(['cells', cell.name, ...path])
    : cell.macro.place;
}

/** Adds a problem of a cell at a path below it in the cell file. */
export function wrong(
  book: Book,
  cell: Candidate,
  path: Path,
  problem: { readonly code: string; readonly message: string; readonly mend?: string },
): void {
  book.problems.push({ ...problem, place: placeOf(book, cell, ...path) });
}

/** Adds a problem for a name that is none of the lanes; whether it is one. */
export function knowsLane(book: Book, cell: Candidate, path: Path, lane: string): boolean {
  if (book.lanes.includes(lane)) return true;
  // Only the first problems are listed, so the others need no nearest name.
  const near = book.problems.length < LIMITS.problems ? nearest(lane, book.lanes) : undefined;
  wrong(book, cell, path, {
    code: 'unknown-lane',
    message: `\`${quoted(cell.name)}\`: there is no lane \`${quoted(lane)}\``,
    mend:
      near === undefined
        ? book.lanes.length === 0
          ? 'no cell carries a lane: give `lanes` with their `strips`, or the LEF files that draw them'
          : `the lanes are ${book.lanes.map((one) => `\`${quoted(one)}\``).join(', ')}`
        : `did you mean \`${quoted(near)}\`?`,
  });
  return false;
}

export const quoted = (name: string): string => shortText(name, 60);
