/** Stems against the strips of the cells that they reach: metal of two nets on one layer that meets is a short. */
import { partedBy } from '../arcs.ts';
import type { Hit, Rule } from '../finding.ts';
import type { FaceStrip, Kind } from '../kinds.ts';
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

/** Visits the cells that each stem meets: those that it lies over, found already, and those that it only touches. */
function eachMet(view: View, visit: (stem: StemView, cell: CellView) => void): void {
  for (const [stem, cell] of view.close.stemsOnCells) visit(stem, cell);
  for (let side = 0; side < 4; side++) {
    const row = view.rows[side] ?? [];
    const corners = [...(view.corners[(side + 3) & 3] ?? []), ...(view.corners[side] ?? [])];
    let from = 0;
    for (const pad of view.sidePads[side] ?? [])
      for (const stem of pad.stems) {
        while (from > 0 && (row[from - 1]?.s1 ?? 0) >= stem.s0) from--;
        while (from < row.length && (row[from]?.s1 ?? 0) < stem.s0) from++;
        for (let k = from; k < row.length; k++) {
          const cell = row[k];
          if (cell === undefined || cell.s0 > stem.s1) break;
          if (cell.t0 <= stem.t1 && cell.t1 >= stem.t0 && isMet(stem, pad, cell)) visit(stem, cell);
        }
        for (const cell of corners) if (isMet(stem, pad, cell)) visit(stem, cell);
      }
  }
}

/** Whether a stem meets its own cell, or touches another that it does not lie over. */
const isMet = (stem: StemView, pad: PadView, cell: CellView): boolean =>
  meets(stem, cell) && (cell === pad.cell || !overlaps(stem, cell));

const overlaps = (a: Box, b: Box): boolean => a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;

/** The nets on a lane of a cell; a break cell's strips may carry those of either side. */
function netsOn(view: View, cell: CellView, lane: number): readonly (string | null)[] {
  const of = (section: SectionView | null | undefined): string | null => section?.nets.get(lane) ?? null;
  if (cell.role !== 'break') return [of(cell.section)];
  const parted = partedBy(view).get(cell);
  return [of(parted?.before.section), of(parted?.after.section)];
}

/** The strips of a kind, at either edge, that lie on one of some layers. */
const stripsOn = (kind: Kind, layers: readonly string[]): readonly FaceStrip[] =>
  [...kind.start.strips, ...kind.end.strips].filter((strip) => layers.includes(strip.layer));

/** The same for the layers that the rules give stems, asked once a kind. */
const usualStrips = once((view) => {
  const layers = view.placement.rules.stems.layers;
  return new Map(view.kinds.map((kind) => [kind, stripsOn(kind, layers)]));
});

function stripsFor(view: View, { stem }: StemView, kind: Kind): readonly FaceStrip[] {
  const usual = view.placement.rules.stems.layers;
  const { layers } = stem;
  if (layers.length !== usual.length) return stripsOn(kind, layers);
  for (let k = 0; k < layers.length; k++) if (layers[k] !== usual[k]) return stripsOn(kind, layers);
  return usualStrips(view).get(kind) ?? [];
}

/** The strips of a cell that a stem meets on one of its layers, and that are on another net than its bond pad. */
function shortedIn(view: View, stem: StemView, cell: CellView): readonly string[] {
  if (cell.kind === null) return [];
  const strips = stripsFor(view, stem, cell.kind);
  if (strips.length === 0) return [];
  const shorted = new Set<string>();
  // A corner cell's strips lie along both of its sides.
  const sides = cell.isCorner ? [cell.side, (cell.side + 1) & 3] : [cell.side];
  for (const side of sides) {
    const [s0, s1] = [lowS(side, view.die, stem), highS(side, view.die, stem)];
    const [t0, t1] = [lowT(side, view.die, stem), highT(side, view.die, stem)];
    const outer = lowT(side, view.die, cell);
    const [c0, c1] = [lowS(side, view.die, cell), highS(side, view.die, cell)];
    for (const { lane, layer, from, to } of strips) {
      if (outer + from > t1 || outer + to < t0) continue;
      const strip = { x0: c0, x1: c1, y0: outer + from, y1: outer + to };
      if (!meets({ x0: s0, x1: s1, y0: t0, y1: t1 }, strip)) continue;
      const net = stem.pad?.pad.net ?? null;
      if (net === null || netsOn(view, cell, lane).some((other) => other !== net))
        shorted.add(`${view.lanes.names[lane] ?? ''} (${layer})`);
    }
  }
  return [...shorted];
}

/** Whether any strip of a cell could meet a stem at all: told without making anything, for most meet none. */
function mayShort(view: View, stem: StemView, { kind, isCorner, side, t0 }: CellView): boolean {
  if (kind === null) return false;
  const strips = stripsFor(view, stem, kind);
  if (isCorner || side !== stem.side) return strips.length > 0;
  for (const { from, to } of strips) if (t0 + from <= stem.t1 && t0 + to >= stem.t0) return true;
  return false;
}

export const stemShorts = once((view): readonly StemShort[] => {
  const found: StemShort[] = [];
  eachMet(view, (stem, cell) => {
    if (!mayShort(view, stem, cell)) return;
    const strips = shortedIn(view, stem, cell);
    if (strips.length > 0) found.push({ stem, cell, strips });
  });
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
