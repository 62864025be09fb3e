/** The table of all placed cells, drawn lengths, for whoever places the library's cells from a spreadsheet. */
import type { Placement } from '../../format/placement.ts';
import { csvText, nameField } from '../csv.ts';
import { um } from '../numbers.ts';

/** Lengths are in micrometres, drawn; `x` and `y` are the placed outline's lower-left corner. */
export const CELL_COLUMNS = [
  'name',
  'footprint',
  'role',
  'side',
  'x_um',
  'y_um',
  'width_um',
  'height_um',
  'rotation',
  'mirrored',
  'origin_x_um',
  'origin_y_um',
  'section',
  'pins',
] as const;

/** A line a cell in ring order; a cell with several pins has them in one field, each between blanks. */
export function cellsCsv(placement: Placement): string {
  return csvText([
    CELL_COLUMNS,
    ...placement.cells.map((cell) => [
      nameField(cell.name),
      nameField(cell.footprint),
      cell.role,
      cell.side ?? '',
      um(cell.x),
      um(cell.y),
      um(cell.width),
      um(cell.height),
      String(cell.rotation),
      cell.mirrored ? 'yes' : 'no',
      um(cell.origin.x),
      um(cell.origin.y),
      nameField(cell.section ?? ''),
      nameField((cell.pins ?? []).join(' ')),
    ]),
  ]);
}
