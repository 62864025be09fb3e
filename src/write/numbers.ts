/** Lengths as people and files read them: no trailing zeros, no minus zero, no exponent. */

function plain(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
}

/** Micrometres to the picometre. */
export const um = (value: number): string => plain(value, 6);

/** Sheet millimetres to the micrometre. */
export const mm = (value: number): string => plain(value, 3);

/** A count with its noun: `1 pad`, `2 pads`. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;
