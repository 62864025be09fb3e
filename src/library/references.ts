/** What one cell's data say of another cell. */
import { nearest } from '../problems/nearest.ts';
import { LIMITS } from '../source/limits.ts';
import { type Book, type Candidate, quoted, wrong } from './book.ts';
import type { Footprint } from './footprint.ts';

/** Cells that others name must be there and be of use there. */
export function checkReferences(
  book: Book,
  candidates: readonly Candidate[],
  footprints: ReadonlyMap<string, Footprint>,
): void {
  for (const cell of candidates) {
    const own = footprints.get(cell.name);
    const { needs, onVertical } = cell.entry;
    needs?.forEach((name, i) => {
      const other = known(book, cell, ['needs', i], name) ? footprints.get(name) : undefined;
      if (other && ['filler', 'break', 'corner'].includes(other.role))
        wrong(book, cell, ['needs', i], {
          code: 'cell-of-no-section',
          message: `\`${quoted(cell.name)}\` needs \`${quoted(name)}\` in its section, but a ${other.role} cell belongs to none`,
          mend: 'leave it out: fillers, break cells and corner cells are set by themselves',
        });
    });
    if (onVertical === undefined || !known(book, cell, ['onVertical'], onVertical)) continue;
    const other = footprints.get(onVertical);
    if (!other || !own) continue;
    const alike = own.role === other.role && own.landings.length === other.landings.length;
    if (
      alike &&
      own !== other &&
      !(own.role === 'filler' || own.role === 'break' ? sameRoom(own, other) : true)
    )
      wrong(book, cell, ['onVertical'], {
        code: 'stand-in-differs',
        message: `\`${quoted(onVertical)}\` cannot stand for the ${own.role} cell \`${quoted(cell.name)}\`: width along the side, depth, setback, \`padOnTop\` and \`standsAlone\` have to be the same`,
        mend: 'name another cell, or correct the two',
      });
    if (!alike || own === other)
      wrong(book, cell, ['onVertical'], {
        code: 'no-stand-in',
        message: `\`${quoted(onVertical)}\` cannot stand for \`${quoted(cell.name)}\`: it ${own === other ? 'is the same cell' : 'has another role or number of landings'}`,
        mend: 'name a cell of the same role with as many landings, or leave it out',
      });
  }
}

/** Cells that are set by themselves take the same room on every side. */
const sameRoom = (a: Footprint, b: Footprint): boolean =>
  a.width === b.width &&
  a.depth === b.depth &&
  a.setback === b.setback &&
  a.padOnTop === b.padOnTop &&
  a.standsAlone === b.standsAlone;

function known(book: Book, cell: Candidate, path: readonly (string | number)[], name: string): boolean {
  if (book.cells.has(name)) return true;
  const near = book.problems.length < LIMITS.problems ? nearest(name, book.cells) : undefined;
  wrong(book, cell, path, {
    code: 'unknown-cell',
    message: `\`${quoted(cell.name)}\`: the library has no cell \`${quoted(name)}\``,
    mend: near === undefined ? 'name one of its cells' : `did you mean \`${quoted(near)}\`?`,
  });
  return false;
}
