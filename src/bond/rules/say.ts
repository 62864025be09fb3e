/** What the rules for wires share: what they look at, and how they speak of it. */
import type { Finding, PlacedPackage, Placement } from '../../format/placement.ts';
import type { Frames } from '../frame.ts';
import type { Strung, Wire } from '../wires.ts';

/** What a rule complains of; places are the die's, drawn, in picometres. */
export interface WireHit {
  /** One sentence without a final stop. */
  readonly message: string;
  /** The names of the pins and fingers that it is about. */
  readonly items: readonly string[];
  readonly at?: { readonly x: number; readonly y: number };
}

export interface WireRule {
  /** Stable: waivers and severities in ring descriptions speak of it. */
  readonly name: string;
  readonly severity: Finding['severity'];
  /** One sentence on what it protects. */
  readonly protects: string;
  /** One sentence on how to mend it. */
  readonly mend: string;
}

/** What the rules look at. */
export interface Bonded extends Strung {
  readonly placement: Placement;
  readonly bonded: PlacedPackage;
  readonly frames: Frames;
}

export type Look = (of: Bonded) => readonly WireHit[];

/** A length for a message: to the tenth of a micrometre, toward the wrong side of the limit it is held against. */
export const um = (length: number, limit: number): string => {
  const rounded = Math.round(length * 10) / 10;
  const honest = (rounded - limit) * (length - limit) > 0 ? rounded : Number(length.toPrecision(12));
  return `${honest + 0} um`;
};
/** A current for a message: three digits, or as many as set it apart from the limit that it is held against. */
export const ampere = (current: number, limit = Number.NaN): string => {
  const digits = [3, 6, 12].find((some) => current.toPrecision(some) !== limit.toPrecision(some));
  return String(Number(current.toPrecision(digits)));
};
export const degrees = (angle: number): string => `${Math.round(angle * 10) / 10} degrees`;

/** `the wire from "A" to finger "12"`. */
export const called = ({ pin, finger }: Wire): string =>
  finger === null
    ? `the wire from "${pin}" down to the paddle`
    : `the wire from "${pin}" to finger "${finger}"`;

export const itemsOf = ({ pin, finger }: Wire): readonly string[] =>
  finger === null ? [pin] : [pin, finger];

/** A place of the package on the die, for a finding. */
export function at({ frames }: Bonded, x: number, y: number): NonNullable<WireHit['at']> {
  const spot = frames.toDie(x, y);
  return { x: Math.round(spot.x * 1e6), y: Math.round(spot.y * 1e6) };
}

/** A rule with what it looks for. */
export interface Looking extends WireRule {
  readonly look: Look;
}
