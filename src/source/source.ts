/** What was read from a file that a person wrote: plain data, and where each piece of it stands. */

import type { Place } from '../problems/problem.ts';
import { writtenOut } from '../problems/unseen.ts';

export type Path = readonly (string | number)[];

export interface Source {
  readonly file: string;
  /** Texts, numbers, booleans, null, lists, and objects without a prototype. */
  readonly value: unknown;
  /** Where the value at a path stands; for a path that leads nowhere, the nearest value above it. */
  readonly placeOf: (path: Path) => Place;
  /** Where the key stands that the path ends with; for an entry of a list, the entry. */
  readonly placeOfKey: (path: Path) => Place;
}

/** The value at a path; undefined where there is none. Never reads a prototype. */
export function valueAt(value: unknown, path: Path): unknown {
  let here = value;
  for (const step of path) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, step)) return undefined;
    here = Reflect.get(here, step);
  }
  return here;
}

/** A path as people write it: `sides.left.pins[3].cell`. */
export function pathText(path: Path): string {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number') text += `[${step}]`;
    else text += `${text === '' ? '' : '.'}${shortText(step, 60)}`;
  }
  return text;
}

/** A text cut to a length, its control characters written out, so that a message stays one readable line. */
export function shortText(text: string, most: number): string {
  const letters = Array.from(text.slice(0, 2 * most + 2));
  const cut = letters.length > most ? `${letters.slice(0, most).join('')}…` : letters.join('');
  return writtenOut(cut);
}
