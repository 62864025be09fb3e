/** The pairs of shapes that come too near each other to be passed over, found once for all rules on distances. */

import type { Limits } from './limits.ts';
import { closeAmong, closeBetween, effortFor, type Sorted, sortedAlong } from './near.ts';
import { isVertical } from './turn.ts';
import type { CellView, PadView, StemView } from './view.ts';

export interface Closeness {
  readonly cells: readonly (readonly [CellView, CellView])[];
  /** Nearer than the spacing of metal or of openings. */
  readonly pads: readonly (readonly [PadView, PadView])[];
  /** A stem and a bond pad not its own, or another stem, nearer than the stems' spacing. */
  readonly stems: readonly (readonly [StemView, PadView | StemView])[];
  /** A bond pad over a cell that does not allow it. */
  readonly padsOnCells: readonly (readonly [PadView, CellView])[];
  /** A stem over a cell not its own. */
  readonly stemsOnCells: readonly (readonly [StemView, CellView])[];
  /** Shapes lie in such heaps that not all pairs were looked at. */
  readonly crowded: boolean;
}

export function closenessOf(
  limits: Limits,
  rows: readonly (readonly CellView[])[],
  corners: readonly CellView[],
  sidePads: readonly (readonly PadView[])[],
  stems: readonly StemView[],
): Closeness {
  const count = rows.reduce((sum, row) => sum + row.length, corners.length + stems.length);
  const effort = effortFor(sidePads.reduce((sum, row) => sum + row.length, count));
  const cellLists = [
    ...rows.map((row, side) => sortedAlong(row, isVertical(side))),
    sortedAlong(corners, false),
  ];
  const padLists = sidePads.map((row, side) => sortedAlong(row, isVertical(side)));
  const stemLists = stemsBySide(sidePads, stems);

  const cells: [CellView, CellView][] = [];
  closeAmong(cellLists, 0, effort, (a, b) => cells.push([a, b]));

  const pads: [PadView, PadView][] = [];
  const reach = Math.max(limits.spacing, limits.openingSpacing);
  closeAmong(padLists, reach, effort, (a, b) => pads.push([a, b]));

  const close: [StemView, PadView | StemView][] = [];
  closeAmong(stemLists, limits.stemSpacing, effort, (a, b) => {
    if (a.pad !== b.pad || a.pad === null) close.push([a, b]);
  });
  closeBetween(stemLists, padLists, limits.stemSpacing, effort, (stem, pad) => {
    if (stem.pad !== pad) close.push([stem, pad]);
  });

  const padsOnCells: [PadView, CellView][] = [];
  closeBetween(padLists, cellLists, 0, effort, (pad, cell) => {
    if (cell.kind === null || cell.kind.footprint.padOnTop) return;
    if (pad.cell === cell && isInside(pad)) return;
    padsOnCells.push([pad, cell]);
  });

  const stemsOnCells: [StemView, CellView][] = [];
  closeBetween(stemLists, cellLists, 0, effort, (stem, cell) => {
    if (stem.pad?.cell !== cell) stemsOnCells.push([stem, cell]);
  });
  return { cells, pads, stems: close, padsOnCells, stemsOnCells, crowded: effort.left < 0 };
}

/** Whether the library drew the pad into its cell: then it answers for what lies under it there. */
const isInside = (pad: PadView): boolean => pad.cell?.kind?.landings[pad.landing]?.inside != null;

/** Stems by the side of their pads; those without a pad lie apart and are compared with all. */
function stemsBySide(
  sidePads: readonly (readonly PadView[])[],
  stems: readonly StemView[],
): readonly Sorted<StemView>[] {
  const lists = sidePads.map((pads, side) =>
    sortedAlong(
      pads.flatMap((pad) => pad.stems),
      isVertical(side),
    ),
  );
  const astray = stems.filter((stem) => stem.pad === null);
  return astray.length === 0 ? lists : [...lists, sortedAlong(astray, false)];
}
