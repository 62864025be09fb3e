/** The cells of an order as they are listed: in the description or in a CSV file. */

import { SIDES, type Side } from '../geometry/side.ts';
import type { ReadFile } from '../library/lef-files.ts';
import { readNamed } from '../library/named.ts';
import { beside } from '../library/path.ts';
import type { Problem } from '../problems/problem.ts';
import { type Path, type Source, valueAt } from '../source/source.ts';
import { freeRowsOfCsv, type ListedCell } from './pin-list.ts';
import { type EntryText, entrySchema, type KnownText } from './schema.ts';

/** A cell of an order; `bound` is the side that it names. */
export interface OrderedText extends ListedCell {
  readonly bound: Side | undefined;
}

export interface OrderList {
  readonly cells: readonly OrderedText[];
  readonly problems: readonly Problem[];
}

/** The cells of the description's order; none where it has no order. */
export function orderOf(source: Source, keys: KnownText, file: string, readFile: ReadFile): OrderList {
  const given = (...path: Path): boolean => valueAt(source.value, path) !== undefined;
  if (!given('order')) return { cells: [], problems: [] };
  if (given('order', 'cells') === given('order', 'pins'))
    return { cells: [], problems: [eitherOr(source, given('order', 'pins'))] };
  const { pins } = keys.order ?? {};
  if (pins === undefined) return { cells: listed(source), problems: [] };
  const path = beside(file, pins);
  const text = readNamed(readFile, path, source.placeOf(['order', 'pins']));
  if (!text.ok) return { cells: [], problems: text.problems };
  const { rows, problems } = freeRowsOfCsv(text.value, path);
  const cells = rows.map(({ value: { side, ...entry }, placeOf }) => ordered(side, entry, placeOf));
  return { cells, problems };
}

const ordered = (bound: Side | undefined, text: EntryText, placeOf: ListedCell['placeOf']): OrderedText => ({
  side: bound ?? 'left',
  bound,
  text,
  placeOf,
});

/** The cells of the list that fit the schema; the others were told before. */
function listed(source: Source): readonly OrderedText[] {
  const list = valueAt(source.value, ['order', 'cells']);
  if (!Array.isArray(list)) return [];
  return list.flatMap((value: unknown, i): OrderedText[] => {
    const { side, ...rest }: Record<string, unknown> =
      typeof value === 'object' && value !== null ? { ...value } : {};
    const text = entrySchema.safeParse(rest).data;
    const bound = SIDES.find((name) => name === side);
    if (text === undefined) return [];
    return [ordered(bound, text, (...path) => source.placeOf(['order', 'cells', i, ...path]))];
  });
}

const eitherOr = (source: Source, both: boolean): Problem => ({
  code: both ? 'either-or' : 'missing-key',
  message: both ? '`cells` and `pins` of the order are both given' : '`order` lacks `cells`',
  mend: 'list the cells of the whole ring, counter-clockwise, under `cells`, or name a CSV file as `pins`',
  place: source.placeOfKey(['order']),
});
