/**
 * Discharge from each pad to each other one: the path of least voltage at the peak current, one clamp at a time
 * carrying all of it, which is no less than what clamps that share it would drop. Volts, ohm, ampere.
 */
import type { BondPad } from '../format/placement.ts';
import type { Drop, Jump, PadEnds, Roads, Spot } from './paths.ts';

export interface Discharge {
  /** Peak current, A. */
  readonly peak: number;
  readonly roads: Roads;
  /** The resistance between two cells of an arc. */
  readonly along: readonly ((a: number, b: number) => number)[];
  readonly stem: (pad: BondPad) => number;
}

/** One element of a path and what it drops. */
export interface Leg {
  readonly what: 'stem' | 'diode' | 'rail' | 'clamp' | 'break diode';
  readonly arc: number | null;
  readonly cell: string | null;
  readonly volts: number;
}

export interface DischargePath {
  readonly from: PadEnds;
  readonly to: PadEnds;
  readonly legs: readonly Leg[];
  /** Along rails and stems. */
  readonly rail: number;
  /** Of all elements, those whose drop is not known counted as nothing. */
  readonly total: number;
  /** Elements whose drop the library does not say. */
  readonly unknown: readonly string[];
  /** What the rail alone would drop between the two, however many clamps there were. */
  readonly floor: number;
}

export interface Searched {
  /** The worst path from each pad that was searched from. */
  readonly worst: readonly DischargePath[];
  /** Pairs of pads without any path. */
  readonly none: readonly { readonly from: PadEnds; readonly to: PadEnds }[];
  /** From how many of all pads paths were searched; those furthest from a clamp come first. */
  readonly sources: number;
  readonly pads: number;
}

/** Of more clamps and diodes than this on one arc a part is taken: without the others paths only get longer. */
const MOST_STATIONS = 128;
/** How many steps of work are spent before the sources are cut down. */
const WORK = 2e7;
const FEWEST_SOURCES = 8;
/** How many pairs without a path are gathered. */
const MOST_PATHLESS = 10_000;

interface Station extends Spot {
  readonly jumps: readonly number[];
}

export function searchDischarge(discharge: Discharge): Searched {
  const { roads } = discharge;
  const net = networkOf(discharge);
  const perSource =
    net.stations.length ** 2 + roads.pads.length * Math.min(net.stations.length, MOST_STATIONS) + 1;
  const sources = Math.min(roads.pads.length, Math.max(FEWEST_SOURCES, Math.floor(WORK / perSource)));
  const starts = sources === roads.pads.length ? roads.pads : furthest(net, roads.pads, sources);
  const worst: DischargePath[] = [];
  const none: { from: PadEnds; to: PadEnds }[] = [];
  for (const from of starts) {
    const reached = net.reach(from);
    let most: { to: PadEnds; volts: number } | undefined;
    for (const to of roads.pads) {
      if (to.pad.net === from.pad.net) continue;
      const volts = net.arrive(from, reached, to).volts;
      if (volts === Number.POSITIVE_INFINITY) {
        if (none.length < MOST_PATHLESS) none.push({ from, to });
      } else if (most === undefined || volts > most.volts) most = { to, volts };
    }
    if (most !== undefined) worst.push(net.path(from, reached, most.to));
  }
  return { worst, none, sources: starts.length, pads: roads.pads.length };
}

interface Reached {
  /** Volts to each station, and the station and jump by which. */
  readonly volts: Float64Array;
  readonly before: Int32Array;
  readonly by: Int32Array;
}

interface Network {
  readonly stations: readonly Station[];
  readonly reach: (from: PadEnds) => Reached;
  readonly arrive: (from: PadEnds, reached: Reached, to: PadEnds) => { volts: number; station: number };
  readonly path: (from: PadEnds, reached: Reached, to: PadEnds) => DischargePath;
  readonly nearest: (pad: PadEnds) => number;
}

function networkOf({ peak, roads, along, stem }: Discharge): Network {
  const stations = stationsOf(roads.jumps);
  const byArc = new Map<number, number[]>();
  const index = new Map<string, number>();
  for (const [i, { arc, at }] of stations.entries()) {
    index.set(`${arc}:${at}`, i);
    const list = byArc.get(arc);
    if (list === undefined) byArc.set(arc, [i]);
    else list.push(i);
  }
  const volts = (drop: Drop | undefined): number =>
    drop === undefined || drop === null ? 0 : drop.threshold + peak * drop.resistance;
  const rail = (arc: number, a: number, b: number): number => peak * (along[arc]?.(a, b) ?? 0);
  const entry = (pad: PadEnds): number => volts(pad.diode) + peak * stem(pad.pad);
  const at = (i: number): number => stations[i]?.at ?? 0;
  const targets = roads.jumps.map((jump) => index.get(`${jump.to.arc}:${jump.to.at}`) ?? -1);

  const reach = (from: PadEnds): Reached => {
    const n = stations.length;
    const reached: Reached = {
      volts: new Float64Array(n).fill(Number.POSITIVE_INFINITY),
      before: new Int32Array(n).fill(-1),
      by: new Int32Array(n).fill(-1),
    };
    const done = new Uint8Array(n);
    const better = (i: number, value: number, before: number, by: number): void => {
      if (!(value < (reached.volts[i] ?? 0))) return;
      reached.volts[i] = value;
      reached.before[i] = before;
      reached.by[i] = by;
    };
    for (const spot of from.out)
      for (const i of byArc.get(spot.arc) ?? [])
        better(i, entry(from) + rail(spot.arc, spot.at, at(i)), -1, -1);
    for (;;) {
      let next = -1;
      for (let i = 0; i < n; i++)
        if (done[i] === 0 && (next < 0 || (reached.volts[i] ?? 0) < (reached.volts[next] ?? 0))) next = i;
      const station = stations[next];
      const here = reached.volts[next] ?? Number.POSITIVE_INFINITY;
      if (station === undefined || here === Number.POSITIVE_INFINITY) return reached;
      done[next] = 1;
      for (const k of station.jumps) {
        const to = targets[k] ?? -1;
        if (to >= 0) better(to, here + volts(roads.jumps[k]?.drop), next, k);
      }
      // Along the arc only after a jump: the way here along it was already the shortest.
      if ((reached.by[next] ?? -1) >= 0)
        for (const i of byArc.get(station.arc) ?? [])
          if (done[i] === 0) better(i, here + rail(station.arc, station.at, at(i)), next, -1);
    }
  };

  const arrive = (from: PadEnds, reached: Reached, to: PadEnds): { volts: number; station: number } => {
    let best = { volts: Number.POSITIVE_INFINITY, station: -1 };
    for (const spot of to.into) {
      for (const start of from.out)
        if (start.arc === spot.arc) {
          const direct = entry(from) + rail(spot.arc, start.at, spot.at);
          if (direct < best.volts) best = { volts: direct, station: -1 };
        }
      for (const i of byArc.get(spot.arc) ?? []) {
        const value = (reached.volts[i] ?? 0) + rail(spot.arc, at(i), spot.at);
        if (value < best.volts) best = { volts: value, station: i };
      }
    }
    return { volts: best.volts + entry(to), station: best.station };
  };

  const path = (from: PadEnds, reached: Reached, to: PadEnds): DischargePath => {
    const legs: Leg[] = [];
    const unknown: string[] = [];
    const element = (what: Leg['what'], cell: string, drop: Drop | undefined): void => {
      if (drop === undefined) return;
      if (drop === null) unknown.push(`${what} in ${cell}`);
      legs.push({ what, arc: null, cell, volts: volts(drop) });
    };
    const railLeg = (arc: number, a: number, b: number): void => {
      if (a !== b) legs.push({ what: 'rail', arc, cell: null, volts: rail(arc, a, b) });
    };
    const stemLeg = (pad: BondPad): void => {
      const drop = peak * stem(pad);
      if (drop > 0) legs.push({ what: 'stem', arc: null, cell: pad.cell, volts: drop });
    };
    stemLeg(from.pad);
    element('diode', from.cell.cell.name, from.diode);
    const arrived = arrive(from, reached, to);
    const chain: number[] = [];
    for (let i = arrived.station; i >= 0; i = reached.before[i] ?? -1) chain.push(i);
    chain.reverse();
    let spot: Spot | undefined;
    for (const i of chain) {
      const station = stations[i];
      if (station === undefined) continue;
      const jump = roads.jumps[reached.by[i] ?? -1];
      const here = spot ?? nearestSpot(from.out, station, rail);
      if (jump !== undefined) element(jump.kind, jump.cell, jump.drop);
      else if (here !== undefined) railLeg(station.arc, here.at, station.at);
      spot = station;
    }
    const end = nearestSpot(to.into, spot ?? from.out[0], rail);
    const start = spot ?? (end === undefined ? undefined : nearestSpot(from.out, end, rail));
    if (start !== undefined && end !== undefined) railLeg(end.arc, start.at, end.at);
    element('diode', to.cell.cell.name, to.diode);
    stemLeg(to.pad);
    const railVolts = legs.reduce(
      (sum, leg) => sum + (leg.what === 'rail' || leg.what === 'stem' ? leg.volts : 0),
      0,
    );
    const total = legs.reduce((sum, leg) => sum + leg.volts, 0);
    const stems = peak * (stem(from.pad) + stem(to.pad));
    return { from, to, legs, rail: railVolts, total, unknown, floor: stems + floorOf(from, to, rail) };
  };

  const nearest = (pad: PadEnds): number => {
    let least = Number.POSITIVE_INFINITY;
    for (const spot of pad.out)
      for (const i of byArc.get(spot.arc) ?? []) least = Math.min(least, rail(spot.arc, spot.at, at(i)));
    return entry(pad) + least;
  };
  return { stations, reach, arrive, path, nearest };
}

type RailDrop = (arc: number, a: number, b: number) => number;

function nearestSpot(spots: readonly Spot[], to: Spot | undefined, rail: RailDrop): Spot | undefined {
  if (to === undefined) return spots[0];
  const own = spots.filter((spot) => spot.arc === to.arc);
  return own.sort((a, b) => rail(to.arc, a.at, to.at) - rail(to.arc, b.at, to.at))[0];
}

/** The less of what the two pads' rails drop between their cells, where one rail passes both. */
function floorOf(from: PadEnds, to: PadEnds, rail: RailDrop): number {
  let least = Number.POSITIVE_INFINITY;
  for (const a of [...from.out, ...from.into])
    for (const b of [...to.out, ...to.into])
      if (a.arc === b.arc) least = Math.min(least, rail(a.arc, a.at, b.at));
  return least === Number.POSITIVE_INFINITY ? 0 : least;
}

/** The places on rails where a jump starts or ends; of very many on one arc an even part. */
function stationsOf(jumps: readonly Jump[]): readonly Station[] {
  const all = new Map<string, { arc: number; at: number; jumps: number[] }>();
  const station = ({ arc, at }: Spot) => {
    const key = `${arc}:${at}`;
    const known = all.get(key) ?? { arc, at, jumps: [] };
    all.set(key, known);
    return known;
  };
  for (const [k, jump] of jumps.entries()) {
    station(jump.from).jumps.push(k);
    station(jump.to);
  }
  const byArc = new Map<number, Station[]>();
  for (const one of all.values()) {
    const list = byArc.get(one.arc);
    if (list === undefined) byArc.set(one.arc, [one]);
    else list.push(one);
  }
  return [...byArc.values()].flatMap((list) => {
    if (list.length <= MOST_STATIONS) return list;
    const sorted = list.toSorted((a, b) => a.at - b.at);
    return Array.from(
      { length: MOST_STATIONS },
      (_, k) => sorted[Math.floor((k * sorted.length) / MOST_STATIONS)],
    ).flatMap((one) => one ?? []);
  });
}

/** The pads that are furthest from a clamp or diode. */
const furthest = (net: Network, pads: readonly PadEnds[], count: number): readonly PadEnds[] =>
  pads
    .map((pad) => ({ pad, volts: net.nearest(pad) }))
    .sort((a, b) => b.volts - a.volts)
    .slice(0, count)
    .map(({ pad }) => pad);
