/** Pins that an older placement is to keep where they were: which stand elsewhere, and what stood against them. */
import { micrometres, units } from '../geometry/units.ts';
import type { Problem } from '../problems/problem.ts';
import { lostAt, type PackCell, type PackProblem } from './pack.ts';
import type { SideRows } from './rows.ts';
import type { DistanceRule } from './rules.ts';

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
  const moves = problem.cells.some((cell, i) => cell.kept !== undefined && !isKept(cell, places[i]));
  if (!moves) return [];
  const vacant = vacantPlaces(problem, places);
  const bounds = boundsBetween(problem, places, length);
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
        message: `${entry.pins.join(', ')} moves from ${um(old)} to ${um(now)} on the ${rows.side} side: ${reason(rows, problem, bounds, i, old)}`,
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

/** For each cell what stands held around it, and where it could stand if all between were packed by the rules alone. */
interface Bounds {
  readonly heldBefore: readonly number[];
  readonly heldAfter: readonly number[];
  readonly earliest: readonly number[];
  readonly latest: readonly number[];
}

/** Whether what stands before it reaches too far, what stands after it begins too early, or no fillers fit. */
function reason(rows: SideRows, problem: PackProblem, bounds: Bounds, index: number, old: number): string {
  if (typeof problem.cells[index]?.fixed === 'number') return 'the description fixes it there';
  const [before, after] = [bounds.heldBefore[index] ?? -1, bounds.heldAfter[index] ?? problem.cells.length];
  const [earliest, latest] = [bounds.earliest[index] ?? old, bounds.latest[index] ?? old];
  if (earliest > old)
    return `what stands before it (${between(rows, before, index, before)}) reaches ${um(earliest - old)} beyond its old place`;
  if (latest < old)
    return `what stands after it (${between(rows, index, after, after)}) begins ${um(old - latest)} too early for its old place`;
  return 'no fillers make the gaps beside its old place legal';
}

/** One pass from either end; what is held stays where it is. */
function boundsBetween(problem: PackProblem, places: readonly number[], length: number): Bounds {
  const { cells, rules } = problem;
  const held = cells.map((cell, i) => cell.fixed !== null || isKept(cell, places[i]));
  const byTo: DistanceRule[][] = cells.map(() => []);
  const byFrom: DistanceRule[][] = cells.map(() => []);
  for (const rule of rules) {
    byTo[rule.to]?.push(rule);
    byFrom[rule.from]?.push(rule);
  }
  const [earliest, latest] = [[...places], [...places]];
  const [heldBefore, heldAfter] = [cells.map(() => -1), cells.map(() => cells.length)];
  let last = -1;
  for (const [k, cell] of cells.entries()) {
    heldBefore[k] = last;
    if (held[k]) {
      last = k;
      continue;
    }
    const end = k === 0 ? problem.start : (earliest[k - 1] ?? 0) + (cells[k - 1]?.width ?? 0);
    const from = (i: number): number => (i < last ? places[i] : earliest[i]) ?? 0;
    const asked = (byTo[k] ?? []).map((rule) => from(rule.from) + rule.distance);
    earliest[k] = end + cell.fillers.atLeast(Math.max(cell.low, end + cell.gap, ...asked) - end);
  }
  last = cells.length;
  for (let k = cells.length - 1; k >= 0; k--) {
    heldAfter[k] = last;
    const [cell, next] = [cells[k], cells[k + 1]];
    if (held[k] || cell === undefined) {
      last = k;
      continue;
    }
    const until = next === undefined ? length - problem.end : (latest[k + 1] ?? 0) - next.gap;
    const to = (i: number): number => (i > last ? places[i] : latest[i]) ?? 0;
    const asked = (byFrom[k] ?? []).map((rule) => to(rule.to) - rule.distance);
    latest[k] = Math.min(until - cell.width, length - cell.tail, ...asked);
  }
  return { heldBefore, heldAfter, earliest, latest };
}

/** The cells between two of a side in words; where there are none, the one that is held. */
function between(rows: SideRows, before: number, after: number, held: number): string {
  const names = rows.cells.slice(before + 1, after).map((cell) => cell.name);
  if (names.length === 0) return rows.cells[held]?.name ?? 'the corner';
  return names.length > 3 ? `${names.length} cells from ${names[0]} to ${names.at(-1)}` : names.join(', ');
}
