/** Where bond pads join a cell. */
import { micrometres, type Units } from '../geometry/units.ts';
import { type Book, type Candidate, knowsLane, quoted, wrong } from './book.ts';
import { extentInCell, middleOf, type Standing, shapesInCell } from './drawing.ts';
import type { InsidePad, Landing, Role } from './footprint.ts';
import type { LefMacro, LefPin, LefShape } from './lef/lef.ts';
import { withTied } from './ties.ts';

/** What the landings of a cell depend on beside its own data. */
export interface LandingSite {
  readonly role: Role;
  readonly standing: Standing;
  readonly laneOfPin: (pin: LefPin) => string | undefined;
  readonly ties: readonly (readonly string[])[];
}

/** The landings, from the cell file where it lists them, else from the pins that LEF draws. */
export function landingsOf(book: Book, cell: Candidate, site: LandingSite): readonly Landing[] {
  const feeding = (lanes: readonly string[]): readonly string[] => withTied(lanes, site.ties, book.lanes);
  if (cell.entry.landings)
    return listedLandings(book, cell).map((one) => ({ ...one, feeds: feeding(one.feeds) }));
  if (cell.macro)
    return drawnLandings(book, cell, cell.macro, site).map((one) => ({ ...one, feeds: feeding(one.feeds) }));
  if (NEED_PAD.has(site.role)) lacksLanding(book, cell, site.role, 'the cell file lists none');
  return [];
}

/** Roles that are nothing without a bond pad. */
const NEED_PAD: ReadonlySet<Role> = new Set<Role>(['signal', 'analog', 'supply']);

/** Roles that have one only where the cell file says so. */
const MAY_PAD: ReadonlySet<Role> = new Set<Role>(['clamp', 'control']);

function listedLandings(book: Book, cell: Candidate): readonly Landing[] {
  const names = new Set<string>();
  return (cell.entry.landings ?? []).map(({ name, at, feeds, inside }, i) => {
    const path = ['landings', i];
    if (names.has(name))
      wrong(book, cell, [...path, 'name'], {
        code: 'duplicate-name',
        message: `\`${quoted(cell.name)}\` has two landings named \`${quoted(name)}\``,
        mend: 'give each a name of its own',
      });
    names.add(name);
    feeds.forEach((lane, k) => {
      knowsLane(book, cell, [...path, 'feeds', k], lane);
    });
    return { name, at, feeds, inside: inside ? insidePad(book, cell, [...path, 'inside'], inside) : null };
  });
}

type InsideEntry = { readonly t: Units } & {
  readonly [K in Exclude<keyof InsidePad, 't'>]?: InsidePad[K] | undefined;
};

/** A pad inside the cell; its sizes are the library's where the entry says none. */
function insidePad(
  book: Book,
  cell: Candidate,
  path: readonly (string | number)[],
  { t, ...own }: InsideEntry,
): InsidePad | null {
  const { along, deep, opening } = { ...book.file.insidePad, ...own };
  if (along !== undefined && deep !== undefined && opening !== undefined) {
    if (opening.along > along || opening.deep > deep)
      wrong(book, cell, path, {
        code: 'opening-beyond-metal',
        message: `\`${quoted(cell.name)}\`: the opening is larger than its pad`,
        mend: `make it ${micrometres(along)} um along and ${micrometres(deep)} um deep at the most`,
      });
    return { t, along, deep, opening };
  }
  // One statement for the library mends all, so the first cell speaks for the others.
  if (!book.problems.some((one) => one.code === 'unknown-pad-size'))
    wrong(book, cell, path, {
      code: 'unknown-pad-size',
      message: `\`${quoted(cell.name)}\` contains its bond pad, but nothing says how large that is`,
      mend: 'give the library its `insidePad` with `along`, `deep` and `opening`, or these three to each landing',
    });
  return null;
}

function drawnLandings(book: Book, cell: Candidate, macro: LefMacro, site: LandingSite): readonly Landing[] {
  const { role } = site;
  const takesPad =
    NEED_PAD.has(role) || role === 'macro' || (MAY_PAD.has(role) && cell.entry.padPin !== undefined);
  if (!takesPad) return [];
  const padPin = padPinOf(book, cell, macro);
  if (padPin) {
    const landing = landingAtPin(book, cell, macro, site, padPin);
    return landing ? [landing] : [];
  }
  const onEdge =
    role !== 'supply'
      ? []
      : macro.pins.flatMap((pin) => {
          const lane = site.laneOfPin(pin);
          const shapes = outwardShapes(macro, site.standing, pin);
          return lane === undefined || shapes.length === 0
            ? []
            : [{ name: pin.name, at: middleOf(shapes, 'x', 'width'), feeds: [lane], inside: null }];
        });
  if (onEdge.length === 0 && NEED_PAD.has(role))
    lacksLanding(
      book,
      cell,
      role,
      `LEF draws no ${role === 'supply' ? 'supply' : 'pad'} pin that reaches its outward edge`,
    );
  return onEdge;
}

function padPinOf(book: Book, cell: Candidate, macro: LefMacro): LefPin | undefined {
  const { padPin } = cell.entry;
  if (padPin === undefined) return macro.pins.find((pin) => book.file.padPins.includes(pin.name));
  const pin = macro.pins.find((one) => one.name === padPin);
  if (!pin)
    wrong(book, cell, ['padPin'], {
      code: 'unknown-pin',
      message: `LEF gives \`${quoted(cell.name)}\` no pin \`${quoted(padPin)}\``,
      mend: `its pins are ${macro.pins.map((one) => `\`${quoted(one.name)}\``).join(', ')}`,
    });
  return pin;
}

/** The landing at a pad pin: on the outward edge, or a pad inside the cell around its place. */
function landingAtPin(
  book: Book,
  cell: Candidate,
  macro: LefMacro,
  site: LandingSite,
  pin: LefPin,
): Landing | undefined {
  const lane = site.laneOfPin(pin);
  const feeds = lane === undefined ? [] : [lane];
  const outward = outwardShapes(macro, site.standing, pin);
  if (outward.length > 0) return { name: pin.name, at: middleOf(outward, 'x', 'width'), feeds, inside: null };
  const shapes = macro.size ? shapesInCell(site.standing, macro.size, pin) : [];
  if (shapes.length === 0) {
    lacksLanding(book, cell, site.role, `LEF draws no shape of its pin \`${quoted(pin.name)}\``);
    return undefined;
  }
  if (reachesInner(macro, site.standing, shapes)) {
    wrong(book, cell, [], {
      code: 'pad-toward-core',
      message: `the pad pin \`${quoted(pin.name)}\` of \`${quoted(cell.name)}\` reaches the edge toward the core`,
      mend: 'if the library draws its cells that way round, say which edge faces outward: `drawn: {outward: top}`',
    });
    return undefined;
  }
  const t = middleOf(shapes, 'y', 'height');
  return {
    name: pin.name,
    at: middleOf(shapes, 'x', 'width'),
    feeds,
    inside: insidePad(book, cell, cell.entry.padPin === undefined ? [] : ['padPin'], { t }),
  };
}

const reachesInner = ({ size }: LefMacro, standing: Standing, shapes: readonly LefShape[]): boolean =>
  size !== null && shapes.some((shape) => shape.y + shape.height >= extentInCell(standing, size).height);

function outwardShapes(macro: LefMacro, standing: Standing, pin: LefPin): readonly LefShape[] {
  return macro.size ? shapesInCell(standing, macro.size, pin).filter((shape) => shape.y <= 0) : [];
}

function lacksLanding(book: Book, cell: Candidate, role: Role, why: string): void {
  wrong(book, cell, [], {
    code: 'no-landing',
    message: `nothing tells where a bond pad joins \`${quoted(cell.name)}\`, whose role is ${role}: ${why}`,
    mend: `list its \`landings\` in the cell file${cell.macro ? ', or name its `padPin`' : ''}`,
  });
}
