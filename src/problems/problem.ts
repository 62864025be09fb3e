/** What is wrong, where, what was expected and how to mend it: the one shape of every error. */

/** A place in a file that a person wrote; lines and columns count from 1. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

export interface Problem {
  /** A stable name of words joined by hyphens, such as `unknown-cell`. */
  readonly code: string;
  /** What is wrong, as one sentence without a final stop. */
  readonly message: string;
  /** What would have been right, or how to mend it. */
  readonly mend?: string;
  readonly place?: Place;
}

/** The value, or all that stood against it. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly notes: readonly Problem[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

export const found = <T>(value: T, notes: readonly Problem[] = []): Outcome<T> => ({
  ok: true,
  value,
  notes,
});
export const failed = (...problems: readonly Problem[]): Outcome<never> => ({ ok: false, problems });

/** One problem as lines for a terminal: `file:line:column: message [code]` and the mend below it. */
export function problemText(problem: Problem): string {
  const { place } = problem;
  const head = place ? `${place.file}:${place.line}:${place.column}: ` : '';
  const mend = problem.mend === undefined ? '' : `\n    ${problem.mend}`;
  return `${head}${problem.message} [${problem.code}]${mend}`;
}
