/** A cell file proposed from LEF, with every point that LEF leaves open marked for the user. */
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import { validate } from '../source/validate.ts';
import { readYaml } from '../source/yaml.ts';
import type { Book, Candidate } from './book.ts';
import { type CellFile, cellFileSchema } from './cell-file.ts';
import { type Seen, seenIn } from './drawing.ts';
import { footprintOf, type Settled } from './footprint-of.ts';
import { takenAsJoined } from './lanes-of.ts';
import type { LefMacro } from './lef/lef.ts';
import { readLefFiles } from './lef-files.ts';
import { sizeHolds, stripsHold } from './limits.ts';
import { beside, namedBeside } from './path.ts';
import { outwardOf, type ProposedRole, proposedRole } from './propose-role.ts';
import { type CellFindings, type ProposedCellFile, proposalText } from './propose-text.ts';
import { isRingClass } from './roles.ts';
import { laneNames, settle } from './settle.ts';

/**
 * The proposal for LEF files given by path and text.
 * @param cellFile where the cell file is to stand; it names the LEF files from there
 */
export function proposeCellFile(
  files: readonly { readonly path: string; readonly text: string }[],
  cellFile: string,
): Outcome<ProposedCellFile> {
  const names = files.map(({ path }) => namedBeside(cellFile, path));
  const name = commonName(files.map(({ path }) => path));
  // A draft that says nothing of the cells yet, so that the library's own reading shows what is missing.
  const source = readYaml(JSON.stringify({ name, lef: names }), cellFile);
  if (!source.ok) return source;
  const draft = validate(cellFileSchema, source.value);
  if (!draft.ok) return draft;
  const texts = new Map(files.map(({ text }, i) => [beside(cellFile, names[i] ?? ''), text]));
  const lef = readLefFiles((path) => found(texts.get(path) ?? ''), cellFile, draft.value, source.value);
  if (!lef.ok) return lef;
  /** The cell file is not there yet. */
  const start = { file: files[0]?.path ?? cellFile, line: 1, column: 1 };
  const macros = [...lef.value.macros.values()];
  const cells = macros.filter(isRingClass);
  if (cells.length === 0)
    return failed({
      code: 'no-cells',
      message: 'the LEF files draw no cells of class PAD and no corner cells of class ENDCAP',
      mend: 'name the LEF files of the I/O cells; a cell with another class is described in the cell file by hand',
      place: start,
    });
  const outward = outwardOf(cells, draft.value);
  const file = { ...draft.value, drawn: { ...draft.value.drawn, outward: outward ?? ('bottom' as const) } };
  const seen = new Map(cells.map((macro) => [macro, seenIn(macro)] as const));
  const roles = rolesOf(seen, file);
  const candidates = [...seen].map(([macro, one]): Candidate => {
    const { role, because } = roles.get(macro.name) ?? {};
    return { name: macro.name, macro, seen: one, entry: because === undefined ? {} : { role } };
  });
  const problems: Problem[] = [];
  const book: Book = {
    file,
    source: source.value,
    lanes: laneNames(file, candidates),
    cells: new Set(candidates.map((cell) => cell.name)),
    problems,
    notes: [],
  };
  const size = sizeHolds(candidates.length, book.lanes.length, start);
  if (!size.ok) return size;
  const settled = settle(book, candidates);
  const strips = stripsHold(book, settled, start);
  if (!strips.ok) return strips;
  return found(
    proposalText({
      name,
      lef: names,
      outward,
      cells: settled.map((one) => findingsOf(book, problems, one, roles)),
      unplaced: problems.splice(0).map((problem) => problem.message),
      otherClasses: macros.length - cells.length,
      metalKnown: lef.value.layers.some((layer) => layer.sheetResistance !== null),
    }),
    lef.notes,
  );
}

/** What the files' names have in common at their start, else the first one's, without folder and ending. */
function commonName(paths: readonly string[]): string {
  const stems = paths.map((path) => /([^/\\.]+)[^/\\]*$/.exec(path)?.[1] ?? '');
  const [first = ''] = stems;
  let length = first.length;
  for (const stem of stems) while (!stem.startsWith(first.slice(0, length))) length--;
  const common = first.slice(0, length).replace(/[^A-Za-z0-9]+$/, '');
  return common.length >= 3 ? common : first || 'cells';
}

function rolesOf(cells: ReadonlyMap<LefMacro, Seen>, file: CellFile): ReadonlyMap<string, ProposedRole> {
  const lanes = [...cells.values()].reduce((most, { carried }) => Math.max(most, carried.length), 0);
  return new Map(
    [...cells].map(([macro, seen]) => [macro.name, proposedRole(macro, seen, lanes, file.padPins)] as const),
  );
}

/** What the library's own reading has against a cell that the cell file says nothing of. */
function findingsOf(
  book: Book,
  problems: Problem[],
  settled: Settled,
  roles: ReadonlyMap<string, ProposedRole>,
): CellFindings {
  const before = problems.length;
  const footprint = footprintOf(book, settled);
  return {
    footprint,
    because: roles.get(settled.cell.name)?.because,
    problems: problems.splice(before),
    stubs: takenAsJoined(book, settled.cell, settled.strips),
  };
}
