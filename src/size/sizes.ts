/** What sizing finds, as plain data: lengths in micrometres as drawn, areas in square millimetres on silicon. */
import type { Side } from '../geometry/side.ts';
import type { Problem } from '../problems/problem.ts';
import type { Style } from '../spec/ring.ts';
import type { What } from './sensitivity.ts';

export interface Sizes {
  readonly ring: string;
  readonly pads: number;
  /** Whether pins are bound to sides, or the order is cut anew for each style. */
  readonly sides: 'bound' | 'cut';
  readonly core: { readonly width: number; readonly height: number };
  /** Silicon is drawn times this. */
  readonly shrink: number;
  readonly wafers: { readonly diameters: readonly number[]; readonly exclusion: number };
  /** The cell that further pads are counted with, and the nets of the pair; null where the ring has none. */
  readonly usual: string | null;
  readonly pair: readonly [string, string] | null;
  readonly styles: readonly Sized[];
  /** Styles that the library or the rules do not allow. */
  readonly refused: readonly { readonly name: string; readonly reasons: readonly string[] }[];
  /** A given die, and what each style holds on it. */
  readonly given: Given | null;
  /** Whether supply cells are set by themselves when the ring is laid, which is not counted here. */
  readonly suppliesToCome: boolean;
}

export interface Sized {
  readonly name: string;
  /** Whether the description asks for just this. */
  readonly described: boolean;
  /** Whether sides differ in style. */
  readonly mixed: boolean;
  readonly die: { readonly width: number; readonly height: number };
  readonly limits: { readonly width: AxisLimit; readonly height: AxisLimit };
  readonly sides: readonly SizedSide[];
  /** The rectangle left inside the ring and its clearance, from the die's lower left corner. */
  readonly core: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  readonly area: { readonly die: number; readonly core: number };
  /** The part of the die that is not the core's rectangle. */
  readonly ringShare: number;
  /** By wafer: whole dies at the grid's best offset, and the estimate. */
  readonly dies: readonly { readonly diameter: number; readonly whole: number; readonly estimate: number }[];
  readonly bindings: readonly BindingText[];
  readonly costs: readonly {
    readonly what: What;
    readonly width: number | null;
    readonly height: number | null;
    /** Why the ring could then not be laid. */
    readonly against: readonly string[];
  }[];
  /** What the search could not settle. */
  readonly notes: readonly Problem[];
}

export interface AxisLimit {
  readonly by: 'pads' | 'core' | 'given';
  /** The side that asks for the most, where pads decide. */
  readonly side: Side | null;
}

export interface SizedSide {
  readonly side: Side;
  readonly style: Style;
  readonly pads: number;
  readonly cells: number;
  /** The least length of the die's side that holds this one. */
  readonly least: number;
  readonly slack: number;
  /** Pads that still fit, and supply pairs in place of them; null where the ring names no such cell. */
  readonly more: number | null;
  readonly pairs: number | null;
  /** The commonest distance of neighbouring pads, packed. */
  readonly pitch: number | null;
}

/** What binds on some sides alike. */
export interface BindingText {
  readonly sides: readonly Side[];
  readonly rule: string;
  /** How often it binds on each of these sides. */
  readonly counts: readonly number[];
  readonly pitch: number | null;
  /** Without that rule: the pitch, what binds then, how much shorter each side gets; null where it cannot be left out. */
  readonly without: {
    readonly pitch: number | null;
    readonly rule: string | null;
    readonly shorter: readonly number[];
  } | null;
}

export interface Given {
  readonly width: number;
  readonly height: number;
  readonly styles: readonly GivenStyle[];
}

/** What a style holds on a given die. */
export interface GivenStyle {
  readonly name: string;
  /** Empty where the ring fits. */
  readonly problems: readonly Problem[];
  readonly sides: readonly {
    readonly side: Side;
    readonly pads: number;
    /** How many of the usual cell the side would hold alone. */
    readonly holds: number | null;
    readonly more: number | null;
    readonly pairs: number | null;
  }[];
}
