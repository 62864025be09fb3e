/** The resolved electrical demands: currents mA, voltages V, loads pF, times ns, slopes mA/ns, inductances nH. */
import type { Units } from '../geometry/units.ts';
import type { Footprint } from '../library/footprint.ts';
import type { Place } from '../problems/problem.ts';
import type { EDGE_SHAPES } from './electrical-schema.ts';
import type { WireMetal } from './package.ts';

export interface OutputGroup {
  readonly name: string;
  readonly pins: readonly string[];
  readonly current: number | null;
  readonly slope: number | null;
  readonly load: number | null;
  readonly swing: number | null;
  readonly edge: { readonly time: number; readonly shape: (typeof EDGE_SHAPES)[number] } | null;
}

export interface Electrical {
  readonly celsius: number | null;
  readonly wires: {
    readonly metal: WireMetal;
    readonly diameter: Units;
    readonly length: Units;
    readonly lead: number | null;
  } | null;
  /** By supply net. */
  readonly core: ReadonlyMap<string, number>;
  readonly outputs: readonly OutputGroup[];
  readonly together: readonly (readonly string[])[];
  /** By section. */
  readonly noise: ReadonlyMap<string, number>;
  /** By net. */
  readonly drop: ReadonlyMap<string, number>;
  readonly discharge: {
    readonly level: number;
    readonly rail: number | null;
    readonly path: number | null;
  } | null;
  readonly decoupling: { readonly chip: number | null; readonly package: number | null } | null;
  readonly supplies: {
    readonly set: boolean;
    /** The cell to set for a lane. */
    readonly cells: ReadonlyMap<string, Footprint>;
    readonly spare: number;
  };
  readonly coreStrips: {
    readonly nets: readonly string[];
    readonly layer: string;
    readonly width: Units | null;
    readonly spacing: Units;
    readonly clearance: Units;
  } | null;
  readonly place: Place;
}
