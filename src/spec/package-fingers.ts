/** The bond fingers: listed, from a CSV file, or generated. */
import { SIDES, type Side } from '../geometry/side.ts';
import { micrometres, type Units, units } from '../geometry/units.ts';
import type { Place, Problem } from '../problems/problem.ts';
import { type CellKind, csvAsSource, readCsv } from '../source/csv.ts';
import type { Path, Source } from '../source/source.ts';
import { validate } from '../source/validate.ts';
import { type Finger, PADDLE } from './package.ts';
import {
  type FingerText,
  fingerSchema,
  type GeneratedText,
  PACKAGE_DEFAULTS,
  type PackageText,
} from './package-schema.ts';
import { noRows } from './pin-list.ts';
import { didYouMean, type Report, shown } from './report.ts';

/** A finger of a table and where each piece of it stands. */
export interface ListedFinger {
  readonly text: FingerText;
  readonly placeOf: (...path: Path) => Place;
}

/** The fingers that a CSV file lists, a row each under the names of the keys that a finger has. */
export interface FingerTable {
  readonly fingers: readonly ListedFinger[];
  readonly problems: readonly Problem[];
}

const KINDS: Readonly<Record<string, CellKind>> = {
  x: 'number',
  y: 'number',
  width: 'number',
  angle: 'number',
  tier: 'number',
};
const COLUMNS = Object.keys(fingerSchema.shape);

export function fingersOfCsv(text: string, file: string): FingerTable {
  const read = readCsv(text, file);
  if (!read.ok) return { fingers: [], problems: read.problems };
  const table = read.value;
  const problems: Problem[] = table.header
    .filter((cell) => !COLUMNS.includes(cell.text.trim()))
    .map((cell) => ({
      code: 'unknown-column',
      message: `the table of fingers has no column ${shown(cell.text.trim())}`,
      mend: didYouMean(cell.text.trim(), COLUMNS, 'column'),
      place: cell.place,
    }));
  if (table.rows.length === 0) problems.push(noRows('table of fingers', 'a row a finger', table));
  if (problems.length > 0) return { fingers: [], problems };
  const source = csvAsSource(table, KINDS);
  const fingers: ListedFinger[] = [];
  table.rows.forEach((_, i) => {
    const row = validate(fingerSchema, source, [i]);
    if (row.ok) fingers.push({ text: row.value, placeOf: (...path) => source.placeOf([i, ...path]) });
    else
      problems.push(
        ...row.problems.map((problem) => ({ ...problem, message: problem.message.replace(`[${i}].`, '') })),
      );
  });
  return { fingers, problems };
}

/** The fingers in order from pin 1; undefined where something stands against them, which was then reported. */
export function resolveFingers(
  report: Report,
  source: Source,
  text: PackageText['fingers'],
  table: readonly ListedFinger[] | undefined,
): readonly Finger[] | undefined {
  if (typeof text === 'string' && table === undefined) return undefined;
  const before = report.problems.length;
  const fingers = Array.isArray(text)
    ? listed(
        text.map((finger, i) => ({
          text: finger,
          placeOf: (...path) => source.placeOf(['package', 'fingers', i, ...path]),
        })),
      )
    : typeof text === 'string'
      ? listed(table ?? [])
      : generated(report, source, text);
  checkNames(report, fingers);
  checkPlaces(report, fingers);
  return report.problems.length > before ? undefined : fingers;
}

function listed(fingers: readonly ListedFinger[]): readonly Finger[] {
  const reach = (of: (text: FingerText) => number): number =>
    fingers.reduce((most, { text }) => Math.max(most, Math.abs(of(text))), 0);
  const [widest, highest] = [reach((f) => f.x), reach((f) => f.y)];
  return fingers.map(({ text, placeOf }) => ({
    ...text,
    tier: text.tier ?? PACKAGE_DEFAULTS.fingers.tier,
    side: sideOf(text.x / Math.max(widest, 1), text.y / Math.max(highest, 1)),
    place: placeOf('name'),
  }));
}

/** The side of a place in the square that all fingers span. */
function sideOf(x: number, y: number): Side {
  if (Math.abs(x) >= Math.abs(y)) return x < 0 ? 'left' : 'right';
  return y < 0 ? 'bottom' : 'top';
}

function generated(report: Report, source: Source, text: GeneratedText): readonly Finger[] {
  const at = (...path: string[]): Place => source.placeOf(['package', 'fingers', ...path]);
  const sides = text.sides ?? PACKAGE_DEFAULTS.fingers.sides;
  const tiers = text.tiers ?? PACKAGE_DEFAULTS.fingers.tiers;
  const each = text.count / sides.length;
  const order = sides.map((side) => SIDES.indexOf(side));
  if (
    order.some(
      (rank, i) =>
        i > 0 && (rank - (order[0] ?? 0) + 4) % 4 <= ((order[i - 1] ?? 0) - (order[0] ?? 0) + 4) % 4,
    )
  )
    report.error(
      at('sides'),
      'wrong-order',
      'the sides are not in counter-clockwise order, each once',
      'begin with the side of finger 1 and go on left, bottom, right, top',
    );
  if (!Number.isInteger(each))
    report.error(
      at('count'),
      'out-of-range',
      `\`package.fingers.count\` of ${text.count} cannot be shared among ${sides.length} sides`,
      `take a multiple of ${sides.length}`,
    );
  if (tiers === 2 && text.tierDistance === undefined)
    report.error(
      at('tiers'),
      'missing-key',
      '`package.fingers` has two tiers and lacks `tierDistance`',
      'add `tierDistance:`, from the first tips to the second',
    );
  if (tiers === 1 && text.tierDistance !== undefined)
    report.error(
      at('tierDistance'),
      'useless-key',
      'there is one tier, so `tierDistance` says nothing',
      'leave it out, or say `tiers: 2`',
    );
  if (text.pitch < text.width)
    report.error(
      at('pitch'),
      'out-of-range',
      `fingers ${micrometres(text.width)} wide overlap at a pitch of ${micrometres(text.pitch)}`,
      'widen the pitch or narrow the fingers',
    );
  const half = ((each - 1) * text.pitch) / tiers / 2;
  if (half + text.width / 2 > text.distance)
    report.error(
      at('distance'),
      'out-of-range',
      `${each} fingers reach ${half / 1e6} to both sides of the middle, further than the row's distance of ${micrometres(text.distance)}: the rows of two sides meet`,
      'move the row outward, or take fewer fingers or a narrower pitch',
    );
  if (!Number.isInteger(each)) return [];
  const fingers: Finger[] = [];
  for (const side of sides)
    for (let i = 0; i < each; i++) {
      const tier = tiers === 2 ? (i % 2) + 1 : 1;
      const along = units(Math.round(((i - (each - 1) / 2) * text.pitch) / tiers));
      const out = units(text.distance + (tier === 2 ? (text.tierDistance ?? 0) : 0));
      const [x, y] = onSide(side, along, out);
      fingers.push({
        name: String(fingers.length + 1),
        x,
        y,
        width: text.width,
        angle: outward(x, y),
        tier,
        side,
        place: at(),
      });
    }
  return fingers;
}

/** A place of a side's row, counter-clockwise along it. */
function onSide(side: Side, along: Units, out: Units): readonly [Units, Units] {
  const [back, outside] = [units(-along), units(-out)];
  if (side === 'bottom') return [along, outside];
  if (side === 'right') return [out, along];
  return side === 'top' ? [back, out] : [outside, back];
}

/** Away from the cavity's centre, to the tenth of a degree. */
const outward = (x: number, y: number): number => Math.round((Math.atan2(y, x) * 1800) / Math.PI) / 10 + 0;

function checkNames(report: Report, fingers: readonly Finger[]): void {
  const seen = new Set<string>();
  for (const { name, place } of fingers) {
    if (name === PADDLE)
      report.error(
        place,
        'reserved-name',
        `a finger cannot be named ${shown(PADDLE)}: that word stands for the ground paddle`,
        'choose another name',
      );
    if (seen.has(name))
      report.error(
        place,
        'duplicate-name',
        `the finger ${shown(name)} is there twice`,
        'give each finger a name of its own',
      );
    seen.add(name);
  }
}

/**
 * Fingers at one place: closer to each other, centre to centre, than half the narrower one's width. Each is told with
 * one other only. The wider ones come first, and squares are as wide as those that are looked at, so that fingers of
 * very different widths fill no square: what stays in one is few, for it keeps its distance.
 */
function checkPlaces(report: Report, fingers: readonly Finger[]): void {
  const levels = new Map<number, number[]>();
  fingers.forEach(({ width }, i) => {
    const level = Math.ceil(Math.log2(width));
    const members = levels.get(level);
    if (members === undefined) levels.set(level, [i]);
    else members.push(i);
  });
  const kept: number[] = [];
  const pairs: (readonly [earlier: number, later: number])[] = [];
  for (const [level, members] of [...levels].toSorted(([a], [b]) => b - a)) {
    const squares = squaresOf(2 ** level / 2, fingers);
    for (const i of kept) squares.put(i);
    for (const i of members) {
      const other = squares.near(i);
      if (other !== undefined) pairs.push([Math.min(i, other), Math.max(i, other)]);
      else {
        squares.put(i);
        kept.push(i);
      }
    }
  }
  for (const [earlier, later] of pairs.toSorted((a, b) => a[1] - b[1])) {
    const [other, finger] = [fingers[earlier], fingers[later]];
    if (other === undefined || finger === undefined) continue;
    report.error(
      finger.place,
      'fingers-at-one-place',
      `the fingers ${shown(other.name)} and ${shown(finger.name)} are at one place, (${micrometres(finger.x)}, ${micrometres(finger.y)})`,
      'move one of them, or list it once',
    );
  }
}

interface Squares {
  readonly put: (finger: number) => void;
  /** A finger that is put already and at one place with this one. */
  readonly near: (finger: number) => number | undefined;
}

function squaresOf(mesh: number, fingers: readonly Finger[]): Squares {
  const squares = new Map<string, number[]>();
  const squareOf = ({ x, y }: Finger): readonly [number, number] => [
    Math.floor(x / mesh),
    Math.floor(y / mesh),
  ];
  return {
    put: (index) => {
      const finger = fingers[index];
      if (finger === undefined) return;
      const key = squareOf(finger).join(':');
      const here = squares.get(key);
      if (here === undefined) squares.set(key, [index]);
      else here.push(index);
    },
    near: (index) => {
      const finger = fingers[index];
      if (finger === undefined) return undefined;
      const [column, row] = squareOf(finger);
      for (let i = -1; i <= 1; i++)
        for (let j = -1; j <= 1; j++)
          for (const at of squares.get(`${column + i}:${row + j}`) ?? []) {
            const other = fingers[at];
            if (other === undefined) continue;
            const least = Math.min(other.width, finger.width) / 2;
            if (Math.hypot(other.x - finger.x, other.y - finger.y) < least) return at;
          }
      return undefined;
    },
  };
}
