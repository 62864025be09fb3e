/** What can be pointed at, chosen and found in a ring. */

export type Thing =
  | { readonly kind: 'pad'; readonly number: number }
  | { readonly kind: 'cell'; readonly name: string }
  | { readonly kind: 'net'; readonly name: string }
  | { readonly kind: 'section'; readonly name: string }
  /** An arc, by its place among the placement's rails, from 0. */
  | { readonly kind: 'rail'; readonly at: number }
  /** A finding, by its number in the drawing, from 1. */
  | { readonly kind: 'finding'; readonly number: number };

/** A text that two things share only where they are one. */
export function keyOf(thing: Thing): string {
  switch (thing.kind) {
    case 'pad':
    case 'finding':
      return `${thing.kind} ${thing.number}`;
    case 'rail':
      return `rail ${thing.at}`;
    default:
      return `${thing.kind} ${thing.name}`;
  }
}

export const same = (a: Thing | undefined, b: Thing | undefined): boolean =>
  a === b || (a !== undefined && b !== undefined && keyOf(a) === keyOf(b));
