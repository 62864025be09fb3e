/**
 * Which rule binds where. In a side packed to its least length, the cells that leave no room are followed from the far
 * corner back to the near one, each step with what holds it open; and the side is packed once more without the rule that
 * binds most.
 */
import { type PackProblem, placing } from '../fit/pack.ts';
import type { SideRows } from '../fit/rows.ts';
import type { DistanceRule } from '../fit/rules.ts';
import type { Side } from '../geometry/side.ts';
import { units } from '../geometry/units.ts';
import type { Plan } from '../plan/plan.ts';
import type { Ring } from '../spec/ring.ts';
import { leastLength, type Measured, measure } from './measure.ts';

export const CELLS = 'width of the cells';
export const CORNER = 'distance to the corner';
const FIXED = 'fixed place';
const GAP = 'gap that cells ask for';

/** What holds a side open, the most length first. */
export interface Binding {
  readonly why: string;
  /** How often it binds along the side, and over what length in all. */
  readonly count: number;
  readonly length: number;
}

/** A rule that holds a single cell at its place, and so sets no pitch. */
export const setsNoPitch = (why: string): boolean => why === CORNER || why === FIXED;

/** A side's tightest chain, in units. What the corner cells take is no rule's doing. */
export function bindings(measured: Measured, side: Side): readonly Binding[] {
  const packing = measured.packings[side];
  const { problem } = packing;
  const places = placing(packing, leastLength(measured, side));
  if (places === null || places.length === 0) return [];
  const tally = new Map<string, { count: number; length: number }>();
  const note = (why: string, length: number): void => {
    if (length <= 0) return;
    const known = tally.get(why) ?? { count: 0, length: 0 };
    tally.set(why, { count: known.count + 1, length: known.length + length });
  };
  let at = lastBinding(problem, places);
  if (at.why !== null) note(at.why, at.length);
  const rules: DistanceRule[][] = places.map(() => []);
  for (const rule of problem.rules) rules[rule.to]?.push(rule);
  while (at.cell >= 0) {
    const step = stepTo(problem, rules[at.cell] ?? [], places, at.cell);
    note(step.why, (places[at.cell] ?? 0) - (step.from < 0 ? problem.start : (places[step.from] ?? 0)));
    at = { cell: step.from, why: null, length: 0 };
  }
  return [...tally].map(([why, sum]) => ({ why, ...sum })).sort((a, b) => b.length - a.length);
}

interface At {
  readonly cell: number;
  readonly why: string | null;
  readonly length: number;
}

/** The cell that asks most of the far end: the last one, or one whose pad keeps off the die corner. */
function lastBinding({ cells, end }: PackProblem, places: readonly number[]): At {
  const last = cells.length - 1;
  const packed = (places[last] ?? 0) + (cells[last]?.width ?? 0) + end;
  let best: At = { cell: last, why: null, length: 0 };
  let most = packed;
  cells.forEach((cell, i) => {
    const asked = (places[i] ?? 0) + cell.tail;
    const length = cell.tail - cell.width - end;
    if (asked > most) [most, best] = [asked, { cell: i, why: CORNER, length }];
  });
  return best;
}

/** What keeps a cell from standing earlier, and the cell from which it is measured; -1 is the side's start. */
function stepTo(
  problem: PackProblem,
  rules: readonly DistanceRule[],
  places: readonly number[],
  cell: number,
): { from: number; why: string } {
  const own = problem.cells[cell];
  if (own === undefined || own.fixed !== null) return { from: -1, why: FIXED };
  const before = cell === 0 ? problem.start : (places[cell - 1] ?? 0) + (problem.cells[cell - 1]?.width ?? 0);
  let best = { need: before + own.gap, from: cell - 1, why: own.gap > 0 ? GAP : CELLS };
  for (const rule of rules) {
    const need = (places[rule.from] ?? 0) + rule.distance;
    if (need > best.need) best = { need, from: rule.from, why: rule.why };
  }
  return own.low > best.need ? { from: -1, why: CORNER } : best;
}

/** The commonest distance between the centres of neighbouring bond pads where a side is packed; null without two pads. */
export function usualPitch(measured: Measured, side: Side): number | null {
  const places = placing(measured.packings[side], leastLength(measured, side)) ?? [];
  const centres = measured.rows[side].pads
    .map((pad) => (places[pad.cell] ?? 0) + pad.offset)
    .sort((a, b) => a - b);
  const counts = new Map<number, number>();
  for (let i = 1; i < centres.length; i++) {
    const pitch = (centres[i] ?? 0) - (centres[i - 1] ?? 0);
    counts.set(pitch, (counts.get(pitch) ?? 0) + 1);
  }
  let [pitch, most] = [null as number | null, 0];
  for (const [distance, count] of counts)
    if (count > most || (count === most && distance < (pitch ?? distance))) [pitch, most] = [distance, count];
  return pitch;
}

/** A limit so low that it asks for nothing. */
const NOTHING = units(-1e12);

/** The plan with a rule left out; null where it is not a rule that could be relaxed. */
function without(plan: Plan, why: string): Plan | null {
  const { ring } = plan;
  const lax = (change: Partial<Ring>): Plan => ({ ...plan, ring: { ...ring, ...change } });
  switch (why) {
    case 'bond-pad pitch':
      return lax({ pads: { ...ring.pads, pitch: units(0) } });
    case 'wider pitch near a corner':
      return lax({ corners: { ...ring.corners, pitches: [] } });
    case 'spacing of pad metal':
      return lax({ pads: { ...ring.pads, spacing: NOTHING } });
    case 'spacing of openings':
      return lax({ pads: { ...ring.pads, openingSpacing: NOTHING } });
    case 'stem between pads':
      return lax({ stems: { ...ring.stems, spacing: NOTHING } });
    default:
      return null;
  }
}

/** The same sides without one rule; null where the rule cannot be left out. */
export function measureWithout(measured: Measured, why: string): Measured | null {
  const relaxed = without(measured.plan, why);
  return relaxed === null ? null : measure(relaxed);
}

/** How the rows of a side name a rule. */
export function inWords(why: string, rows: SideRows): string {
  if (why === 'stem between pads')
    return rows.pads.some((pad) => pad.row === 'inner') ? 'stem between inner pads' : 'stem beside a pad';
  return why;
}
