/**
 * How much a file may ask for before it is refused. A ring of ten thousand pins stays an order of magnitude
 * below each of them; a hostile file meets one within a second.
 */
import { failed, type Outcome, type Problem } from '../problems/problem.ts';
import { bareText, placeAt } from './lines.ts';

export const LIMITS = {
  /** Characters of a YAML or CSV file. */
  characters: 8 * 1024 * 1024,
  /** Words and signs of a YAML file, and cells of a CSV file. */
  words: 400_000,
  /** Lines of a CSV file that are not blank. */
  rows: 40_000,
  /** Values of a YAML file once every alias stands for what it repeats. */
  values: 400_000,
  /** Backslashes in double quotes of a YAML file. */
  escapes: 10_000,
  /** Levels of lists and keys within each other. */
  depth: 64,
  /** Problems listed one by one. */
  problems: 100,
} as const;

/** Refuses a text that is too long or is no text; otherwise the bare text. */
export function plainText(text: string, file: string): Outcome<string> {
  const start = { file, line: 1, column: 1 };
  if (text.length > LIMITS.characters)
    return failed({
      code: 'file-too-long',
      message: `the file has ${text.length} characters; at most ${LIMITS.characters} are read`,
      mend: 'name a ring description, a cell file or a pin list',
      place: start,
    });
  const bare = bareText(text);
  const odd = bare.search(/[\0\ufffd\ufffe]/);
  if (odd >= 0)
    return failed({
      code: 'not-a-text',
      message: 'the file is no UTF-8 text: it holds a byte or character that a text cannot have',
      mend: 'save it as plain text in UTF-8',
      place: placeAt(bare, file, odd),
    });
  return { ok: true, value: bare, notes: [] };
}

/** The first problems, and one more that counts the rest, together with those that were never worded. */
export function capped(problems: readonly Problem[], unworded = 0): readonly Problem[] {
  const listed = problems.slice(0, LIMITS.problems);
  const more = problems.length - listed.length + Math.max(0, unworded);
  if (more <= 0) return listed;
  return [...listed, { code: 'more-problems', message: `${more} further problems are not listed` }];
}
