/** What cells most likely are, from their class, their pins and the pins' use. */
import type { Side } from '../geometry/side.ts';
import type { CellFile } from './cell-file.ts';
import { isPower, type Seen } from './drawing.ts';
import type { Role } from './footprint.ts';
import type { LefMacro, LefPin } from './lef/lef.ts';
import { roleOf } from './roles.ts';

export interface ProposedRole {
  readonly role: Role;
  /** Why it is likely, where LEF leaves a doubt; undefined where it leaves none. */
  readonly because: string | undefined;
}

/** The role of a macro among the lanes that the library's fillers carry. */
export function proposedRole(
  macro: LefMacro,
  seen: Seen,
  lanes: number,
  padPins: readonly string[],
): ProposedRole {
  const told = roleOf(macro, seen);
  const hasPad = macro.pins.some((pin) => padPins.includes(pin.name));
  const signals = macro.pins.filter((pin) => !isPower(pin) && !padPins.includes(pin.name));
  if (told.ok) {
    const passive = macro.classes[1] === 'INOUT' && !signals.some(isDriven);
    return told.value === 'signal' && passive
      ? { role: 'analog', because: 'no pin of it is an input or an output' }
      : { role: told.value, because: undefined };
  }
  if (seen.kind === 'corner') return { role: 'corner', because: 'its strips reach two neighbouring edges' };
  const carried = seen.carried.length;
  if (carried < lanes && !hasPad)
    return { role: 'break', because: `it carries ${carried} of ${lanes} lanes` };
  if (hasPad) return { role: 'signal', because: 'it has a pad pin' };
  return signals.length > 0
    ? { role: 'control', because: 'it has signal pins, but no pad pin' }
    : { role: 'filler', because: 'it carries all lanes and has no other pins' };
}

const isDriven = ({ direction }: LefPin): boolean => direction === 'INPUT' || direction === 'OUTPUT';

/** The edge that faces outward: where the pad pins lie; undefined where none tells. */
export function outwardOf(macros: readonly LefMacro[], { padPins }: CellFile): Side | undefined {
  const votes = new Map<Side, number>();
  for (const { size, pins } of macros)
    for (const pin of pins) {
      if (!size || !padPins.includes(pin.name)) continue;
      const gaps = new Map<Side, number>();
      const least = (side: Side, gap: number): void => {
        gaps.set(side, Math.min(gaps.get(side) ?? Number.POSITIVE_INFINITY, gap));
      };
      for (const { x, y, width, height } of pin.shapes) {
        least('left', x);
        least('bottom', y);
        least('right', size.width - x - width);
        least('top', size.height - y - height);
      }
      const [nearest] = [...gaps].toSorted((a, b) => a[1] - b[1]);
      if (nearest) votes.set(nearest[0], (votes.get(nearest[0]) ?? 0) + 1);
    }
  return [...votes].toSorted((a, b) => b[1] - a[1])[0]?.[0];
}
