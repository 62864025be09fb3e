/** What a library was taken to be where neither LEF nor the cell file says, as notes. */
import { type Book, quoted } from './book.ts';
import type { Settled } from './footprint-of.ts';
import { takenAsJoined } from './lanes-of.ts';

/** What was taken as given without being said, one note a kind. */
export function noteAssumptions(book: Book, settled: readonly Settled[]): void {
  const place = book.source.placeOf([]);
  const about = (code: string, cells: readonly Settled[], message: string, mend: string): void => {
    if (cells.length === 0) return;
    const names = cells.slice(0, 5).map(({ cell }) => quoted(cell.name));
    const more = cells.length > 5 ? ` and ${cells.length - 5} more` : '';
    book.notes.push({ code, message: `${message}: ${names.join(', ')}${more}`, mend, place });
  };
  about(
    'stubs-taken-as-joined',
    settled.filter(({ cell, strips }) => takenAsJoined(book, cell, strips)),
    'LEF draws strips only at the edges of these cells; they are taken as joined inside',
    'state `stubs: joined` or `stubs: cut` under `drawn`',
  );
  about(
    'strip-at-one-edge',
    settled.filter(({ strips }) => strips?.some(({ edges }) => edges !== 'both')),
    'a strip of these cells reaches only one edge and is taken to end inside',
    'if it goes on, list the lane\u2019s strips under `lanes` of the cell',
  );
  about(
    'unturned-only',
    settled.filter(
      ({ cell }) => cell.macro && !cell.macro.symmetry && !cell.entry.turns && !book.file.drawn.turns,
    ),
    'LEF gives these cells no SYMMETRY, so they may not be turned',
    'state `turns` for them, or under `drawn`',
  );
  about(
    'foreign-offset',
    settled.filter(({ cell }) => cell.macro?.foreignOffset),
    'FOREIGN sets the drawing of these cells off; places are those of the LEF outline',
    'add the offset where the drawings are placed',
  );
}
