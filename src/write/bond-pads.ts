/** The bond-pad table for the assembly house: lengths on silicon, which is drawn times the process's shrink. */
import { framesOf } from '../bond/frame.ts';
import type { BondPad, Placement } from '../format/placement.ts';
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

/** Where there is a package: the pad's place from the cavity's centre, and how the die is turned there. */
export const PACKAGE_COLUMNS = ['fingers', 'x_in_package_um', 'y_in_package_um', 'die_rotation_deg'] as const;

/**
 * `bond-pads.csv`: a line a pad in the order of their numbers, its centre from the die's centre and from its
 * lower-left corner. Names keep what `nameField` makes of them.
 */
export function bondPadsCsv(placement: Placement): string {
  const inPackage = packageFields(placement);
  const { die, rules } = placement;
  const silicon = (drawn: number) => um(drawn * rules.shrink);
  const pads = [...placement.bondPads].sort((a, b) => a.number - b.number);
  return csvText([
    inPackage === null ? BOND_PAD_COLUMNS : [...BOND_PAD_COLUMNS, ...PACKAGE_COLUMNS],
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
      ...(inPackage === null ? [] : inPackage(pad)),
    ]),
  ]);
}

/** The fields of a pad that a package adds; null where there is none. */
function packageFields(placement: Placement): ((pad: BondPad) => readonly string[]) | null {
  const bonded = placement.package;
  if (bonded === undefined) return null;
  const { toPackage } = framesOf(placement, bonded);
  const fingers = new Map<number, string[]>();
  for (const { bondPad, finger } of bonded.bonds)
    fingers.set(bondPad, [...(fingers.get(bondPad) ?? []), finger ?? 'paddle']);
  return ({ number, x, y }) => {
    const spot = toPackage(x, y);
    const ends = (fingers.get(number) ?? []).join('; ');
    return [ends === '' ? '' : nameField(ends), um(spot.x), um(spot.y), um(bonded.die.rotation)];
  };
}
