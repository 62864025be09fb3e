/**
 * The cut of an order into four sides that makes the die least. The best cut by the sides' lengths is laid; where what
 * meets across a corner asks for more, every chain that may still be better is laid in full.
 */
import { SIDES, type Side } from '../../geometry/side.ts';
import { plan } from '../../plan/plan.ts';
import { failed, found, type Outcome, type Problem } from '../../problems/problem.ts';
import type { DieWish, Order, OrderedCell, OrderGroup } from '../../spec/order.ts';
import type { Entry, Ring } from '../../spec/ring.ts';
import { type Die, lessDie, wishOf } from '../die.ts';
import { type Fit, fitSides } from '../fit.ts';
import type { Effort } from '../pack.ts';
import { fewestMisplaced, type Keeping } from './apart.ts';
import { bestCut, coresOf, widening } from './best.ts';
import type { Cuts } from './chain.ts';
import { bestOfEvery } from './every.ts';
import {
  asksForExtent,
  type Instead,
  misplacedProblem,
  noDieProblem,
  tooAwkwardProblem,
  tooSmallProblems,
} from './explain.ts';
import { type LeastExtent, leastExtent } from './extent.ts';
import { type Form, type Forms, formsOf } from './forms.ts';
import { type Lap, lapOf, withSides } from './lap.ts';

/** A ring cut into sides, and how it fits. */
export interface CutRing {
  readonly ring: Ring;
  readonly fit: Fit;
}

/** What the search of cuts may take where fillers leave lengths out: seconds. Half as much again for what would do instead. */
const EFFORT = 25_000_000;

/** Chains laid in full, for a ring of one cell, before the search says that it cannot tell whether a better one exists. */
const PATIENCE = 6000;
/** The fewest, for rings of any number of cells. */
const LEAST_PATIENCE = 24;

/** The wish that a given die is. */
const wishFor = (ring: Ring): DieWish =>
  ring.die === null
    ? wishOf(ring)
    : { width: ring.die.width, height: ring.die.height, aspect: null, least: 'side' };

/** Cuts the order of a ring so that its die is least, or so that the given die holds it. */
export function cutOrder(ring: Ring, order: Order): Outcome<CutRing> {
  const lap = lapOf(ring, order);
  if (!lap.ok) return lap;
  const keeping = fewestMisplaced(lap.value);
  if (keeping !== null && keeping.misplaced.length > 0)
    return failed(misplacedProblem(ring, order, lap.value, keeping));
  const forms = formsOf(ring, lap.value);
  if (!forms.ok) return forms;
  const effort: Effort = { left: EFFORT };
  const best = bestCut(ring, forms.value, wishFor(ring), effort);
  if (best === null)
    return failed(
      ...(effort.left < 0
        ? [tooAwkwardProblem(ring)]
        : whyNone(ring, order, lap.value, forms.value, keeping)),
    );
  const laid = layCut(ring, order, lap.value, best.cuts);
  const full =
    laid.ok && sameDie(laid.value.fit.die, best.die)
      ? laid
      : laidInFull(ring, order, forms.value, best.die, laid);
  if (!full.ok || effort.left >= 0) return full;
  return found(full.value, [...full.notes, notProven(ring, ...BY_FILLERS)]);
}

/** What stands against every cut. */
function whyNone(
  ring: Ring,
  order: Order,
  lap: Lap,
  forms: Forms,
  keeping: Keeping | null,
): readonly Problem[] {
  const wish = wishFor(ring);
  const effort: Effort = { left: EFFORT / 2 };
  if (asksForExtent(ring)) {
    const least = (asked: DieWish): Die | null => bestCut(ring, forms, asked, effort)?.die ?? null;
    const free = { ...wish, width: null, height: null, aspect: null };
    const anywhere = least(free);
    if (anywhere !== null) {
      const extent = (axis: 'width' | 'height'): LeastExtent | null =>
        ring.die === null && wish[axis] !== null ? leastExtent(ring, forms, axis, effort) : null;
      const instead: Instead = {
        free: anywhere,
        withWidth: wish.width === null ? null : least({ ...free, width: wish.width }),
        withHeight: wish.height === null ? null : least({ ...free, height: wish.height }),
        groups: order.groups.filter((group) => doesWithout(ring, order, group, wish, effort)),
        extents: { width: extent('width'), height: extent('height') },
      };
      if (effort.left >= 0) return tooSmallProblems(ring, wish, instead);
    }
  }
  if (effort.left < 0) return [tooAwkwardProblem(ring)];
  const tried = keeping === null ? null : layCut({ ...ring, die: null }, order, lap, keeping.cuts);
  return tried === null || tried.ok ? [noDieProblem(ring)] : tried.problems;
}

/** Whether a ring could be cut if a group were free. */
function doesWithout(ring: Ring, order: Order, group: OrderGroup, wish: DieWish, effort: Effort): boolean {
  if (!group.whole && group.sides.length === SIDES.length) return false;
  const cells = order.cells.map((cell, i): OrderedCell => {
    const [any] = SIDES.flatMap((side) => cell.on[side] ?? []);
    if (any === undefined || !group.cells.includes(i)) return cell;
    return { on: { left: any, bottom: any, right: any, top: any, ...cell.on } };
  });
  const lap = lapOf(ring, { cells, groups: order.groups.filter((g) => g !== group) });
  const forms = lap.ok ? formsOf(ring, lap.value) : null;
  return forms?.ok === true && bestCut(ring, forms.value, wish, effort) !== null;
}

const sameDie = (a: Die, b: Die): boolean => a.width === b.width && a.height === b.height;

/** The ring with the order's entries on the sides that the cuts give them, and its fit. */
function layCut(ring: Ring, order: Order, lap: Lap, cuts: Cuts): Outcome<CutRing> {
  const entries: Record<Side, Entry[]> = { left: [], bottom: [], right: [], top: [] };
  SIDES.forEach((side, k) => {
    const to = k === 3 ? cuts[0] + lap.count : (cuts[k + 1] ?? 0);
    for (let c = cuts[k] ?? 0; c < to; c++) {
      const cell = lap.cells[side][c % lap.count];
      const entry = order.cells[lap.listed[c % lap.count] ?? 0]?.on[side];
      if (cell?.entry !== null && entry !== undefined) entries[side].push(entry);
    }
  });
  const cutRing = withSides(ring, entries);
  const planned = plan(cutRing);
  if (!planned.ok) return planned;
  const fit = fitSides(planned.value);
  return fit.ok ? found({ ring: cutRing, fit: fit.value }, fit.notes) : fit;
}

/** Where the sides' shapes come too near across a corner the chains are laid in full, the likeliest first. */
function laidInFull(
  ring: Ring,
  order: Order,
  forms: Forms,
  bound: Die,
  first: Outcome<CutRing>,
): Outcome<CutRing> {
  const wish = wishFor(ring);
  let best: Outcome<CutRing> = first;
  let complete = true;
  const effort: Effort = { left: EFFORT };
  let patience = Math.max(LEAST_PATIENCE, Math.ceil(PATIENCE / forms.lap.count));
  const dieOf = (cuts: Cuts): Die | null => {
    patience--;
    const laid = layCut(ring, order, forms.lap, cuts);
    if (!laid.ok) return null;
    if (!best.ok || lessDie(laid.value.fit.die, best.value.fit.die, wish.least)) best = laid;
    return laid.value.fit.die;
  };
  const step = Math.max(1, forms.strands.left.step);
  const known = (): Die | null => (best.ok ? best.value.fit.die : null);
  for (const most of widening(bound, wish, step, known)) {
    for (const form of everyForm(forms)) {
      for (const core of coresOf(ring, form)) {
        const result = bestOfEvery({
          chain: form.chain,
          wish,
          core,
          most,
          least: (k, i, j) => form.chain.ways[k as 0 | 1 | 2 | 3].runs.least(i, j),
          dieOf,
          than: known(),
          floor: bound,
          patience,
          effort,
        });
        complete &&= result.complete;
      }
    }
    if (!complete) break;
  }
  if (!best.ok || complete) return best;
  return found(best.value, [...best.notes, notProven(ring, ...BY_CORNERS)]);
}

function* everyForm(forms: Forms): Generator<Form> {
  for (const { form, shallower } of forms.list) {
    yield* form().parts();
    for (const other of shallower()) yield* other.parts();
  }
}

type Reason = readonly [why: string, mend: string];

const BY_CORNERS: Reason = [
  'sides meet too closely across the corners for every cut to be tried',
  'take larger corner cells or a larger corner clearance',
];
const BY_FILLERS: Reason = [
  'the filler widths leave so many lengths illegal that not every cut could be tried',
  'add a narrow filler whose width divides the others to the cell file',
];

const notProven = (ring: Ring, why: string, mend: string): Problem => ({
  code: 'cut-not-proven',
  message: `${why}; a smaller die may exist`,
  mend,
  place: ring.place,
});
