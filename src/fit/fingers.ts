/** What the package asks of the fit: wished places from the wires of a first one, and a die that covers no finger. */
import { isHorizontal, SIDES, type Side } from '../geometry/side.ts';
import { micrometres, PER_MICROMETRE, units } from '../geometry/units.ts';
import type { Plan, PlannedCell } from '../plan/plan.ts';
import type { Problem } from '../problems/problem.ts';
import type { Ring } from '../spec/ring.ts';
import type { Fit } from './fit.ts';
import type { SideRows } from './rows.ts';
import type { Wish } from './toward.ts';

/** How far along the side, counter-clockwise, the finger of a wire lies from its start; drawn micrometres. */
export interface Pull {
  /** The name of the cell whose bond pad the wire starts at. */
  readonly cell: string;
  readonly along: number;
}

/** Whether some side's slack goes toward the fingers. */
export const goesTowardFingers = (ring: Ring): boolean =>
  ring.package !== undefined && SIDES.some((side) => ring.sides[side].slack === 'toward-fingers');

/** The plan of a first fit, every cell with wires wished to where these would be straight, or least slanted together. */
export function wishedPlan(fit: Fit, pulls: readonly Pull[]): Plan {
  const sums = new Map<string, { along: number; wires: number }>();
  for (const { cell, along } of pulls) {
    const known = sums.get(cell) ?? { along: 0, wires: 0 };
    sums.set(cell, { along: known.along + along, wires: known.wires + 1 });
  }
  const wished = (side: Side): readonly PlannedCell[] => {
    const middle = (isHorizontal(side) ? fit.die.width : fit.die.height) / 2;
    return fit.plan.sides[side].map((cell, i) => {
      const sum = sums.get(cell.name);
      if (sum === undefined) return cell;
      const mean = Math.round((sum.along * PER_MICROMETRE) / sum.wires);
      const wish = { fromMiddle: units((fit.places[side][i] ?? 0) - middle + mean), wires: sum.wires };
      return { ...cell, wish };
    });
  };
  const sides = {
    left: wished('left'),
    bottom: wished('bottom'),
    right: wished('right'),
    top: wished('top'),
  };
  return { ...fit.plan, sides };
}

/** The wishes of a side's cells for its length. */
export const wishesOf = (rows: SideRows, length: number): readonly (Wish | null)[] =>
  rows.cells.map(({ wish }) =>
    wish === undefined ? null : { at: Math.round(length / 2) + wish.fromMiddle, weight: wish.wires },
  );

/** Every finger that a die would cover. */
export function coveredFingers(ring: Ring, die: Fit['die']): readonly Problem[] {
  const bonded = ring.package;
  if (bonded === undefined) return [];
  const turn = (bonded.die.rotation * Math.PI) / 180;
  const quarter = bonded.die.rotation % 90 === 0;
  const [cosine, sine] = quarter
    ? [Math.round(Math.cos(turn)), Math.round(Math.sin(turn))]
    : [Math.cos(turn), Math.sin(turn)];
  const half = { x: (die.width * ring.shrink) / 2, y: (die.height * ring.shrink) / 2 };
  const covered = bonded.fingers.filter(({ x, y }) => {
    const [dx, dy] = [x - bonded.die.x, y - bonded.die.y];
    return Math.abs(cosine * dx + sine * dy) < half.x && Math.abs(cosine * dy - sine * dx) < half.y;
  });
  const size = `${micrometres(units(2 * half.x))} x ${micrometres(units(2 * half.y))} um`;
  // Generated fingers stand at one place of the file: the first tells for all.
  const places = new Set<string>();
  return covered.flatMap(({ name, place }): readonly Problem[] => {
    const key = `${place.file}:${place.line}:${place.column}`;
    if (places.has(key)) return [];
    places.add(key);
    return [
      {
        code: 'finger-in-die',
        message: `finger \`${name}\` lies inside the die, which is ${size} on silicon`,
        mend: 'take a package with more room, or a smaller die; or correct the finger',
        place,
      },
    ];
  });
}
