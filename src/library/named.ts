/** Files that another file names: what stands against reading one is told where it is named. */
import { failed, type Outcome, type Place } from '../problems/problem.ts';
import { quoted } from './book.ts';
import type { ReadFile } from './lef-files.ts';

/** A named file's text, or why there is none: the name is what has to be mended, so its place is the problem's. */
export function readNamed(readFile: ReadFile, path: string, place: Place): Outcome<string> {
  const text = readFile(path);
  if (text.ok) return text;
  return failed(
    ...text.problems.map((problem) => ({
      ...problem,
      message: `\`${quoted(path)}\`: ${problem.message}`,
      place,
    })),
  );
}
