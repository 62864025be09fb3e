/** Lengths as people and files read them: no trailing zeros, no minus zero, no exponent. */

/** Rounded to so many parts of one; a rounded number of this size is never written with an exponent. */
const plain = (value: number, parts: number): string => String(Math.round(value * parts) / parts + 0);

/** Micrometres to the picometre. */
export const um = (value: number): string => plain(value, 1_000_000);

/** Sheet millimetres to the micrometre. */
export const mm = (value: number): string => plain(Math.max(-FAR, Math.min(FAR, value)), 1000);

/** No sheet is so large: a length that a hand-edited placement holds beyond it ends there. */
const FAR = 1e7;

/** A count with its noun: `1 pad`, `2 pads`. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;
