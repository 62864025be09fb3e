/** Where the resolver lays down what it finds, so that everything is told at once. */
import { nearest } from '../problems/nearest.ts';
import type { Place, Problem } from '../problems/problem.ts';
import { shortText } from '../source/source.ts';

export interface Report {
  readonly problems: Problem[];
  readonly notes: Problem[];
  readonly error: (place: Place, code: string, message: string, mend?: string) => void;
  /** An error that what is written elsewhere could mend: not told where a part of the file could not be read. */
  readonly absence: (place: Place, code: string, message: string, mend?: string) => void;
  readonly note: (place: Place, code: string, message: string, mend?: string) => void;
}

/** A report; `incomplete` where a part of the description could not be read. */
export function newReport(incomplete: boolean): Report {
  const problems: Problem[] = [];
  const notes: Problem[] = [];
  const into =
    (list: Problem[]) =>
    (place: Place, code: string, message: string, mend?: string): void => {
      list.push({ code, message, place, ...(mend === undefined ? {} : { mend }) });
    };
  return {
    problems,
    notes,
    error: into(problems),
    absence: into(incomplete ? [] : problems),
    note: into(notes),
  };
}

/** A name as messages show it. */
export const shown = (name: string): string => `\`${shortText(name, 60)}\``;

/** What to do about a name that is not known: the nearest known one, or all of a few. */
export function didYouMean(name: string, known: readonly string[], kind: string): string {
  const near = nearest(name, known);
  if (near !== undefined) return `did you mean ${shown(near)}?`;
  if (known.length === 0) return `no ${kind} is known here`;
  const few = known.slice(0, 12).map(shown).join(', ');
  return `known here: ${few}${known.length > 12 ? `, and ${known.length - 12} more` : ''}`;
}
