/**
 * A figure carries its working: value, unit, formula, inputs and source, so that any report can show how it came
 * about. Where an input is missing the figure says so; a figure that is not assessed never counts as holding.
 */

/** A number that went into a figure, by its name in the formula. */
export interface Input {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
}

export interface Assessed {
  readonly value: number;
  readonly unit: string;
  /** How the value follows from the inputs, in their names. */
  readonly formula: string;
  readonly inputs: readonly Input[];
  /** A published standard or text, "from memory", or "common practice". */
  readonly source: string;
}

export interface NotAssessed {
  /** What is missing. */
  readonly notAssessed: string;
}

export type Figure = Assessed | NotAssessed;

/** One input. */
export const input = (name: string, value: number, unit: string): Input => ({ name, value, unit });

/** A figure with its working; one whose value is not finite is a fault of the caller. */
export function figure(
  value: number,
  unit: string,
  formula: string,
  inputs: readonly Input[],
  source: string,
): Assessed {
  if (!Number.isFinite(value)) throw new RangeError(`a figure of ${formula} is not finite`);
  return { value, unit, formula, inputs, source };
}

export const notAssessed = (missing: string): NotAssessed => ({ notAssessed: missing });

export const isAssessed = (f: Figure): f is Assessed => 'value' in f;

/** The value, or undefined where it is not assessed. */
export const assessedValue = (f: Figure): number | undefined => (isAssessed(f) ? f.value : undefined);

/** A figure as the input of another. */
export const asInput = (name: string, f: Assessed): Input => input(name, f.value, f.unit);

/** How near to a whole number, relatively, a ratio counts as that number (ring-model section 6). */
const WHOLE = 1e-9;

/**
 * a / b, where a quotient within 1e-9 of a whole number is that number: 1.2 over 0.4 is 3, not 2.9999999999999996.
 * Both are finite and b is above zero.
 */
export function ratio(a: number, b: number): number {
  const quotient = a / b;
  const whole = Math.round(quotient);
  return Math.abs(quotient - whole) <= WHOLE * Math.max(1, Math.abs(whole)) ? whole : quotient;
}

/** How many whole shares of `each` hold `all`: the ratio rounded up. */
export const countFor = (all: number, each: number): number => Math.ceil(ratio(all, each)) + 0;

/** Whether a value keeps within a limit, by the same rule of 1e-9. */
export const within = (value: number, limit: number): boolean =>
  limit > 0 ? ratio(value, limit) <= 1 : value <= limit;

/** The greatest of the assessed figures, and what the others miss. */
export function greatest<F extends { readonly figure: Figure }>(
  candidates: readonly F[],
): { readonly decides: F | undefined; readonly missing: readonly string[] } {
  let decides: F | undefined;
  let most = Number.NEGATIVE_INFINITY;
  const missing: string[] = [];
  for (const candidate of candidates) {
    if (!isAssessed(candidate.figure)) missing.push(candidate.figure.notAssessed);
    else if (candidate.figure.value > most) [decides, most] = [candidate, candidate.figure.value];
  }
  return { decides, missing };
}
