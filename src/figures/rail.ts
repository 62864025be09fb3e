/**
 * A rail as a network: a chain of resistances, or one closed to a loop, fed at some nodes through resistances of
 * their own and drawn from at others. Solved exactly in one sweep there and one back. Every node that is eliminated
 * leaves a network of conductances above zero, so where all currents flow one way nothing is ever subtracted.
 * Voltages are V, currents A, resistances ohm.
 */

export interface Feed {
  readonly node: number;
  readonly voltage: number;
  /** From the source to the node; zero holds the node at the voltage. */
  readonly resistance: number;
}

export interface RailNetwork {
  readonly closed: boolean;
  /** Branch i joins node i and the next one, each above zero: as many as nodes in a loop, one fewer in a chain. */
  readonly resistance: Float64Array;
  /** The current taken from each node. */
  readonly draw: Float64Array;
  readonly feeds: readonly Feed[];
}

export interface RailSolution {
  readonly voltage: Float64Array;
  /** How far each node is below the first feed's voltage, with no digits lost to that voltage. */
  readonly drop: Float64Array;
  /** The current of each branch, positive from node i to the next. */
  readonly current: Float64Array;
  /** What each feed gives. */
  readonly given: Float64Array;
}

const at = (list: Float64Array, i: number): number => list[i] as number;

/** What stands at each node, seen from the reference: conductance, current, and the voltage that holds it or NaN. */
interface Sources {
  readonly conductance: Float64Array;
  readonly current: Float64Array;
  readonly held: Float64Array;
}

function sourcesOf({ draw, feeds }: RailNetwork, reference: number): Sources {
  const conductance = new Float64Array(draw.length);
  const current = draw.map((taken) => -taken);
  const held = new Float64Array(draw.length).fill(Number.NaN);
  for (const { node, voltage, resistance } of feeds) {
    const above = voltage - reference;
    if (resistance > 0) {
      conductance[node] = at(conductance, node) + 1 / resistance;
      current[node] = at(current, node) + above / resistance;
    } else {
      if (!Number.isNaN(at(held, node)) && at(held, node) !== above)
        throw new RangeError(`node ${node} is held at two voltages`);
      held[node] = above;
    }
  }
  return { conductance, current, held };
}

/** The voltages of a chain, seen from the reference. */
function chainVoltages({ conductance, current, held }: Sources, resistance: Float64Array): Float64Array {
  const n = held.length;
  // The current and the conductance of all that stands up to each node, seen from it.
  const a = new Float64Array(n);
  const g = new Float64Array(n);
  let [carriedA, carriedG] = [0, 0];
  for (let i = 0; i < n; i++) {
    a[i] = carriedA + at(current, i);
    g[i] = carriedG + at(conductance, i);
    if (i === n - 1) break;
    const r = at(resistance, i);
    const hold = at(held, i);
    const share = 1 + r * at(g, i);
    [carriedA, carriedG] = Number.isNaN(hold) ? [at(a, i) / share, at(g, i) / share] : [hold / r, 1 / r];
  }
  const voltage = new Float64Array(n);
  let next = 0;
  for (let i = n - 1; i >= 0; i--) {
    if (!Number.isNaN(at(held, i))) next = at(held, i);
    else if (i === n - 1) next = at(a, i) / at(g, i);
    else next = (at(resistance, i) * at(a, i) + next) / (1 + at(resistance, i) * at(g, i));
    voltage[i] = next;
  }
  return voltage;
}

/**
 * The voltages of a loop none of whose nodes is held. Node 0 is the anchor. What is eliminated between it and the
 * moving node leaves three conductances (star to mesh): anchor to node, node to ground and anchor to ground, and a current
 * at both.
 */
function loopVoltages({ conductance, current }: Sources, resistance: Float64Array): Float64Array {
  const n = conductance.length;
  const link = new Float64Array(n);
  const g = new Float64Array(n);
  const a = new Float64Array(n);
  let anchorG = at(conductance, 0);
  let anchorA = at(current, 0);
  let [carriedLink, carriedG, carriedA] = [1 / at(resistance, 0), 0, 0];
  for (let i = 1; i < n; i++) {
    link[i] = carriedLink;
    g[i] = carriedG + at(conductance, i);
    a[i] = carriedA + at(current, i);
    const r = at(resistance, i);
    const share = 1 + r * (at(link, i) + at(g, i));
    anchorG += (at(link, i) * at(g, i) * r) / share;
    anchorA += (at(link, i) * at(a, i) * r) / share;
    [carriedLink, carriedG, carriedA] = [at(link, i) / share, at(g, i) / share, at(a, i) / share];
  }
  // The last branch leads to the anchor itself: what it carried stands there.
  const anchor = (anchorA + carriedA) / (anchorG + carriedG);
  const voltage = new Float64Array(n);
  voltage[0] = anchor;
  let next = anchor;
  for (let i = n - 1; i > 0; i--) {
    const r = at(resistance, i);
    next = (r * (at(a, i) + at(link, i) * anchor) + next) / (1 + r * (at(link, i) + at(g, i)));
    voltage[i] = next;
  }
  return voltage;
}

/** A list turned so that it starts at an index, and its first `more` elements again at the end. */
function turned(list: Float64Array, start: number, more: number): Float64Array {
  const n = list.length;
  const result = new Float64Array(n + more);
  result.set(list.subarray(start));
  result.set(list.subarray(0, start), n - start);
  for (let i = n; i < n + more; i++) result[i] = at(result, i - n);
  return result;
}

function voltagesOf({ closed, resistance }: RailNetwork, sources: Sources): Float64Array {
  const n = sources.held.length;
  if (!closed || n === 1) return chainVoltages(sources, resistance);
  const start = sources.held.findIndex((hold) => !Number.isNaN(hold));
  if (start < 0) return loopVoltages(sources, resistance);
  // A held node cuts the loop into a chain that begins and ends with it.
  const cut = {
    conductance: turned(sources.conductance, start, 1),
    current: turned(sources.current, start, 1),
    held: turned(sources.held, start, 1),
  };
  const along = chainVoltages(cut, turned(resistance, start, 0));
  return turned(along.subarray(0, n), (n - start) % n, 0);
}

/**
 * Solves a rail; undefined where nothing feeds it. A node may be held at one voltage only (RangeError), and every
 * branch must be above zero.
 */
export function solveRail(network: RailNetwork): RailSolution | undefined {
  const { closed, resistance, feeds } = network;
  const reference = feeds[0]?.voltage;
  if (reference === undefined) return undefined;
  const sources = sourcesOf(network, reference);
  const above = voltagesOf(network, sources);
  const n = above.length;
  const current = new Float64Array(resistance.length);
  for (let i = 0; i < current.length; i++)
    current[i] = (at(above, i) - at(above, i + 1 === n ? 0 : i + 1)) / at(resistance, i);
  const before = (node: number): number =>
    node > 0 ? at(current, node - 1) : closed ? at(current, n - 1) : 0;
  const after = (node: number): number => (node < current.length ? at(current, node) : 0);
  const holding = new Set<number>();
  const given = feeds.map(({ node, voltage, resistance: own }) => {
    if (own > 0) return (voltage - reference - at(above, node)) / own;
    // The first feed that holds a node gives all that the node still needs.
    if (holding.has(node)) return 0;
    holding.add(node);
    const others = at(sources.current, node) - at(sources.conductance, node) * at(above, node);
    return after(node) - before(node) - others;
  });
  return {
    voltage: above.map((v) => reference + v),
    drop: above.map((v) => 0 - v),
    current,
    given: Float64Array.from(given),
  };
}

/**
 * The resistance between any two nodes of a rail by itself, feeds and draws left out: the stretch between them, or
 * in a loop its two arcs in parallel. Prepared in one pass, then answered in constant time.
 */
export function resistanceBetween({
  closed,
  resistance,
}: Pick<RailNetwork, 'closed' | 'resistance'>): (a: number, b: number) => number {
  const sums = new Float64Array(resistance.length + 1);
  for (let i = 0; i < resistance.length; i++) sums[i + 1] = at(sums, i) + at(resistance, i);
  const total = at(sums, resistance.length);
  return (a, b) => {
    const stretch = Math.abs(at(sums, b) - at(sums, a));
    return closed ? (stretch * (total - stretch)) / total : stretch;
  };
}
