/** `wires.csv`: a line a wire, for the assembly house and for whoever checks the bond diagram. */
import { inductanceOf } from '../bond/inductance.ts';
import { type Wire, wiresOf } from '../bond/wires.ts';
import { assessedValue } from '../figures/figure.ts';
import type { Placement } from '../format/placement.ts';
import { csvText, nameField } from './csv.ts';
import { um } from './numbers.ts';

/** Lengths are micrometres on silicon and in the package, places from the centre of the cavity. */
export const WIRE_COLUMNS = [
  'wire',
  'bond_pad',
  'pin',
  'net',
  'row',
  'finger',
  'tier',
  'from_x_um',
  'from_y_um',
  'to_x_um',
  'to_y_um',
  'span_um',
  'loop_height_um',
  'length_um',
  'angle_deg',
  'gap_to_wire_um',
  'nearest_wire',
  'gap_to_pad_um',
  'nearest_pad',
  'crosses',
  'current_A',
  'most_current_A',
  'inductance_nH',
] as const;

/** To the thousandth. */
const short = (value: number): string => um(Math.round(value * 1000) / 1000);

/** A line a wire by its number; a wire down to the paddle has no finger, and what is not known is left empty. */
export function wiresCsv(placement: Placement, wires: readonly Wire[] = wiresOf(placement)): string {
  return csvText([
    WIRE_COLUMNS,
    ...wires.map((wire) => [
      String(wire.number),
      String(wire.bondPad),
      nameField(wire.pin),
      nameField(wire.net),
      wire.row,
      wire.finger === null ? '' : nameField(wire.finger),
      String(wire.tier),
      um(wire.from.x),
      um(wire.from.y),
      um(wire.to.x),
      um(wire.to.y),
      short(wire.span),
      um(wire.loop),
      short(wire.length),
      short(wire.angle),
      wire.nearestWire === null ? '' : short(wire.nearestWire.gap),
      wire.nearestWire === null ? '' : String(wire.nearestWire.wire),
      wire.nearestPad === null ? '' : short(wire.nearestPad.gap),
      wire.nearestPad === null ? '' : String(wire.nearestPad.bondPad),
      wire.crosses.join(' '),
      wire.current === null ? '' : um(wire.current),
      short(wire.mostCurrent),
      short(assessedValue(inductanceOf(placement, wire)) ?? 0),
    ]),
  ]);
}
