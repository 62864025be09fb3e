/**
 * The wires of bond pads: actual ones where the caller knows them, else nominal ones, straight out from the pad
 * across its side, all at one height. Lengths are micrometres, inductances nH.
 */
import { bundle, inductanceMatrix, togetherInductance, type Wire, wireLength } from '../figures/coupled.ts';
import { parallelMutual, selfInductance, wireCurrent } from '../figures/wires.ts';
import type { BondPad, ElectricalRules, PlacedPackage } from '../format/placement.ts';
import type { Side } from '../geometry/side.ts';

export type WireMetal = NonNullable<ElectricalRules['wires']>['metal'];

/** How wires are made, and the wires of each bond pad by its number. */
export interface Bonding {
  readonly metal: WireMetal;
  readonly diameter: number;
  /** Nominal length, or the mean of the actual ones. */
  readonly length: number;
  readonly lead: number;
  readonly actual: boolean;
  readonly of: (pad: BondPad) => readonly Wire[];
}

/** Actual wires in the die's axes, by the number of their bond pad. */
export type ActualWires = ReadonlyMap<number, readonly Wire[]>;

const OUTWARD: Readonly<Record<Side, readonly [number, number]>> = {
  left: [-1, 0],
  bottom: [0, -1],
  right: [1, 0],
  top: [0, 1],
};

/** The bonding of a placement; undefined where neither wires nor a package are given. */
export function bondingOf(
  rules: ElectricalRules,
  bonded: PlacedPackage | undefined,
  actual: ActualWires | undefined,
): Bonding | undefined {
  if (bonded !== undefined && actual !== undefined) {
    const all = [...actual.values()].flat();
    if (all.length === 0) return undefined;
    return {
      metal: bonded.wires.metal,
      diameter: bonded.wires.diameter,
      length: all.reduce((sum, wire) => sum + wireLength(wire), 0) / all.length,
      lead: bonded.wires.lead ?? 0,
      actual: true,
      of: (pad) => actual.get(pad.number) ?? [],
    };
  }
  const { wires } = rules;
  if (wires === null) return undefined;
  const lead = wires.lead ?? 0;
  return {
    metal: wires.metal,
    diameter: wires.diameter,
    length: wires.length,
    lead,
    actual: false,
    of: ({ x, y, side }) => {
      const [dx, dy] = OUTWARD[side];
      const end = [x + dx * wires.length, y + dy * wires.length, 0] as const;
      return [{ places: [[x, y, 0], end], diameter: wires.diameter, lead }];
    },
  };
}

/** The current in mA that one wire may carry; the longest decides where they are actual. */
export function currentOfWire(bonding: Bonding, wires: readonly Wire[]): { current: number; length: number } {
  const length = wires.reduce((most, wire) => Math.max(most, wireLength(wire)), 0) || bonding.length;
  return { current: 1e3 * wireCurrent(bonding.metal, bonding.diameter, length), length };
}

/** A dense matrix of more wires than this is not made: fewer wires make more inductance, so a part of them is a bound. */
export const MOST_COUPLED = 256;

export interface Together {
  readonly inductance: number;
  readonly wires: number;
  /** How many of them were taken into the matrix. */
  readonly taken: number;
}

/** What wires are together, with all their couplings; undefined of none, or where no real wires could be so. */
export function wiresTogether(wires: readonly Wire[]): Together | undefined {
  const step = Math.max(1, wires.length / MOST_COUPLED);
  const taken: Wire[] = [];
  for (let i = 0; taken.length < Math.min(wires.length, MOST_COUPLED); i += step) {
    const wire = wires[Math.floor(i)];
    if (wire === undefined) break;
    taken.push(wire);
  }
  if (taken.length === 0) return undefined;
  const inductance = togetherInductance(inductanceMatrix(taken));
  return inductance === undefined ? undefined : { inductance, wires: wires.length, taken: taken.length };
}

/** A stretch of an arc where wires could start: its side, where it starts along it, and its length. */
export interface Stand {
  readonly side: Side;
  readonly s: number;
  readonly along: number;
}

/** The places of n wires spread evenly over stretches, by side, in order. */
function evenPlaces(stands: readonly Stand[], n: number): ReadonlyMap<Side, readonly number[]> {
  const total = stands.reduce((sum, { along }) => sum + along, 0);
  const places = new Map<Side, number[]>();
  let [passed, k] = [0, 0];
  for (const { side, s, along } of stands) {
    const row = places.get(side) ?? [];
    places.set(side, row);
    for (; k < n; k++) {
      const way = ((k + 0.5) * total) / n - passed;
      if (way > along) break;
      row.push(s + way);
    }
    passed += along;
  }
  return places;
}

/**
 * What n nominal wires, spread evenly over an arc, are together. Wires of unlike sides are taken as uncoupled:
 * those at a right angle are, and those of opposite sides run against each other, which only helps.
 */
export function evenTogether(bonding: Bonding, stands: readonly Stand[], n: number): number | undefined {
  const self = selfInductance(bonding.length, bonding.diameter) + bonding.lead;
  let inverse = 0;
  for (const row of evenPlaces(stands, n).values()) {
    if (row.length === 0) continue;
    const grown = bundle();
    for (const s of row) {
      // Closer than their own thickness no two wires stand.
      const beside = (j: number): number => Math.max(bonding.diameter, Math.abs(s - (row[j] ?? 0)));
      if (!grown.add(self, (j) => parallelMutual(bonding.length, beside(j)))) return undefined;
    }
    inverse += 1 / grown.inductance();
  }
  return inverse > 0 ? 1 / inverse : undefined;
}
