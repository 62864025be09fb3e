/**
 * The places where a discharge can go: from a bond pad through its diode onto a rail, along it, through a clamp to
 * the other rail, across a break cell's diodes, and through a diode to another pad. A rail between two places counts
 * with its resistance between them, both ways round a loop.
 */
import type { BondPad, PlacedFootprint, Placement } from '../format/placement.ts';
import type { RingCell } from './arcs.ts';
import type { LoadedArc } from './groups.ts';
import { lanesOfPad } from './loads.ts';

/** What a one-way element drops; null where the library does not say. */
export type Drop = { readonly threshold: number; readonly resistance: number } | null;

/** A place on a rail: the arc and the cell on it. */
export interface Spot {
  readonly arc: number;
  readonly at: number;
}

/** From one rail to another. */
export interface Jump {
  readonly from: Spot;
  readonly to: Spot;
  readonly kind: 'clamp' | 'break diode';
  readonly cell: string;
  readonly drop: Drop;
}

/** How a bond pad joins rails: by its own metal, or through a diode that only passes one way. */
export interface PadEnds {
  readonly pad: BondPad;
  readonly cell: RingCell;
  readonly kind: 'signal' | 'supply' | 'ground';
  /** Where current that enters the pad goes on; none where it cannot. */
  readonly out: readonly Spot[];
  /** From where current that leaves the pad comes. */
  readonly into: readonly Spot[];
  /** Its diode's drop; undefined where the pad joins the rail itself. */
  readonly diode: Drop | undefined;
}

export interface Roads {
  readonly jumps: readonly Jump[];
  readonly pads: readonly PadEnds[];
  /** Pads whose lanes nothing tells. */
  readonly unknown: readonly string[];
}

export function roadsOf(placement: Placement, ring: readonly RingCell[], arcs: readonly LoadedArc[]): Roads {
  const spots = new Map<string, Map<string, Spot>>();
  for (const [arc, { arc: own }] of arcs.entries()) {
    const onLane = spots.get(own.lane) ?? new Map<string, Spot>();
    spots.set(own.lane, onLane);
    for (const [at, { cell }] of own.cells.entries()) onLane.set(cell.name, { arc, at });
  }
  const spotOf = (lane: string, { cell }: RingCell): Spot | undefined => spots.get(lane)?.get(cell.name);
  return { jumps: jumpsOf(ring, spotOf), ...padsOf(placement, ring, spotOf) };
}

type SpotOf = (lane: string, cell: RingCell) => Spot | undefined;

function jumpsOf(ring: readonly RingCell[], spotOf: SpotOf): readonly Jump[] {
  const jumps: Jump[] = [];
  const bothWays = (a: Spot | undefined, b: Spot | undefined, rest: Omit<Jump, 'from' | 'to'>): void => {
    if (a === undefined || b === undefined || a === b) return;
    jumps.push({ from: a, to: b, ...rest }, { from: b, to: a, ...rest });
  };
  for (const [i, cell] of ring.entries()) {
    const { clamps, diodes, electrical } = cell.footprint;
    // Backward a clamp conducts as a diode; its forward drop is taken, which is not less.
    for (const { supply, ground } of clamps)
      bothWays(spotOf(supply, cell), spotOf(ground, cell), {
        kind: 'clamp',
        cell: cell.cell.name,
        drop: electrical?.clamp ?? null,
      });
    if (diodes.length === 0) continue;
    const before = ring[(i + ring.length - 1) % ring.length];
    const after = ring[(i + 1) % ring.length];
    if (before === undefined || after === undefined) continue;
    for (const lane of diodes)
      bothWays(spotOf(lane, before), spotOf(lane, after), {
        kind: 'break diode',
        cell: cell.cell.name,
        drop: electrical?.breakDiode ?? null,
      });
  }
  return jumps;
}

function padsOf(placement: Placement, ring: readonly RingCell[], spotOf: SpotOf): Omit<Roads, 'jumps'> {
  const kinds = new Map(placement.nets.map((net) => [net.name, net.kind]));
  const sections = new Map(placement.sections.map((section) => [section.name, section]));
  const pads: PadEnds[] = [];
  const unknown: string[] = [];
  const some = (spot: Spot | undefined): readonly Spot[] => (spot === undefined ? [] : [spot]);
  for (const cell of ring)
    for (const pad of cell.pads) {
      const feeds = feedsOf(cell.footprint, pad);
      if (feeds.length > 0) {
        const own = feeds.flatMap((lane) => some(spotOf(lane, cell)));
        const kind = kinds.get(pad.net) ?? 'signal';
        pads.push({ pad, cell, kind, out: own, into: own, diode: undefined });
        continue;
      }
      const lanes = lanesOfPad(cell.cell, cell.footprint, sections);
      if (lanes === undefined) unknown.push(pad.pin);
      else
        pads.push({
          pad,
          cell,
          kind: 'signal',
          out: some(spotOf(lanes.supply, cell)),
          into: some(spotOf(lanes.ground, cell)),
          diode: cell.footprint.electrical?.padDiode ?? null,
        });
    }
  return { pads, unknown };
}

const feedsOf = (footprint: PlacedFootprint, pad: BondPad): readonly string[] =>
  footprint.landings.find((landing) => landing.name === pad.landing)?.feeds ?? [];
