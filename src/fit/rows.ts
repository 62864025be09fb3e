/** The bond pads of a side before anything has a place along it: which row, how deep, where from their cell. */
import type { Side } from '../geometry/side.ts';
import { type Units, units } from '../geometry/units.ts';
import type { Landing } from '../library/footprint.ts';
import type { Plan, PlannedCell } from '../plan/plan.ts';
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import type { Ring, RowName, Style } from '../spec/ring.ts';

export interface SidePad {
  /** The cell's index in the side. */
  readonly cell: number;
  readonly landing: Landing;
  readonly pin: string;
  readonly net: string;
  /** The pad's centre and its landing's centre along s from the placed cell's start edge. */
  readonly offset: Units;
  readonly landingOffset: Units;
  readonly along: Units;
  readonly deep: Units;
  readonly opening: { readonly along: Units; readonly deep: Units };
  readonly row: 'single' | RowName;
  /** The pad's outward edge along t. */
  readonly t: Units;
  /** The stem's extent along t; null where the pad lies on the cell. */
  readonly stem: { readonly from: Units; readonly to: Units } | null;
}

export interface SideRows {
  readonly side: Side;
  readonly cells: readonly PlannedCell[];
  readonly pads: readonly SidePad[];
  /** Where the cells' common outward edge lies along t. */
  readonly t0: Units;
  /** The innermost edge of a cell of the side along t, corner cells apart. */
  readonly inner: Units;
  /** Whether bond pads lie over the cells, or reach out of the cell that contains them. */
  readonly over: boolean;
}

/** Street, seal ring and clearance: nothing of the ring lies nearer to the die edge. */
export const allowance = (ring: Ring): Units =>
  units(ring.edge.street + ring.edge.seal + ring.edge.clearance);

/**
 * Whether the pads of a cell, over circuit, stay beside the corner cell at the side's start, and at its end: where that
 * allows no pad on top, or is less deep than the cell, within whose depth they lie.
 */
export function keepsBeside(
  ring: Ring,
  rows: SideRows,
  cell: number,
): { readonly start: boolean; readonly end: boolean } {
  const { padOnTop, depth, width } = ring.corners.footprint;
  const own = rows.cells[cell]?.footprint;
  const reach = own === undefined ? 0 : own.setback + own.depth;
  return { start: rows.over && (!padOnTop || reach > depth), end: rows.over && (!padOnTop || reach > width) };
}

/** A pad whose place along t waits for the depth of its row. */
type Draft = Omit<SidePad, 't' | 'stem'> & { readonly setback: Units };

/** The rows of one side. A cell that contains its pad on a side of another style, or lacks one, is a problem. */
export function sideRows(plan: Plan, side: Side): Outcome<SideRows> {
  const { ring } = plan;
  const cells = plan.sides[side];
  const { style } = ring.sides[side];
  const problems: Problem[] = [];
  const twoRows = style === 'staggered' || (style === 'over-circuit' && ring.rows.overCircuit === 2);
  const drafts: Draft[] = [];
  let next: RowName = ring.rows.first;
  cells.forEach((cell, index) => {
    const { entry, footprint } = cell;
    if (entry === null) return;
    footprint.landings.forEach((landing, k) => {
      const pin = entry.pins[k];
      if (pin === undefined) return;
      if (entry.pad === null && landing.inside === null) return;
      if ((landing.inside !== null) !== (style === 'in-cell')) {
        problems.push(wrongStyle(cell, side, style, landing));
        return;
      }
      const pad = landing.inside ?? entry.pad;
      if (pad === null) return;
      const row = twoRows ? (entry.row ?? next) : 'single';
      if (row !== 'single') next = row === 'outer' ? 'inner' : 'outer';
      const landingOffset = entry.mirrored ? units(footprint.width - landing.at) : landing.at;
      drafts.push({
        cell: index,
        landing,
        pin,
        net: entry.nets[k] ?? pin,
        offset: units(landingOffset + entry.shift),
        landingOffset,
        along: pad.along,
        deep: pad.deep,
        opening: pad.opening,
        row,
        setback: footprint.setback,
      });
    });
  });
  if (problems.length > 0) return failed(...problems);
  return found(placed(ring, side, cells, drafts));
}

function wrongStyle(cell: PlannedCell, side: Side, style: string, landing: Landing): Problem {
  const contains = landing.inside !== null;
  return {
    code: contains ? 'pad-is-in-cell' : 'pad-not-in-cell',
    message: contains
      ? `cell "${cell.name}" (${cell.footprint.name}) contains its bond pad, but the ${side} side is ${style}`
      : `cell "${cell.name}" (${cell.footprint.name}) contains no bond pad at landing "${landing.name}", but the ${side} side is in-cell`,
    mend: contains
      ? `set the style of the ${side} side to in-cell`
      : `choose another style for the ${side} side, or say in the cell file where the cell's bond pad lies`,
    ...(cell.entry === null ? {} : { place: cell.entry.place }),
  };
}

/** How deep the deepest pads of each row of a side are; 0 where a row has none. */
export interface RowDepths {
  /** The outer row, or the only one. */
  readonly outer: number;
  readonly inner: number;
  /** Whether the side has any bond pad. */
  readonly padded: boolean;
}

/** Where the rows of a side begin along t, and where the cells' common outward edge lies. */
export interface Across {
  readonly first: Units;
  readonly innerFrom: Units;
  readonly t0: Units;
}

/** Whether bond pads stand outside the cells. */
const isOutside = (style: Style): boolean => style === 'inline' || style === 'staggered';

/** Rows along t: each is as deep as its deepest pad; a row that is not used takes no room. */
export function across(ring: Ring, style: Style, { outer, inner, padded }: RowDepths): Across {
  const edge = allowance(ring);
  const outside = isOutside(style);
  const first = outside ? edge : units(edge + ring.rows.inset);
  const innerFrom = units(first + (outer > 0 && inner > 0 ? outer + ring.rows.gap : 0));
  const t0 = units(outside && padded ? innerFrom + (inner > 0 ? inner : outer) + ring.pads.toCell : edge);
  return { first, innerFrom, t0 };
}

/** A pad's outward edge along t, and its stem, with the rows where they are. */
export function padAcross(
  style: Style,
  { first, innerFrom, t0 }: Across,
  pad: Pick<SidePad, 'landing' | 'deep' | 'row'>,
  setback: Units,
): Pick<SidePad, 't' | 'stem'> {
  const cellEdge = units(t0 + setback);
  if (pad.landing.inside !== null)
    return { t: units(cellEdge + pad.landing.inside.t - pad.deep / 2), stem: null };
  const t = pad.row === 'inner' ? innerFrom : first;
  const from = units(t + pad.deep);
  return { t, stem: isOutside(style) && cellEdge > from ? { from, to: cellEdge } : null };
}

function placed(ring: Ring, side: Side, cells: readonly PlannedCell[], drafts: readonly Draft[]): SideRows {
  const { style } = ring.sides[side];
  const deepest = (row: SidePad['row']): number =>
    drafts.reduce((depth, d) => (d.row === row ? Math.max(depth, d.deep) : depth), 0);
  const rows = across(ring, style, {
    outer: Math.max(deepest('outer'), deepest('single')),
    inner: deepest('inner'),
    padded: drafts.length > 0,
  });
  const pads = drafts.map((draft): SidePad => {
    const { cell, landing, pin, net, offset, landingOffset, along, deep, opening, row } = draft;
    const { t, stem } = padAcross(style, rows, draft, draft.setback);
    return { cell, landing, pin, net, offset, landingOffset, along, deep, opening, row, t, stem };
  });
  const depth = cells.reduce((d, c) => Math.max(d, c.footprint.setback + c.footprint.depth), 0);
  const { t0 } = rows;
  return {
    side,
    cells,
    pads,
    t0,
    inner: units(t0 + depth),
    over: style === 'over-circuit' || reachesOut(cells, pads),
  };
}

/** Whether a pad that its cell contains is wider than the room it has there. */
const reachesOut = (cells: readonly PlannedCell[], pads: readonly SidePad[]): boolean =>
  pads.some(({ cell, landing, offset, along }) => {
    const width = cells[cell]?.footprint.width ?? 0;
    return landing.inside !== null && (offset < along / 2 || offset + along / 2 > width);
  });
