/**
 * A cell as the ring sees it, in its own frame: s from the cell's start edge, t from its outward edge, as it
 * stands on the bottom side unmirrored. A corner cell is described as it stands after the left side, with x
 * along the bottom side and y along the left side.
 */
import type { Side, Turn } from '../geometry/side.ts';
import type { Units } from '../geometry/units.ts';

export const ROLES = [
  'signal',
  'analog',
  'supply',
  'clamp',
  'control',
  'macro',
  'break',
  'filler',
  'corner',
] as const;
export type Role = (typeof ROLES)[number];

/** A place where a bond pad joins the cell. */
export interface Landing {
  readonly name: string;
  /** Its centre along s. */
  readonly at: Units;
  /** The lanes that a bond pad here joins; none for a signal. Several are tied together. */
  readonly feeds: readonly string[];
  /** Where the cell contains the bond pad: its metal and opening; null where the pad stands elsewhere. */
  readonly inside: InsidePad | null;
}

export interface InsidePad {
  /** The pad's centre from the outward edge. */
  readonly t: Units;
  /** Metal along s and along t. */
  readonly along: Units;
  readonly deep: Units;
  readonly opening: { readonly along: Units; readonly deep: Units };
}

/** One strip of a lane: a layer and an extent along t, at which edges it shows, and whether it runs through. */
export interface Strip {
  readonly layer: string;
  readonly from: Units;
  readonly to: Units;
  /** `start` and `end` are the edges of low and high s; a corner cell's `start` is its edge to the side before. */
  readonly edges: 'both' | 'start' | 'end';
  readonly carry: 'through' | 'cut';
}

export interface FootprintLane {
  readonly lane: string;
  readonly strips: readonly Strip[];
}

/** How many of a footprint each section must have; `most` null means any number. */
export interface Demand {
  readonly least: number;
  readonly most: number | null;
}

export interface Footprint {
  readonly name: string;
  readonly role: Role;
  /** Extents of the library's own drawing, before any turn. */
  readonly drawn: { readonly width: Units; readonly height: Units };
  /**
   * The side at which the library's drawing stands unturned: its outward edge is the drawing's edge of that
   * name. For a corner cell: the side that it follows where it stands unturned.
   */
  readonly drawnFor: Side;
  /** Width along s and depth along t. For a corner cell: along the side that follows it, and along the one before. */
  readonly width: Units;
  readonly depth: Units;
  /** The outward edge's distance inward from the row's common outward edge. */
  readonly setback: Units;
  readonly landings: readonly Landing[];
  readonly lanes: readonly FootprintLane[];
  /** Groups of lanes that the cell joins inside, whether or not a bond pad feeds them. */
  readonly ties: readonly (readonly string[])[];
  /** Pairs of lanes between which the cell holds a discharge clamp. */
  readonly clamps: readonly { readonly supply: string; readonly ground: string }[];
  /** A break cell's lanes whose parted halves back-to-back diodes join. */
  readonly diodes: readonly string[];
  /** Whether a filler may be the only one in a gap; true for every other role. */
  readonly standsAlone: boolean;
  /** Whether a bond pad may lie on top. */
  readonly padOnTop: boolean;
  /** The turns of the library's drawing that are allowed, unmirrored and mirrored (x to -x first). */
  readonly turns: { readonly plain: readonly Turn[]; readonly mirrored: readonly Turn[] };
  /** Another footprint that stands for this one on the vertical sides, or null. */
  readonly onVertical: string | null;
  readonly perSection: Demand | null;
  /** Footprints of which this cell's section must have at least one. */
  readonly needs: readonly string[];
  /** The cell's signal pins toward the core, where the library lists them. */
  readonly signals?: readonly CoreSignal[];
  /** Where a strap from the core lands on the cell, where the library says. */
  readonly straps?: readonly Strap[];
  /** The direct current in mA that the cell may carry from its bond pad, where the library says. */
  readonly rating?: number;
  /** What the cell is to its lanes electrically, where the library says anything of it. */
  readonly electrical?: FootprintElectrical;
}

/** What a one-way element drops: a voltage, and a resistance in ohm beyond it. */
export interface OneWayDrop {
  readonly threshold: number;
  readonly resistance: number;
}

export interface FootprintElectrical {
  /** The lanes that the pad circuit works on, null left to the section; and its output's slope in mA/ns. */
  readonly drives: {
    readonly supply: string | null;
    readonly ground: string | null;
    readonly slope: number | null;
  } | null;
  /** Each of its clamps. */
  readonly clamp: OneWayDrop | null;
  /** From its pad to the supply lane, and from the ground lane to it. */
  readonly padDiode: OneWayDrop | null;
  /** Across a break, either way. */
  readonly breakDiode: OneWayDrop | null;
}

/** Metal of a lane that a strap from the core can reach. */
export interface Strap {
  readonly lane: string;
  readonly layer: string;
  /** Its centre along s and its width. */
  readonly at: Units;
  readonly width: Units;
  /** Its inner end: at the cell's inner edge or short of it. */
  readonly t: Units;
}

/** A signal pin toward the core, its direction seen from the cell. */
export interface CoreSignal {
  readonly name: string;
  readonly direction: 'input' | 'output' | 'inout';
  /** The centre of its metal at the cell's inner edge, where it reaches that. */
  readonly at?: { readonly s: Units; readonly t: Units };
}

export interface Library {
  readonly name: string;
  readonly footprints: ReadonlyMap<string, Footprint>;
  /** What is known of the metal layers, by name. */
  readonly layers?: ReadonlyMap<string, Metal>;
}

export interface Metal {
  /** Ohm a square. */
  readonly sheetResistance?: number;
  /** Greatest direct current per width, one entry a temperature, the coolest first. */
  readonly currentLimits?: readonly CurrentLimit[];
}

export interface CurrentLimit {
  /** Degrees Celsius; null where the library does not say at which. */
  readonly celsius: number | null;
  /** mA per micrometre of drawn width. */
  readonly perMicrometre: number;
}
