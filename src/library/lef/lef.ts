/**
 * What a LEF file says about cells and layers, as far as a ring needs it (LEF/DEF language reference, version 5.8, from
 * memory). Shapes are in the macro's frame after its ORIGIN has been applied, so its outline's lower-left corner is (0, 0).
 */
import type { Extent, Rect } from '../../geometry/side.ts';
import type { Units } from '../../geometry/units.ts';
import type { Place } from '../../problems/problem.ts';

export interface LefShape extends Rect {
  readonly layer: string;
}

export const LEF_DIRECTIONS = ['INPUT', 'OUTPUT', 'INOUT', 'FEEDTHRU'] as const;
export type LefDirection = (typeof LEF_DIRECTIONS)[number];

export interface LefPin {
  readonly name: string;
  readonly place: Place;
  /** INPUT where the file does not say. */
  readonly direction: LefDirection;
  /** SIGNAL where the file does not say. */
  readonly use: string;
  readonly shapes: readonly LefShape[];
}

export interface LefMacro {
  readonly name: string;
  readonly place: Place;
  /** Class and subclass, in capitals; empty where the file does not say. */
  readonly classes: readonly string[];
  readonly size: Extent | null;
  /** X, Y and R90 as listed; null where the file does not say. */
  readonly symmetry: readonly string[] | null;
  /** Whether FOREIGN sets the drawing off from the macro. */
  readonly foreignOffset: boolean;
  readonly pins: readonly LefPin[];
}

export interface LefLayer {
  readonly name: string;
  readonly type: string;
  /** The default width of a wire. */
  readonly width: Units | null;
  /** Ohm a square. */
  readonly sheetResistance: number | null;
  readonly thickness: Units | null;
  /** Direct current in mA per micrometre of width: one figure, or several by wire width. */
  readonly currentDensity: readonly { readonly width: Units | null; readonly limit: number }[];
}

export interface Lef {
  readonly file: string;
  readonly macros: readonly LefMacro[];
  readonly layers: readonly LefLayer[];
}
