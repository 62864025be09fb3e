/** What each style holds on a given die: pads and supply pairs by side, or why the ring does not fit. */
import { coreWays } from '../fit/core.ts';
import { cutOrder } from '../fit/cut/cut.ts';
import type { Die } from '../fit/die.ts';
import type { Fit } from '../fit/fit.ts';
import { nextSide, SIDES, type Side, sideLength } from '../geometry/side.ts';
import { micrometres, units } from '../geometry/units.ts';
import type { PlannedCell } from '../plan/plan.ts';
import type { Problem } from '../problems/problem.ts';
import type { Ring } from '../spec/ring.ts';
import { inStyles } from './alternatives.ts';
import { type Laid, layBound } from './layouts.ts';
import { leastLength, measureWith } from './measure.ts';
import { type Further, roomFor } from './room.ts';
import type { Given, GivenStyle } from './sizes.ts';

const um = (length: number): number => micrometres(units(length));

/** What each style holds on a given die. */
export function givenOf(ring: Ring, die: Die, styles: readonly Laid[], further: Further): Given {
  return {
    width: um(die.width),
    height: um(die.height),
    styles: styles.map((one): GivenStyle => {
      const held = { ...inStyles(ring, one.styles, one.choice.overCircuit), die };
      const outcome = held.order === undefined ? layBound(held) : cutOrder(held, held.order);
      const measured = outcome.ok
        ? measureWith(outcome.value.fit.plan, outcome.value.fit.rows)
        : one.measured;
      const short = outcome.ok ? coreProblems(held, outcome.value.fit) : misfits(one, die, outcome.problems);
      const fits = outcome.ok && short.length === 0;
      const room = (side: Side, unit: readonly PlannedCell[] | null, alone = false): number | null =>
        unit === null || measured === null ? null : roomFor(measured, side, die, unit, alone);
      return {
        name: one.name,
        problems: short,
        sides: SIDES.map((side) => ({
          side,
          pads: measured?.rows[side].pads.length ?? 0,
          holds: room(side, further.usual, true),
          more: fits ? room(side, further.usual) : null,
          pairs: fits ? room(side, further.pair?.cells ?? null) : null,
        })),
      };
    }),
  };
}

/** What does not fit: by axis the side that asks for the most, where sides are too long; else what the fit says. */
function misfits({ measured }: Laid, die: Die, problems: readonly Problem[]): readonly Problem[] {
  const tooShort = SIDES.filter((side) => leastLength(measured, side) > sideLength(side, die));
  const worst = tooShort.filter((side) => {
    const across = nextSide(nextSide(side));
    const [own, other] = [leastLength(measured, side), leastLength(measured, across)];
    return (
      own > other ||
      (own === other && SIDES.indexOf(side) < SIDES.indexOf(across)) ||
      !tooShort.includes(across)
    );
  });
  const named = problems.filter((problem) =>
    worst.some((side) => problem.message.startsWith(`the ${side} side`)),
  );
  return named.length > 0 ? named : problems;
}

/** A given die that holds the ring but not the core. */
function coreProblems(ring: Ring, fit: Fit): readonly Problem[] {
  const { width, height } = coreWays(ring, fit.rows);
  const missing = [width, height].map((insets) => ({
    width: Math.max(0, insets.left + insets.right + ring.core.width - fit.die.width),
    height: Math.max(0, insets.bottom + insets.top + ring.core.height - fit.die.height),
  }));
  const least = missing.reduce((a, b) => (a.width + a.height <= b.width + b.height ? a : b));
  return (['width', 'height'] as const).flatMap((axis) =>
    least[axis] <= 0
      ? []
      : [
          {
            code: 'core-too-large',
            message: `the core with its clearance and the ring needs a die ${axis} of ${um(fit.die[axis] + least[axis])} um, and the die's is ${um(fit.die[axis])} um: ${um(least[axis])} um too small`,
            mend: `relax the die's ${axis} to ${um(fit.die[axis] + least[axis])} um or more, or make the core ${um(least[axis])} um smaller in ${axis}`,
            place: ring.place,
          },
        ],
  );
}
