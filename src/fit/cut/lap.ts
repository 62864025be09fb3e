/**
 * A ring that is not yet cut into sides: its cells once around, break cells included, as they would stand on each
 * side, with the places where a corner may lie and the runs that a side may take.
 */
import { SIDES, type Side } from '../../geometry/side.ts';
import { type PlannedCell, plan } from '../../plan/plan.ts';
import { found, type Outcome } from '../../problems/problem.ts';
import type { Order } from '../../spec/order.ts';
import type { Entry, Ring } from '../../spec/ring.ts';

export interface Lap {
  /** Cells once around. */
  readonly count: number;
  /** The cells as they stand on a side; one that may not lie there stands as on another. */
  readonly cells: Readonly<Record<Side, readonly PlannedCell[]>>;
  /** Whether a corner may lie before each cell. */
  readonly cuttable: readonly boolean[];
  /** The index in the order of each cell; a break cell that was set by itself has that of the cell after it. */
  readonly listed: readonly number[];
  /** Whether each cell may lie on a side. */
  readonly mayLie: Readonly<Record<Side, readonly boolean[]>>;
}

/** The ring with given entries on its sides and no order left to cut. */
export function withSides(ring: Ring, entries: Readonly<Record<Side, readonly Entry[]>>): Ring {
  const { order: _, ...rest } = ring;
  const side = (name: Side): Ring['sides'][Side] => ({ ...ring.sides[name], entries: entries[name] });
  return {
    ...rest,
    sides: { left: side('left'), bottom: side('bottom'), right: side('right'), top: side('top') },
  };
}

/** Plans the order as one lap; break cells stand where they would whatever the cut, for a lap has no first cell. */
export function lapOf(ring: Ring, order: Order): Outcome<Lap> {
  const entries = order.cells.flatMap(({ on }) => SIDES.flatMap((side) => on[side] ?? []).slice(0, 1));
  const planned = plan(withSides(ring, { left: entries, bottom: [], right: [], top: [] }));
  if (!planned.ok) return planned;
  const lap = planned.value.sides.left;
  const indexOf = new Map(entries.map((entry, i) => [entry, i]));
  const listed = lap.map((cell, i) => {
    const own = cell.entry ?? lap[(i + 1) % lap.length]?.entry;
    return own === null || own === undefined ? 0 : (indexOf.get(own) ?? 0);
  });
  const cellsOn = (side: Side): readonly PlannedCell[] =>
    lap.map((cell, i) => {
      const entry = cell.entry === null ? undefined : order.cells[listed[i] ?? 0]?.on[side];
      return entry === undefined ? cell : { ...cell, entry, footprint: entry.footprint };
    });
  const allowed = (side: Side): readonly boolean[] =>
    listed.map((index) => order.cells[index]?.on[side] !== undefined);
  const by = <T>(of: (side: Side) => T): Record<Side, T> => ({
    left: of('left'),
    bottom: of('bottom'),
    right: of('right'),
    top: of('top'),
  });
  const parted = partings(ring, order);
  return found({
    count: lap.length,
    cells: by(cellsOn),
    cuttable: lap.map((_, i) => lap.at(i - 1)?.entry !== null && parted[listed[i] ?? 0] === true),
    listed,
    mayLie: by(allowed),
  });
}

/** Before which cells of the order a corner may lie: not inside a group or a rule that keeps its pins together. */
function partings(ring: Ring, order: Order): readonly boolean[] {
  const n = order.cells.length;
  const free = new Array<boolean>(n).fill(true);
  const keep = (first: number, count: number): void => {
    for (let k = 1; k < count; k++) free[(first + k) % n] = false;
  };
  for (const group of order.groups) {
    if (!group.whole) continue;
    const run = shortestRun(n, group.cells);
    keep(run.first, run.count);
  }
  const pinned = order.cells.map(({ on }) => SIDES.flatMap((side) => on[side] ?? [])[0]);
  for (const rule of ring.neighbours) {
    if (rule.kind !== 'together') continue;
    const run = shortestRun(
      n,
      pinned.flatMap((entry, i) => (entry?.pins.some((pin) => rule.pins.includes(pin)) === true ? [i] : [])),
    );
    keep(run.first, run.count);
  }
  return free;
}

/** The shortest run of a lap that holds some cells. */
function shortestRun(
  n: number,
  cells: readonly number[],
): { readonly first: number; readonly count: number } {
  const at = [...cells].sort((a, b) => a - b);
  let best = { first: at[0] ?? 0, count: 0 };
  let widest = -1;
  at.forEach((here, k) => {
    const before = at[k - 1] ?? (at.at(-1) ?? 0) - n;
    if (here - before > widest) {
      widest = here - before;
      best = { first: here, count: n - (here - before) + 1 };
    }
  });
  return best;
}
