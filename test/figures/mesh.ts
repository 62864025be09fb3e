/**
 * A small network that is no chain: resistances, and diodes or clamps that conduct one way above a voltage, with
 * currents pressed into its nodes. Its cost grows with the cube of its nodes: it is for tens of them, not for rails.
 */

export interface Element {
  readonly from: number;
  readonly to: number;
  /** Above zero, ohm. */
  readonly resistance: number;
  /** A one-way element conducts from `from` to `to` above this voltage; null conducts both ways. */
  readonly threshold: number | null;
}

export interface Mesh {
  /** Nodes are 0 to this less one; node 0 is the reference at 0 V. */
  readonly nodes: number;
  readonly elements: readonly Element[];
  /** The current pressed into each node; what is pressed in comes out at node 0. */
  readonly pressed: readonly { readonly node: number; readonly current: number }[];
}

export interface MeshSolution {
  readonly voltage: Float64Array;
  /** Of each element, positive from `from` to `to`. */
  readonly current: Float64Array;
}

/**
 * The conductance from each node to the reference that keeps islands behind blocking elements solvable, in siemens:
 * far below the last digit that anyone reads of a rail.
 */
const LEAK = 1e-12;

/** Solves a symmetric positive definite system in place by Cholesky's factor; both arguments are overwritten. */
function solveDefinite(matrix: Float64Array, right: Float64Array): void {
  const n = right.length;
  const m = (i: number, j: number): number => matrix[i * n + j] as number;
  for (let j = 0; j < n; j++) {
    for (let i = j; i < n; i++) {
      let value = m(i, j);
      for (let k = 0; k < j; k++) value -= m(i, k) * m(j, k);
      matrix[i * n + j] = i === j ? Math.sqrt(value) : value / m(j, j);
    }
  }
  for (let i = 0; i < n; i++) {
    let value = right[i] as number;
    for (let k = 0; k < i; k++) value -= m(i, k) * (right[k] as number);
    right[i] = value / m(i, i);
  }
  for (let i = n - 1; i >= 0; i--) {
    let value = right[i] as number;
    for (let k = i + 1; k < n; k++) value -= m(k, i) * (right[k] as number);
    right[i] = value / m(i, i);
  }
}

/**
 * Solves the mesh exactly: its voltages are the least point of a convex function that is quadratic in pieces, one
 * for each set of conducting elements. Newton's method with an exact step along each direction reaches it after
 * finitely many pieces; undefined where it has not after 200, which no real network needs.
 */
export function solveMesh({ nodes, elements, pressed }: Mesh): MeshSolution | undefined {
  const voltage = new Float64Array(nodes);
  const force = new Float64Array(nodes);
  for (const { node, current } of pressed) force[node] = (force[node] as number) + current;
  const excess = (volts: Float64Array, { from, to, threshold }: Element): number =>
    (volts[from] as number) - (volts[to] as number) - (threshold ?? 0);
  // In the first round every element conducts, so that no island starts cut off.
  let on = elements.map(() => true);
  for (let round = 0; round < 200; round++) {
    const target = targetOf(nodes, elements, on, force);
    const same = elements.every((e, k) => {
      if (e.threshold === null) return true;
      const above = excess(target, e);
      return above > 0 === on[k] || Math.abs(above) <= 1e-12 * (1 + e.threshold);
    });
    if (same) {
      const current = elements.map((e, k) => (on[k] ? excess(target, e) / e.resistance : 0));
      return { voltage: target, current: Float64Array.from(current) };
    }
    const step = round === 0 ? 1 : exactStep(voltage, target, elements, force);
    for (let i = 1; i < nodes; i++) {
      const here = voltage[i] as number;
      voltage[i] = here + step * ((target[i] as number) - here);
    }
    on = elements.map((e) => e.threshold === null || excess(voltage, e) > 0);
  }
  return undefined;
}

/** The voltages of the mesh where just the elements that are on conduct, both ways. */
function targetOf(
  nodes: number,
  elements: readonly Element[],
  on: readonly boolean[],
  force: Float64Array,
): Float64Array {
  const n = nodes - 1;
  const matrix = new Float64Array(n * n);
  const right = force.slice(1);
  const add = (i: number, j: number, g: number): void => {
    if (i > 0 && j > 0) matrix[(i - 1) * n + j - 1] = (matrix[(i - 1) * n + j - 1] as number) + g;
  };
  const push = (node: number, current: number): void => {
    if (node > 0) right[node - 1] = (right[node - 1] as number) + current;
  };
  for (let i = 1; i < nodes; i++) add(i, i, LEAK);
  for (const [k, { from, to, resistance, threshold }] of elements.entries()) {
    if (on[k] !== true) continue;
    const g = 1 / resistance;
    add(from, from, g);
    add(to, to, g);
    add(from, to, -g);
    add(to, from, -g);
    push(from, g * (threshold ?? 0));
    push(to, -g * (threshold ?? 0));
  }
  solveDefinite(matrix, right);
  const target = new Float64Array(nodes);
  target.set(right, 1);
  return target;
}

/**
 * The step in (0, 1] from one set of voltages towards another at which the convex function is least: its slope
 * rises along the way, straight between the places where a one-way element starts or stops to conduct.
 */
function exactStep(
  from: Float64Array,
  towards: Float64Array,
  elements: readonly Element[],
  force: Float64Array,
): number {
  const across = (list: Float64Array, e: Element): number =>
    (list[e.from] as number) - (list[e.to] as number);
  const way = towards.map((value, i) => value - (from[i] as number));
  const bends = [1];
  for (const e of elements) {
    if (e.threshold === null) continue;
    const bend = (e.threshold - across(from, e)) / across(way, e);
    if (bend > 0 && bend < 1) bends.push(bend);
  }
  bends.sort((a, b) => a - b);
  const slope = (step: number): number => {
    let sum = 0;
    for (const [i, rise] of way.entries())
      sum += rise * (LEAK * ((from[i] as number) + step * rise) - (force[i] as number));
    for (const e of elements) {
      const excess = across(from, e) + step * across(way, e) - (e.threshold ?? 0);
      if (e.threshold === null || excess > 0) sum += (across(way, e) * excess) / e.resistance;
    }
    return sum;
  };
  let low = 0;
  let below = slope(0);
  for (const bend of bends) {
    const here = slope(bend);
    if (here > 0) return low + (bend - low) * (below < 0 ? below / (below - here) : 0);
    [low, below] = [bend, here];
  }
  return 1;
}
