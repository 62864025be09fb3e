/** The path of least voltage for a current through one-way elements and resistances: Dijkstra's search. */

export interface Step {
  readonly from: number;
  readonly to: number;
  /** What the step drops at the given current, V, not below zero. */
  readonly drop: number;
}

/** From one place to all others: the least sum of drops, Infinity where no path leads, and the last step of each. */
export interface Reach {
  readonly drop: Float64Array;
  /** The index in the list of steps by which each place is reached, or -1. */
  readonly by: Int32Array;
}

/** A heap of places by what led to them, least first. */
function heap(): {
  push: (key: number, place: number) => void;
  pop: () => readonly [number, number] | undefined;
} {
  const items: (readonly [number, number])[] = [];
  const key = (i: number): number => items[i]?.[0] ?? Number.POSITIVE_INFINITY;
  const swap = (i: number, j: number): void => {
    const [a, b] = [items[i], items[j]];
    if (a && b) [items[i], items[j]] = [b, a];
  };
  return {
    push: (k, place) => {
      items.push([k, place]);
      let i = items.length - 1;
      while (i > 0 && key(i) < key((i - 1) >> 1)) {
        swap(i, (i - 1) >> 1);
        i = (i - 1) >> 1;
      }
    },
    pop: () => {
      const top = items[0];
      const last = items.pop();
      if (top === undefined || last === undefined || items.length === 0) return top;
      items[0] = last;
      let i = 0;
      for (;;) {
        const child = key(2 * i + 2) < key(2 * i + 1) ? 2 * i + 2 : 2 * i + 1;
        if (!(key(child) < key(i))) return top;
        swap(i, child);
        i = child;
      }
    },
  };
}

/** The steps out of each place, prepared once for searches from several places. */
export function pathsOver(places: number, steps: readonly Step[]): (start: number) => Reach {
  const first = new Int32Array(places + 1);
  for (const { from } of steps) first[from + 1] = (first[from + 1] as number) + 1;
  for (let i = 0; i < places; i++) first[i + 1] = (first[i + 1] as number) + (first[i] as number);
  const fill = first.slice();
  const outward = new Int32Array(steps.length);
  for (const [k, { from }] of steps.entries()) {
    const slot = fill[from] as number;
    outward[slot] = k;
    fill[from] = slot + 1;
  }
  return (start) => {
    const drop = new Float64Array(places).fill(Number.POSITIVE_INFINITY);
    const by = new Int32Array(places).fill(-1);
    drop[start] = 0;
    const queue = heap();
    queue.push(0, start);
    for (let next = queue.pop(); next; next = queue.pop()) {
      const [reached, place] = next;
      if (reached > (drop[place] as number)) continue;
      for (let slot = first[place] as number; slot < (first[place + 1] as number); slot++) {
        const k = outward[slot] as number;
        const step = steps[k] as Step;
        const further = reached + step.drop;
        if (further < (drop[step.to] as number)) {
          drop[step.to] = further;
          by[step.to] = k;
          queue.push(further, step.to);
        }
      }
    }
    return { drop, by };
  };
}

/** The steps of the path to a place, in order from the start; undefined where none leads there. */
export function pathTo(
  { drop, by }: Reach,
  steps: readonly Step[],
  place: number,
): readonly number[] | undefined {
  if (!Number.isFinite(drop[place] as number)) return undefined;
  const list: number[] = [];
  for (let k = by[place] as number; k >= 0; k = by[(steps[k] as Step).from] as number) list.push(k);
  return list.reverse();
}
