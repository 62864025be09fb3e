/**
 * What the pins draw and switch: for every cell with an output that is described, the lanes that it works on, its
 * direct current and the greatest change of its current. Currents are mA, slopes mA/ns.
 */
import { switchedCharge } from '../figures/decoupling.ts';
import { currentSlope } from '../figures/noise.ts';
import type { ElectricalRules, PlacedCell, PlacedFootprint, Placement } from '../format/placement.ts';

export type Output = ElectricalRules['outputs'][number];

export interface Load {
  readonly pin: string;
  readonly cell: string;
  readonly output: string;
  readonly supply: string;
  readonly ground: string;
  readonly current: number;
  /** Whether anything is said of how it switches; an output of which only a current is given does not. */
  readonly switches: boolean;
  /** Null where it does not switch, or its slope cannot be worked out. */
  readonly slope: number | null;
  /** pC in one edge; null where it does not switch, or load or swing is not given. */
  readonly charge: number | null;
}

/** The lanes that a cell's pad circuit works on: the library's word, or the section's only pair. */
export function lanesOfPad(
  cell: PlacedCell,
  footprint: PlacedFootprint,
  sections: ReadonlyMap<string, Placement['sections'][number]>,
): { readonly supply: string; readonly ground: string } | undefined {
  const pairs = sections.get(cell.section ?? '')?.pairs ?? [];
  const said = footprint.electrical?.drives;
  const pair = pairs.find(
    (p) => (said?.supply ?? p.supply) === p.supply && (said?.ground ?? p.ground) === p.ground,
  );
  const only = pairs.length === 1 ? pairs[0] : undefined;
  const supply = said?.supply ?? (said?.ground ? pair?.supply : only?.supply);
  const ground = said?.ground ?? (said?.supply ? pair?.ground : only?.ground);
  return supply === undefined || ground === undefined || supply === null || ground === null
    ? undefined
    : { supply, ground };
}

/** An output's slope by what is given: its own, from load and edge, or the library's for its cell. */
function slopeOf(output: Output, footprint: PlacedFootprint): number | null {
  if (output.slope !== null) return output.slope;
  const { load, swing, edge } = output;
  if (load !== null && swing !== null && edge !== null)
    return currentSlope(edge.shape, load, swing, edge.time);
  return footprint.electrical?.drives?.slope ?? null;
}

/** The loads of all described pins. */
export function loadsOf(placement: Placement, rules: ElectricalRules): readonly Load[] {
  const cells = new Map(placement.cells.flatMap((cell) => (cell.pins ?? []).map((pin) => [pin, cell])));
  const footprints = new Map(placement.footprints.map((f) => [f.name, f]));
  const sections = new Map(placement.sections.map((s) => [s.name, s]));
  return rules.outputs.flatMap((output) =>
    output.pins.flatMap((pin): Load[] => {
      const cell = cells.get(pin);
      const footprint = cell === undefined ? undefined : footprints.get(cell.footprint);
      if (cell === undefined || footprint === undefined) return [];
      const lanes = lanesOfPad(cell, footprint, sections);
      if (lanes === undefined) return [];
      const { load, swing } = output;
      const slope = slopeOf(output, footprint);
      return [
        {
          pin,
          cell: cell.name,
          output: output.name,
          ...lanes,
          current: output.current ?? 0,
          switches: slope !== null || load !== null,
          slope,
          charge: load === null || swing === null ? null : switchedCharge([{ load, swing }]),
        },
      ];
    }),
  );
}

/** The outputs that may switch at one time: every one by itself, and each set that is said to do so together. */
export const switchingSets = (rules: ElectricalRules): readonly (readonly string[])[] => [
  ...rules.outputs.map((output) => [output.name]),
  ...rules.together,
];
