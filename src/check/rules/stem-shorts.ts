/** Stems against the strips of the cells that they reach: metal of two nets on one layer that meets is a short. */
import { partedBy } from '../arcs.ts';
import type { Hit, Rule } from '../finding.ts';
import { once } from '../once.ts';
import { few, hitBetween } from '../say.ts';
import { type Box, highS, highT, lowS, lowT } from '../turn.ts';
import type { CellView, PadView, SectionView, StemView, View } from '../view.ts';

/** A stem that meets strips of another net, each as `VDD (M5)`. */
export interface StemShort {
  readonly stem: StemView;
  readonly cell: CellView;
  readonly strips: readonly string[];
}

/** Whether two boxes share an area or a length of an edge. */
const meets = (a: Box, b: Box): boolean =>
  a.x0 <= b.x1 &&
  b.x0 <= a.x1 &&
  a.y0 <= b.y1 &&
  b.y0 <= a.y1 &&
  ((a.x0 < b.x1 && b.x0 < a.x1) || (a.y0 < b.y1 && b.y0 < a.y1));

/** The cells of a side, and the corner cells at its two ends. */
const cellsAlong = (view: View, side: number): readonly CellView[] => [
  ...(view.corners[(side + 3) & 3] ?? []),
  ...(view.rows[side] ?? []),
  ...(view.corners[side] ?? []),
];

/**
 * The cells that each stem meets. Those that it lies over were found already; those that it only touches stand on the
 * side of its bond pad.
 */
function* met(view: View): Generator<readonly [StemView, CellView]> {
  yield* view.close.stemsOnCells;
  for (let side = 0; side < 4; side++) {
    const pads = (view.sidePads[side] ?? []).filter((pad) => pad.stems.length > 0);
    if (pads.length === 0) continue;
    const cells = cellsAlong(view, side);
    let from = 0;
    for (const pad of pads)
      for (const stem of pad.stems) {
        const [s0, s1] = [lowS(side, view.die, stem), highS(side, view.die, stem)];
        while (from > 0 && highS(side, view.die, cells[from - 1] ?? stem) >= s0) from--;
        while (from < cells.length - 1 && highS(side, view.die, cells[from] ?? stem) < s0) from++;
        for (let k = from; k < cells.length; k++) {
          const cell = cells[k];
          if (cell === undefined || lowS(side, view.die, cell) > s1) break;
          if (meets(stem, cell) && (cell === pad.cell || !overlaps(stem, cell))) yield [stem, cell];
        }
      }
  }
}

const overlaps = (a: Box, b: Box): boolean => a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;

/** The nets on a lane of a cell; a break cell's strips may carry those of either side. */
function netsOn(view: View, cell: CellView, lane: number): readonly (string | null)[] {
  const of = (section: SectionView | null | undefined): string | null => section?.nets.get(lane) ?? null;
  if (cell.role !== 'break') return [of(cell.section)];
  const parted = partedBy(view).get(cell);
  return [of(parted?.before.section), of(parted?.after.section)];
}

/** The strips of a cell that a stem meets on one of its layers, and that are on another net than its bond pad. */
function shortedIn(view: View, stem: StemView, pad: PadView | null, cell: CellView): readonly string[] {
  const { kind } = cell;
  if (kind === null) return [];
  const { layers } = stem.stem;
  const strips = new Set<string>();
  // A corner cell's strips lie along both of its sides.
  const sides = cell.isCorner ? [cell.side, (cell.side + 1) & 3] : [cell.side];
  for (const side of sides) {
    const [s0, s1] = [lowS(side, view.die, stem), highS(side, view.die, stem)];
    const [t0, t1] = [lowT(side, view.die, stem), highT(side, view.die, stem)];
    const outer = lowT(side, view.die, cell);
    const [c0, c1] = [lowS(side, view.die, cell), highS(side, view.die, cell)];
    for (const face of [kind.start, kind.end])
      for (const { lane, layer, from, to } of face.strips) {
        if (!layers.includes(layer)) continue;
        const strip = { x0: c0, x1: c1, y0: outer + from, y1: outer + to };
        if (!meets({ x0: s0, x1: s1, y0: t0, y1: t1 }, strip)) continue;
        const net = pad?.pad.net ?? null;
        if (net === null || netsOn(view, cell, lane).some((other) => other !== net))
          strips.add(`${view.lanes.names[lane] ?? ''} (${layer})`);
      }
  }
  return [...strips];
}

export const stemShorts = once((view): readonly StemShort[] => {
  const found: StemShort[] = [];
  if (view.stems.length === 0) return found;
  for (const [stem, cell] of met(view)) {
    const strips = shortedIn(view, stem, stem.pad, cell);
    if (strips.length > 0) found.push({ stem, cell, strips });
  }
  return found;
});

const nameOf = ({ pad, stem }: StemView): string => pad?.pad.pin ?? String(stem.bondPad);

const shorts = (view: View): readonly Hit[] =>
  stemShorts(view).map(({ stem, cell, strips }) => {
    const net = stem.pad === null ? '' : ` on net "${stem.pad.pad.net}"`;
    return hitBetween(
      stem,
      cell,
      `the stem of "${nameOf(stem)}"${net} meets ${few(strips)} of cell "${cell.name}"`,
      nameOf(stem),
      cell.name,
    );
  });

export const STEM_SHORT_RULES: readonly Rule[] = [
  {
    name: 'stem-short',
    severity: 'error',
    protects: 'That the metal of a stem meets no strip of another net on its layer.',
    mend: 'Draw stems on layers that the strips leave free there, or give the cell a landing further from its edge.',
    run: shorts,
  },
];
