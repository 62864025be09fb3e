/** What a corruption is, and small helps to write them. */
import type { Placement } from '../../../src/format/placement.ts';

/** Plain data that may be changed in place. */
export type Loose<T> = T extends readonly (infer U)[]
  ? T extends readonly [infer A, infer B]
    ? [Loose<A>, Loose<B>]
    : Loose<U>[]
  : T extends object
    ? { -readonly [K in keyof T]: Loose<T[K]> }
    : T;

export type Draft = Loose<Placement>;
export type DraftCell = Draft['cells'][number];
export type DraftPad = Draft['bondPads'][number];
export type DraftStem = Draft['stems'][number];
export type DraftFootprint = Draft['footprints'][number];
export type Side = DraftPad['side'];

/** A repeatable source of choices. */
export interface Dice {
  /** A whole number from 0 up to but not including `n`. */
  readonly below: (n: number) => number;
  /** One of a list; undefined where it is empty. */
  readonly of: <T>(list: readonly T[]) => T | undefined;
}

/** A linear congruential generator (Numerical Recipes' constants, from memory); any would do. */
export function diceFrom(seed: number): Dice {
  let state = seed >>> 0;
  const below = (n: number): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * n);
  };
  return { below, of: (list) => list[below(list.length)] };
}

export interface Operator {
  /** What it does, as a noun phrase. */
  readonly name: string;
  /** The rule that must catch it, named beforehand; `reader: code` where reading the file must refuse it. */
  readonly rule: string;
  /** Changes the placement at some random place; false where there is none to change. */
  readonly apply: (p: Draft, dice: Dice) => boolean;
}

export const operator = (
  name: string,
  rule: string,
  apply: (p: Draft, dice: Dice) => boolean | undefined,
): Operator => ({ name, rule, apply: (p, dice) => apply(p, dice) !== false });

/** Moves a shape along its side, counter-clockwise. */
export function along(side: Side, shape: { x: number; y: number }, by: number): void {
  if (side === 'left') shape.y -= by;
  else if (side === 'bottom') shape.x += by;
  else if (side === 'right') shape.y += by;
  else shape.x -= by;
}

/** Moves a shape away from its side's die edge. */
export function inward(side: Side, shape: { x: number; y: number }, by: number): void {
  if (side === 'left') shape.x += by;
  else if (side === 'bottom') shape.y += by;
  else if (side === 'right') shape.x -= by;
  else shape.y -= by;
}

/** Moves a cell with its origin. */
export function moveCell(cell: DraftCell, move: (shape: { x: number; y: number }) => void): void {
  move(cell);
  move(cell.origin);
}

export const isVertical = (side: Side): boolean => side === 'left' || side === 'right';

export const styleOf = (p: Draft, side: Side | null): string | undefined =>
  p.sides.find((s) => s.side === side)?.style;

export const isOutside = (p: Draft, side: Side): boolean =>
  ['inline', 'staggered'].includes(styleOf(p, side) ?? '');

export const cellsOn = (p: Draft, side: Side): DraftCell[] => p.cells.filter((c) => c.side === side);
export const fillers = (p: Draft): DraftCell[] => p.cells.filter((c) => c.role === 'filler');
export const corners = (p: Draft): DraftCell[] => p.cells.filter((c) => c.role === 'corner');
export const breaks = (p: Draft): DraftCell[] => p.cells.filter((c) => c.role === 'break');
/** Cells of a side other than fillers. */
export const sideCells = (p: Draft): DraftCell[] =>
  p.cells.filter((c) => c.side !== null && c.role !== 'filler');
export const padsOf = (p: Draft, cell: DraftCell): DraftPad[] =>
  p.bondPads.filter((pad) => pad.cell === cell.name);
export const footprintOf = (p: Draft, cell: DraftCell): DraftFootprint | undefined =>
  p.footprints.find((f) => f.name === cell.footprint);
export const feedsOf = (p: Draft, pad: DraftPad): string[] => {
  const cell = p.cells.find((c) => c.name === pad.cell);
  const f = cell && footprintOf(p, cell);
  return f?.landings.find((l) => l.name === pad.landing)?.feeds ?? [];
};
export const drop = <T>(list: T[], item: T): void => {
  list.splice(list.indexOf(item), 1);
};
/** Whether the next cell of the list, in ring order, stands on the same side. */
export const hasNeighbours = (p: Draft, cell: DraftCell): boolean => {
  const i = p.cells.indexOf(cell);
  return p.cells[i - 1]?.side === cell.side && p.cells[i + 1]?.side === cell.side;
};
