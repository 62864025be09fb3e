/** Reading a cell library: the cell file, the LEF files it names, and from both the footprints. */
import { nearest } from '../problems/nearest.ts';
import { failed, found, type Outcome, type Place, type Problem } from '../problems/problem.ts';
import { foreignFile } from '../source/foreign.ts';
import { capped, LIMITS } from '../source/limits.ts';
import type { Source } from '../source/source.ts';
import { validate } from '../source/validate.ts';
import { readYaml } from '../source/yaml.ts';
import { checkAlikeNames } from './alike-names.ts';
import { noteAssumptions } from './assumptions.ts';
import { type Book, type Candidate, quoted } from './book.ts';
import { type CellFile, cellFileSchema } from './cell-file.ts';
import { NOTHING_SEEN, seenIn } from './drawing.ts';
import { checkElectricalDefaults } from './electrical.ts';
import type { Footprint, Library } from './footprint.ts';
import { footprintOf } from './footprint-of.ts';
import type { LefMacro } from './lef/lef.ts';
import { type ReadFile, readLefFiles } from './lef-files.ts';
import { sizeHolds, stripsHold } from './limits.ts';
import { metalsOf } from './metals.ts';
import { readNamed } from './named.ts';
import { checkReferences } from './references.ts';
import { isRingClass } from './roles.ts';
import { laneNames, settle } from './settle.ts';

/**
 * The library of a cell file, or every problem at once. LEF files are asked for beside it.
 * @param named where another file names the cell file
 */
export function readLibrary(readFile: ReadFile, path: string, named?: Place): Outcome<Library> {
  const text = named === undefined ? readFile(path) : readNamed(readFile, path, named);
  if (!text.ok) return text;
  const source = readYaml(text.value, path);
  if (!source.ok) return source;
  const foreign = foreignFile(source.value, {
    name: 'cell file',
    known: Object.keys(cellFileSchema.shape),
    mend: 'a cell file has `name` and `cells`, or `lef` files; `ringwright cells` proposes one from LEF',
  });
  if (foreign !== undefined) return failed(foreign);
  const file = validate(cellFileSchema, source.value);
  if (!file.ok) return file;
  const lef = readLefFiles(readFile, path, file.value, source.value);
  if (!lef.ok) return lef;
  const { macros, layers } = lef.value;
  const notes = [...lef.notes];
  const problems: Problem[] = [];
  const candidates = candidatesOf(file.value, macros, source.value, problems);
  const lanes = laneNames(file.value, candidates);
  const size = sizeHolds(candidates.length, lanes.length, source.value.placeOf([]));
  if (!size.ok) return size;
  const book: Book = {
    file: file.value,
    source: source.value,
    lanes,
    cells: new Set(candidates.map(({ name }) => name)),
    problems,
    notes,
  };
  const settled = settle(book, candidates);
  const strips = stripsHold(book, settled);
  if (!strips.ok) return strips;
  checkElectricalDefaults(book, settled);
  const footprints = new Map<string, Footprint>(
    settled.map((one) => [one.cell.name, footprintOf(book, one)] as const),
  );
  checkReferences(book, candidates, footprints);
  checkAlikeNames(book, candidates, footprints);
  for (const lane of Object.keys(file.value.lanes ?? {}))
    if (![...footprints.values()].some(({ lanes }) => lanes.some((one) => one.lane === lane)))
      problems.push({
        code: 'empty-lane',
        message: `the lane \`${quoted(lane)}\` has no strip in any cell`,
        mend: 'give its `strips`, or the `pins` that are it in LEF, or leave it out',
        place: source.value.placeOfKey(['lanes', lane]),
      });
  if (footprints.size === 0 && problems.length === 0)
    problems.push({
      code: 'no-cells',
      message: 'the library has no cells',
      mend: 'describe `cells`, or name the `lef` files that do',
      place: source.value.placeOf([]),
    });
  if (problems.length > 0) return failed(...capped(problems));
  noteAssumptions(book, settled);
  const metals = metalsOf(layers, file.value.layers);
  return found({ name: file.value.name, footprints, ...(metals ? { layers: metals } : {}) }, notes);
}

/** The cells of the ring: LEF's of a ring's classes and those that the cell file names. */
function candidatesOf(
  file: CellFile,
  macros: ReadonlyMap<string, LefMacro>,
  source: Source,
  problems: Problem[],
): readonly Candidate[] {
  const unknown = (name: string, path: readonly (string | number)[], mend: string): void => {
    const near = problems.length < LIMITS.problems ? nearest(name, macros.keys()) : undefined;
    problems.push({
      code: 'unknown-macro',
      message: `the LEF files draw no \`${quoted(name)}\``,
      mend: near === undefined ? mend : `did you mean \`${quoted(near)}\`?`,
      place: source.placeOfKey(path),
    });
  };
  const left = new Set(file.leaveOut);
  file.leaveOut?.forEach((name, i) => {
    if (!macros.has(name)) unknown(name, ['leaveOut', i], 'leave it out of `leaveOut`');
    else if (Object.hasOwn(file.cells, name))
      problems.push({
        code: 'left-out-and-described',
        message: `\`${quoted(name)}\` is described under \`cells\` and left out as well`,
        mend: 'describe it or leave it out',
        place: source.placeOf(['leaveOut', i]),
      });
  });
  const entryOf = (name: string): Candidate['entry'] =>
    (Object.hasOwn(file.cells, name) ? file.cells[name] : null) ?? {};
  const drawn = [...macros.values()]
    .filter(({ name }) => !left.has(name))
    .filter((macro) => isRingClass(macro) || Object.hasOwn(file.cells, macro.name))
    .map(
      (macro): Candidate => ({ name: macro.name, macro, seen: seenIn(macro), entry: entryOf(macro.name) }),
    );
  const described = Object.keys(file.cells)
    .filter((name) => !macros.has(name))
    .map((name): Candidate => ({ name, macro: undefined, seen: NOTHING_SEEN, entry: entryOf(name) }));
  if (macros.size > 0)
    for (const { name, entry } of described)
      if (entry.width === undefined && entry.height === undefined)
        unknown(name, ['cells', name], 'a cell that LEF does not draw needs its `width` and `height`');
  return [...drawn, ...described];
}
