/**
 * Where the slack of a side goes. A packed placing has it all in the gaps before fixed cells and after the last
 * one. Any gap stays legal when it grows by an ordinary filler's width, so the slack moves in whole multiples of the
 * narrowest one; `shared` is as even among the gaps as these allow.
 */
import type { Slack } from '../spec/ring.ts';
import type { FillerSet } from './fillers.ts';
import { nearestPlace } from './moved.ts';
import type { PackProblem } from './pack.ts';

/** A stretch of cells that can move: those from `first` up to `last`, with the gap before `last + 1` behind them. */
interface Stretch {
  readonly first: number;
  readonly last: number;
  /** The gap behind in the packed placing, the least that the user asked for, and the fillers that fill it. */
  readonly gap: number;
  readonly least: number;
  readonly fillers: FillerSet;
}

/**
 * Start edges with the slack moved to where it is wanted.
 * `packed` is a placing for a side of that length with every cell as early as it was found.
 */
export function moveSlack(
  problem: PackProblem,
  packed: readonly number[],
  length: number,
  slack: Slack,
): readonly number[] {
  const wishes = wishesOf(problem, packed);
  if ((slack === 'after' && !wishes.some(({ own }) => (own ?? 0) > 0)) || packed.length === 0) return packed;
  const places = [...packed];
  const unit = movingUnit(problem);
  if (unit === 0) return packed;
  const stretches = stretchesOf(problem, packed, length);
  for (const stretch of stretches.reverse())
    moveStretch(problem, places, stretch, unit, slack, length, wishes);
  return places;
}

/** The narrowest ordinary filler that every gap may take; 0 where there is none. */
function movingUnit(problem: PackProblem): number {
  const sets = new Set([...problem.cells.map((c) => c.fillers), problem.lastFillers]);
  let widest = 0;
  for (const set of sets) {
    if (set.smallest === null) return 0;
    widest = Math.max(widest, set.smallest.width);
  }
  for (const set of sets) if (!set.growth.isLegal(widest)) return 0;
  return widest;
}

function stretchesOf(problem: PackProblem, packed: readonly number[], length: number): Stretch[] {
  const { cells } = problem;
  const stretches: Stretch[] = [];
  let first = 0;
  for (let i = 0; i <= cells.length; i++) {
    const cell = cells[i];
    if (cell !== undefined && cell.fixed === null) continue;
    if (i > first) {
      const end = (packed[i - 1] ?? 0) + (cells[i - 1]?.width ?? 0);
      const next = cell === undefined ? length - problem.end : (packed[i] ?? 0);
      stretches.push({
        first,
        last: i - 1,
        gap: next - end,
        least: cell?.gap ?? 0,
        fillers: cell?.fillers ?? problem.lastFillers,
      });
    }
    first = i + 1;
  }
  return stretches;
}

/** Moves the cells of one stretch on, each by a multiple of the unit and never by less than the one before it. */
function moveStretch(
  problem: PackProblem,
  places: number[],
  stretch: Stretch,
  unit: number,
  slack: Slack,
  length: number,
  wishes: readonly Wish[],
): void {
  const { first, last } = stretch;
  const total = movable(stretch, unit);
  if (total <= 0) return;
  const caps = capsOf(problem, places, stretch, unit, length);
  const shares = sharesOf(slack, total, caps);
  let ceiling = total;
  const steps: number[] = [];
  for (let i = last; i >= first; i--) {
    const shared = shares[i - first] ?? 0;
    const { own, before } = wishes[i] ?? NO_WISH;
    const wanted = own === null ? Math.max(shared, Math.floor(before / unit)) : Math.floor(own / unit);
    ceiling = Math.min(ceiling, wanted, caps[i - first] ?? 0);
    steps[i] = ceiling;
  }
  for (let i = first; i <= last; i++) places[i] = (places[i] ?? 0) + (steps[i] ?? 0) * unit;
}

/**
 * Units of slack that go before each cell so that all gaps grow as evenly as the caps let them: the sum of the squares
 * of their growths is least. Drawn over the cells, that is the string pulled taut below the caps from nothing to the
 * whole, each step rounded down.
 */
export function evenShares(total: number, caps: readonly number[]): readonly number[] {
  const n = caps.length;
  const points: { readonly x: number; readonly y: number }[] = [{ x: 0, y: 0 }];
  const heights = caps.map((cap) => Math.max(0, Math.min(cap, total)));
  for (let x = 1; x <= n + 1; x++) {
    const point = { x, y: x > n ? total : (heights[x - 1] ?? total) };
    for (
      let last = points.at(-1), before = points.at(-2);
      last && before;
      last = points.at(-1), before = points.at(-2)
    ) {
      const turn = (last.x - before.x) * (point.y - before.y) - (last.y - before.y) * (point.x - before.x);
      if (turn > 0) break;
      points.pop();
    }
    points.push(point);
  }
  const shares: number[] = [];
  for (let k = 1; k < points.length; k++) {
    const [from, to] = [points[k - 1], points[k]];
    if (from === undefined || to === undefined) break;
    for (let x = from.x + 1; x <= to.x && x <= n; x++)
      shares.push(from.y + Math.floor(((to.y - from.y) * (x - from.x)) / (to.x - from.x)));
  }
  return shares;
}

/** Units of slack that go before each cell of a stretch. */
function sharesOf(slack: Slack, total: number, caps: readonly number[]): readonly number[] {
  if (slack === 'after') return caps.map(() => 0);
  if (slack === 'before') return caps.map(() => total);
  if (slack === 'around') return caps.map(() => Math.floor(total / 2));
  return evenShares(total, caps);
}

/** How much later a cell would stand at its older place, or null; and the most that one before it in its stretch would. */
interface Wish {
  readonly own: number | null;
  readonly before: number;
}

const NO_WISH: Wish = { own: null, before: 0 };

/** What stood elsewhere and cannot be kept there goes as near to it as it can, and what is new makes way. */
function wishesOf(problem: PackProblem, packed: readonly number[]): readonly Wish[] {
  let before = 0;
  return problem.cells.map(({ kept, fixed }, i) => {
    if (fixed !== null) before = 0;
    const here = packed[i] ?? 0;
    const own = kept === undefined || fixed !== null ? null : Math.max(0, nearestPlace(kept.at, here) - here);
    const wish = { own, before };
    before = Math.max(before, own ?? 0);
    return wish;
  });
}

/** How many units the gap behind a stretch can give and stay legal. */
function movable(stretch: Stretch, unit: number): number {
  let count = Math.floor((stretch.gap - stretch.least) / unit);
  while (count > 0 && !stretch.fillers.isLegal(stretch.gap - count * unit)) count--;
  return count;
}

/** How many units each cell can move before it breaks a rule to a cell beyond the stretch, or nears the corner. */
function capsOf(
  problem: PackProblem,
  places: readonly number[],
  stretch: Stretch,
  unit: number,
  length: number,
): readonly number[] {
  const caps: number[] = [];
  for (let i = stretch.first; i <= stretch.last; i++)
    caps.push(Math.floor((length - (problem.cells[i]?.tail ?? 0) - (places[i] ?? 0)) / unit));
  for (const rule of problem.rules) {
    if (rule.from < stretch.first || rule.from > stretch.last || rule.to <= stretch.last) continue;
    const room = (places[rule.to] ?? 0) - (places[rule.from] ?? 0) - rule.distance;
    const k = rule.from - stretch.first;
    caps[k] = Math.min(caps[k] ?? 0, Math.floor(room / unit));
  }
  return caps;
}
