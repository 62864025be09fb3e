/** From the listed cells to the ring's entries: footprint, pins, nets and bond pads of each. */
import type { Side } from '../geometry/side.ts';
import { micrometres, type Units, ZERO } from '../geometry/units.ts';
import type { Footprint, Landing, Library } from '../library/footprint.ts';
import { DEFAULTS } from './defaults.ts';
import { edgesOnGrid, mustBeOnGrid } from './lengths.ts';
import type { ListedCell } from './pin-list.ts';
import { netsOf, pinsOf } from './pins.ts';
import { didYouMean, type Report, shown } from './report.ts';
import type { Entry, PadKind, Section, Style } from './ring.ts';

/** What every entry is resolved against. */
export interface EntryContext {
  readonly report: Report;
  readonly grid: Units;
  readonly library: Library;
  readonly sections: readonly Section[];
  /** By name, the first one being what a pin gets that names none. */
  readonly kinds: ReadonlyMap<string, PadKind>;
  readonly styles: Readonly<Record<Side, Style>>;
  /** Whether a side has two rows of bond pads. */
  readonly twoRows: (side: Side) => boolean;
  /** The width of stems; 0 where the description has none. */
  readonly stemWidth: Units;
}

/** The entry that a listed cell stands for; undefined where it has none, which was then reported. */
export function resolveEntry(context: EntryContext, cell: ListedCell): Entry | undefined {
  const { report, grid, library } = context;
  const { text, placeOf, side } = cell;
  const footprint = footprintOf(report, library, cell);
  if (footprint === undefined) return undefined;
  const section = sectionOf(context, cell, footprint);
  const pins = pinsOf(report, cell, footprint);
  const nets = netsOf(report, cell, footprint, pins, section);
  const pad = padOf(context, cell, footprint);
  for (const key of ['at', 'gap', 'shift'] as const) {
    const length = text[key];
    if (length !== undefined) mustBeOnGrid(report, grid, length, `\`${key}\``, () => placeOf(key));
  }
  const mirrored = text.mirrored ?? DEFAULTS.entry.mirrored;
  const shift = text.shift ?? ZERO;
  if (pad.kind !== null) {
    const { kind } = pad;
    for (const landing of footprint.landings)
      if (shift % grid === 0 && !edgesOnGrid(grid, landing.at + shift, kind.along))
        offGridPad(context, cell, footprint, landing, kind);
    checkShift(context, cell, shift, kind);
  }
  if (text.row !== undefined && !context.twoRows(side))
    report.absence(
      placeOf('row'),
      'useless-key',
      `the ${side} side has a single row, so \`row\` says nothing`,
      'leave it out',
    );
  else if (text.row !== undefined && pad.kind === null)
    report.absence(
      placeOf('row'),
      'useless-key',
      'the cell gets no bond pad, so `row` says nothing',
      'leave it out',
    );
  if (text.shift !== undefined && pad.kind === null)
    report.absence(
      placeOf('shift'),
      'useless-key',
      pad.inside
        ? 'the cell contains its bond pad, so `shift` cannot move it'
        : 'the cell gets no bond pad, so `shift` moves nothing',
      'leave it out',
    );
  const tied = tiedOf(report, cell, footprint);
  return {
    pins,
    nets,
    footprint,
    section: section?.name ?? '',
    at: text.at ?? null,
    gap: text.gap ?? ZERO,
    row: text.row ?? null,
    shift,
    mirrored,
    pad: pad.kind,
    ...(tied === undefined ? {} : { tied }),
    place: placeOf(),
  };
}

/** A shift keeps the bond pad on its landing, or on the whole width of the stem that leads there. */
function checkShift(context: EntryContext, { side, placeOf }: ListedCell, shift: Units, kind: PadKind): void {
  const { report, styles, stemWidth } = context;
  const stemmed = (styles[side] === 'inline' || styles[side] === 'staggered') && stemWidth > 0;
  const most = (stemmed ? Math.abs(kind.along - stemWidth) : kind.along) / 2;
  if (Math.abs(shift) <= most) return;
  report.error(
    placeOf('shift'),
    'shift-too-far',
    `a bond pad of kind ${shown(kind.name)} shifted by ${micrometres(shift)} um no longer meets its ${stemmed ? "stem over the stem's whole width" : 'landing'}`,
    `shift it by at most ${most / 1e6} um`,
  );
}

/** The footprint on that side; a vertical side may have another one for the same cell. */
function footprintOf(report: Report, library: Library, cell: ListedCell): Footprint | undefined {
  const named = library.footprints.get(cell.text.cell);
  if (named === undefined) {
    const usable = [...library.footprints.values()].filter((f) => f.role !== 'filler' && f.role !== 'corner');
    report.error(
      cell.placeOf('cell'),
      'unknown-cell',
      `the library ${shown(library.name)} has no cell ${shown(cell.text.cell)}`,
      didYouMean(
        cell.text.cell,
        usable.map((f) => f.name),
        'cell',
      ),
    );
    return undefined;
  }
  if (named.role === 'filler' || named.role === 'corner') {
    report.error(
      cell.placeOf('cell'),
      'set-by-itself',
      `${shown(named.name)} is a ${named.role}${named.role === 'corner' ? ' cell' : ''}, which is set by itself and not listed`,
      named.role === 'filler'
        ? 'to keep cells apart, give the next one a `gap`'
        : 'name it as `corners: {cell: …}`',
    );
    return undefined;
  }
  const vertical = cell.side === 'left' || cell.side === 'right' ? named.onVertical : null;
  return vertical === null ? named : (library.footprints.get(vertical) ?? named);
}

function sectionOf(context: EntryContext, cell: ListedCell, footprint: Footprint): Section | undefined {
  const { report, sections } = context;
  const { section: name } = cell.text;
  if (footprint.role === 'break') {
    if (name !== undefined)
      report.error(
        cell.placeOf('section'),
        'useless-key',
        `${shown(footprint.name)} is a break cell: it stands between sections, in none`,
        'leave `section` out',
      );
    return undefined;
  }
  if (name === undefined) {
    if (sections.length > 1)
      report.error(
        cell.placeOf(),
        'missing-key',
        `the cell names no section, and there are ${sections.length}`,
        `add \`section:\` with one of ${sections
          .slice(0, 12)
          .map((s) => shown(s.name))
          .join(', ')}`,
      );
    return sections.length > 1 ? undefined : sections[0];
  }
  const section = sections.find((s) => s.name === name);
  if (section === undefined && sections.length > 0)
    report.error(
      cell.placeOf('section'),
      'unknown-section',
      `there is no section ${shown(name)}`,
      didYouMean(
        name,
        sections.map((s) => s.name),
        'section',
      ),
    );
  return section;
}

interface Pad {
  /** The kind of its bond pads outside or over the cell; null where it has none. */
  readonly kind: PadKind | null;
  /** Whether the cell contains its bond pads. */
  readonly inside: boolean;
}

function padOf(context: EntryContext, cell: ListedCell, footprint: Footprint): Pad {
  const { report, kinds } = context;
  const { bondPad: named } = cell.text;
  const style = context.styles[cell.side];
  const useless = (why: string): void => {
    if (named !== undefined)
      report.absence(
        cell.placeOf('bondPad'),
        'useless-key',
        `${why}, so \`bondPad\` says nothing`,
        'leave it out',
      );
  };
  if (footprint.landings.length === 0) {
    useless('the cell has no landing');
    return { kind: null, inside: false };
  }
  const inside = footprint.landings.filter((landing) => landing.inside !== null);
  if (style === 'in-cell') {
    if (inside.length === footprint.landings.length) {
      useless('the cell contains its bond pad');
      return { kind: null, inside: true };
    }
    if (named !== 'none')
      report.absence(
        cell.placeOf('cell'),
        'pad-not-in-cell',
        `the ${cell.side} side is in-cell, but ${shown(footprint.name)} contains no bond pad`,
        'choose another style for the side, say in the cell file where the pad lies, or leave the pin unbonded with `bondPad: none`',
      );
    return { kind: null, inside: inside.length > 0 };
  }
  if (inside.length > 0) {
    report.absence(
      cell.placeOf('cell'),
      'pad-in-cell',
      `${shown(footprint.name)} contains its bond pad, but the ${cell.side} side is ${style}`,
      `set the style of the ${cell.side} side to \`in-cell\``,
    );
    return { kind: null, inside: true };
  }
  if (named === 'none') return { kind: null, inside: false };
  const kind = named === undefined ? kinds.values().next().value : kinds.get(named);
  if (kind === undefined && named !== undefined)
    report.absence(
      cell.placeOf('bondPad'),
      'unknown-kind',
      `there is no kind of bond pad ${shown(named)}`,
      didYouMean(named, [...kinds.keys(), 'none'], 'kind'),
    );
  return { kind: kind ?? null, inside: false };
}

function offGridPad(
  context: EntryContext,
  cell: ListedCell,
  footprint: Footprint,
  landing: Landing,
  kind: PadKind,
): void {
  context.report.error(
    cell.placeOf('bondPad'),
    'off-grid',
    `the bond pad's edges would lie off the grid of ${micrometres(context.grid)}: it is ${micrometres(kind.along)} along and its centre, landing ${shown(landing.name)} of ${shown(footprint.name)}, is ${micrometres(landing.at)} from the cell's edge`,
    `make the pad one step of ${micrometres(context.grid)} wider or narrower along, or move the landing by half a step`,
  );
}

function tiedOf(
  report: Report,
  cell: ListedCell,
  footprint: Footprint,
): Readonly<Record<string, 0 | 1>> | undefined {
  const { tied } = cell.text;
  if (tied === undefined) return undefined;
  const inputs = (footprint.signals ?? []).filter((s) => s.direction === 'input').map((s) => s.name);
  for (const name of Object.keys(tied))
    if (!inputs.includes(name))
      report.error(
        cell.placeOf('tied', name),
        'unknown-input',
        `${shown(footprint.name)} has no input ${shown(name)} toward the core`,
        didYouMean(name, inputs, 'input'),
      );
  return tied;
}
