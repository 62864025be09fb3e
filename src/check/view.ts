/**
 * The placement as the rules see it: exact integers, names resolved, and the order of the ring found by where
 * things stand, never by their place in a list. Nothing here trusts a figure that the file could have derived.
 */
import type { BondPad, PlacedCell, PlacedFootprint, Placement, Stem } from '../format/placement.ts';
import { type Closeness, closenessOf } from './closeness.ts';
import { whole } from './exact.ts';
import { type Kind, kindsOf, type LaneNumbers, laneNumbers, poseAt } from './kinds.ts';
import { layoutOf, type SideLayout } from './layout.ts';
import { type Limits, limitsOf } from './limits.ts';
import type { Derived } from './once.ts';
import { type Box, type Frame, type Pose, sideIndex } from './turn.ts';

export interface SectionView {
  readonly index: number;
  readonly name: string;
  /** The net on each lane, by the lane's number. */
  readonly nets: ReadonlyMap<number, string>;
  readonly pairs: readonly { readonly supply: number; readonly ground: number }[];
}

export interface CellView extends Box {
  readonly index: number;
  readonly cell: PlacedCell;
  readonly name: string;
  /** Null where the footprint is unknown. */
  readonly kind: Kind | null;
  readonly role: PlacedFootprint['role'];
  /** How the footprint stands at the cell's rotation; null where it is unknown. */
  readonly pose: Pose | null;
  /** The side it is said to belong to, and for a corner cell the side that it follows, found by its place. */
  readonly side: number;
  readonly isCorner: boolean;
  /** In the frame of that side; a corner cell's are in the frame of the side that it follows. */
  readonly s0: number;
  readonly s1: number;
  readonly t0: number;
  readonly t1: number;
  readonly section: SectionView | null;
  /** Grows while the view is made. */
  pads: PadView[];
}

export interface PadView extends Box {
  readonly index: number;
  readonly pad: BondPad;
  /** Null where no cell has the name. */
  readonly cell: CellView | null;
  /** The landing's index in the footprint; -1 where it has none of the name. */
  readonly landing: number;
  readonly side: number;
  /** Centre and edges in the side's frame. */
  readonly s: number;
  readonly s0: number;
  readonly s1: number;
  readonly t0: number;
  readonly t1: number;
  readonly opening: Box;
  readonly shift: number;
  /** Grows while the view is made. */
  stems: StemView[];
}

export interface StemView extends Box {
  readonly index: number;
  readonly stem: Stem;
  /** Null where no bond pad has the number. */
  readonly pad: PadView | null;
}

export type Style = Placement['sides'][number]['style'];

export interface View {
  readonly placement: Placement;
  readonly limits: Limits;
  readonly grid: number;
  readonly die: Frame;
  /** As the file has it. */
  readonly core: Box;
  readonly lanes: LaneNumbers;
  readonly kinds: readonly Kind[];
  readonly kindNamed: ReadonlyMap<string, Kind>;
  readonly sections: readonly SectionView[];
  readonly sectionNamed: ReadonlyMap<string, SectionView>;
  /** As the file lists them. */
  readonly cells: readonly CellView[];
  readonly cellNamed: ReadonlyMap<string, CellView>;
  /** The cells of each side by s. */
  readonly rows: readonly (readonly CellView[])[];
  /** The corner cells after each side; one each where the ring is sound. */
  readonly corners: readonly (readonly CellView[])[];
  /** All cells in ring order from the left side's upper end. */
  readonly ring: readonly CellView[];
  /** What stands where along t, by side. */
  readonly layouts: readonly SideLayout[];
  readonly pads: readonly PadView[];
  readonly padNumbered: ReadonlyMap<number, PadView>;
  /** The bond pads of each side by s, the outer row first where two stand alike. */
  readonly sidePads: readonly (readonly PadView[])[];
  /** All bond pads in ring order. */
  readonly ringPads: readonly PadView[];
  readonly stems: readonly StemView[];
  /** Which shapes come near each other. */
  readonly close: Closeness;
  /** Grows as rules ask. */
  readonly derived: Derived;
}

export function viewOf(placement: Placement): View {
  const die = { width: whole(placement.die.width), height: whole(placement.die.height) };
  const lanes = laneNumbers();
  for (const section of placement.sections) {
    for (const lane of Object.keys(section.lanes)) lanes.of(lane);
    for (const pair of section.pairs) {
      lanes.of(pair.supply);
      lanes.of(pair.ground);
    }
  }
  const kinds = kindsOf(placement.footprints, lanes);
  const kindNamed = firstBy(kinds, (k) => k.footprint.name);
  const sections = sectionsOf(placement, lanes);
  const sectionNamed = firstBy(sections, (s) => s.name);

  const cells = placement.cells.map((cell, index) => cellView(cell, index, die, kindNamed, sectionNamed));
  const cellNamed = firstBy(cells, (c) => c.name);
  const pads = placement.bondPads.map((pad, index) => padView(pad, index, die, cellNamed));
  const padNumbered = firstBy(pads, (p) => p.pad.number);
  const stems = placement.stems.map((stem, index) => stemView(stem, index, padNumbered));

  const rows: CellView[][] = [[], [], [], []];
  const corners: CellView[][] = [[], [], [], []];
  for (const cell of cells) (cell.isCorner ? corners : rows)[cell.side]?.push(cell);
  for (const row of rows) inOrder(row, byPlace);
  const sidePads: PadView[][] = [[], [], [], []];
  for (const pad of pads) sidePads[pad.side]?.push(pad);
  for (const row of sidePads) inOrder(row, byCentre);
  const limits = limitsOf(placement.rules);
  return {
    placement,
    limits,
    grid: whole(placement.units.grid),
    die,
    core: boxOf(placement.core),
    lanes,
    kinds,
    kindNamed,
    sections,
    sectionNamed,
    cells,
    cellNamed,
    rows,
    corners,
    ring: rows.flatMap((row, side) => row.concat(corners[side] ?? [])),
    layouts: stylesOf(placement).map((style, side) =>
      layoutOf(style, limits, sidePads[side] ?? [], rows[side] ?? []),
    ),
    pads,
    padNumbered,
    sidePads,
    ringPads: sidePads.flat(),
    stems,
    close: closenessOf(limits, rows, corners.flat(), sidePads, stems),
    derived: new Map(),
  };
}

const byPlace = (a: CellView, b: CellView): number => a.s0 - b.s0 || a.s1 - b.s1 || a.index - b.index;

const byCentre = (a: PadView, b: PadView): number => a.s - b.s || a.t0 - b.t0 || a.pad.number - b.pad.number;

/** Sorts unless the list stands in order, which it does in a file as it was written. */
function inOrder<T>(list: T[], compare: (a: T, b: T) => number): void {
  for (let i = 1; i < list.length; i++) {
    const [a, b] = [list[i - 1], list[i]];
    if (a === undefined || b === undefined || compare(a, b) <= 0) continue;
    list.sort(compare);
    return;
  }
}

/** The first of each key: set from the last to the first, each entry is written once. */
function firstBy<K, T>(list: readonly T[], key: (item: T) => K): Map<K, T> {
  const map = new Map<K, T>();
  for (let i = list.length - 1; i >= 0; i--) {
    const item = list[i];
    if (item !== undefined) map.set(key(item), item);
  }
  return map;
}

function sectionsOf(placement: Placement, lanes: LaneNumbers): readonly SectionView[] {
  return placement.sections.map((section, index) => {
    const nets = new Map(Object.entries(section.lanes).map(([lane, net]) => [lanes.of(lane), net]));
    const pairs = section.pairs.map((p) => ({ supply: lanes.of(p.supply), ground: lanes.of(p.ground) }));
    return { index, name: section.name, nets, pairs };
  });
}

function stylesOf(placement: Placement): readonly Style[] {
  const styles: Style[] = ['inline', 'inline', 'inline', 'inline'];
  for (const entry of placement.sides) styles[sideIndex(entry.side)] = entry.style;
  return styles;
}

/** What most cells have of pads, and many pads of stems: one empty list for all. */
const NONE: never[] = [];

function cellView(
  cell: PlacedCell,
  index: number,
  die: Frame,
  kindNamed: ReadonlyMap<string, Kind>,
  sectionNamed: ReadonlyMap<string, SectionView>,
): CellView {
  const kind = kindNamed.get(cell.footprint) ?? null;
  const x0 = whole(cell.x);
  const y0 = whole(cell.y);
  const x1 = x0 + whole(cell.width);
  const y1 = y0 + whole(cell.height);
  const isCorner = cell.side === null;
  const side = cell.side === null ? cornerOf(x0 + x1, y0 + y1, die) : sideIndex(cell.side);
  return {
    x0,
    y0,
    x1,
    y1,
    index,
    cell,
    name: cell.name,
    kind,
    role: kind === null ? cell.role : kind.footprint.role,
    pose: kind === null ? null : poseAt(kind, cell.mirrored, cell.rotation),
    side,
    isCorner,
    s0: side === 0 ? die.height - y1 : side === 1 ? x0 : side === 2 ? y0 : die.width - x1,
    s1: side === 0 ? die.height - y0 : side === 1 ? x1 : side === 2 ? y1 : die.width - x0,
    t0: side === 0 ? x0 : side === 1 ? y0 : side === 2 ? die.width - x1 : die.height - y1,
    t1: side === 0 ? x1 : side === 1 ? y1 : side === 2 ? die.width - x0 : die.height - y0,
    section: cell.section === null ? null : (sectionNamed.get(cell.section) ?? null),
    pads: NONE,
  };
}

/** The die corner in whose quarter a box lies, named by the side that the corner follows. */
function cornerOf(twiceX: number, twiceY: number, die: Frame): number {
  const right = twiceX > die.width;
  const upper = twiceY > die.height;
  return upper ? (right ? 2 : 3) : right ? 1 : 0;
}

function padView(pad: BondPad, index: number, die: Frame, cellNamed: ReadonlyMap<string, CellView>): PadView {
  const cell = cellNamed.get(pad.cell) ?? null;
  const side = sideIndex(pad.side);
  const x = whole(pad.x);
  const y = whole(pad.y);
  // A centre may lie half a unit off, which doubles hold exactly.
  const halfWidth = whole(pad.width) / 2;
  const halfHeight = whole(pad.height) / 2;
  const halfAlong = side === 0 || side === 2 ? halfHeight : halfWidth;
  const halfDeep = side === 0 || side === 2 ? halfWidth : halfHeight;
  const s = side === 0 ? die.height - y : side === 1 ? x : side === 2 ? y : die.width - x;
  const t = side === 0 ? x : side === 1 ? y : side === 2 ? die.width - x : die.height - y;
  const openWidth = whole(pad.opening.width) / 2;
  const openHeight = whole(pad.opening.height) / 2;
  const view: PadView = {
    x0: x - halfWidth,
    y0: y - halfHeight,
    x1: x + halfWidth,
    y1: y + halfHeight,
    index,
    pad,
    cell,
    landing: cell?.kind?.landingNamed.get(pad.landing) ?? -1,
    side,
    s,
    s0: s - halfAlong,
    s1: s + halfAlong,
    t0: t - halfDeep,
    t1: t + halfDeep,
    opening: { x0: x - openWidth, y0: y - openHeight, x1: x + openWidth, y1: y + openHeight },
    shift: pad.shift === undefined ? 0 : whole(pad.shift),
    stems: NONE,
  };
  if (cell !== null) {
    if (cell.pads === NONE) cell.pads = [view];
    else cell.pads.push(view);
  }
  return view;
}

/** A box from its lower-left corner. */
function boxOf(r: Pick<PlacedCell, 'x' | 'y' | 'width' | 'height'>): Box {
  const [x0, y0] = [whole(r.x), whole(r.y)];
  return { x0, y0, x1: x0 + whole(r.width), y1: y0 + whole(r.height) };
}

function stemView(stem: Stem, index: number, padNumbered: ReadonlyMap<number, PadView>): StemView {
  const pad = padNumbered.get(stem.bondPad) ?? null;
  const x0 = whole(stem.x);
  const y0 = whole(stem.y);
  const view = { x0, y0, x1: x0 + whole(stem.width), y1: y0 + whole(stem.height), index, stem, pad };
  if (pad !== null) {
    if (pad.stems === NONE) pad.stems = [view];
    else pad.stems.push(view);
  }
  return view;
}
