/**
 * Distances along the sides: the least die that holds the ring, or whether a given one does, and the place of
 * every cell along its side. All exact; opposite sides share one length.
 */
import { isHorizontal, SIDES, type Side, sideLength } from '../geometry/side.ts';
import type { Units } from '../geometry/units.ts';
import type { Plan } from '../plan/plan.ts';
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import type { Ring } from '../spec/ring.ts';
import { conflict, type Places } from './corners.ts';
import { holdsCore, leastDie, lessDie, type Sized, wishOf } from './die.ts';
import { dieTooSmall, rowsMeet, stuckProblem, tooCloseProblem } from './explain.ts';
import type { FillerSet } from './fillers.ts';
import { coveredFingers, wishesOf } from './fingers.ts';
import { packKeeping } from './keeping.ts';
import type { Packings } from './lengths.ts';
import { holding, lostOn, movedNotes } from './moved.ts';
import { keepingMost, type Packing, pack, placing } from './pack.ts';
import { type AllRows, type CornerBound, type FillerChoice, fillerChoice, sideProblem } from './problem.ts';
import { sideRows } from './rows.ts';
import { moveSlack } from './slack.ts';
import { toward } from './toward.ts';

export interface Fit {
  readonly plan: Plan;
  readonly rows: AllRows;
  readonly die: { readonly width: Units; readonly height: Units };
  /** The start edge of each cell along its side. */
  readonly places: Places;
  /** The fillers that may fill each gap of a side: before each cell, and after the last one. */
  readonly gaps: Readonly<Record<Side, readonly FillerSet[]>>;
  /** What decides the die in each axis. */
  readonly limits: Sized['limits'];
  /** The weight of what does not stand where an older placement to be kept had it. */
  readonly lost: number;
  /** The sides whose slack goes toward the fingers, where a nearer legal placing is not ruled out. */
  readonly unproven: readonly Side[];
}

/** Lays the plan along the sides; problems name the side, what is missing and the nearest dies that would do. */
export function fitSides(plan: Plan): Outcome<Fit> {
  const fitted = fitAlone(plan);
  if (!fitted.ok) return fitted;
  const covered = coveredFingers(plan.ring, fitted.value.die);
  return covered.length > 0 ? failed(...covered) : fitted;
}

function fitAlone(plan: Plan): Outcome<Fit> {
  const { ring } = plan;
  const rowsOutcome = allRows(plan);
  if (!rowsOutcome.ok) return rowsOutcome;
  const rows = rowsOutcome.value;
  const fillers = fillerChoice(ring);
  const least = searchBounds(plan, rows, fillers);
  if (ring.die !== null || plan.keptDie === undefined || !holdsCore(ring, rows, plan.keptDie)) return least;
  const stay = searchBounds({ ...plan, ring: { ...ring, die: plan.keptDie } }, rows, fillers);
  return stay.ok && (!least.ok || stay.value.lost <= least.value.lost) ? stay : least;
}

function allRows(plan: Plan): Outcome<AllRows> {
  const outcomes = SIDES.map((side) => sideRows(plan, side));
  const problems = outcomes.flatMap((o) => (o.ok ? [] : o.problems));
  const [left, bottom, right, top] = outcomes.map((o) => (o.ok ? o.value : null));
  if (!left || !bottom || !right || !top) return failed(...problems);
  return found({ left, bottom, right, top });
}

/** No ring needs more choices at its corners than this; a guard against a ring that cannot be meant. */
const MOST_BRANCHES = 4096;

/**
 * Lays without bounds first; where shapes of two sides stand too close across a corner, tries both ways to part
 * them, and keeps the least die (a given die: the first that holds and moves no kept pin).
 */
function searchBounds(plan: Plan, rows: AllRows, fillers: FillerChoice): Outcome<Fit> {
  let best: Laid | null = null;
  let firstProblems: readonly Problem[] | null = null;
  const open: (readonly CornerBound[])[] = [[]];
  for (let tried = 0; open.length > 0 && tried < MOST_BRANCHES; tried++) {
    const bounds = open.pop() ?? [];
    const laid = layWith(plan, rows, fillers, bounds);
    if (!laid.ok) {
      firstProblems ??= laid.problems;
      continue;
    }
    if (best !== null && !better(laid.value, best.value)) continue;
    const { die, places } = laid.value;
    const clash = conflict(plan.ring, rows, places, (side) => (isHorizontal(side) ? die.width : die.height));
    if (clash === null) {
      best = laid;
      if (plan.ring.die !== null && laid.value.lost === 0) break;
      continue;
    }
    for (const way of [...clash.ways].reverse()) open.push([...bounds, way]);
  }
  if (best !== null) return best;
  if (firstProblems !== null) return failed(...firstProblems);
  return failed({
    code: 'corner-conflict',
    message: 'shapes of two sides meet or stand too close across a corner, whichever gives way',
    mend: 'take corner cells at least as large as the row is deep, a larger corner clearance, or move what is fixed near the corner',
    place: plan.ring.place,
  });
}

type Laid = Extract<Outcome<Fit>, { readonly ok: true }>;

/** Fewer pins moved from where they are to be kept; then the smaller die. Both only grow as bounds are added. */
const better = (a: Fit, b: Fit): boolean =>
  a.lost !== b.lost ? a.lost < b.lost : lessDie(a.die, b.die, wishOf(a.plan.ring).least);

/** Each side's packing under some bounds, then the die, then every place. */
function layWith(
  plan: Plan,
  rows: AllRows,
  fillers: FillerChoice,
  bounds: readonly CornerBound[],
): Outcome<Fit> {
  const { ring } = plan;
  const problems: Problem[] = [];
  const packingOf = (side: Side): Packing => {
    const { problem, tooClose } = sideProblem(ring, rows, side, fillers, bounds);
    problems.push(...tooClose.map((t) => tooCloseProblem(rows[side], t)));
    const packing = packKeeping(problem, ring.die === null ? null : sideLength(side, ring.die));
    if (packing.stuck !== null) problems.push(stuckProblem(rows[side], packing, packing.stuck));
    return packing;
  };
  const packings = {
    left: packingOf('left'),
    bottom: packingOf('bottom'),
    right: packingOf('right'),
    top: packingOf('top'),
  };
  if (problems.length > 0) return failed(...problems);
  const sized =
    ring.die === null ? keepingDie(ring, rows, packings) : givenDie(ring, rows, packings, ring.die);
  if (!sized.ok) return sized;
  const { die, limits } = sized.value;
  const unproven: Side[] = [];
  const placesOf = (side: Side): readonly number[] => {
    const length = isHorizontal(side) ? die.width : die.height;
    const packed = placing(packings[side], length) ?? [];
    const problem = holding(packings[side].problem, packed);
    const shared = moveSlack(problem, packed, length, ring.sides[side].slack);
    if (ring.sides[side].slack !== 'toward-fingers') return shared;
    const near = toward(problem, length, wishesOf(rows[side], length), shared);
    if (!near.proven) unproven.push(side);
    return near.places;
  };
  const places = {
    left: placesOf('left'),
    bottom: placesOf('bottom'),
    right: placesOf('right'),
    top: placesOf('top'),
  };
  const gapsOf = (side: Side): readonly FillerSet[] => {
    const { problem } = packings[side];
    return [...problem.cells.map((cell) => cell.fillers), problem.lastFillers];
  };
  const gaps = {
    left: gapsOf('left'),
    bottom: gapsOf('bottom'),
    right: gapsOf('right'),
    top: gapsOf('top'),
  };
  const lost = SIDES.reduce((sum, side) => sum + lostOn(packings[side].problem, places[side]), 0);
  const moved = SIDES.flatMap((side) =>
    movedNotes(rows[side], packings[side].problem, places[side], sideLength(side, die)),
  );
  return found({ plan, rows, gaps, die, places, limits, lost, unproven }, moved);
}

/** The least die among those that move the fewest kept pins; where these share none, the least of all. */
function keepingDie(ring: Ring, rows: AllRows, packings: Packings): Outcome<Sized> {
  const each = (of: (packing: Packing) => Packing): Packings => ({
    left: of(packings.left),
    bottom: of(packings.bottom),
    right: of(packings.right),
    top: of(packings.top),
  });
  const kept = leastDie(ring, rows, each(keepingMost));
  return kept.ok || !keepsAny(packings)
    ? kept
    : leastDie(
        ring,
        rows,
        each(({ problem }) => pack(problem)),
      );
}

const keepsAny = (packings: Packings): boolean =>
  SIDES.some((side) => packings[side].problem.cells.some(({ kept }) => kept !== undefined));

/** A given die, if both sides of each axis fill it legally. */
function givenDie(
  ring: Ring,
  rows: AllRows,
  packings: Packings,
  die: { width: Units; height: Units },
): Outcome<Sized> {
  const problems = [
    ...SIDES.flatMap((side) => dieTooSmall(ring, packings, side, die)),
    ...rowsMeet(ring, rows, die),
  ];
  if (problems.length > 0) return failed(...problems);
  return found({ die, limits: { width: 'given', height: 'given' } });
}
