/** A ring description's text: the keys, the pin list, the cell library, and all of them resolved. */
import type { Library } from '../library/footprint.ts';
import type { ReadFile } from '../library/lef-files.ts';
import { readNamed } from '../library/named.ts';
import { beside } from '../library/path.ts';
import { failed, found, type Outcome, type Place, type Problem } from '../problems/problem.ts';
import { foreignFile } from '../source/foreign.ts';
import { capped } from '../source/limits.ts';
import { type Source, valueAt } from '../source/source.ts';
import { validate } from '../source/validate.ts';
import { readYaml } from '../source/yaml.ts';
import { orderOf } from './order-list.ts';
import { type FingerTable, fingersOfCsv } from './package-fingers.ts';
import { cellsOfCsv, cellsOfSides, type PinList } from './pin-list.ts';
import { newReport } from './report.ts';
import { resolveRing } from './resolve.ts';
import type { Ring } from './ring.ts';
import type { KnownRule } from './rule-names.ts';
import { type KnownText, ringSchema } from './schema.ts';

/** What a description is read with. */
export interface Surroundings {
  readonly readFile: ReadFile;
  /** The cell library from the cell file's path, and where that is named. */
  readonly readLibrary: (path: string, named: Place) => Outcome<Library>;
  /** The checker's rules, which severities and waivers may name. */
  readonly knownRules: readonly KnownRule[];
}

/** The ring that a text describes; `file` is its name in messages, and the files that it names lie beside it. */
export function parseRing(text: string, file: string, surroundings: Surroundings): Outcome<Ring> {
  const read = readYaml(text, file);
  if (!read.ok) return read;
  const source = read.value;
  const foreign = foreignFile(source, {
    name: 'ring description',
    known: Object.keys(ringSchema.shape),
    mend: 'a ring description has `ring`, `cells`, `edge`, `bondPads`, `sections` and its pins; `ringwright init` writes one',
  });
  if (foreign !== undefined) return failed(foreign);
  const checked = validate(ringSchema, source);
  const keys = checked.ok ? checked.value : soundKeys(source);
  const pins = pinListOf(source, keys, file, surroundings);
  const order = orderOf(source, keys, file, surroundings.readFile);
  const library =
    keys.cells === undefined
      ? undefined
      : surroundings.readLibrary(beside(file, keys.cells), source.placeOf(['cells']));
  const fingers = fingerTableOf(source, keys, file, surroundings);
  const before = [
    ...(checked.ok ? [] : checked.problems),
    ...pins.problems,
    ...order.problems,
    ...fingers.problems,
    ...(library === undefined || library.ok ? [] : namedAt(source, library.problems)),
  ];
  if (library === undefined || !library.ok) return failed(...capped(inReadingOrder(before)));
  const report = newReport(before.length > 0);
  const ring = resolveRing(report, {
    source,
    text: keys,
    broken: Object.keys(ringSchema.shape).filter(
      (key) => valueAt(keys, [key]) === undefined && valueAt(source.value, [key]) !== undefined,
    ),
    listed: pins.cells,
    ordered: order.cells,
    library: library.value,
    knownRules: surroundings.knownRules,
    fingers: fingers.problems.length > 0 ? undefined : fingers.fingers,
  });
  const problems = [...before, ...report.problems];
  return ring === undefined || problems.length > 0
    ? failed(...capped(inReadingOrder(problems)))
    : found(ring, [...library.notes, ...report.notes]);
}

/** File by file, and down each; a problem without a place comes last. */
function inReadingOrder(problems: readonly Problem[]): readonly Problem[] {
  const files = [...new Set(problems.flatMap((problem) => problem.place?.file ?? []))];
  const rank = ({ place }: Problem): readonly [number, number, number] =>
    place === undefined ? [files.length, 0, 0] : [files.indexOf(place.file), place.line, place.column];
  return problems.toSorted((a, b) => {
    const [first, second] = [rank(a), rank(b)];
    return first[0] - second[0] || first[1] - second[1] || first[2] - second[2];
  });
}

/** The keys that fit the schema where others do not, so that what they say is looked at too. */
function soundKeys(source: Source): KnownText {
  const sound: Record<string, unknown> = {};
  for (const [key, schema] of Object.entries(ringSchema.shape)) {
    const value = valueAt(source.value, [key]);
    if (value !== undefined && schema.safeParse(value).success) sound[key] = value;
  }
  return ringSchema.partial().safeParse(sound).data ?? {};
}

/** A file that cannot be read has no place of its own: the place is then where it is named. */
const namedAt = (source: Source, problems: readonly Problem[]): readonly Problem[] =>
  problems.map((problem) => (problem.place ? problem : { ...problem, place: source.placeOf(['cells']) }));

function pinListOf(source: Source, keys: KnownText, file: string, { readFile }: Surroundings): PinList {
  const given = (key: string): boolean => valueAt(source.value, [key]) !== undefined;
  const lists = ['sides', 'pins', 'order'].filter(given);
  const [, second] = lists;
  if (second !== undefined)
    return {
      cells: [],
      problems: [
        {
          code: 'either-or',
          message: `${lists.map((key) => `\`${key}\``).join(' and ')} are ${lists.length === 2 ? 'both' : 'all'} given`,
          mend: 'list the cells here under `sides`, or name a CSV file of them as `pins`, or give the whole ring as `order`',
          place: source.placeOfKey([second]),
        },
      ],
    };
  if (lists.length === 0 && typeof source.value === 'object' && source.value !== null)
    return {
      cells: [],
      problems: [
        {
          code: 'missing-key',
          message: 'the file lacks `sides`',
          mend: 'add `sides:` with the cells of each side, or `pins:` with a CSV file of them',
          place: source.placeOfKey([]),
        },
      ],
    };
  if (keys.pins === undefined) return { cells: cellsOfSides(source, keys.sides), problems: [] };
  const path = beside(file, keys.pins);
  const text = readNamed(readFile, path, source.placeOf(['pins']));
  return text.ok ? cellsOfCsv(text.value, path) : { cells: [], problems: text.problems };
}

function fingerTableOf(
  source: Source,
  keys: KnownText,
  file: string,
  { readFile }: Surroundings,
): FingerTable {
  const named = keys.package?.fingers;
  if (typeof named !== 'string') return { fingers: [], problems: [] };
  const path = beside(file, named);
  const text = readNamed(readFile, path, source.placeOf(['package', 'fingers']));
  return text.ok ? fingersOfCsv(text.value, path) : { fingers: [], problems: text.problems };
}
