/**
 * The quick answer to what a side packs to. The greedy placing puts each cell at the first legal place that its rules
 * allow. Where that is also the first multiple of the fillers' common step in every gap, no legal placing has any cell
 * earlier: it is least in every cell, and a length that it fills with the first multiple is the least one for certain.
 */
import { commonStep } from '../geometry/units.ts';
import type { PackProblem } from './pack.ts';

export interface Tight {
  readonly places: readonly number[];
  /** Where the last cell ends, and the least length of the die's side that the tails of all cells allow. */
  readonly end: number;
  readonly reach: number;
  /** The common step of all fillers of the side. */
  readonly step: number;
}

/** The tight placing; null where the greedy one is not for certain the least, or cells are to be kept at older places. */
export function tightPlacing(problem: PackProblem): Tight | null {
  const { cells, rules } = problem;
  const step = stepOf(problem);
  const places = new Array<number>(cells.length);
  let end = problem.start;
  let reach = 0;
  let k = 0;
  for (let i = 0; i < cells.length; i++) {
    const cell = cells[i];
    if (cell === undefined || cell.kept !== undefined) return null;
    let need = Math.max(end + cell.gap, cell.low);
    for (; k < rules.length; k++) {
      const rule = rules[k];
      if (rule === undefined || rule.to !== i) break;
      need = Math.max(need, (places[rule.from] ?? 0) + rule.distance);
    }
    let at = cell.fixed ?? end;
    if (cell.fixed !== null) {
      if (at < need || !cell.fillers.isLegal(at - end)) return null;
    } else if (need > end) {
      const gap = multiple(need - end, step);
      if (!cell.fillers.isLegal(gap)) return null;
      at = end + gap;
    }
    places[i] = at;
    reach = Math.max(reach, at + cell.tail);
    end = at + cell.width;
  }
  return { places, end, reach, step };
}

/** The least length from some length on, where the tight placing fills it for certain; null where it may not be. */
export function tightLength(problem: PackProblem, tight: Tight, atLeast: number): number | null {
  const packed = tight.end + problem.end;
  const gap = multiple(Math.max(atLeast, tight.reach) - packed, tight.step);
  return problem.lastFillers.isLegal(gap) ? packed + gap : null;
}

/** Whether the tight placing fills a length. */
export const tightFills = (problem: PackProblem, tight: Tight, length: number): boolean =>
  tight.reach <= length && problem.lastFillers.isLegal(length - problem.end - tight.end);

/** The first multiple of a step that is not below a length; no step has only 0, and is otherwise out of reach. */
function multiple(length: number, step: number): number {
  if (length <= 0) return 0;
  return step === 0 ? Number.POSITIVE_INFINITY : Math.ceil(length / step) * step;
}

/** The common step of all fillers of a side: every gap is a multiple of it. */
export function stepOf({ cells, lastFillers }: PackProblem): number {
  let step = lastFillers.step;
  let last = lastFillers;
  for (const { fillers } of cells) {
    if (fillers === last) continue;
    last = fillers;
    step = commonStep(step, fillers.step);
  }
  return step;
}
