/**
 * The places that the cells of one side can take, exactly. Cells keep their order, every gap is legal, every
 * distance rule holds.
 *
 * Dynamic programming from the side's start: a label is a placing of the first cells. One label rules out another
 * where its last cell stands earlier by what the next gap may grow by and no cell that a later rule looks back to
 * stands later: whatever completes the other then completes it too. Where the greedy
 * placing meets every need to the step, it is the least in every cell and the only label.
 *
 * Where cells are to be kept at older places, a label also counts what stands elsewhere, by weight, and rules out only
 * those that count no less: among the labels of all cells are then placings that keep the most there can be.
 */
import { commonStep } from '../geometry/units.ts';
import type { FillerSet } from './fillers.ts';
import type { DistanceRule } from './rules.ts';
import { type Tight, tightFills, tightLength, tightPlacing } from './tight.ts';

export interface PackCell {
  readonly width: number;
  /** The least gap before the cell, and the fillers that may fill it. */
  readonly gap: number;
  readonly fillers: FillerSet;
  /** The start edge is not below this. */
  readonly low: number;
  /** The side's end (the die corner) is at least this far from the start edge. */
  readonly tail: number;
  /** The start edge is just here; null lets it move. */
  readonly fixed: number | null;
  /** Start edges of an older placement, any of which is as good, and what it weighs if none is met. */
  readonly kept?: { readonly at: readonly number[]; readonly weight: number };
}

export interface PackProblem {
  /** Where the corner cell at the start ends, and how far before the die corner the one at the end starts. */
  readonly start: number;
  readonly end: number;
  readonly cells: readonly PackCell[];
  /** By `to`. */
  readonly rules: readonly DistanceRule[];
  /** The fillers that may fill the gap after the last cell, and its least length. */
  readonly lastFillers: FillerSet;
}

/** One placing of the cells up to an index; `before` is the placing of those before it. */
export interface Label {
  readonly s: number;
  readonly before: Label | null;
  /** The least length of the die's side that the tails of the cells so far allow. */
  readonly reach: number;
  /** The weight of the cells so far that do not stand at their older places. */
  readonly lost: number;
}

export interface Stuck {
  /** The index of the fixed cell that cannot be reached. */
  readonly cell: number;
  /** The least start edge that the cells before it allow, and the nearest legal ones around its place. */
  readonly earliest: number;
  /** The filler widths make more placings than can be told apart with the effort that a side is given. */
  readonly awkward?: true;
}

export interface Packing {
  readonly problem: PackProblem;
  /** The placing that no other has a cell earlier than, where there is one for certain. */
  readonly tight: Tight | null;
  /** Placings of all cells, none ruled out by another; empty where a fixed cell cannot be placed. */
  readonly labels: readonly Label[];
  readonly stuck: Stuck | null;
}

/**
 * The effort that one side is given, in placings looked at and compared. Widths that share no usable step (two fillers of
 * tens of micrometres that differ by a grid step) would take more; such a ring is refused with what would mend it.
 */
const EFFORT = 12_000_000;

/** Effort that is spent; below zero there is none left. */
export interface Effort {
  left: number;
}

/**
 * All placings; with `most` given, those that lose no more by weight, which are all the fewer to compare. Where the
 * greedy placing is tight the others are only looked for when it does not answer what is asked. `effort` may be shared
 * with other packings.
 */
export function pack(
  problem: PackProblem,
  most = Number.POSITIVE_INFINITY,
  effort: Effort = { left: EFFORT },
): Packing {
  const tight = most === Number.POSITIVE_INFINITY ? tightPlacing(problem) : null;
  if (tight === null) return packAll(problem, most, effort);
  let all: readonly Label[] | null = null;
  return {
    problem,
    tight,
    get labels() {
      all ??= packAll(problem, most, effort).labels;
      return all;
    },
    stuck: null,
  };
}

function packAll(problem: PackProblem, most: number, effort: Effort): Packing {
  const { cells } = problem;
  const byTo = rulesByTo(problem);
  const lookBack = oldestNeeded(problem);
  let labels: readonly Label[] = [];
  for (let i = 0; i < cells.length; i++) {
    const cell = cells[i];
    if (cell === undefined) break;
    const nextFillers = cells[i + 1]?.fillers ?? problem.lastFillers;
    const rules = byTo[i] ?? [];
    const window = i - (lookBack[i] ?? i);
    const origins: readonly (Label | null)[] = i === 0 ? [null] : labels;
    const next: Label[] = [];
    let earliest = Number.POSITIVE_INFINITY;
    for (const origin of origins) {
      const end = origin === null ? problem.start : origin.s + (cells[i - 1]?.width ?? 0);
      const need = Math.max(end + cell.gap, cell.low, ruleNeed(origin, i, rules));
      earliest = Math.min(earliest, end + cell.fillers.atLeast(need - end));
      for (const s of candidates(cell, end, need, nextFillers, effort)) {
        const lost = (origin?.lost ?? 0) + lostAt(cell, s);
        if (lost <= most)
          next.push({ s, before: origin, reach: Math.max(origin?.reach ?? 0, s + cell.tail), lost });
      }
    }
    labels = undominated(next, nextFillers, window, effort);
    if (effort.left < 0)
      return { problem, tight: null, labels: [], stuck: { cell: i, earliest, awkward: true } };
    if (labels.length === 0) return { problem, tight: null, labels, stuck: { cell: i, earliest } };
  }
  return { problem, tight: null, labels, stuck: null };
}

/** What a cell weighs that does not start at its older place. */
export const lostAt = ({ kept }: PackCell, s: number): number =>
  kept === undefined || kept.at.includes(s) ? 0 : kept.weight;

/** The start edge that the rules from cells before ask of a cell. */
function ruleNeed(origin: Label | null, index: number, rules: readonly DistanceRule[]): number {
  let need = Number.NEGATIVE_INFINITY;
  let label = origin;
  let at = index - 1;
  for (let k = rules.length - 1; k >= 0; k--) {
    const rule = rules[k];
    if (rule === undefined) break;
    while (at > rule.from && label !== null) {
      label = label.before;
      at--;
    }
    if (label !== null) need = Math.max(need, label.s + rule.distance);
  }
  return need;
}

/** Start edges worth trying: the earliest legal one, and later ones that it does not rule out. */
function* candidates(
  cell: PackCell,
  end: number,
  need: number,
  next: FillerSet,
  effort: Effort,
): Generator<number> {
  if (cell.fixed !== null) {
    if (cell.fixed >= need && cell.fillers.isLegal(cell.fixed - end)) yield cell.fixed;
    return;
  }
  const first = cell.fillers.atLeast(need - end);
  if (!Number.isFinite(first)) return;
  yield end + first;
  for (const older of cell.kept?.at ?? [])
    if (older > end + first && cell.fillers.isLegal(older - end)) yield older;
  const { step } = cell.fillers;
  const { growth } = next;
  if (step === 0 || (step === growth.step && growth.denseFrom === 0)) return;
  const bound = sweep(cell.fillers, growth);
  for (let gap = first + step; gap - first <= bound && effort.left-- > 0; gap += step)
    if (cell.fillers.isLegal(gap) && !growth.isLegal(gap - first)) yield end + gap;
}

/**
 * How far past the first gap another one may still be worth trying. Past it there is one before it by what `next` takes up:
 * within the first common step from where every gap is legal here, and by as much as is legal there whatever it is.
 */
function sweep(here: FillerSet, next: FillerSet): number {
  if (next.step === 0) return here.denseFrom + here.step;
  const common = (here.step * next.step) / commonStep(here.step, next.step);
  return here.denseFrom + next.denseFrom + common;
}

/** Keeps the labels that no other rules out. */
function undominated(
  labels: readonly Label[],
  next: FillerSet,
  window: number,
  effort: Effort,
): readonly Label[] {
  if (labels.length < 2) return labels;
  const sorted = [...labels].sort((a, b) => a.s - b.s || a.lost - b.lost);
  const kept: Label[] = [];
  // Whoever loses least so far rules out nearly all that can be; who loses even less cannot be ruled out.
  let least: Label | null = null;
  const rulesOut = (k: Label, label: Label): boolean =>
    next.growth.isLegal(label.s - k.s) && notLater(k, label, window);
  for (const label of sorted) {
    const leads = least === null || label.lost < least.lost;
    if (!leads && ((least !== null && rulesOut(least, label)) || kept.some((k) => rulesOut(k, label))))
      continue;
    kept.push(label);
    if (leads) least = label;
    effort.left -= kept.length;
    if (effort.left < 0) break;
  }
  return kept;
}

function notLater(a: Label, b: Label, window: number): boolean {
  if (a.reach > b.reach || a.lost > b.lost) return false;
  let [x, y]: [Label | null, Label | null] = [a.before, b.before];
  for (let k = 0; k < window && x !== null && y !== null; k++) {
    if (x === y) return true;
    if (x.s > y.s) return false;
    [x, y] = [x.before, y.before];
  }
  return true;
}

function rulesByTo(problem: PackProblem): readonly (readonly DistanceRule[])[] {
  const byTo: DistanceRule[][] = problem.cells.map(() => []);
  for (const rule of problem.rules) byTo[rule.to]?.push(rule);
  return byTo;
}

/** For each cell the earliest one that a rule to a later cell still looks back to. */
function oldestNeeded(problem: PackProblem): readonly number[] {
  const n = problem.cells.length;
  const oldest = Array.from({ length: n }, (_, i) => i);
  let least = n;
  for (let i = n - 1, k = problem.rules.length - 1; i >= 0; i--) {
    oldest[i] = Math.min(i, least);
    for (; k >= 0 && problem.rules[k]?.to === i; k--) least = Math.min(least, problem.rules[k]?.from ?? n);
  }
  return oldest;
}

/** The least length of the die's side, not below one, that some placing fills; Infinity where there is none. */
export function nextLength(packing: Packing, atLeast: number): number {
  const { problem, tight } = packing;
  if (problem.cells.length === 0)
    return problem.start + problem.end + problem.lastFillers.atLeast(atLeast - problem.start - problem.end);
  const certain = tight === null ? null : tightLength(problem, tight, atLeast);
  if (certain !== null) return certain;
  let best = Number.POSITIVE_INFINITY;
  for (const label of packing.labels) {
    const end = lastEnd(problem, label) + problem.end;
    best = Math.min(best, end + problem.lastFillers.atLeast(Math.max(atLeast, label.reach) - end));
  }
  return best;
}

/** Whether some placing fills a side of just this length. */
export const fills = (packing: Packing, length: number): boolean => nextLength(packing, length) === length;

/**
 * The placing of all cells for a length of the die's side that moves the fewest kept pins, then with the last cell as
 * early as possible; null: none.
 */
export function placing(packing: Packing, length: number): readonly number[] | null {
  const { problem, tight } = packing;
  if (problem.cells.length === 0) return fills(packing, length) ? [] : null;
  if (tight !== null && tightFills(problem, tight, length)) return tight.places;
  const fit = packing.labels
    .filter(
      (label) =>
        label.reach <= length && problem.lastFillers.isLegal(length - lastEnd(problem, label) - problem.end),
    )
    .sort((a, b) => a.lost - b.lost || a.s - b.s)[0];
  if (fit === undefined) return null;
  const places: number[] = [];
  for (let label: Label | null = fit; label !== null; label = label.before) places.push(label.s);
  return places.reverse();
}

/** The same packing with only the placings that move the fewest kept pins. */
export function keepingMost(packing: Packing): Packing {
  if (packing.tight !== null) return packing;
  const least = packing.labels.reduce((lost, label) => Math.min(lost, label.lost), Number.POSITIVE_INFINITY);
  return { ...packing, labels: packing.labels.filter((label) => label.lost === least) };
}

const lastEnd = (problem: PackProblem, label: Label): number => label.s + (problem.cells.at(-1)?.width ?? 0);
