/**
 * The resolved package: bond fingers around the die, which pin goes to which, what the wires are, and the assembly
 * house's limits for them. Its frame has the cavity's centre as origin, x to the right, y up; its lengths are those
 * of the finished parts, on silicon where the die is meant.
 */
import type { Side } from '../geometry/side.ts';
import type { Units } from '../geometry/units.ts';
import type { Place } from '../problems/problem.ts';

/** The word that stands for the ground paddle where a finger could be named. */
export const PADDLE = 'paddle';

export const WIRE_METALS = ['gold', 'copper', 'aluminium', 'silver', 'other'] as const;
export type WireMetal = (typeof WIRE_METALS)[number];

/**
 * How pins find their fingers. `sides`: the pads of each die side go in order to the fingers that face it, those
 * that stay free shared between both ends. `order`: pad 1 to the first finger, and on around. `names`: each pin to
 * the finger of its own name.
 */
export const BOND_ORDERS = ['sides', 'order', 'names'] as const;
export type BondOrder = (typeof BOND_ORDERS)[number];

export interface Finger {
  readonly name: string;
  /** Where wires end on it. */
  readonly x: Units;
  readonly y: Units;
  /** Across its own direction. */
  readonly width: Units;
  /** The direction in which it leads away from the die: degrees counter-clockwise from the x axis. */
  readonly angle: number;
  /** From 1, the shelf nearest to the die. */
  readonly tier: number;
  /** The package's side that it belongs to. */
  readonly side: Side;
  readonly place: Place;
}

export interface Paddle {
  readonly width: Units;
  readonly height: Units;
  /** How far outside the die edge a down-bond ends. */
  readonly reach: Units;
  /** How far it lies below the bond pads. */
  readonly drop: Units;
}

/** A loop height; null where it holds for every row or tier. Down-bonds have tier 0. */
export interface Loop {
  readonly row: 'single' | 'outer' | 'inner' | null;
  readonly tier: number | null;
  readonly height: Units;
}

export interface Package {
  readonly name: string;
  readonly cavity: { readonly width: Units; readonly height: Units } | null;
  readonly paddle: Paddle | null;
  /** The die's centre, and its counter-clockwise rotation in degrees. */
  readonly die: { readonly x: Units; readonly y: Units; readonly rotation: number };
  /** In order from pin 1. */
  readonly fingers: readonly Finger[];
  readonly bonds: {
    readonly by: BondOrder;
    /** Where pins go by order: the index of the finger of pad 1. */
    readonly first: number;
    /** Fingers that get no wire by order. */
    readonly free: readonly string[];
    /** Pins with fingers of their own choice, or the paddle: a wire to each. */
    readonly to: ReadonlyMap<string, readonly string[]>;
    /** Pins that are to have no wire. */
    readonly unbonded: readonly string[];
    /** Groups of pins that may take each other's places. */
    readonly exchange: readonly (readonly string[])[];
  };
  readonly wires: {
    readonly metal: WireMetal;
    readonly diameter: Units;
    /** The width of a wire's foot on pad and finger. */
    readonly foot: Units;
    /** Least distance of two feet on one pad or finger, centre to centre. */
    readonly pitch: Units;
    /** The last one that fits a wire holds. */
    readonly loops: readonly Loop[];
    /** How far the fingers of each tier lie below the bond pads, from tier 1 on; above them where negative. */
    readonly drops: readonly Units[];
    /** Inductance of a lead beyond the finger, nanohenry; null where it is not known. */
    readonly lead: number | null;
    /** Root-mean-square current by pin, ampere, shared by all its wires. */
    readonly currents: ReadonlyMap<string, number>;
  };
  readonly limits: {
    /** Length in plan; null where there is no limit. */
    readonly span: { readonly least: Units | null; readonly most: Units | null };
    /** Length with the loop. */
    readonly length: Units | null;
    /** To the normal of the die's side, degrees. */
    readonly angle: number | null;
    /** Metal to metal in plan, of wires whose heights are alike. */
    readonly wireSpacing: Units;
    /** From a wire to the metal of a pad not its own, in plan, where heights are alike. */
    readonly padSpacing: Units;
    /** From this difference on, heights are not alike. */
    readonly height: Units;
  };
  readonly place: Place;
}

const QUARTERS: readonly Side[] = ['right', 'top', 'left', 'bottom'];

/** The die's side that faces a side of the package, with the die turned: to the nearest quarter turn. */
export function facingSide(side: Side, rotation: number): Side {
  const quarter = QUARTERS.indexOf(side) - Math.round(rotation / 90);
  return QUARTERS[((quarter % 4) + 4) % 4] ?? side;
}
