/**
 * Shapes of the ring whose edges lie in columns. A class, unlike anything else here, because a shape's edges are then
 * read as if they were its own fields while it holds none: eight numbers a shape, each an object of its own to the
 * engine, were a third of what checking a large ring cost.
 */
import type { BondPad, PlacedCell, PlacedFootprint, Stem } from '../format/placement.ts';
import { type Doubt, isExact, whole } from './exact.ts';
import { type Kind, poseAt } from './kinds.ts';
import { type Box, type Frame, type Pose, sideIndex } from './turn.ts';
import type { SectionView } from './view.ts';

/** How many numbers of the columns belong to one shape; a bond pad's opening takes the last four. */
const [PLAIN, WITH_OPENING] = [8, 12];

/** A shape by its edges on the die (x, y) and in the frame of its side (s, t). */
class Shape implements Box {
  readonly index: number;
  readonly side: number;
  protected readonly edges: Float64Array;
  protected readonly at: number;

  constructor(index: number, side: number, edges: Float64Array, at: number) {
    this.index = index;
    this.side = side;
    this.edges = edges;
    this.at = at;
  }

  get x0(): number {
    return this.edges[this.at] ?? 0;
  }
  get y0(): number {
    return this.edges[this.at + 1] ?? 0;
  }
  get x1(): number {
    return this.edges[this.at + 2] ?? 0;
  }
  get y1(): number {
    return this.edges[this.at + 3] ?? 0;
  }
  get s0(): number {
    return this.edges[this.at + 4] ?? 0;
  }
  get s1(): number {
    return this.edges[this.at + 5] ?? 0;
  }
  get t0(): number {
    return this.edges[this.at + 6] ?? 0;
  }
  get t1(): number {
    return this.edges[this.at + 7] ?? 0;
  }
}

/** What most cells have of pads, and many pads of stems: one empty list for all. */
const NONE: never[] = [];

/** In the frame of its side; a corner cell's is the side that it follows, found by its place. */
export class CellView extends Shape {
  readonly cell: PlacedCell;
  /** Null where the footprint is unknown. */
  readonly kind: Kind | null;
  readonly role: PlacedFootprint['role'];
  /** How the footprint stands at the cell's rotation; null where it is unknown. */
  readonly pose: Pose | null;
  readonly section: SectionView | null;
  /** Grows while the view is made. */
  pads: PadView[] = NONE;

  constructor(
    cell: PlacedCell,
    kind: Kind | null,
    section: SectionView | null,
    index: number,
    side: number,
    edges: Float64Array,
  ) {
    super(index, side, edges, index * PLAIN);
    this.cell = cell;
    this.kind = kind;
    this.role = kind === null ? cell.role : kind.footprint.role;
    this.pose = kind === null ? null : poseAt(kind, cell.mirrored, cell.rotation);
    this.section = section;
  }

  get name(): string {
    return this.cell.name;
  }
  get isCorner(): boolean {
    return this.cell.side === null;
  }
}

export class PadView extends Shape {
  readonly pad: BondPad;
  /** Null where no cell has the name. */
  readonly cell: CellView | null;
  /** The landing's index in the footprint; -1 where it has none of the name. */
  readonly landing: number;
  /** Grows while the view is made. */
  stems: StemView[] = NONE;

  constructor(pad: BondPad, cell: CellView | null, index: number, side: number, edges: Float64Array) {
    super(index, side, edges, index * WITH_OPENING);
    this.pad = pad;
    this.cell = cell;
    this.landing = cell?.kind?.landingNamed.get(pad.landing) ?? -1;
  }

  /** Its centre along the side. */
  get s(): number {
    return (this.s0 + this.s1) / 2;
  }
  get shift(): number {
    return this.pad.shift === undefined ? 0 : whole(this.pad.shift);
  }
  /** The edges of its opening on the die. */
  get openX0(): number {
    return this.edges[this.at + 8] ?? 0;
  }
  get openY0(): number {
    return this.edges[this.at + 9] ?? 0;
  }
  get openX1(): number {
    return this.edges[this.at + 10] ?? 0;
  }
  get openY1(): number {
    return this.edges[this.at + 11] ?? 0;
  }
  get opening(): Box {
    return { x0: this.openX0, y0: this.openY0, x1: this.openX1, y1: this.openY1 };
  }
}

/** In the frame of its bond pad's side. */
export class StemView extends Shape {
  readonly stem: Stem;
  /** Null where no bond pad has the number. */
  readonly pad: PadView | null;

  constructor(stem: Stem, pad: PadView | null, index: number, edges: Float64Array) {
    super(index, pad?.side ?? 0, edges, index * PLAIN);
    this.stem = stem;
    this.pad = pad;
  }
}

/** Writes a shape's edges on the die, and from them those in the frame of a side. */
function put(
  edges: Float64Array,
  at: number,
  side: number,
  die: Frame,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
): void {
  edges[at] = x0;
  edges[at + 1] = y0;
  edges[at + 2] = x1;
  edges[at + 3] = y1;
  edges[at + 4] = side === 0 ? die.height - y1 : side === 1 ? x0 : side === 2 ? y0 : die.width - x1;
  edges[at + 5] = side === 0 ? die.height - y0 : side === 1 ? x1 : side === 2 ? y1 : die.width - x0;
  edges[at + 6] = side === 0 ? x0 : side === 1 ? y0 : side === 2 ? die.width - x1 : die.height - y1;
  edges[at + 7] = side === 0 ? x1 : side === 1 ? y1 : side === 2 ? die.width - x0 : die.height - y0;
}

export function cellViews(
  cells: readonly PlacedCell[],
  die: Frame,
  kindNamed: ReadonlyMap<string, Kind>,
  sectionNamed: ReadonlyMap<string, SectionView>,
  doubt: Doubt,
): readonly CellView[] {
  const edges = new Float64Array(cells.length * PLAIN);
  return cells.map((cell, index) => {
    const x0 = whole(cell.x, doubt);
    const y0 = whole(cell.y, doubt);
    const x1 = x0 + whole(cell.width, doubt);
    const y1 = y0 + whole(cell.height, doubt);
    if (!isExact(cell.origin.x) || !isExact(cell.origin.y)) doubt.any = true;
    const side = cell.side === null ? cornerOf(x0 + x1, y0 + y1, die) : sideIndex(cell.side);
    put(edges, index * PLAIN, side, die, x0, y0, x1, y1);
    const kind = kindNamed.get(cell.footprint) ?? null;
    const section = cell.section === null ? null : (sectionNamed.get(cell.section) ?? null);
    return new CellView(cell, kind, section, index, side, edges);
  });
}

/** The die corner in whose quarter a box lies, named by the side that the corner follows. */
function cornerOf(twiceX: number, twiceY: number, die: Frame): number {
  const right = twiceX > die.width;
  const upper = twiceY > die.height;
  return upper ? (right ? 2 : 3) : right ? 1 : 0;
}

export function padViews(
  pads: readonly BondPad[],
  die: Frame,
  cellNamed: ReadonlyMap<string, CellView>,
  doubt: Doubt,
): readonly PadView[] {
  const edges = new Float64Array(pads.length * WITH_OPENING);
  return pads.map((pad, index) => {
    const cell = cellNamed.get(pad.cell) ?? null;
    const side = sideIndex(pad.side);
    const x = whole(pad.x, doubt);
    const y = whole(pad.y, doubt);
    // A centre may lie half a unit off, which doubles hold exactly.
    const halfWidth = whole(pad.width, doubt) / 2;
    const halfHeight = whole(pad.height, doubt) / 2;
    const at = index * WITH_OPENING;
    put(edges, at, side, die, x - halfWidth, y - halfHeight, x + halfWidth, y + halfHeight);
    const openWidth = whole(pad.opening.width, doubt) / 2;
    const openHeight = whole(pad.opening.height, doubt) / 2;
    edges[at + 8] = x - openWidth;
    edges[at + 9] = y - openHeight;
    edges[at + 10] = x + openWidth;
    edges[at + 11] = y + openHeight;
    if (pad.shift !== undefined && !isExact(pad.shift)) doubt.any = true;
    const view = new PadView(pad, cell, index, side, edges);
    if (cell !== null) {
      if (cell.pads.length === 0) cell.pads = [view];
      else cell.pads.push(view);
    }
    return view;
  });
}

export function stemViews(
  stems: readonly Stem[],
  die: Frame,
  padNumbered: (number: number) => PadView | undefined,
  doubt: Doubt,
): readonly StemView[] {
  const edges = new Float64Array(stems.length * PLAIN);
  return stems.map((stem, index) => {
    const pad = padNumbered(stem.bondPad) ?? null;
    const x0 = whole(stem.x, doubt);
    const y0 = whole(stem.y, doubt);
    const [x1, y1] = [x0 + whole(stem.width, doubt), y0 + whole(stem.height, doubt)];
    put(edges, index * PLAIN, pad?.side ?? 0, die, x0, y0, x1, y1);
    const view = new StemView(stem, pad, index, edges);
    if (pad !== null) {
      if (pad.stems.length === 0) pad.stems = [view];
      else pad.stems.push(view);
    }
    return view;
  });
}
