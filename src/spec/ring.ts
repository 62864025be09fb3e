/**
 * The resolved ring: what the user wrote, checked, every default filled in, every length exact, and every name
 * replaced by what it names. Plan, fit and place read this and nothing else.
 */
import type { Side } from '../geometry/side.ts';
import type { Units } from '../geometry/units.ts';
import type { Footprint, Library } from '../library/footprint.ts';
import type { Place } from '../problems/problem.ts';
import type { Electrical } from './electrical.ts';
import type { Layout } from './layout.ts';
import type { DieWish, Order } from './order.ts';
import type { Package } from './package.ts';

/**
 * `inline`: one row of bond pads outside the cells. `staggered`: two rows outside. `over-circuit`: one or two
 * rows over the cells. `in-cell`: each cell contains its pad.
 */
export const STYLES = ['inline', 'staggered', 'over-circuit', 'in-cell'] as const;
export type Style = (typeof STYLES)[number];

/** Where what stays over on a side goes; `toward-fingers`: wherever pads come nearest to their bond fingers. */
export const SLACKS = ['after', 'before', 'around', 'shared', 'toward-fingers'] as const;
export type Slack = (typeof SLACKS)[number];

export type RowName = 'outer' | 'inner';

export interface PadKind {
  readonly name: string;
  readonly along: Units;
  readonly deep: Units;
  readonly opening: { readonly along: Units; readonly deep: Units };
}

/** One cell of a side as the user lists it. */
export interface Entry {
  /** The pin of each of the footprint's landings, in the landings' order; empty for a cell without pins. */
  readonly pins: readonly string[];
  /** The net of each pin. */
  readonly nets: readonly string[];
  readonly footprint: Footprint;
  readonly section: string;
  /** Where the cell's start edge must stand along s, from the side's die corner; null lets it move. */
  readonly at: Units | null;
  /** The least gap before the cell. */
  readonly gap: Units;
  /** The row of its bond pads; null takes turns. */
  readonly row: RowName | null;
  /** The bond pad's shift along s from its landing. */
  readonly shift: Units;
  readonly mirrored: boolean;
  /** The bond pads' kind; null: the cell gets none. Not used where the footprint contains its pads. */
  readonly pad: PadKind | null;
  /** Inputs toward the core that are held at a constant, by the name of the footprint's signal. */
  readonly tied?: Readonly<Record<string, 0 | 1>>;
  readonly place: Place;
}

export interface SideSpec {
  readonly style: Style;
  readonly slack: Slack;
  readonly entries: readonly Entry[];
}

export interface Section {
  readonly name: string;
  /** The net on each lane. */
  readonly lanes: ReadonlyMap<string, string>;
  /** Lanes that are supply and ground of each other. */
  readonly pairs: readonly { readonly supply: string; readonly ground: string }[];
}

/** What neighbours owe each other. */
export type NeighbourRule =
  /** The pins stand side by side, with no other bond pad between. */
  | { readonly kind: 'together'; readonly pins: readonly string[] }
  /** Every bond pad of the first group keeps a distance, centre to centre, from every one of the second. */
  | {
      readonly kind: 'apart';
      readonly pins: readonly string[];
      readonly from: readonly string[];
      readonly distance: Units;
    }
  /** Each supply cell of these nets has a cell of its ground as a direct neighbour. */
  | { readonly kind: 'beside-ground'; readonly nets: readonly string[] }
  /** At most so many signal pads lie between two ground pads of a section. */
  | { readonly kind: 'signals-between-grounds'; readonly most: number; readonly sections: readonly string[] };

export type Severity = 'error' | 'warning' | 'note';

export interface Waiver {
  readonly rule: string;
  readonly items: readonly string[];
  readonly reason: string;
}

export interface Ring {
  readonly name: string;
  readonly grid: Units;
  /** Silicon is drawn times this. */
  readonly shrink: number;
  readonly library: Library;
  /** The given die, or null: the least that holds ring and core. */
  readonly die: { readonly width: Units; readonly height: Units } | null;
  readonly edge: { readonly street: Units; readonly seal: Units; readonly clearance: Units };
  readonly core: { readonly width: Units; readonly height: Units; readonly clearance: Units };
  readonly pads: {
    /** Least centre-to-centre pitch of one row. */
    readonly pitch: Units;
    /** Least metal to metal. */
    readonly spacing: Units;
    /** Least opening to opening. */
    readonly openingSpacing: Units;
    /** Least metal beyond the opening. */
    readonly openingInset: Units;
    /** Distance of the opening to the seal ring's inner edge. */
    readonly openingToSeal: { readonly least: Units; readonly most: Units | null };
    /** From a bond pad's inner edge to the cells, inline and staggered. */
    readonly toCell: Units;
  };
  readonly rows: {
    /** Rows of an over-circuit side: 1 or 2. */
    readonly overCircuit: 1 | 2;
    /** Between the outer and the inner row. */
    readonly gap: Units;
    readonly first: RowName;
    /** Over circuit: from the cells' outward edge to the outer row. */
    readonly inset: Units;
  };
  readonly stems: { readonly width: Units; readonly spacing: Units; readonly layers: readonly string[] };
  readonly corners: {
    /** Least distance along s of a pad centre to the die corner. */
    readonly clearance: Units;
    /** The pitch that the first pads from a corner keep, in steps: the first `pads` of them at least `pitch`. */
    readonly pitches: readonly { readonly pads: number; readonly pitch: Units }[];
    readonly footprint: Footprint;
  };
  readonly numbering: {
    readonly side: Side;
    /** Whether pad 1 is the first or the last of the side, counter-clockwise. */
    readonly end: 'first' | 'last';
    readonly direction: 'counter-clockwise' | 'clockwise';
  };
  readonly fillers: readonly Footprint[];
  readonly breaks: readonly Footprint[];
  readonly sections: readonly Section[];
  readonly sides: Readonly<Record<Side, SideSpec>>;
  /** Where given, the sides have no entries until the order is cut. */
  readonly order?: Order;
  /** Where given, the die is found within it. */
  readonly dieWish?: DieWish;
  readonly neighbours: readonly NeighbourRule[];
  readonly severities: ReadonlyMap<string, Severity>;
  readonly waivers: readonly Waiver[];
  /** What the die is bonded into, where that is given. */
  readonly package?: Package;
  /** What the ring has to carry, where that is given. */
  readonly electrical?: Electrical;
  /** What the layout formats need, where that is given. */
  readonly layout?: Layout;
  readonly place: Place;
  /** Where the description speaks of the die; where it does not, the same. */
  readonly diePlace: Place;
}
