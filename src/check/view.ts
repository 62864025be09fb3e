/**
 * The placement as the rules see it: exact integers, names resolved, and the order of the ring found by where
 * things stand, never by their place in a list. Nothing here trusts a figure that the file could have derived.
 */
import type { PlacedCell, Placement } from '../format/placement.ts';
import { type Closeness, closenessOf } from './closeness.ts';
import { type Doubt, whole } from './exact.ts';
import { type Kind, kindsOf, type LaneNumbers, laneNumbers } from './kinds.ts';
import { layoutOf, type SideLayout } from './layout.ts';
import { type Limits, limitsOf } from './limits.ts';
import type { Derived } from './once.ts';
import { type CellView, cellViews, type PadView, padViews, type StemView, stemViews } from './shape.ts';
import { type Box, type Frame, sideIndex } from './turn.ts';

export type { CellView, PadView, StemView } from './shape.ts';

export interface SectionView {
  readonly index: number;
  readonly name: string;
  /** The net on each lane, by the lane's number. */
  readonly nets: ReadonlyMap<number, string>;
  readonly pairs: readonly { readonly supply: number; readonly ground: number }[];
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
  /** The first bond pad of a number. */
  readonly padNumbered: (number: number) => PadView | undefined;
  /** The bond pads of each side by s, the outer row first where two stand alike. */
  readonly sidePads: readonly (readonly PadView[])[];
  /** All bond pads in ring order. */
  readonly ringPads: readonly PadView[];
  readonly stems: readonly StemView[];
  /** Which shapes come near each other. */
  readonly close: Closeness;
  /** Grows as rules ask. */
  readonly derived: Derived;
  /** Whether a length of a cell, bond pad or stem has no exact units. */
  readonly doubt: Doubt;
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

  const doubt: Doubt = { any: false };
  const cells = cellViews(placement.cells, die, kindNamed, sectionNamed, doubt);
  const cellNamed = firstBy(cells, (c) => c.name);
  const pads = padViews(placement.bondPads, die, cellNamed, doubt);
  const padNumbered = byNumber(pads);
  const stems = stemViews(placement.stems, die, padNumbered, doubt);

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
    doubt,
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

/** Pads by number: as a file is written each stands at its number's place in the list, and no table is needed. */
function byNumber(pads: readonly PadView[]): (number: number) => PadView | undefined {
  if (pads.every((p, i) => p.pad.number === i + 1)) return (number) => pads[number - 1];
  const known = firstBy(pads, (p) => p.pad.number);
  return (number) => known.get(number);
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

/** A box from its lower-left corner. */
function boxOf(r: Pick<PlacedCell, 'x' | 'y' | 'width' | 'height'>): Box {
  const [x0, y0] = [whole(r.x), whole(r.y)];
  return { x0, y0, x1: x0 + whole(r.width), y1: y0 + whole(r.height) };
}
