/** From the description's words to the resolved ring; everything that stands against it is reported. */
import { SIDES, type Side } from '../geometry/side.ts';
import { micrometres, onStep, stepUp, type Units, units, ZERO } from '../geometry/units.ts';
import type { Footprint, Library } from '../library/footprint.ts';
import type { Place } from '../problems/problem.ts';
import type { Source } from '../source/source.ts';
import { checkAlikeNames } from './alike-names.ts';
import { cornerCell, namedCells } from './cells.ts';
import { withoutDeep } from './deep-fillers.ts';
import { DEFAULTS } from './defaults.ts';
import { resolveElectrical } from './electrical-resolve.ts';
import { type EntryContext, resolveEntry } from './entries.ts';
import { checkFineness } from './fine-fillers.ts';
import { checkGrid, checkLibraryGrid, checkStemGrid } from './grid.ts';
import { drawnLeast, exact } from './lengths.ts';
import { resolveNeighbours } from './neighbours.ts';
import type { OrderedText } from './order-list.ts';
import { dieWishOf, onEverySide, onOneSide, resolveOrder } from './order-resolve.ts';
import type { ListedFinger } from './package-fingers.ts';
import { checkSlack, resolvePackage } from './package-resolve.ts';
import { padRules } from './pad-rules.ts';
import type { ListedCell } from './pin-list.ts';
import { checkPinNames } from './pins.ts';
import type { Report } from './report.ts';
import type { Entry, PadKind, Ring, SideSpec, Style } from './ring.ts';
import { checkRuleNames, type KnownRule } from './rule-names.ts';
import type { KnownText, RingText } from './schema.ts';
import { checkCarried, resolveSections } from './sections.ts';
import { suspect } from './suspicions.ts';
import { type Facts, padCount, refuseUseless, refuseUselessBreaks, sidesWithStems } from './useless.ts';

/** What was read, as far as it could be. */
export interface Read {
  readonly source: Source;
  /** The keys that are as they should be. */
  readonly text: KnownText;
  /** The keys that are given but are not as they should be. */
  readonly broken: readonly string[];
  readonly listed: readonly ListedCell[];
  /** The cells of an order that is cut into sides later. */
  readonly ordered: readonly OrderedText[];
  readonly library: Library;
  readonly knownRules: readonly KnownRule[];
  /** The bond fingers of the CSV file that the package names, where it is as it should be. */
  readonly fingers: readonly ListedFinger[] | undefined;
}

/** The ring, unless anything was reported; undefined too where a key that it needs is missing. */
export function resolveRing(report: Report, read: Read): Ring | undefined {
  const { source, text, library } = read;
  suspect(report, source, text);
  checkRuleNames(report, source, text, read.knownRules);
  const grid = gridOf(report, read);
  checkGrid(report, source, text, grid);
  const named = namedCells(report, source, library, 'fillers', text.fillers);
  const breaks = namedCells(report, source, library, 'breaks', text.breaks);
  const corner = cornerCell(report, source, library, text.corners?.cell);
  const placeOfFiller = ({ name }: Footprint): Place => {
    const at = text.fillers?.indexOf(name) ?? -1;
    return source.placeOf(at < 0 ? ['cells'] : ['fillers', at]);
  };
  const fillers = corner === undefined ? named : withoutDeep(report, placeOfFiller, library, named, corner);
  checkFineness(report, placeOfFiller, fillers);
  const { sections: sectionTexts, bondPads, edge, ring: name } = text;
  const sections = sectionTexts === undefined ? [] : resolveSections(report, source, sectionTexts, library);
  refuseUselessBreaks(report, source, text, sections);
  const styles = bySide(text.style, DEFAULTS.style);
  const slacks = bySide(text.slack, DEFAULTS.slack);
  const overCircuit = text.rows?.overCircuit ?? DEFAULTS.rows.overCircuit;
  const twoRows = (side: Side): boolean =>
    styles[side] === 'staggered' || (styles[side] === 'over-circuit' && overCircuit === 2);
  const kinds = kindsOf(report, source, bondPads?.kinds);
  const stemWidth = text.stems?.width ?? ZERO;
  const context: EntryContext = { report, grid, library, sections, kinds, styles, twoRows, stemWidth };
  const order = text.order === undefined ? undefined : resolveOrder(context, source, text, read.ordered);
  const bySideEntries = order === undefined ? entriesOf(context, read.listed) : onOneSide(order);
  const entries = SIDES.flatMap((side) => bySideEntries[side]);
  checkCarried(report, source, sections, entries, fillers);
  checkPinNames(report, entries);
  checkAlikeNames(report, source, text, entries);
  if (sectionTexts === undefined || bondPads === undefined) return undefined;

  const toCell = bondPads.toCell ?? exact(DEFAULTS.bondPads.toCell);
  const anywhere = order === undefined ? bySideEntries : onEverySide(order);
  const facts: Facts = { styles, entries: anywhere, twoRows, toCell };
  const dieWish = dieWishOf(report, source, text);
  checkEntries(report, read, entries, facts);
  refuseUseless(report, source, text, facts);
  const neighbours = resolveNeighbours(report, source, text.neighbours ?? [], entries, sections);
  const used = [...entries.map((entry) => entry.footprint), ...fillers, ...breaks];
  checkLibraryGrid(report, source.placeOf(['cells']), grid, corner === undefined ? used : [...used, corner]);
  const withStems = sidesWithStems(facts);
  const stemmed = withStems.flatMap((side) => anywhere[side]);
  if (text.stems !== undefined) checkStemGrid(report, source, grid, text.stems.width, stemmed);
  else if (withStems.length > 0)
    report.absence(
      source.placeOf([]),
      'missing-key',
      `the file lacks \`stems\`, and bond pads of the ${withStems[0]} side stand off their cells`,
      'add `stems: {width: …, layers: […]}`: the metal that joins them',
    );
  const shrink = text.shrink ?? DEFAULTS.shrink;
  const pads = padRules(report, source, bondPads, toCell, shrink);
  const pitches = cornerPitches(report, source, text, shrink, pads.pitch);
  checkSlack(report, source, slacks, text.package);
  const bonded =
    text.package === undefined
      ? undefined
      : resolvePackage(
          { report, source, table: read.fingers, entries: bySideEntries, twoRows },
          text.package,
        );
  const electrical =
    text.electrical === undefined
      ? undefined
      : resolveElectrical(
          { report, source, library, sections, entries, grid, packaged: text.package !== undefined },
          text.electrical,
        );
  if (corner === undefined || edge === undefined || name === undefined) return undefined;

  const sideSpec = (side: Side): SideSpec => ({
    style: styles[side],
    slack: slacks[side],
    entries: order === undefined ? bySideEntries[side] : [],
  });
  const { numbering, rows, core } = text;
  return {
    name,
    grid,
    shrink,
    library,
    die: givenDie(text),
    edge: {
      street: edge.street,
      seal: edge.seal ?? exact(DEFAULTS.edge.seal),
      clearance: edge.clearance ?? exact(DEFAULTS.edge.clearance),
    },
    core: {
      width: core?.width ?? exact(DEFAULTS.core.width),
      height: core?.height ?? exact(DEFAULTS.core.height),
      clearance: core?.clearance ?? exact(DEFAULTS.core.clearance),
    },
    pads,
    rows: {
      overCircuit,
      gap: rows?.gap ?? stepUp(pads.spacing, grid),
      first: rows?.first ?? DEFAULTS.rows.first,
      inset: rows?.inset ?? exact(DEFAULTS.rows.inset),
    },
    stems: {
      width: text.stems?.width ?? ZERO,
      spacing: text.stems?.spacing ?? pads.spacing,
      layers: text.stems?.layers ?? [],
    },
    corners: {
      clearance: drawnLeast(text.corners?.clearance ?? exact(DEFAULTS.corners.clearance), shrink),
      pitches,
      footprint: corner,
    },
    numbering: {
      side: numbering?.side ?? DEFAULTS.numbering.side,
      end: numbering?.end ?? DEFAULTS.numbering.end,
      direction: numbering?.direction ?? DEFAULTS.numbering.direction,
    },
    fillers,
    breaks,
    sections,
    sides: {
      left: sideSpec('left'),
      bottom: sideSpec('bottom'),
      right: sideSpec('right'),
      top: sideSpec('top'),
    },
    ...(order === undefined ? {} : { order }),
    ...(dieWish === undefined ? {} : { dieWish }),
    neighbours,
    severities: new Map(Object.entries(text.severities ?? {})),
    waivers: text.waivers ?? [],
    ...(bonded === undefined ? {} : { package: bonded }),
    ...(electrical === undefined ? {} : { electrical }),
    ...(text.layout === undefined ? {} : { layout: text.layout }),
    place: source.placeOf([]),
    diePlace: source.placeOf(text.die === undefined ? [] : ['die']),
  };
}

/** The die where both of its extents are given. */
function givenDie({ die }: KnownText): Ring['die'] {
  if (die === undefined || die === 'fit' || die.width === undefined || die.height === undefined) return null;
  return { width: die.width, height: die.height };
}

/** The grid; half of it must be a whole unit, as a pad's centre may lie half a step off. */
function gridOf(report: Report, { source, text, broken }: Read): Units {
  // Where the grid could not be read, nothing is told to lie off it.
  if (broken.includes('grid')) return units(2);
  const grid = text.grid ?? exact(DEFAULTS.grid);
  if (onStep(grid, units(2))) return grid;
  report.error(
    source.placeOf(['grid']),
    'grid-too-fine',
    `\`grid\` is ${micrometres(grid)}, and half of it is finer than a picometre`,
    'round it to an even number of picometres: five decimals at most',
  );
  return units(grid + 1);
}

function bySide<T extends string>(
  given: T | Partial<Record<Side | 'default', T | undefined>> | undefined,
  fallback: T,
): Readonly<Record<Side, T>> {
  const of = (side: Side): T =>
    typeof given === 'object' ? (given[side] ?? given.default ?? fallback) : (given ?? fallback);
  return { left: of('left'), bottom: of('bottom'), right: of('right'), top: of('top') };
}

function kindsOf(
  report: Report,
  source: Source,
  given: RingText['bondPads']['kinds'],
): ReadonlyMap<string, PadKind> {
  const kinds = Object.entries(given ?? {});
  if (given !== undefined && kinds.length === 0)
    report.error(
      source.placeOf(['bondPads', 'kinds']),
      'no-kind',
      '`bondPads.kinds` is empty',
      'name a kind: `plain: {along: …, deep: …, opening: {along: …, deep: …}}`',
    );
  if (given?.none !== undefined)
    report.error(
      source.placeOfKey(['bondPads', 'kinds', 'none']),
      'reserved-name',
      'a kind of bond pad cannot be named `none`: that word leaves a pin without one',
      'choose another name',
    );
  return new Map(kinds.map(([name, kind]) => [name, { name, ...kind }]));
}

function entriesOf(
  context: EntryContext,
  listed: readonly ListedCell[],
): Readonly<Record<Side, readonly Entry[]>> {
  const entries: Record<Side, Entry[]> = { left: [], bottom: [], right: [], top: [] };
  for (const cell of listed) {
    const entry = resolveEntry(context, cell);
    if (entry !== undefined) entries[cell.side].push(entry);
  }
  return entries;
}

/** A ring has bond pads, and a kind for those that stand outside or over the cells. */
function checkEntries(report: Report, read: Read, entries: readonly Entry[], facts: Facts): void {
  const { source, text } = read;
  const lacking =
    read.listed.length + read.ordered.length > 0 && text.bondPads?.kinds === undefined && needsKinds(facts);
  if (lacking)
    report.absence(
      source.placeOfKey(['bondPads']),
      'missing-key',
      '`bondPads` lacks `kinds`, and there are bond pads that no cell contains',
      'add `kinds: {plain: {along: …, deep: …, opening: {along: …, deep: …}}}`',
    );
  else if (!entries.some((entry) => padCount(entry) > 0))
    report.absence(
      source.placeOfKey([text.order !== undefined ? 'order' : text.pins === undefined ? 'sides' : 'pins']),
      'no-bond-pad',
      'no pin of the ring has a bond pad',
      'list the pins of each side: `sides: {left: [{pin: …, cell: …}], …}`',
    );
}

const needsKinds = (facts: Facts): boolean =>
  SIDES.some((side) => {
    const style: Style = facts.styles[side];
    return style !== 'in-cell' && facts.entries[side].some((entry) => entry.footprint.landings.length > 0);
  });

/** The wider pitches near the corners; each step must ask for more than the steps and the pitch around it. */
function cornerPitches(
  report: Report,
  source: Source,
  text: KnownText,
  shrink: number,
  pitch: Units,
): Ring['corners']['pitches'] {
  const steps = (text.corners?.pitches ?? DEFAULTS.corners.pitches).map((step) => ({
    pads: step.pads,
    pitch: drawnLeast(step.pitch, shrink),
  }));
  steps.forEach((step, i) => {
    const outdone = steps.some(
      (other, k) =>
        k !== i &&
        other.pads >= step.pads &&
        other.pitch >= step.pitch &&
        (k < i || other.pads > step.pads || other.pitch > step.pitch),
    );
    if (step.pitch <= pitch || outdone)
      report.error(
        source.placeOf(['corners', 'pitches', i]),
        'useless-key',
        step.pitch <= pitch
          ? `this step can change nothing: its pitch is not wider than \`bondPads.pitch\``
          : 'this step can change nothing: another one asks as much of more pads',
        'widen it or leave it out',
      );
  });
  return steps;
}
