/**
 * A side as a problem in whole steps. All legal gaps are multiples of one step, so every cell stands a whole number
 * of steps beyond where it would stand packed. Cells that no filler can part move as one group.
 */
import { commonStep } from '../../geometry/units.ts';
import type { FillerSet } from '../fillers.ts';
import type { PackProblem } from '../pack.ts';

/** Where a cell's start edge is wished, and how much that counts: the number of its wires. */
export interface Wish {
  readonly at: number;
  readonly weight: number;
}

/** `to` stands at least `steps` beyond `from`. */
export interface Edge {
  readonly from: number;
  readonly to: number;
  readonly steps: number;
}

export interface Lattice {
  readonly problem: PackProblem;
  /** The length of a step. */
  readonly step: number;
  /** Where each cell stands packed, and the group that it belongs to. */
  readonly base: readonly number[];
  readonly groupOf: readonly number[];
  /** By group: bounds in steps. */
  readonly low: readonly number[];
  readonly high: readonly number[];
  /** By group: the sum of the weights of its cells' wishes, and of weight times distance from the packed place. */
  readonly weight: readonly number[];
  readonly moment: readonly number[];
  /** By `to`, the nearest `from` last; `from` is always before `to`. */
  readonly edges: readonly Edge[];
  /** The legal gaps before each group, and after the last one; `total` steps are the last gap's end. */
  readonly legal: readonly ((steps: number) => boolean)[];
  /** From which number of steps on every gap before a group is legal; Infinity where none is sure to be. */
  readonly denseFrom: readonly number[];
  readonly total: number;
}

/** The side in steps; undefined where nothing can move. */
export function latticeOf(
  problem: PackProblem,
  length: number,
  wishes: readonly (Wish | null)[],
): Lattice | undefined {
  const { cells, lastFillers } = problem;
  const step = [...cells.map((cell) => cell.fillers), lastFillers].reduce(
    (sum, set) => commonStep(sum, set.step),
    0,
  );
  if (step === 0 || cells.length === 0) return undefined;
  const base: number[] = [];
  const groupOf: number[] = [];
  let end = problem.start;
  cells.forEach((cell, i) => {
    base.push(end);
    end += cell.width;
    const before = groupOf[i - 1];
    groupOf.push(before === undefined ? 0 : before + (cell.fillers.step === 0 ? 0 : 1));
  });
  const total = (length - problem.end - end) / step;
  const groups = (groupOf.at(-1) ?? 0) + 1;
  const low = new Array<number>(groups).fill(0);
  const high = new Array<number>(groups).fill(Math.floor(total));
  const weight = new Array<number>(groups).fill(0);
  const moment = new Array<number>(groups).fill(0);
  const most = new Map<number, Edge>();
  const add = (from: number, to: number, distance: number): void => {
    const [a, b] = [groupOf[from] ?? 0, groupOf[to] ?? 0];
    if (a === b) return;
    const steps = Math.ceil((distance - ((base[to] ?? 0) - (base[from] ?? 0))) / step) + 0;
    const key = a * groups + b;
    const known = most.get(key);
    if (known === undefined || known.steps < steps) most.set(key, { from: a, to: b, steps });
  };
  cells.forEach((cell, i) => {
    const g = groupOf[i] ?? 0;
    const from = base[i] ?? 0;
    const bound = (list: number[], value: number, pick: (a: number, b: number) => number): void => {
      list[g] = pick(list[g] ?? 0, value);
    };
    const gap = cell.fillers.atLeast(cell.gap);
    if (i > 0) add(i - 1, i, (cells[i - 1]?.width ?? 0) + gap);
    else bound(low, Math.ceil(gap / step), Math.max);
    if (Number.isFinite(cell.low)) bound(low, Math.ceil((cell.low - from) / step), Math.max);
    bound(high, Math.floor((length - cell.tail - from) / step), Math.min);
    if (cell.fixed !== null) {
      bound(low, (cell.fixed - from) / step, Math.max);
      bound(high, (cell.fixed - from) / step, Math.min);
    }
    const wish = wishes[i];
    if (wish === null || wish === undefined || cell.fixed !== null) return;
    weight[g] = (weight[g] ?? 0) + wish.weight;
    moment[g] = (moment[g] ?? 0) + wish.weight * (wish.at - from);
  });
  if ((cells[0]?.fillers.step ?? 0) === 0) high[0] = Math.min(high[0] ?? 0, 0);
  if (lastFillers.step === 0) low[groups - 1] = Math.max(low[groups - 1] ?? 0, total);
  for (const rule of problem.rules) add(rule.from, rule.to, rule.distance);
  const edges = [...most.values()].sort((a, b) => a.to - b.to || a.from - b.from);
  tighten(low, high, edges);
  const sets = setsOf(problem, groupOf, groups);
  return {
    problem,
    step,
    base,
    groupOf,
    low,
    high,
    weight,
    moment,
    edges,
    legal: sets.map((set) => (steps: number) => set.isLegal(steps * step)),
    denseFrom: sets.map((set) => (set.step === step ? set.denseFrom / step : Number.POSITIVE_INFINITY)),
    total,
  };
}

/** The filler sets before each group, then after the last. */
function setsOf(
  { cells, lastFillers }: PackProblem,
  groupOf: readonly number[],
  groups: number,
): readonly FillerSet[] {
  const sets = new Array<FillerSet>(groups + 1).fill(lastFillers);
  for (let i = cells.length - 1; i >= 0; i--) {
    const [g, cell] = [groupOf[i], cells[i]];
    if (g !== undefined && cell !== undefined && groupOf[i - 1] !== g) sets[g] = cell.fillers;
  }
  return sets;
}

/** Bounds reach on along the edges: nothing that can be placed is lost. */
function tighten(low: number[], high: number[], edges: readonly Edge[]): void {
  for (const { from, to, steps } of edges) low[to] = Math.max(low[to] ?? 0, (low[from] ?? 0) + steps);
  const backward = [...edges].sort((a, b) => b.from - a.from);
  for (const { from, to, steps } of backward) high[from] = Math.min(high[from] ?? 0, (high[to] ?? 0) - steps);
}

/** The start edges of all cells from the steps of their groups. */
export const startEdges = ({ base, groupOf, step }: Lattice, steps: readonly number[]): readonly number[] =>
  base.map((from, i) => from + step * (steps[groupOf[i] ?? 0] ?? 0));

/** Whether steps keep every bound and edge and make every gap legal. */
export function isLegal(lattice: Lattice, steps: readonly number[]): boolean {
  const { low, high, edges, legal, total } = lattice;
  const at = (g: number): number => steps[g] ?? 0;
  return (
    steps.every((u, g) => u >= (low[g] ?? 0) && u <= (high[g] ?? 0)) &&
    edges.every(({ from, to, steps: least }) => at(to) - at(from) >= least) &&
    steps.every((u, g) => legal[g]?.(g === 0 ? u : u - at(g - 1)) === true) &&
    legal[steps.length]?.(total - at(steps.length - 1)) === true
  );
}
