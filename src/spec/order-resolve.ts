/** An order's cells as they would stand on each side that they may lie on, and its groups. */
import { SIDES, type Side } from '../geometry/side.ts';
import type { Place, Problem } from '../problems/problem.ts';
import type { Path, Source } from '../source/source.ts';
import { type EntryContext, resolveEntry } from './entries.ts';
import type { DieWish, Order, OrderedCell, OrderGroup } from './order.ts';
import type { OrderedText } from './order-list.ts';
import { didYouMean, newReport, type Report, shown } from './report.ts';
import type { Entry } from './ring.ts';
import type { KnownText } from './schema.ts';

/** More are not cut into sides: the search for the least die grows with the square of the order and takes seconds here. */
const MOST_ORDERED = 1000;

/** The order of a description, as far as it could be resolved. */
export function resolveOrder(
  context: EntryContext,
  source: Source,
  text: KnownText,
  listed: readonly OrderedText[],
): Order {
  const { report } = context;
  const cells = listed.slice(0, MOST_ORDERED);
  if (listed.length > MOST_ORDERED)
    report.error(
      source.placeOfKey(['order']),
      'order-too-long',
      `the order has ${listed.length} cells; at most ${MOST_ORDERED} are cut into sides`,
      'bind the cells to sides: list them under `sides`, or in a table that names the side of each as `pins`',
    );
  const groups = resolveGroups(report, source, text, cells);
  const allowed = cells.map((cell, i) =>
    sidesOf(
      report,
      cell,
      groups.filter((group) => group.cells.includes(i)),
    ),
  );
  const resolved = cells.map((cell, i) => standing(context, cell, allowed[i] ?? SIDES));
  return { cells: resolved, groups };
}

/** Every cell on each side where it may stand. */
export function onEverySide(order: Order): Readonly<Record<Side, readonly Entry[]>> {
  const of = (side: Side): readonly Entry[] => order.cells.flatMap(({ on }) => on[side] ?? []);
  return { left: of('left'), bottom: of('bottom'), right: of('right'), top: of('top') };
}

/** Every cell once, on the first side where it may stand. */
export function onOneSide(order: Order): Readonly<Record<Side, readonly Entry[]>> {
  const of = (side: Side): readonly Entry[] =>
    order.cells.flatMap(({ on }) =>
      SIDES.find((one) => on[one] !== undefined) === side ? (on[side] ?? []) : [],
    );
  return { left: of('left'), bottom: of('bottom'), right: of('right'), top: of('top') };
}

function sidesOf(report: Report, cell: OrderedText, groups: readonly OrderGroup[]): readonly Side[] {
  const { bound, text, placeOf } = cell;
  const own = bound === undefined ? SIDES : [bound];
  const sides = own.filter((side) => groups.every((group) => group.sides.includes(side)));
  if (sides.length === 0)
    report.error(
      placeOf(...(bound === undefined ? [] : ['side'])),
      'no-side-left',
      `the cell may lie on no side: ${[...(bound === undefined ? [] : [`\`side\` says ${bound}`]), ...groups.map((g) => `group ${shown(g.name)} says ${g.sides.join(' or ')}`)].join(', ')}`,
      'let them share a side',
    );
  else if (text.at !== undefined && sides.length > 1)
    report.error(
      placeOf('at'),
      'side-needed',
      'the cell is fixed with `at`, but may lie on several sides',
      "add `side:`; the place counts from that side's die corner",
    );
  return sides.length === 0 ? own : sides;
}

/** The cell on each side; what all sides say against it is told once, a key that says nothing only where no side needs it. */
function standing(context: EntryContext, cell: OrderedText, sides: readonly Side[]): OrderedCell {
  const told: (readonly Problem[])[] = [];
  const on: Partial<Record<Side, Entry>> = {};
  for (const side of sides) {
    const report = newReport(false);
    const entry = resolveEntry({ ...context, report }, { ...cell, side });
    if (entry !== undefined) on[side] = entry;
    told.push(report.problems);
    context.report.notes.push(...report.notes.filter((note) => !has(context.report.notes, note)));
  }
  const kept: Problem[] = [];
  for (const problem of told.flat()) {
    const everywhere = problem.code !== 'useless-key' || told.every((list) => has(list, problem));
    if (everywhere && !has(kept, problem)) kept.push(problem);
  }
  context.report.problems.push(...kept);
  return { on };
}

const samePlace = (a: Place | undefined, b: Place | undefined): boolean =>
  a?.file === b?.file && a?.line === b?.line && a?.column === b?.column;

/** Whether a list has a problem of the same kind at the same place. */
const has = (list: readonly Problem[], { code, place }: Problem): boolean =>
  list.some((other) => other.code === code && samePlace(other.place, place));

function resolveGroups(
  report: Report,
  source: Source,
  text: KnownText,
  cells: readonly OrderedText[],
): readonly OrderGroup[] {
  const pinsOf = cells.map(({ text: { pin, pins } }) => [
    ...(pin === undefined ? [] : [pin]),
    ...Object.values(pins ?? {}),
  ]);
  const all = [...new Set(pinsOf.flat())];
  return (text.order?.groups ?? []).map((group, g): OrderGroup => {
    const at = (...path: Path): Path => ['order', 'groups', g, ...path];
    const name = group.pins.slice(0, 3).join(', ') + (group.pins.length > 3 ? ' and more' : '');
    group.pins.forEach((pin, i) => {
      if (group.pins.indexOf(pin) !== i)
        report.error(
          source.placeOf(at('pins', i)),
          'duplicate-name',
          `pin ${shown(pin)} is named twice`,
          'leave one of the two',
        );
      else if (!all.includes(pin))
        report.absence(
          source.placeOf(at('pins', i)),
          'unknown-pin',
          `there is no pin ${shown(pin)}`,
          didYouMean(pin, all, 'pin'),
        );
    });
    const sides = group.sides === undefined ? SIDES : SIDES.filter((side) => group.sides?.includes(side));
    const whole = group.whole ?? false;
    const own = pinsOf.flatMap((pins, i) => (pins.some((pin) => group.pins.includes(pin)) ? [i] : []));
    if (!whole && sides.length === SIDES.length)
      report.error(
        source.placeOf(at()),
        'useless-key',
        `group ${shown(name)} may lie on every side and need not stay whole, so it says nothing`,
        'give it `sides`, or `whole: true`, or leave it out',
      );
    if (whole && own.length === 1)
      report.error(
        source.placeOfKey(at('whole')),
        'useless-key',
        `group ${shown(name)} is a single cell, so it is whole anyway`,
        'leave `whole` out',
      );
    const between = whole ? strangers(pinsOf, own) : [];
    if (between.length > 0)
      report.error(
        source.placeOf(at('pins')),
        'group-not-together',
        `the pins of group ${shown(name)} do not follow each other in the order: ${between.map(shown).join(', ')} ${between.length === 1 ? 'lies' : 'lie'} between`,
        'move them together, or leave `whole` out',
      );
    return { name, cells: own, sides, whole, place: source.placeOf(at()) };
  });
}

/** Pins of other cells between the cells of a group, going round the way that has the fewest. */
function strangers(pinsOf: readonly (readonly string[])[], own: readonly number[]): readonly string[] {
  const n = pinsOf.length;
  const ways = own.map((first) => {
    const between: string[] = [];
    let left = own.length;
    for (let k = 0; left > 0 && k < n; k++) {
      const cell = (first + k) % n;
      if (own.includes(cell)) left--;
      else between.push(...(pinsOf[cell] ?? []));
    }
    return between;
  });
  return ways.reduce((few, way) => (way.length < few.length ? way : few), ways[0] ?? []);
}

/** What a die that is not given in full must keep to; undefined where nothing is said of it. */
export function dieWishOf(report: Report, source: Source, text: KnownText): DieWish | undefined {
  const { die } = text;
  if (die === undefined || die === 'fit') return undefined;
  const useless = (key: string, why: string): void =>
    report.error(
      source.placeOfKey(['die', key]),
      'useless-key',
      `\`die.${key}\` says nothing: ${why}`,
      'leave it out',
    );
  const { width, height, aspect, least } = die;
  if (width !== undefined && height !== undefined) {
    for (const key of ['aspect', 'least'] as const)
      if (die[key] !== undefined) useless(key, 'width and height are both given');
    return undefined;
  }
  if (width === undefined && height === undefined && aspect === undefined && least === undefined)
    report.error(
      source.placeOf(['die']),
      'useless-key',
      '`die` says nothing',
      'write `die: fit`, or give it a width or a height',
    );
  if (least === 'area' && text.order === undefined)
    useless('least', 'with pins bound to sides there is one least die');
  if (least === 'area' && (width !== undefined || height !== undefined))
    useless('least', 'one extent is given, so the least area is the least other extent');
  return { width: width ?? null, height: height ?? null, aspect: aspect ?? null, least: least ?? 'side' };
}
