/**
 * What the metal of a lane does inside one cell: its strips in parallel from edge to edge, how they share a current,
 * and what the layers may carry. Resistances are ohm, lengths micrometres, limits mA per micrometre of width.
 */
import { stripResistance } from '../figures/strips.ts';
import type { ElectricalRules, PlacedFootprint } from '../format/placement.ts';

type Layers = ReadonlyMap<string, ElectricalRules['layers'][number]>;

export const layersOf = (rules: ElectricalRules): Layers =>
  new Map(rules.layers.map((layer) => [layer.name, layer]));

/** A strip as the current meets it. */
export interface StripPart {
  readonly layer: string;
  readonly width: number;
  readonly resistance: number;
  /** Its part of the lane's current. */
  readonly share: number;
}

export interface LaneMetal {
  readonly resistance: number;
  readonly parts: readonly StripPart[];
}

export interface Missing {
  readonly missing: string;
}

interface Path {
  readonly layer: string;
  readonly straight: number;
  readonly width: number;
  readonly corners: number;
}

/** Along the side that follows a corner cell and along the one before it. */
function cornerExtents({ width, height, drawnFor }: PlacedFootprint): {
  readonly following: number;
  readonly before: number;
} {
  return drawnFor === 'left' || drawnFor === 'right'
    ? { following: width, before: height }
    : { following: height, before: width };
}

const alongOf = ({ width, height, drawnFor }: PlacedFootprint): number =>
  drawnFor === 'bottom' || drawnFor === 'top' ? width : height;

/** The lane's strips that run through, each as a path from edge to edge. */
function pathsOf(footprint: PlacedFootprint, lane: string): readonly Path[] {
  const strips = footprint.lanes
    .filter((l) => l.lane === lane)
    .flatMap((l) => l.strips)
    .filter((strip) => strip.carry === 'through');
  if (footprint.role !== 'corner') {
    const along = alongOf(footprint);
    return strips.map((s) => ({ layer: s.layer, straight: along, width: s.to - s.from, corners: 0 }));
  }
  const { following, before } = cornerExtents(footprint);
  // A strip of both edges turns at the square where its two arms meet; a pair of one edge each does so too.
  const arms = (edge: 'start' | 'end') =>
    strips
      .filter((s) => s.edges === 'both' || s.edges === edge)
      .sort((a, b) => (a.layer < b.layer ? -1 : a.layer > b.layer ? 1 : a.from - b.from));
  const leaving = arms('end');
  return arms('start').flatMap((arrive, i) => {
    const leave = leaving[i];
    if (leave === undefined || leave.layer !== arrive.layer) return [];
    const straight = before - leave.to + (following - arrive.to);
    return [
      {
        layer: arrive.layer,
        straight,
        width: (arrive.to - arrive.from + leave.to - leave.from) / 2,
        corners: 1,
      },
    ];
  });
}

/** A picometre: no strip is narrower. */
const LEAST_WIDTH = 1e-6;

/** The metal of a lane through one cell, or what is not known of it. */
export function laneMetal(footprint: PlacedFootprint, lane: string, layers: Layers): LaneMetal | Missing {
  const paths = pathsOf(footprint, lane);
  if (paths.length === 0) return { missing: `strips of lane ${lane} through cell ${footprint.name}` };
  let conductance = 0;
  const resistances: number[] = [];
  for (const { layer, straight, width, corners } of paths) {
    const sheet = layers.get(layer)?.sheetResistance ?? null;
    if (sheet === null) return { missing: `the sheet resistance of layer ${layer}` };
    const resistance = stripResistance(sheet, straight, width, corners);
    // The checker says what is wrong with such strips; no figure could be worked out of them.
    if (!(width >= LEAST_WIDTH && resistance > 0))
      return { missing: `strips of lane ${lane} with an extent through cell ${footprint.name}` };
    resistances.push(resistance);
    conductance += 1 / resistance;
  }
  return {
    resistance: 1 / conductance,
    parts: paths.map(({ layer, width }, i) => {
      const resistance = resistances[i] ?? 0;
      return { layer, width, resistance, share: 1 / resistance / conductance };
    }),
  };
}

/** A limit with the temperature at which the library gives it. */
export interface Limit {
  readonly perMicrometre: number;
  /** Null where the library does not say at which. */
  readonly celsius: number | null;
}

/** A layer's limit at a temperature: the one that the library gives at the next hotter one. */
export function limitOf(layer: string, celsius: number | null, layers: Layers): Limit | Missing {
  const limits = layers.get(layer)?.limits ?? [];
  const always = limits.find((limit) => limit.celsius === null);
  if (always !== undefined) return always;
  if (limits.length === 0) return { missing: `the current limit of layer ${layer}` };
  if (celsius === null) return { missing: 'the temperature, at which current limits hold' };
  const hot = limits
    .filter((limit) => limit.celsius !== null && limit.celsius >= celsius)
    .sort((a, b) => (a.celsius ?? 0) - (b.celsius ?? 0))[0];
  return hot ?? { missing: `a current limit of layer ${layer} at ${celsius} degC or hotter` };
}

/** The strip that a lane's current loads most against its limit. */
export interface Tightest {
  readonly layer: string;
  /** What the lane carries in mA when this strip is at its limit. */
  readonly capacity: number;
  readonly width: number;
  readonly share: number;
  readonly limit: Limit;
}

/** What a lane may carry through a cell, or what is not known. */
export function tightestOf(metal: LaneMetal, celsius: number | null, layers: Layers): Tightest | Missing {
  let tightest: Tightest | undefined;
  for (const { layer, width, share } of metal.parts) {
    const limit = limitOf(layer, celsius, layers);
    if ('missing' in limit) return limit;
    const capacity = (limit.perMicrometre * width) / share;
    if (tightest === undefined || capacity < tightest.capacity)
      tightest = { layer, capacity, width, share, limit };
  }
  return tightest ?? { missing: 'strips' };
}

export type { Layers };
