/** Reading the LEF files that a cell file names. */
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import { capped } from '../source/limits.ts';
import type { Source } from '../source/source.ts';
import { quoted } from './book.ts';
import type { CellFile } from './cell-file.ts';
import type { LefLayer, LefMacro } from './lef/lef.ts';
import { readLef } from './lef/read.ts';
import { shapesHold } from './limits.ts';
import { readNamed } from './named.ts';
import { beside } from './path.ts';

/** How the caller gives a file's text, or why it cannot. */
export type ReadFile = (path: string) => Outcome<string>;

interface LefFiles {
  readonly macros: ReadonlyMap<string, LefMacro>;
  readonly layers: readonly LefLayer[];
}

/** The macros and layers of all LEF files of a cell file at a path; every macro must be there once. */
export function readLefFiles(
  readFile: ReadFile,
  path: string,
  file: CellFile,
  source: Source,
): Outcome<LefFiles> {
  const problems: Problem[] = [];
  const notes: Problem[] = [];
  const macros = new Map<string, LefMacro>();
  const layers: LefLayer[] = [];
  file.lef?.forEach((name, i) => {
    const text = readNamed(readFile, beside(path, name), source.placeOf(['lef', i]));
    if (!text.ok) {
      problems.push(...text.problems);
      return;
    }
    const lef = readLef(text.value, beside(path, name));
    if (!lef.ok) {
      problems.push(...lef.problems);
      return;
    }
    notes.push(...lef.notes);
    layers.push(...lef.value.layers);
    for (const macro of lef.value.macros) {
      const first = macros.get(macro.name);
      if (first)
        problems.push({
          code: 'duplicate-macro',
          message: `the macro \`${quoted(macro.name)}\` is already given in ${first.place.file}, line ${first.place.line}`,
          mend: 'leave one of the two out, or name the file once',
          place: macro.place,
        });
      else macros.set(macro.name, macro);
    }
  });
  if (problems.length > 0) return failed(...capped(problems));
  const size = shapesHold(macros.values());
  return size.ok ? found({ macros, layers }, notes) : size;
}
