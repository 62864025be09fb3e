/** A ring description from its file. */
import type { ReadFile } from '../library/lef-files.ts';
import { readLibrary } from '../library/read-library.ts';
import type { Outcome } from '../problems/problem.ts';
import { parseRing } from './parse.ts';
import type { Ring } from './ring.ts';
import type { KnownRule } from './rule-names.ts';

export type { ReadFile } from '../library/lef-files.ts';
export { ringJsonSchema } from './schema.ts';

/** The ring that a file describes, with the files that it names; or every problem at once. */
export function readRing(readFile: ReadFile, path: string, knownRules: readonly KnownRule[]): Outcome<Ring> {
  const text = readFile(path);
  if (!text.ok) return text;
  return parseRing(text.value, path, {
    readFile,
    readLibrary: (cells, named) => readLibrary(readFile, cells, named),
    knownRules,
  });
}
