/** The styles that a ring could be built in: those that its library and its rules allow, and why the others are not. */
import { across } from '../fit/rows.ts';
import { SIDES, type Side } from '../geometry/side.ts';
import { micrometres, type Units, units } from '../geometry/units.ts';
import { listed } from '../problems/listed.ts';
import type { Entry, Ring, Style } from '../spec/ring.ts';

/** A style in full: over circuit there are one or two rows. */
export interface Choice {
  readonly style: Style;
  readonly overCircuit: 1 | 2;
}

export const CHOICES: readonly Choice[] = [
  { style: 'inline', overCircuit: 1 },
  { style: 'staggered', overCircuit: 1 },
  { style: 'over-circuit', overCircuit: 1 },
  { style: 'over-circuit', overCircuit: 2 },
  { style: 'in-cell', overCircuit: 1 },
];

/** The choice as a table names it. */
export function nameOf({ style, overCircuit }: Choice): string {
  if (style !== 'over-circuit') return style.replace('-', ' ');
  return overCircuit === 1 ? 'over circuit, one row' : 'over circuit, two rows';
}

export const bySide = <T>(of: (side: Side) => T): Record<Side, T> => ({
  left: of('left'),
  bottom: of('bottom'),
  right: of('right'),
  top: of('top'),
});

/** The entries of a ring, each once. */
export const entriesOf = (ring: Ring): readonly Entry[] =>
  ring.order === undefined
    ? SIDES.flatMap((side) => ring.sides[side].entries)
    : ring.order.cells.flatMap(({ on }) => SIDES.flatMap((side) => on[side] ?? []).slice(0, 1));

/**
 * A ring as sizing looks at it: no die given, slack at the end of each side, no package to aim at. `stem` is the width
 * of stems where the ring has none.
 */
export function forSizing(ring: Ring, stem: Units = ring.stems.width): Ring {
  const { package: _, ...rest } = ring;
  const stems = ring.stems.width > 0 ? ring.stems : { ...ring.stems, width: stem };
  return { ...rest, die: null, stems, sides: bySide((side) => ({ ...ring.sides[side], slack: 'after' })) };
}

/** A ring in other styles; `overCircuit` is the number of rows of those over circuit. */
export const inStyles = (ring: Ring, styles: Readonly<Record<Side, Style>>, overCircuit: 1 | 2): Ring => ({
  ...ring,
  rows: { ...ring.rows, overCircuit },
  sides: bySide((side) => ({ ...ring.sides[side], style: styles[side] })),
});

/** Whether a cell has a bond pad, inside or beside it. */
export const hasPad = (entry: Entry): boolean =>
  entry.pins.length > 0 &&
  (entry.pad !== null || entry.footprint.landings.some((landing) => landing.inside !== null));

/** Why a style cannot be built with a ring's cells and rules; empty where it can. */
export function against(ring: Ring, choice: Choice): readonly string[] {
  const padded = entriesOf(ring).filter(hasPad);
  const with_ = (inside: boolean): readonly Entry[] =>
    padded.filter((entry) =>
      entry.footprint.landings.some((landing) => (landing.inside !== null) === inside),
    );
  if (choice.style === 'in-cell')
    return with_(false).length === 0 ? [] : [`no bond pad is inside ${cells(with_(false))}`];
  if (with_(true).length > 0) return [`the bond pad is inside ${cells(with_(true))}`];
  return [
    ...(choice.style === 'over-circuit' ? againstOver(ring, padded, choice) : againstStems(ring, choice)),
    ...againstSeal(ring, padded, choice),
  ];
}

/** The cells of some entries by name, a few at the most. */
const cells = (entries: readonly Entry[]): string =>
  listed([...new Set(entries.map((entry) => entry.footprint.name))], 3);

const um = (length: number): string => `${micrometres(units(length))} um`;

/** Without a stem there is no way from a bond pad that stands off its cell. */
function againstStems(ring: Ring, { style }: Choice): readonly string[] {
  const needed = style === 'staggered' || ring.pads.toCell > 0;
  return needed && ring.stems.width === 0 ? ['no width of stems is given: say `--stem`'] : [];
}

const deepest = (padded: readonly Entry[], of: (entry: Entry) => number | undefined): number =>
  padded.reduce((deep, entry) => Math.max(deep, of(entry) ?? 0), 0);

/** Where the rows lie, as deep as the deepest bond pad. */
function rowsOf(ring: Ring, padded: readonly Entry[], { style, overCircuit }: Choice) {
  const deep = deepest(padded, (entry) => entry.pad?.deep);
  const two = style === 'staggered' || (style === 'over-circuit' && overCircuit === 2);
  const rows = across(ring, style, { outer: deep, inner: two ? deep : 0, padded: padded.length > 0 });
  return { ...rows, deep, two };
}

/** Cells that allow no bond pad on top, or are not deep enough for the rows. */
function againstOver(ring: Ring, padded: readonly Entry[], choice: Choice): readonly string[] {
  const { first, innerFrom, t0, deep, two } = rowsOf(ring, padded, choice);
  const end = (two ? innerFrom : first) + deep - t0;
  const closed = padded.filter((entry) => !entry.footprint.padOnTop);
  const shallow = padded.filter((entry) => entry.footprint.setback + entry.footprint.depth < end);
  return [
    ...(closed.length === 0 ? [] : [`no bond pad may lie on ${cells(closed)}`]),
    ...(shallow.length === 0
      ? []
      : [`the rows reach ${um(end)} into the cells, deeper than ${cells(shallow)}`]),
  ];
}

/** Rows whose openings would lie too near to the seal ring, or too far from it. */
function againstSeal(ring: Ring, padded: readonly Entry[], choice: Choice): readonly string[] {
  const { first, innerFrom, deep, two } = rowsOf(ring, padded, choice);
  const seal = ring.edge.street + ring.edge.seal;
  const { least, most } = ring.pads.openingToSeal;
  const reasons: string[] = [];
  const distance = (t: Units, entry: Entry): number =>
    t + ((entry.pad?.deep ?? 0) - (entry.pad?.opening.deep ?? 0)) / 2 - seal;
  const nearest = Math.min(...padded.map((entry) => distance(first, entry)));
  const farthest = Math.max(...padded.map((entry) => distance(two ? innerFrom : first, entry)));
  if (deep > 0 && nearest < least)
    reasons.push(`openings would lie ${um(nearest)} from the seal ring, ${um(least - nearest)} too near`);
  if (deep > 0 && most !== null && farthest > most)
    reasons.push(`openings would lie ${um(farthest)} from the seal ring, ${um(farthest - most)} too far`);
  return reasons;
}
