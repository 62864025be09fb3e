/** What a cell is in the ring, from its LEF class and its strips where the cell file does not say. */
import type { Side } from '../geometry/side.ts';
import { failed, found, type Outcome } from '../problems/problem.ts';
import { shortText } from '../source/source.ts';
import type { Seen } from './drawing.ts';
import type { Role } from './footprint.ts';
import type { LefMacro } from './lef/lef.ts';

/** LEF's names of the corner that an ENDCAP is drawn for, as the side that the corner follows. */
const ENDCAPS: Readonly<Record<string, Side>> = {
  BOTTOMLEFT: 'left',
  BOTTOMRIGHT: 'bottom',
  TOPRIGHT: 'right',
  TOPLEFT: 'top',
};

const PAD_ROLES: Readonly<Record<string, Role>> = {
  INPUT: 'signal',
  OUTPUT: 'signal',
  INOUT: 'signal',
  POWER: 'supply',
  SPACER: 'filler',
};

/** The corner that a macro's class names; undefined for other classes. */
export function endcapOf({ classes: [main, sub] }: LefMacro): Side | undefined {
  return main === 'ENDCAP' && sub !== undefined && Object.hasOwn(ENDCAPS, sub) ? ENDCAPS[sub] : undefined;
}

/** Whether a macro's class is one of a ring's cells; others take part only where the cell file names them. */
export const isRingClass = (macro: LefMacro): boolean =>
  macro.classes[0] === 'PAD' || endcapOf(macro) !== undefined;

/** The role that class and strips leave no doubt about, or the problem that the cell file has to settle. */
export function roleOf(macro: LefMacro, seen: Seen): Outcome<Role> {
  const [main, sub] = macro.classes;
  const name = shortText(macro.name, 60);
  const open = (message: string, mend: string): Outcome<never> =>
    failed({ code: 'unknown-role', message, mend, place: macro.place });
  if (endcapOf(macro) !== undefined) return found('corner');
  const role =
    main === 'PAD' && sub !== undefined && Object.hasOwn(PAD_ROLES, sub) ? PAD_ROLES[sub] : undefined;
  if (role === undefined)
    return open(
      `the LEF class \`${shortText(macro.classes.join(' ') || 'none', 40)}\` does not tell what \`${name}\` is`,
      `give \`${name}\` a \`role\` in the cell file, or list it under \`leaveOut\``,
    );
  if (seen.kind !== 'corner') return found(role);
  return open(
    `the LEF class \`${macro.classes.join(' ')}\` fits fillers and corner cells; the strips of \`${name}\` reach two neighbouring edges`,
    `if it is a corner cell, give it \`role: corner\` in the cell file`,
  );
}
