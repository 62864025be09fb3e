/** Numbers as the page shows them. */

/** To the picometre: sums and differences of the placement's micrometres, without the dust of binary fractions. */
export const exact = (value: number): number => Math.round(value * 1e6) / 1e6 + 0;

const NARROW = '\u202f';

/** Micrometres with their unit. */
export const um = (value: number): string => `${exact(value)}${NARROW}µm`;

/** A figure's value: whole numbers as they are, others to six digits. */
export const figureText = (value: number, unit: string): string => {
  const digits = Number.isInteger(value) ? String(value) : String(Number(value.toPrecision(6)));
  if (unit === '' || unit === '1') return digits;
  // A unit that is a word: 1 cell, 2 cells.
  if (/^[a-z]{3,}s$/.test(unit)) return counted(Number(digits), unit.slice(0, -1));
  return `${digits}${NARROW}${unit.replace(/\bum\b/g, 'µm').replace(/\bohm\b/g, 'Ω')}`;
};

export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;
