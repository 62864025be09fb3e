/** What a cell is to its lanes electrically: its own keys, and the file's for cells that do not say. */
import { type Book, type Candidate, knowsLane, quoted, wrong } from './book.ts';
import type { FootprintElectrical, Role } from './footprint.ts';

/** Roles that have a pad circuit between a supply and a ground lane. */
const WITH_CIRCUIT: readonly Role[] = ['signal', 'analog', 'macro'];

/** The electrical part of a footprint; undefined where nothing is said of it. */
export function electricalOf(book: Book, cell: Candidate, role: Role): FootprintElectrical | undefined {
  const { entry } = cell;
  const { file } = book;
  const clamps = entry.clamps !== undefined;
  const diodes = entry.diodes !== undefined;
  for (const key of ['supply', 'ground'] as const) {
    const lane = entry.drives?.[key];
    if (lane !== undefined) knowsLane(book, cell, ['drives', key], lane);
  }
  if (entry.drives !== undefined && Object.keys(entry.drives).length === 0)
    needless(book, cell, 'drives', 'is empty');
  if (entry.clampDrop !== undefined && !clamps) needless(book, cell, 'clampDrop', 'has no clamps');
  if (entry.breakDiode !== undefined && !diodes) needless(book, cell, 'breakDiode', 'has no diodes');
  const circuit = WITH_CIRCUIT.includes(role);
  const drives = circuit ? { ...file.drives, ...entry.drives } : {};
  const electrical: FootprintElectrical = {
    drives:
      Object.keys(drives).length === 0
        ? null
        : {
            supply: drives.supply ?? null,
            ground: drives.ground ?? null,
            slope: entry.drives?.slope ?? null,
          },
    clamp: clamps ? (entry.clampDrop ?? file.clampDrop ?? null) : null,
    padDiode: circuit ? (entry.padDiode ?? file.padDiode ?? null) : null,
    breakDiode: diodes ? (entry.breakDiode ?? file.breakDiode ?? null) : null,
  };
  return Object.values(electrical).some((part) => part !== null) ? electrical : undefined;
}

function needless(
  book: Book,
  cell: Candidate,
  key: 'drives' | 'clampDrop' | 'breakDiode',
  why: string,
): void {
  wrong(book, cell, [key], {
    code: 'needless-key',
    message: `\`${key}\` says nothing for \`${quoted(cell.name)}\`: it ${why}`,
    mend: 'leave it out',
  });
}

/** The file's own keys that no cell needs are refused, and its lanes must be known. */
export function checkElectricalDefaults(
  book: Book,
  cells: readonly { readonly cell: Candidate; readonly role: Role }[],
): void {
  const { file, source, problems } = book;
  const refuse = (key: 'drives' | 'clampDrop' | 'padDiode' | 'breakDiode', why: string): void => {
    problems.push({
      code: 'needless-key',
      message: `\`${key}\` can change nothing: ${why}`,
      mend: 'leave it out',
      place: source.placeOfKey([key]),
    });
  };
  const circuits = cells.filter(({ role }) => WITH_CIRCUIT.includes(role));
  if (file.drives !== undefined) {
    for (const key of ['supply', 'ground'] as const) {
      const lane = file.drives[key];
      if (lane !== undefined && !book.lanes.includes(lane))
        problems.push({
          code: 'unknown-lane',
          message: `\`drives\` names the lane \`${quoted(lane)}\`, which there is not`,
          mend: `known: ${book.lanes.map(quoted).join(', ')}`,
          place: source.placeOf(['drives', key]),
        });
    }
    if (Object.keys(file.drives).length === 0) refuse('drives', 'it is empty');
    else if (
      circuits.every(
        ({ cell: { entry } }) => entry.drives?.supply !== undefined && entry.drives.ground !== undefined,
      )
    )
      refuse('drives', 'every cell with a pad circuit says it for itself');
  }
  const idle = (
    key: 'clampDrop' | 'padDiode' | 'breakDiode',
    needing: readonly { readonly cell: Candidate }[],
  ): void => {
    if (file[key] !== undefined && needing.every(({ cell }) => cell.entry[key] !== undefined))
      refuse(key, 'no cell needs it');
  };
  idle('padDiode', circuits);
  idle(
    'clampDrop',
    cells.filter(({ cell }) => cell.entry.clamps !== undefined),
  );
  idle(
    'breakDiode',
    cells.filter(({ cell }) => cell.entry.diodes !== undefined),
  );
}
