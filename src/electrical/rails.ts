/**
 * Each arc as a network: a node at the middle of every cell, between them the halves of two cells' strips in
 * parallel. Supply cells feed it through their stems, outputs and core draw from it. Currents are mA in the
 * placement and here, voltages V.
 */
import { type RailNetwork, type RailSolution, resistanceBetween, solveRail } from '../figures/rail.ts';
import { parallel, stripResistance } from '../figures/strips.ts';
import type { BondPad, PlacedFootprint, Placement, Stem } from '../format/placement.ts';
import { isHorizontal } from '../geometry/side.ts';
import type { LoadedArc } from './groups.ts';
import { type LaneMetal, type Layers, laneMetal, type Missing, type Tightest, tightestOf } from './metal.ts';

/** An arc's metal cell by cell. */
export interface ArcMetal {
  readonly cells: readonly LaneMetal[];
  /** The resistance between the middles of neighbouring cells. */
  readonly resistance: Float64Array;
}

/** A lane's metal by footprint, worked out once. */
export type MetalOf = (footprint: PlacedFootprint, lane: string) => LaneMetal | Missing;

export function metalBook(layers: Layers): MetalOf {
  const book = new Map<string, Map<PlacedFootprint, LaneMetal | Missing>>();
  return (footprint, lane) => {
    const own = book.get(lane) ?? new Map<PlacedFootprint, LaneMetal | Missing>();
    book.set(lane, own);
    const known = own.get(footprint);
    if (known !== undefined) return known;
    const metal = laneMetal(footprint, lane, layers);
    own.set(footprint, metal);
    return metal;
  };
}

export function arcMetal({ arc }: LoadedArc, metalOf: MetalOf): ArcMetal | Missing {
  const cells: LaneMetal[] = [];
  for (const { footprint } of arc.cells) {
    const metal = metalOf(footprint, arc.lane);
    if ('missing' in metal) return metal;
    cells.push(metal);
  }
  const n = cells.length;
  const half = (i: number): number => (cells[i % n]?.resistance ?? 0) / 2;
  const resistance = Float64Array.from({ length: arc.closed ? n : n - 1 }, (_, i) => half(i) + half(i + 1));
  return { cells, resistance };
}

/** The resistance of a stem from pad to cell, ohm; zero where there is none. */
export function stemResistance(
  pad: BondPad,
  stem: Stem | undefined,
  layers: Layers,
): { readonly value: number } | Missing {
  if (stem === undefined) return { value: 0 };
  const across = isHorizontal(pad.side) ? stem.width : stem.height;
  const way = isHorizontal(pad.side) ? stem.height : stem.width;
  const list: number[] = [];
  for (const layer of stem.layers) {
    const sheet = layers.get(layer)?.sheetResistance ?? null;
    if (sheet === null) return { missing: `the sheet resistance of layer ${layer}` };
    list.push(stripResistance(sheet, way, across));
  }
  if (list.length === 0) return { missing: 'the layers of stems' };
  return { value: parallel(list) };
}

/** Stems by the number of their bond pad. */
export const stemsOf = (placement: Placement): ReadonlyMap<number, Stem> =>
  new Map(placement.stems.map((stem) => [stem.bondPad, stem]));

export interface SolvedArc {
  readonly metal: ArcMetal;
  readonly network: RailNetwork;
  readonly solution: RailSolution;
  /** The arc's feeds in the order of the solution's. */
  readonly worst: { readonly at: number; readonly drop: number };
}

/** What each cell draws, mA: its outputs, and the core's current by the length of the cell. */
function drawsOf({ arc, loads, core }: LoadedArc): Float64Array {
  const draw = new Float64Array(arc.cells.length);
  for (const { at, load } of loads) draw[at] = (draw[at] ?? 0) + load.current;
  if (core > 0) {
    const total = arc.cells.reduce((sum, cell) => sum + cell.along, 0);
    for (const [i, cell] of arc.cells.entries()) draw[i] = (draw[i] ?? 0) + (core * cell.along) / total;
  }
  return draw;
}

/** Solves an arc, or says what is missing. */
export function solveArc(
  loaded: LoadedArc,
  metalOf: MetalOf,
  layers: Layers,
  stems: ReadonlyMap<number, Stem>,
): SolvedArc | Missing {
  const metal = arcMetal(loaded, metalOf);
  if ('missing' in metal) return metal;
  const draw = drawsOf(loaded);
  if (draw.every((taken) => taken === 0))
    return { missing: 'a current on it: of its outputs or of the core' };
  const feeds: { node: number; voltage: number; resistance: number }[] = [];
  for (const { at, pads } of loaded.feeds) {
    const own: number[] = [];
    for (const pad of pads) {
      const stem = stemResistance(pad, stems.get(pad.number), layers);
      if ('missing' in stem) return stem;
      own.push(stem.value);
    }
    feeds.push({ node: at, voltage: 0, resistance: parallel(own) });
  }
  const network: RailNetwork = {
    closed: loaded.arc.closed,
    resistance: metal.resistance,
    draw: draw.map((mA) => mA * 1e-3),
    feeds,
  };
  const solution = solveRail(network);
  if (solution === undefined) return { missing: 'a supply cell that feeds it' };
  let worst = { at: 0, drop: 0 };
  for (const [at, drop] of solution.drop.entries()) if (drop > worst.drop) worst = { at, drop };
  return { metal, network, solution, worst };
}

/** The stretch whose strips come nearest to, or furthest beyond, what their layer may carry. */
export interface Loaded {
  /** The cell where. */
  readonly at: number;
  /** The lane's current there, mA. */
  readonly current: number;
  readonly tightest: Tightest;
  /** Current over capacity. */
  readonly use: number;
}

export function mostLoaded(
  loaded: LoadedArc,
  { metal, solution }: SolvedArc,
  celsius: number | null,
  layers: Layers,
): Loaded | Missing {
  const n = loaded.arc.cells.length;
  const limits = new Map<LaneMetal, Tightest | Missing>();
  let most: Loaded | undefined;
  for (const [i, amperes] of solution.current.entries()) {
    const current = Math.abs(amperes) * 1e3;
    for (const at of [i, (i + 1) % n]) {
      const own = metal.cells[at];
      if (own === undefined) continue;
      let tightest = limits.get(own);
      if (tightest === undefined) {
        tightest = tightestOf(own, celsius, layers);
        limits.set(own, tightest);
      }
      if ('missing' in tightest) return tightest;
      const use = current / tightest.capacity;
      if (most === undefined || use > most.use) most = { at, current, tightest, use };
    }
  }
  return most ?? { missing: 'a second cell on it' };
}

/** Arcs of at most so many cells are tried cell by cell for one more supply. */
const TRY_ALL = 256;
/** On longer ones so many places are tried between the two feeds around the worst cell: elsewhere none can help it. */
const TRIES = 16;
/** And only the stretch of so many feeds to both sides is solved again: what a supply does fades at each of them. */
const FEEDS_AROUND = 8;

/** A stretch of an arc around its worst cell, its ends held at the voltages that they have. */
interface Stretch {
  readonly network: RailNetwork;
  /** The arc's cell at the stretch's first node. */
  readonly start: number;
  /** The worst drop beyond it. */
  readonly beyond: number;
  readonly places: readonly number[];
}

function stretchOf({ network, solution, worst }: SolvedArc): Stretch {
  const n = network.draw.length;
  const all = { network, start: 0, beyond: 0 };
  if (n <= TRY_ALL) return { ...all, places: [...network.draw.keys()] };
  const cell = (at: number): number => (network.closed ? (at + 2 * n) % n : at);
  const away = network.feeds
    .flatMap(({ node }) => (network.closed ? [node - n, node, node + n] : [node]))
    .sort((a, b) => a - b);
  const before = away.filter((at) => at <= worst.at);
  const after = away.filter((at) => at >= worst.at);
  const [near, far] = [before.at(-1) ?? 0, after[0] ?? n - 1];
  const places = [
    worst.at,
    ...Array.from({ length: TRIES }, (_, k) => Math.round(near + ((k + 1) * (far - near)) / (TRIES + 1))),
  ];
  const low = before.at(-FEEDS_AROUND) ?? 0;
  const high = after[FEEDS_AROUND - 1] ?? n - 1;
  if (high - low >= n - 1) return { ...all, places: places.map(cell) };
  const length = high - low + 1;
  const drop = (at: number): number => solution.drop[cell(at)] ?? 0;
  const hold = (node: number) => ({ node, voltage: -drop(low + node), resistance: 0 });
  const own = network.feeds.flatMap((feed) =>
    [feed.node - n, feed.node, feed.node + n].flatMap((at) =>
      at > low && at < high && (network.closed || at === feed.node) ? [{ ...feed, node: at - low }] : [],
    ),
  );
  let beyond = 0;
  for (let at = high; at < low + n; at++) if (network.closed || at < n) beyond = Math.max(beyond, drop(at));
  if (!network.closed) for (let at = 0; at < low; at++) beyond = Math.max(beyond, drop(at));
  return {
    network: {
      closed: false,
      resistance: Float64Array.from({ length: length - 1 }, (_, i) => network.resistance[cell(low + i)] ?? 0),
      draw: Float64Array.from({ length }, (_, i) => network.draw[cell(low + i)] ?? 0),
      feeds: [hold(0), ...own, hold(length - 1)],
    },
    start: low,
    beyond,
    places: places.map((at) => at - low).filter((at) => at > 0 && at < length - 1),
  };
}

/** What one more supply at the best place would leave of the worst drop. */
export function oneMore(loaded: LoadedArc, solved: SolvedArc): { at: number; drop: number } {
  const { network, start, beyond, places } = stretchOf(solved);
  const n = loaded.arc.cells.length;
  // The least of the present stems stands for the new one's.
  const resistance = solved.network.feeds.reduce(
    (least, feed) => Math.min(least, feed.resistance),
    Number.POSITIVE_INFINITY,
  );
  let best = solved.worst;
  for (const place of places) {
    const at = (start + place + 2 * n) % n;
    if (loaded.arc.cells[at]?.cell.side === null) continue;
    const again = solveRail({
      ...network,
      feeds: [...network.feeds, { node: place, voltage: 0, resistance }],
    });
    let drop = beyond;
    // Of a stretch drops count from the supply's voltage, not from its own held end.
    for (const value of again?.voltage ?? []) drop = Math.max(drop, -value);
    if (drop < best.drop) best = { at, drop };
  }
  return best;
}

/** The resistance along an arc between the middles of two of its cells, ohm. */
export const alongArc = (loaded: LoadedArc, { resistance }: ArcMetal): ((a: number, b: number) => number) =>
  resistanceBetween({ closed: loaded.arc.closed && loaded.arc.cells.length > 1, resistance });
