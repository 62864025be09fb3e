/** What stretches of the order take exactly, fillers and all: the engine's own packings, each made once. */
import { SIDES, type Side } from '../../geometry/side.ts';
import type { PlannedCell } from '../../plan/plan.ts';
import type { DieWish } from '../../spec/order.ts';
import type { Ring } from '../../spec/ring.ts';
import { type Die, dieOfPackings } from '../die.ts';
import { type Effort, nextLength, type Packing, pack } from '../pack.ts';
import { fillerChoice, sideProblem } from '../problem.ts';
import { sideRows } from '../rows.ts';
import { type Cuts, endOf, type SideNumber } from './chain.ts';
import type { Form, Forms } from './forms.ts';
import { loneSide } from './strand.ts';

export interface Exact {
  /** The least length of side k with the cells from i up to j; Infinity where they cannot stand. */
  readonly least: (k: number, i: number, j: number) => number;
  /** The least die of a chain of cuts that is no smaller than the core asks, or null. */
  readonly dieOf: (cuts: Cuts, core: Form['cores'][number], wish: DieWish) => Die | null;
}

/** What a stretch takes beside the comparing of its placings: its rows, its rules and the greedy placing of a cell. */
const OF_A_CELL = 20;

/** `effort` is what is left for all stretches; once it is spent none is found to stand. */
export function exactly(ring: Ring, { lap, strands }: Forms, form: Form, effort: Effort): Exact {
  const { ways } = form.chain;
  const fillers = fillerChoice(ring);
  const known = new Map<string, Packing | null>();
  const laps: Record<Side, readonly PlannedCell[]> = {
    left: twice(lap.cells.left),
    bottom: twice(lap.cells.bottom),
    right: twice(lap.cells.right),
    top: twice(lap.cells.top),
  };
  const packingOf = (k: number, i: number, j: number): Packing | null => {
    const like = ways.findIndex((way) => way.runs === ways[k as 0 | 1 | 2 | 3].runs);
    const key = `${like} ${i} ${j}`;
    const there = known.get(key);
    if (there !== undefined) return there;
    effort.left -= OF_A_CELL * (j - i + 1);
    if (effort.left < 0) return null;
    const side = SIDES[like] ?? 'left';
    const rows = sideRows(loneSide(strands[side].ring, side, laps[side].slice(i, j)), side);
    let packing: Packing | null = null;
    if (rows.ok) {
      const { problem, tooClose } = sideProblem(
        ring,
        { ...form.rows, [side]: rows.value },
        side,
        fillers,
        [],
      );
      const packed = tooClose.length > 0 ? null : pack(problem, Number.POSITIVE_INFINITY, effort);
      packing = packed?.stuck === null ? packed : null;
    }
    known.set(key, packing);
    return packing;
  };
  const least = (k: number, i: number, j: number): number => {
    const packing = packingOf(k, i, j);
    return packing === null ? Number.POSITIVE_INFINITY : nextLength(packing, 0);
  };
  const dieOf = (cuts: Cuts, core: Form['cores'][number], wish: DieWish): Die | null => {
    const of = (k: SideNumber): Packing | null => {
      const from = cuts[k] % lap.count;
      return packingOf(k, from, endOf(cuts, k, lap.count) - cuts[k] + from);
    };
    const [left, bottom, right, top] = [of(0), of(1), of(2), of(3)];
    if (left === null || bottom === null || right === null || top === null) return null;
    return dieOfPackings({ left, bottom, right, top }, core, wish);
  };
  return { least, dieOf };
}

const twice = <T>(list: readonly T[]): readonly T[] => [...list, ...list];
