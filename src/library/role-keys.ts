/** Keys that say nothing for a cell of some role, and so are refused. */
import { type Book, type Candidate, quoted, wrong } from './book.ts';
import type { CellEntry } from './cell-file.ts';
import type { Role } from './footprint.ts';

type Key = keyof CellEntry;

const ONLY: Readonly<Partial<Record<Key, readonly Role[]>>> = {
  follows: ['corner'],
  standsAlone: ['filler'],
  diodes: ['break'],
  breakDiode: ['break'],
};

/** Cells that belong to no section and have no bond pad. */
const BETWEEN: readonly Role[] = ['break', 'filler', 'corner'];

const NEVER: Readonly<Partial<Record<Key, readonly Role[]>>> = {
  outward: ['corner'],
  setback: ['corner'],
  onVertical: ['corner'],
  landings: BETWEEN,
  padPin: BETWEEN,
  perSection: BETWEEN,
  needs: BETWEEN,
  signals: BETWEEN,
  straps: BETWEEN,
  rating: BETWEEN,
  drives: [...BETWEEN, 'supply', 'clamp', 'control'],
  padDiode: [...BETWEEN, 'supply', 'clamp', 'control'],
};

/** What LEF says itself. */
const DRAWN: readonly Key[] = ['width', 'height', 'lacks', 'signals'];
/** What only a LEF drawing gives a meaning. */
const ONLY_DRAWN: readonly Key[] = ['padPin', 'joins'];

/** Refuses the keys of a cell that can change nothing. */
export function refuseNeedlessKeys(book: Book, cell: Candidate, role: Role): void {
  const refuse = (key: Key, why: string): void =>
    wrong(book, cell, [key], {
      code: 'needless-key',
      message: `\`${key}\` says nothing for \`${quoted(cell.name)}\`, ${why}`,
      mend: 'leave it out',
    });
  for (const key of Object.keys(cell.entry) as Key[]) {
    if (ONLY[key]?.includes(role) === false || NEVER[key]?.includes(role))
      refuse(key, `whose role is ${role}`);
    else if (cell.macro && DRAWN.includes(key)) refuse(key, 'which LEF describes');
    else if (!cell.macro && ONLY_DRAWN.includes(key)) refuse(key, 'which no LEF file draws');
    else if (key === 'padPin' && cell.entry.landings) refuse(key, 'whose `landings` are listed');
  }
}
