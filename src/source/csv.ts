/** Reading CSV as spreadsheets export it; each cell knows its line and column. Never throws. */
import { CsvError, parse } from 'csv-parse/sync';
import { failed, found, type Outcome, type Place, type Problem } from '../problems/problem.ts';
import { capped, LIMITS, plainText } from './limits.ts';
import { type Lines, linesOf } from './lines.ts';
import { type Source, shortText } from './source.ts';

export interface CsvCell {
  readonly text: string;
  readonly place: Place;
}

export interface CsvTable {
  readonly file: string;
  readonly delimiter: Delimiter;
  /** The first row that is not blank; every name is there once. */
  readonly header: readonly CsvCell[];
  /** The other rows that are not blank, each as long as the header. */
  readonly rows: readonly (readonly CsvCell[])[];
}

const DELIMITERS = [',', ';', '\t'] as const;
export type Delimiter = (typeof DELIMITERS)[number];

/** A text to a table, or every problem at once. */
export function readCsv(text: string, file: string): Outcome<CsvTable> {
  const plain = plainText(text, file);
  if (!plain.ok) return plain;
  const whole = linesOf(plain.value, file);
  const said = saidDelimiter(plain.value, whole(0));
  if (!said.ok) return said;
  const body = plain.value.slice(said.value.length);
  const lines: Lines = (offset) => whole(offset + said.value.length);
  const delimiter = said.value.delimiter ?? delimiterOf(body);
  const many = tooMany(body, delimiter, lines);
  if (many) return failed(many);
  const read = rowsOf(body, delimiter, lines);
  if (!read.ok) return read;
  const filled = read.value.filter((row) => row.some((cell) => cell.text.trim() !== ''));
  const [first, ...rest] = filled;
  if (!first)
    return failed({
      code: 'csv-empty',
      message: 'the table has no header row',
      mend: 'name the columns in its first row',
      place: lines(0),
    });
  const width = usedWidth(first);
  const header = first.slice(0, width);
  const rows = rest.map((row) => row.slice(0, Math.max(width, usedWidth(row))));
  const problems = [...headerProblems(header), ...raggedRows(rows, width)];
  return problems.length > 0 ? failed(...capped(problems)) : found({ file, delimiter, header, rows });
}

/** How a column's cells are read by {@link csvAsSource}. */
export type CellKind = 'text' | 'number' | 'yes-no';

/**
 * A table as a list of objects, one a row, each column under its header's name; empty cells are left out. A cell that
 * is not of its column's kind stays a text, so that a schema can say so. A decimal comma is understood where the comma
 * is not what parts the cells.
 */
export function csvAsSource(table: CsvTable, kinds: Readonly<Record<string, CellKind>>): Source {
  const names = table.header.map((cell) => cell.text.trim());
  const value = table.rows.map((row) => {
    const entry: Record<string, unknown> = Object.create(null);
    row.forEach((cell, i) => {
      const name = names[i] ?? '';
      const text = cell.text.trim();
      const kind = Object.hasOwn(kinds, name) ? kinds[name] : 'text';
      if (text !== '') entry[name] = cellValue(text, kind ?? 'text', table.delimiter);
    });
    return entry;
  });
  const start = table.header[0]?.place ?? { file: table.file, line: 1, column: 1 };
  const cellAt = (row: string | number | undefined, name: string | number | undefined): Place => {
    const cells = row === undefined ? undefined : table.rows[Number(row)];
    const cell = name === undefined ? undefined : cells?.[names.indexOf(String(name))];
    return cell?.place ?? cells?.[0]?.place ?? start;
  };
  const headerAt = (name: string | number | undefined): Place | undefined =>
    name === undefined ? undefined : table.header[names.indexOf(String(name))]?.place;
  return {
    file: table.file,
    value,
    placeOf: ([row, name]) => cellAt(row, name),
    placeOfKey: ([row, name]) => headerAt(name) ?? cellAt(row, name),
  };
}

function cellValue(text: string, kind: CellKind, delimiter: Delimiter): unknown {
  if (kind === 'number') {
    const point = delimiter === ',' ? text : text.replace(',', '.');
    return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(point) ? Number(point) : text;
  }
  if (kind === 'yes-no') {
    if (/^(yes|true|y|x|1)$/i.test(text)) return true;
    return /^(no|false|n|0)$/i.test(text) ? false : text;
  }
  return text;
}

/** A first line such as `sep=;`, by which spreadsheets tell each other what parts the cells. */
function saidDelimiter(text: string, place: Place): Outcome<{ delimiter?: Delimiter; length: number }> {
  const [line, sign] = /^"?sep=([^\r\n]?)"?(?:\r\n|\r|\n|$)/i.exec(text) ?? [];
  if (line === undefined) return found({ length: 0 });
  const delimiter = DELIMITERS.find((one) => one === sign);
  if (delimiter !== undefined) return found({ delimiter, length: line.length });
  return failed({
    code: 'csv-separator',
    message: `the first line says that ${sign === '' ? 'nothing' : `\`${shortText(sign ?? '', 4)}\``} parts the cells`,
    mend: 'save the table with a comma, a semicolon or a tab between its cells',
    place,
  });
}

/** The sign that parts the first filled line's cells most often, quoted ones left out. */
function delimiterOf(text: string): Delimiter {
  const counts = new Map<string, number>();
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const sign = text.charAt(i);
    if (sign === '"') quoted = !quoted;
    else if (!quoted && (sign === '\n' || sign === '\r')) {
      if (counts.size > 0) break;
    } else if (!quoted) counts.set(sign, (counts.get(sign) ?? 0) + 1);
  }
  let best: Delimiter = ',';
  for (const sign of DELIMITERS) if ((counts.get(sign) ?? 0) > (counts.get(best) ?? 0)) best = sign;
  return best;
}

/** Counted sign by sign before anything is parsed; a quoted sign counts too, which is only more careful. */
function tooMany(text: string, delimiter: Delimiter, lines: Lines): Problem | undefined {
  let [cells, rows] = [0, 0];
  let filled = false;
  for (let i = 0; i < text.length; i++) {
    const sign = text.charAt(i);
    const ends = sign === '\n' || sign === '\r';
    if (ends && filled) rows++;
    if (ends || sign === delimiter) cells++;
    filled = !ends;
    if (cells > LIMITS.words || rows > LIMITS.rows)
      return {
        code: 'too-many-values',
        message:
          rows > LIMITS.rows
            ? `the table has more than ${LIMITS.rows} rows, which is more than is read`
            : `the table has more than ${LIMITS.words} cells, which is more than is read`,
        mend: 'leave out rows and columns that say nothing',
        place: lines(i),
      };
  }
  return undefined;
}

function rowsOf(text: string, delimiter: Delimiter, lines: Lines): Outcome<readonly (readonly CsvCell[])[]> {
  const cursor = cellStarts(text, delimiter);
  const places: Place[] = [];
  try {
    const rows = parse(text, {
      delimiter,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
      skip_empty_lines: true,
      cast: (cell, context) => {
        places.push(lines(cursor.startOfNext(context.bytes)));
        return cell;
      },
    });
    let next = 0;
    return found(rows.map((row) => row.map((cell) => ({ text: cell, place: places[next++] ?? lines(0) }))));
  } catch (error) {
    const code = error instanceof CsvError ? error.code : undefined;
    return failed({
      code: 'csv-syntax',
      message:
        code === 'CSV_QUOTE_NOT_CLOSED'
          ? 'the quotes that open this cell are never closed'
          : 'this cell holds a quote that is neither its first nor its last sign',
      mend: 'put the whole cell in quotes, and double every quote inside it',
      place: lines(cursor.start()),
    });
  }
}

/**
 * Follows the cells' starts through the text. The parser tells the byte after each cell; before the next one lies one
 * delimiter, or line ends only.
 */
function cellStarts(
  text: string,
  delimiter: string,
): { start: () => number; startOfNext: (endByte: number) => number } {
  let [offset, byte] = [0, 0];
  let first = true;
  const start = (): number => {
    if (!first && text.startsWith(delimiter, offset)) return offset + 1;
    let at = offset;
    while (text[at] === '\n' || text[at] === '\r') at++;
    return at;
  };
  const startOfNext = (endByte: number): number => {
    const found = start();
    first = false;
    while (byte < endByte && offset < text.length) {
      const point = text.codePointAt(offset) ?? 0;
      byte += point < 0x80 ? 1 : point < 0x800 ? 2 : point < 0x10000 ? 3 : 4;
      offset += point < 0x10000 ? 1 : 2;
    }
    return found;
  };
  return { start, startOfNext };
}

/** Cells up to the last that is filled. */
const usedWidth = (row: readonly CsvCell[]): number =>
  row.findLastIndex((cell) => cell.text.trim() !== '') + 1;

function headerProblems(header: readonly CsvCell[]): readonly Problem[] {
  const seen = new Set<string>();
  const problems: Problem[] = [];
  for (const cell of header) {
    const name = cell.text.trim();
    const shown = shortText(name, 60);
    if (name === '')
      problems.push({
        code: 'csv-header',
        message: 'a column has no name',
        mend: 'name it, or take the column away',
        place: cell.place,
      });
    else if (name === '__proto__' || name === 'constructor' || name === 'prototype')
      problems.push({
        code: 'unsafe-key',
        message: `\`${shown}\` cannot be used as a name`,
        mend: 'choose another name',
        place: cell.place,
      });
    else if (seen.has(name))
      problems.push({
        code: 'duplicate-key',
        message: `the column \`${shown}\` is there twice`,
        mend: 'leave one of the two',
        place: cell.place,
      });
    seen.add(name);
  }
  return problems;
}

function raggedRows(rows: readonly (readonly CsvCell[])[], width: number): readonly Problem[] {
  return rows
    .filter((row) => row.length !== width)
    .map((row) => ({
      code: 'csv-ragged',
      message: `the row has ${row.length} ${row.length === 1 ? 'cell' : 'cells'}, but the header has ${width}`,
      mend:
        row.length > width
          ? 'a cell that holds the separating sign must stand in quotes; the first row names the columns'
          : 'what is left out stands empty between its separating signs',
      place: (row.length > width ? row[width] : row[0])?.place ?? { file: '', line: 1, column: 1 },
    }));
}
