/** The bond-pad table for the assembly house: lengths on silicon, which is drawn times the process's shrink. */
import type { Placement } from '../format/placement.ts';
import { csvText, nameField } from './csv.ts';
import { um } from './numbers.ts';

/** Every length is in micrometres on silicon. */
export const BOND_PAD_COLUMNS = [
  'number',
  'pin',
  'net',
  'row',
  'x_from_centre_um',
  'y_from_centre_um',
  'x_from_corner_um',
  'y_from_corner_um',
  'opening_width_um',
  'opening_height_um',
] as const;

/**
 * `bond-pads.csv`: a line a pad in the order of their numbers, its centre from the die's centre and from its
 * lower-left corner. Names keep what `nameField` makes of them.
 */
export function bondPadsCsv(placement: Placement): string {
  const { die, rules } = placement;
  const silicon = (drawn: number) => um(drawn * rules.shrink);
  const pads = [...placement.bondPads].sort((a, b) => a.number - b.number);
  return csvText([
    BOND_PAD_COLUMNS,
    ...pads.map((pad) => [
      String(pad.number),
      nameField(pad.pin),
      nameField(pad.net),
      pad.row,
      silicon(pad.x - die.width / 2),
      silicon(pad.y - die.height / 2),
      silicon(pad.x),
      silicon(pad.y),
      silicon(pad.opening.width),
      silicon(pad.opening.height),
    ]),
  ]);
}
