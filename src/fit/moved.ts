/** Pins that an older placement is to keep where they were: which stand elsewhere, and what stood against them. */
import { micrometres, units } from '../geometry/units.ts';
import type { Problem } from '../problems/problem.ts';
import { lostAt, type PackCell, type PackProblem } from './pack.ts';
import type { SideRows } from './rows.ts';

const um = (length: number): string => `${micrometres(units(Math.ceil(length)))} um`;

/** The weight of a side's cells that do not stand at their older places. */
export const lostOn = (problem: PackProblem, places: readonly number[]): number =>
  problem.cells.reduce((sum, cell, i) => sum + lostAt(cell, places[i] ?? 0), 0);

const isKept = ({ kept }: PackCell, s: number | undefined): boolean =>
  s !== undefined && kept?.at.includes(s) === true;

/** Of older places the one nearest to where something stands now. */
export const nearestPlace = (at: readonly number[], now: number): number =>
  at.reduce((best, place) => (Math.abs(place - now) < Math.abs(best - now) ? place : best), at[0] ?? now);

/** The problem with every cell fixed that stands at its older place, so that slack goes elsewhere. */
export const holding = (problem: PackProblem, places: readonly number[]): PackProblem => ({
  ...problem,
  cells: problem.cells.map((cell, i) =>
    isKept(cell, places[i]) ? { ...cell, fixed: places[i] ?? null } : cell,
  ),
});

/** A note for each cell with pins of a side that does not stand where it was, with the reason. */
export function movedNotes(
  rows: SideRows,
  problem: PackProblem,
  places: readonly number[],
  length: number,
): readonly Problem[] {
  const vacant = vacantPlaces(problem, places);
  return problem.cells.flatMap((cell, i): readonly Problem[] => {
    const { kept } = cell;
    const now = places[i] ?? 0;
    if (kept === undefined || isKept(cell, now)) return [];
    const entry = rows.cells[i]?.entry;
    if (!entry || entry.pins.length === 0) return [];
    const free = kept.at.filter((place) => vacant.has(place));
    // Of pads that share a name there may be more now than there were: those are new.
    if (free.length === 0) return [];
    const old = nearestPlace(free, now);
    vacant.delete(old);
    return [
      {
        code: 'pin-moved',
        message: `${entry.pins.join(', ')} moves from ${um(old)} to ${um(now)} on the ${rows.side} side: ${reason(rows, problem, places, i, old, length)}`,
        place: entry.place,
      },
    ];
  });
}

/** The older places at which nothing stands that could be kept there. */
function vacantPlaces(problem: PackProblem, places: readonly number[]): Set<number> {
  const vacant = new Set(problem.cells.flatMap(({ kept }) => kept?.at ?? []));
  problem.cells.forEach((cell, i) => {
    const now = places[i];
    if (now !== undefined && isKept(cell, now)) vacant.delete(now);
  });
  return vacant;
}

/** Whether what stands before it reaches too far, what stands after it begins too early, or no fillers fit. */
function reason(
  rows: SideRows,
  problem: PackProblem,
  places: readonly number[],
  index: number,
  old: number,
  length: number,
): string {
  const cell = problem.cells[index];
  if (cell?.fixed !== null && cell?.fixed !== undefined) return 'the description fixes it there';
  const before = lastHeld(problem, places, index, -1);
  const earliest = earliestFrom(problem, places, before, index);
  if (earliest > old)
    return `what stands before it (${between(rows, before, index, before)}) reaches ${um(earliest - old)} beyond its old place`;
  const after = lastHeld(problem, places, index, 1);
  const latest = latestTo(problem, places, after, index, length);
  if (latest < old)
    return `what stands after it (${between(rows, index, after, after)}) begins ${um(old - latest)} too early for its old place`;
  return 'no fillers make the gaps beside its old place legal';
}

/** The nearest cell in a direction that stands where it was or is fixed; the side's end where there is none. */
function lastHeld(problem: PackProblem, places: readonly number[], index: number, step: 1 | -1): number {
  let k = index + step;
  for (; k >= 0 && k < problem.cells.length; k += step) {
    const cell = problem.cells[k];
    if (cell === undefined || cell.fixed !== null || isKept(cell, places[k])) break;
  }
  return k;
}

/** The least start edge of a cell if those behind the held one are packed by the rules alone. */
function earliestFrom(problem: PackProblem, places: readonly number[], held: number, index: number): number {
  const packed = [...places];
  for (let k = held + 1; k <= index; k++) {
    const cell = problem.cells[k];
    if (cell === undefined) break;
    const end = k === 0 ? problem.start : (packed[k - 1] ?? 0) + (problem.cells[k - 1]?.width ?? 0);
    let need = Math.max(cell.low, end + cell.gap);
    for (const rule of problem.rules)
      if (rule.to === k) need = Math.max(need, (packed[rule.from] ?? 0) + rule.distance);
    packed[k] = end + cell.fillers.atLeast(need - end);
  }
  return packed[index] ?? 0;
}

/** The greatest start edge of a cell if those up to the held one are packed backward by the rules alone. */
function latestTo(
  problem: PackProblem,
  places: readonly number[],
  held: number,
  index: number,
  length: number,
): number {
  const packed = [...places];
  for (let k = Math.min(held, problem.cells.length) - 1; k >= index; k--) {
    const cell = problem.cells[k];
    const next = problem.cells[k + 1];
    if (cell === undefined) break;
    const until = next === undefined ? length - problem.end : (packed[k + 1] ?? 0) - next.gap;
    let most = Math.min(until - cell.width, length - cell.tail);
    for (const rule of problem.rules)
      if (rule.from === k) most = Math.min(most, (packed[rule.to] ?? 0) - rule.distance);
    packed[k] = most;
  }
  return packed[index] ?? 0;
}

/** The cells between two of a side in words; where there are none, the one that is held. */
function between(rows: SideRows, before: number, after: number, held: number): string {
  const names = rows.cells.slice(before + 1, after).map((cell) => cell.name);
  if (names.length === 0) return rows.cells[held]?.name ?? 'the corner';
  return names.length > 3 ? `${names.length} cells from ${names[0]} to ${names.at(-1)}` : names.join(', ');
}
