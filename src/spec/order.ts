/** A ring whose pins are not bound to sides, and a die that is not given in full. */
import type { Side } from '../geometry/side.ts';
import type { Units } from '../geometry/units.ts';
import type { Place } from '../problems/problem.ts';
import type { Entry } from './ring.ts';

/** One cell of an order that is not yet cut into sides. */
export interface OrderedCell {
  /** The cell as it would stand on each side that it may lie on; one side at least. */
  readonly on: Readonly<Partial<Record<Side, Entry>>>;
}

/** Cells of the order that the user groups: they may be bound to some sides, or have to stay whole. */
export interface OrderGroup {
  readonly name: string;
  /** Their indices; of a group that stays whole they follow each other, cells without pins and the list's end apart. */
  readonly cells: readonly number[];
  /** The sides that it may lie on. */
  readonly sides: readonly Side[];
  /** Whether no corner may part it. */
  readonly whole: boolean;
  readonly place: Place;
}

/** The whole ring counter-clockwise, where pins are not bound to sides; it is cut into the four. */
export interface Order {
  readonly cells: readonly OrderedCell[];
  readonly groups: readonly OrderGroup[];
}

/** What a die that is not given in full must keep to. */
export interface DieWish {
  /** A fixed extent; null leaves it free. */
  readonly width: Units | null;
  readonly height: Units | null;
  /** The larger side is at most this times the smaller one; null: any. */
  readonly aspect: number | null;
  /** What is least: the larger side and then the area, or the area. */
  readonly least: 'side' | 'area';
}
