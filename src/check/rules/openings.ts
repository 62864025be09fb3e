/** Openings: metal around them, and their distance to the seal ring. */
import type { Rule } from '../finding.ts';
import { hitAt, um } from '../say.ts';
import { lowT } from '../turn.ts';
import { eachPad } from './each.ts';

const openingInset = eachPad((p, view) => {
  const inset = Math.min(p.openX0 - p.x0, p.openY0 - p.y0);
  if (inset >= view.limits.openingInset) return undefined;
  return hitAt(
    p,
    `metal reaches ${um(inset)} beyond the opening of "${p.pad.pin}"; at least ${um(view.limits.openingInset)} are asked for`,
    p.pad.pin,
  );
});

/** To the seal ring's inner edge: the least on every side of the die, the most on the pad's own. */
const openingToSeal = eachPad((p, view) => {
  const { limits, die } = view;
  const seal = limits.street + limits.seal;
  const nearest = Math.min(p.openX0, p.openY0, die.width - p.openX1, die.height - p.openY1) - seal;
  const { pin } = p.pad;
  if (nearest < limits.openingToSeal.least)
    return hitAt(
      p,
      `the opening of "${pin}" is ${um(nearest)} from the seal ring; at least ${um(limits.openingToSeal.least)} are asked for`,
      pin,
    );
  const { most } = limits.openingToSeal;
  if (most === null) return undefined;
  const own = lowT(p.side, die, p.opening) - seal;
  if (own <= most) return undefined;
  return hitAt(
    p,
    `the opening of "${pin}" is ${um(own)} from the seal ring; at most ${um(most)} are allowed`,
    pin,
  );
});

export const OPENING_RULES: readonly Rule[] = [
  {
    name: 'opening-inset',
    severity: 'error',
    protects: 'That metal reaches far enough beyond the passivation opening on all sides.',
    mend: 'Enlarge the metal or reduce the opening.',
    run: openingInset,
  },
  {
    name: 'opening-to-seal',
    severity: 'error',
    protects: 'That the opening keeps its least and greatest distance to the seal ring.',
    mend: 'Change the clearance inside the seal ring, the row or the opening.',
    run: openingToSeal,
  },
];
