/** Roles, sizes, standings and strips of all cells, before any footprint is built. */
import type { Side } from '../geometry/side.ts';
import { type Book, type Candidate, placeOf, quoted, wrong } from './book.ts';
import type { CellFile } from './cell-file.ts';
import { isPower, stripsOfPin } from './drawing.ts';
import type { Role } from './footprint.ts';
import type { Settled } from './footprint-of.ts';
import { laneStrips } from './lane-names.ts';
import type { LefPin } from './lef/lef.ts';
import { refuseNeedlessKeys } from './role-keys.ts';
import { endcapOf, roleOf } from './roles.ts';

/** The lanes as the cell file lists them, or the names of all power and ground pins that reach a neighbour. */
export function laneNames(file: CellFile, candidates: readonly Candidate[]): readonly string[] {
  if (file.lanes) return Object.keys(file.lanes);
  return [...new Set(candidates.flatMap(({ seen }) => seen.pins))];
}

/** Roles, sizes and strips of all cells, lanes named across the library. */
export function settle(book: Book, candidates: readonly Candidate[]): readonly Settled[] {
  const laneOf = laneFinder(book);
  const halves = candidates.flatMap((cell) => halfSettled(book, cell));
  const drawnCells = halves.flatMap(({ cell: { name, macro }, role, drawn, standing }) => {
    if (!macro) return [];
    const strips = macro.pins
      .filter((pin) => laneOf(pin) !== undefined)
      .flatMap((pin) => stripsOfPin(standing, drawn, pin));
    return [{ name, filler: role === 'filler', strips }];
  });
  const lanes = laneStrips(drawnCells, laneNamed(book));
  return halves.map((half) => ({
    ...half,
    strips: half.cell.macro ? (lanes.get(half.cell.name) ?? []) : null,
    laneOfPin: laneOf,
  }));
}

/** The lane that pins of a name are, where they are one at all. */
function laneNamed({ file, lanes }: Book): (name: string) => string | undefined {
  const byName = new Map<string, string>();
  for (const lane of lanes) for (const name of file.lanes?.[lane]?.pins ?? [lane]) byName.set(name, lane);
  return (name) => byName.get(name);
}

/** The lane that a pin is: one that the cell file names, or if it names none, of a power or ground pin. */
function laneFinder(book: Book): (pin: LefPin) => string | undefined {
  const named = laneNamed(book);
  return (pin) => (book.file.lanes || isPower(pin) ? named(pin.name) : undefined);
}

type Half = Pick<Settled, 'cell' | 'role' | 'drawn' | 'standing'>;

function halfSettled(book: Book, cell: Candidate): readonly Half[] {
  const { macro, entry } = cell;
  const role = settledRole(book, cell);
  if (role === undefined) return [];
  refuseNeedlessKeys(book, cell, role);
  const { width, height } = entry;
  const drawn = macro ? macro.size : width !== undefined && height !== undefined ? { width, height } : null;
  if (!drawn) {
    const what = macro ? 'LEF gives it no SIZE' : 'its `width` and `height` are needed';
    wrong(book, cell, [], {
      code: 'unknown-size',
      message: `the size of \`${quoted(cell.name)}\` is not known: ${what}`,
      mend: macro ? 'add `SIZE` to its macro' : 'give both, or name the LEF file that draws it under `lef`',
    });
    return [];
  }
  const drawnFor = role === 'corner' ? cornerStanding(book, cell) : rowStanding(book, cell);
  return drawnFor === undefined
    ? []
    : [{ cell, role, drawn, standing: { corner: role === 'corner', drawnFor } }];
}

function settledRole(book: Book, cell: Candidate): Role | undefined {
  const { macro, entry, seen } = cell;
  if (entry.role === undefined && macro) {
    const role = roleOf(macro, seen);
    if (role.ok) return role.value;
    book.problems.push(...role.problems.map((problem) => ({ ...problem, place: placeOf(book, cell) })));
    return undefined;
  }
  if (entry.role === undefined)
    wrong(book, cell, [], {
      code: 'missing-key',
      message: `\`${quoted(cell.name)}\` lacks its \`role\``,
      mend: 'add `role:` with what it is in the ring',
    });
  return entry.role;
}

/** The edge of a row cell's drawing that faces outward. */
function rowStanding(book: Book, cell: Candidate): Side | undefined {
  const { seen } = cell;
  const side = cell.entry.outward ?? book.file.drawn.outward;
  const upright = side === 'bottom' || side === 'top';
  const fits = seen.kind === 'nothing' || (seen.kind === 'row' && seen.upright === upright);
  if (fits) return side;
  wrong(book, cell, cell.entry.outward ? ['outward'] : cell.entry.role ? ['role'] : [], {
    code: 'strips-disagree',
    message:
      seen.kind === 'corner'
        ? `the strips of \`${quoted(cell.name)}\` reach two neighbouring edges, as a corner cell's do`
        : `the strips of \`${quoted(cell.name)}\` reach its ${upright ? 'lower and upper' : 'left and right'} edges, so its ${side} edge cannot face outward`,
    mend:
      seen.kind === 'corner'
        ? 'give it the role `corner`'
        : `say which edge faces outward, ${upright ? '`left` or `right`' : '`bottom` or `top`'}, with \`outward\` here or under \`drawn\``,
  });
  return undefined;
}

/** The side that a corner cell follows as it is drawn: as its strips show, or its class, or the cell file. */
function cornerStanding(book: Book, cell: Candidate): Side | undefined {
  const { entry, macro, seen } = cell;
  const classed = macro ? endcapOf(macro) : undefined;
  if (seen.kind === 'row') {
    wrong(book, cell, entry.role ? ['role'] : [], {
      code: 'strips-disagree',
      message: `the strips of \`${quoted(cell.name)}\` reach two opposite edges, so it is no corner cell`,
      mend: 'give it the role that it has in a row',
    });
    return undefined;
  }
  const drawn = seen.kind === 'corner' ? seen.follows : undefined;
  if (drawn !== undefined && entry.follows !== undefined && drawn !== entry.follows) {
    wrong(book, cell, ['follows'], {
      code: 'strips-disagree',
      message: `the strips of \`${quoted(cell.name)}\` show a corner that follows the ${drawn} side`,
      mend: 'leave `follows` out',
    });
    return undefined;
  }
  if (drawn !== undefined && classed !== undefined && drawn !== classed)
    book.notes.push({
      code: 'class-disagrees',
      message: `the LEF class of \`${quoted(cell.name)}\` names another corner than its strips show; the strips count`,
      place: placeOf(book, cell),
    });
  return drawn ?? entry.follows ?? classed ?? 'left';
}
