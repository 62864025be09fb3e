/** The pin list: the cells of each side, from the description's own lists or from a spreadsheet's CSV file. */
import { z } from 'zod';
import { SIDES, type Side } from '../geometry/side.ts';
import type { Place, Problem } from '../problems/problem.ts';
import { type CellKind, type CsvTable, csvAsSource, readCsv } from '../source/csv.ts';
import { type Path, type Source, valueAt } from '../source/source.ts';
import { validate } from '../source/validate.ts';
import { didYouMean, shown } from './report.ts';
import { type EntryText, entrySchema, type RingText } from './schema.ts';

/** One cell as it is listed, and where each piece of that stands. */
export interface ListedCell {
  /** The side that it stands on; of an order that is cut later, one that it may stand on. */
  readonly side: Side;
  readonly text: EntryText;
  readonly placeOf: (...path: Path) => Place;
}

/** The cells that could be read, in order, and what stands against the others. */
export interface PinList {
  readonly cells: readonly ListedCell[];
  readonly problems: readonly Problem[];
}

/** The cells of the description's `sides`; those that do not fit the schema are left out and were told before. */
export function cellsOfSides(source: Source, sides: RingText['sides']): readonly ListedCell[] {
  return SIDES.flatMap((side) => {
    const texts: readonly (EntryText | undefined)[] = sides?.[side] ?? readable(source, side);
    return texts.flatMap((text, i) =>
      text === undefined
        ? []
        : [{ side, text, placeOf: (...path: Path) => source.placeOf(['sides', side, i, ...path]) }],
    );
  });
}

function readable(source: Source, side: Side): readonly (EntryText | undefined)[] {
  const list = valueAt(source.value, ['sides', side]);
  return Array.isArray(list) ? list.map((entry) => entrySchema.safeParse(entry).data) : [];
}

/** `a=P1 b=P2` as names by name. */
const assignments = z.string().transform((text, context): Record<string, string> => {
  const pairs: Record<string, string> = Object.create(null);
  for (const word of text.split(/\s+/)) {
    const [, key, value] = /^([^=]+)=([^=]+)$/.exec(word) ?? [];
    if (key === undefined || value === undefined || key in pairs) {
      context.addIssue({
        code: 'custom',
        message: `must be names and values with blanks between, each once, such as a=P1 b=P2`,
        params: { code: 'wrong-form' },
      });
      return z.NEVER;
    }
    pairs[key] = value;
  }
  return pairs;
});

/** Held constants as they are written in a cell, `OE=0 IE=1`, as the numbers that the schema wants. */
const constants = assignments.transform((texts) =>
  Object.fromEntries(
    Object.entries(texts).map(([key, text]) => [key, /^[01]$/.test(text) ? Number(text) : text]),
  ),
);

const { shape } = entrySchema;
const rowSchema = z.strictObject({
  side: z.enum(SIDES).describe('the side that the cell stands on'),
  ...shape,
  pins: assignments.pipe(shape.pins.unwrap()).optional(),
  nets: assignments.pipe(shape.nets.unwrap()).optional(),
  tied: constants.pipe(shape.tied.unwrap()).optional(),
});

const KINDS: Readonly<Record<string, CellKind>> = {
  at: 'number',
  gap: 'number',
  shift: 'number',
  mirrored: 'yes-no',
};
const COLUMNS = Object.keys(rowSchema.shape);

/** The cells of a CSV file: a row each, under the names of the keys that a cell has in the description. */
export function cellsOfCsv(text: string, file: string): PinList {
  const bySide: Record<Side, ListedCell[]> = { left: [], bottom: [], right: [], top: [] };
  const { rows, problems } = rowsOfCsv(text, file, rowSchema, ['side', 'cell']);
  for (const { value, placeOf } of rows) {
    const { side, ...entry } = value;
    bySide[side].push({ side, text: entry, placeOf });
  }
  return { cells: SIDES.flatMap((side) => bySide[side]), problems };
}

export interface Rows<T> {
  readonly rows: readonly { readonly value: T; readonly placeOf: ListedCell['placeOf'] }[];
  readonly problems: readonly Problem[];
}

/** The rows of a CSV file that fit a schema, in order, and what stands against the others. */
function rowsOfCsv<T>(text: string, file: string, schema: z.ZodType<T>, needed: readonly string[]): Rows<T> {
  const read = readCsv(text, file);
  if (!read.ok) return { rows: [], problems: read.problems };
  const problems = columnProblems(read.value, needed);
  if (problems.some((problem) => problem.code === 'missing-column')) return { rows: [], problems };
  if (read.value.rows.length === 0) problems.push(noRows('pin list', 'a row a cell', read.value));
  const table = knownColumns(read.value);
  const source = csvAsSource(table, KINDS);
  const rows = table.rows.flatMap((_, i) => {
    const row = validate(schema, source, [i]);
    if (row.ok) return [{ value: row.value, placeOf: (...path: Path) => source.placeOf([i, ...path]) }];
    problems.push(...row.problems.map((problem) => withoutRow(problem, i)));
    return [];
  });
  return { rows, problems };
}

const freeRowSchema = rowSchema.extend({ side: rowSchema.shape.side.optional() });

/** The same for a list that is cut into sides later: a row need not name its side. */
export const freeRowsOfCsv = (text: string, file: string): Rows<z.output<typeof freeRowSchema>> =>
  rowsOfCsv(text, file, freeRowSchema, ['cell']);

/** A table of nothing but its header. */
export const noRows = (what: string, wanted: string, { file, header }: CsvTable): Problem => ({
  code: 'csv-no-rows',
  message: `the ${what} has a header and no rows`,
  mend: `add ${wanted} below the header`,
  place: header[0]?.place ?? { file, line: 1, column: 1 },
});

/** The row's place says which row it is; its count in the list says nothing to a reader. */
function withoutRow(problem: Problem, row: number): Problem {
  const message = problem.message.replace(`\`[${row}].`, '`').replace(`\`[${row}]\``, 'the row');
  return { ...problem, message };
}

function columnProblems(table: CsvTable, needed: readonly string[]): Problem[] {
  const names = table.header.map((cell) => cell.text.trim());
  const [first] = table.header;
  if (first && !names.some((name) => COLUMNS.includes(name)))
    return [
      {
        code: 'no-header',
        message: `the first row begins with ${shown(names[0] ?? '')} and names no column of a pin list`,
        mend: `begin with a row such as \`${needed.includes('side') ? 'side,pin,cell' : 'pin,cell'}\`; commas, semicolons or tabs part the cells`,
        place: first.place,
      },
    ];
  const problems: Problem[] = table.header
    .filter((cell) => !COLUMNS.includes(cell.text.trim()))
    .map((cell) => ({
      code: 'unknown-column',
      message: `the pin list has no column ${shown(cell.text.trim())}`,
      mend: didYouMean(cell.text.trim(), COLUMNS, 'column'),
      place: cell.place,
    }));
  for (const name of needed)
    if (!names.includes(name) && table.header[0])
      problems.push({
        code: 'missing-column',
        message: `the pin list lacks the column ${shown(name)}`,
        mend: `add it to the header and fill it in every row`,
        place: table.header[0].place,
      });
  return problems;
}

/** The table without the columns that are not known, whose cells would say the same once more. */
function knownColumns(table: CsvTable): CsvTable {
  const kept = table.header.map((cell) => COLUMNS.includes(cell.text.trim()));
  const keep = <T>(row: readonly T[]): readonly T[] => row.filter((_, i) => kept[i]);
  return { ...table, header: keep(table.header), rows: table.rows.map(keep) };
}
