/** Sides of a plan packed to their least lengths, without placing anything: the ruler of everything that sizing says. */
import { nextLength, type Packing, pack } from '../fit/pack.ts';
import { type AllRows, type FillerChoice, fillerChoice, sideProblem } from '../fit/problem.ts';
import { type SideRows, sideRows } from '../fit/rows.ts';
import { SIDES, type Side } from '../geometry/side.ts';
import type { Plan } from '../plan/plan.ts';

export interface Measured {
  readonly plan: Plan;
  readonly rows: AllRows;
  readonly fillers: FillerChoice;
  readonly packings: Readonly<Record<Side, Packing>>;
}

/** One side with the rows of all; null where its cells cannot stand. */
export function packSide(plan: Plan, rows: AllRows, side: Side, fillers: FillerChoice): Packing | null {
  const { problem, tooClose } = sideProblem(plan.ring, rows, side, fillers, []);
  if (tooClose.length > 0) return null;
  const packing = pack(problem);
  return packing.stuck === null ? packing : null;
}

/** All sides of a plan; null where one cannot be packed. */
export function measure(plan: Plan): Measured | null {
  const each = SIDES.map((side) => sideRows(plan, side));
  const [left, bottom, right, top] = each.map((outcome) => (outcome.ok ? outcome.value : null));
  if (!left || !bottom || !right || !top) return null;
  return measureWith(plan, { left, bottom, right, top });
}

export function measureWith(plan: Plan, rows: AllRows): Measured | null {
  const fillers = fillerChoice(plan.ring);
  const packed = SIDES.map((side) => packSide(plan, rows, side, fillers));
  const [left, bottom, right, top] = packed;
  if (!left || !bottom || !right || !top) return null;
  return { plan, rows, fillers, packings: { left, bottom, right, top } };
}

/** The least length of the die's side that a side fills. */
export const leastLength = ({ packings }: Measured, side: Side): number => nextLength(packings[side], 0);

/** Rows with those of one side exchanged. */
export const withRows = (rows: AllRows, own: SideRows): AllRows => ({ ...rows, [own.side]: own });
