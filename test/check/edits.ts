/** Sound edits: what a script may do to a placement and leave it sound. Each works on a copy in place. */
import {
  along,
  type Dice,
  type Draft,
  type DraftCell,
  fillers,
  footprintOf,
  isVertical,
  moveCell,
  padsOf,
  type Side,
} from './operators/operator.ts';

export interface Edit {
  readonly name: string;
  /** False where the placement gives no occasion. */
  readonly apply: (p: Draft, dice: Dice) => boolean;
}

/** Any order will do for the lists of a placement. */
function shuffle(list: unknown[], dice: Dice): void {
  for (let i = list.length - 1; i > 0; i--) {
    const j = dice.below(i + 1);
    [list[i], list[j]] = [list[j], list[i]];
  }
}

const extent = (cell: DraftCell): 'width' | 'height' =>
  isVertical(cell.side ?? 'bottom') ? 'height' : 'width';

/** Puts a cell of another filler where one stood, `from` along s within it; true to the library's origin. */
function piece(
  p: Draft,
  cell: DraftCell,
  name: string,
  footprint: string,
  from: number,
  width: number,
): DraftCell {
  const copy = structuredClone(cell);
  const side: Side = cell.side ?? 'bottom';
  copy.name = name;
  copy.footprint = footprint;
  const rest = cell[extent(cell)] - width - from;
  // The lower-left corner is the start edge on the bottom and the right side, the end edge on the other two.
  const shift = side === 'bottom' || side === 'right' ? from : rest;
  if (isVertical(side)) [copy.y, copy.height] = [cell.y + shift, width];
  else [copy.x, copy.width] = [cell.x + shift, width];
  // Unmirrored drawings of horizontal fillers: the origin is the corner at the start edge and outward edge.
  along(side, copy.origin, from);
  if (footprintOf(p, cell)?.drawnFor !== 'bottom')
    throw new Error('only drawings for the bottom are replaced');
  return copy;
}

/** Brings counts up to date as a careful script would. */
function recount(p: Draft, by: number, cell: DraftCell): void {
  const side = p.sides.find((s) => s.side === cell.side);
  if (side !== undefined) side.cells += by;
  p.summary.roles.filler = (p.summary.roles.filler ?? 0) + by;
}

/** The rails that run past a place; all lanes run through a filler, so each has one arc that holds it. */
function recountRails(p: Draft, by: number, arcs: readonly number[]): void {
  for (const index of arcs) {
    const rail = p.rails[index];
    if (rail !== undefined) rail.cells += by;
  }
}

/** The arcs that have metal in the middle of a cell. */
function arcsAt(p: Draft, cell: DraftCell): number[] {
  const [x, y] = [cell.x + cell.width / 2, cell.y + cell.height / 2];
  const over = (r: { x: number; y: number; width: number; height: number }): boolean =>
    isVertical(cell.side ?? 'bottom')
      ? r.y <= y && r.y + r.height >= y && r.x >= cell.x && r.x + r.width <= cell.x + cell.width
      : r.x <= x && r.x + r.width >= x && r.y >= cell.y && r.y + r.height <= cell.y + cell.height;
  return p.rails.flatMap((rail, index) => (rail.rectangles.some(over) ? [index] : []));
}

/** Two ordinary fillers of the library that are as wide as a third together. */
function halves(p: Draft, cell: DraftCell): readonly [string, number, string, number] | undefined {
  const kinds = p.footprints.filter((f) => f.role === 'filler' && f.standsAlone && f.drawnFor === 'bottom');
  const width = cell[extent(cell)];
  for (const a of kinds)
    for (const b of kinds) if (a.width + b.width === width) return [a.name, a.width, b.name, b.width];
  return undefined;
}

function split(p: Draft, dice: Dice, careful: boolean): boolean {
  const cell = dice.of(fillers(p).filter((c) => !c.mirrored && halves(p, c) !== undefined));
  const parts = cell === undefined ? undefined : halves(p, cell);
  if (cell === undefined || parts === undefined) return false;
  const [first, firstWidth, second, secondWidth] = parts;
  const arcs = arcsAt(p, cell);
  p.cells.splice(
    p.cells.indexOf(cell),
    1,
    piece(p, cell, `${cell.name}-a`, first, 0, firstWidth),
    piece(p, cell, `${cell.name}-b`, second, firstWidth, secondWidth),
  );
  if (careful) {
    recount(p, 1, cell);
    recountRails(p, 1, arcs);
  }
  return true;
}

/** Whether every strip runs through a cell, so that the rails are the same wherever it stands. */
const runsThrough = (p: Draft, cell: DraftCell): boolean =>
  footprintOf(p, cell)?.lanes.every((lane) => lane.strips.every((s) => s.carry === 'through')) === true;

/** Exchanges a cell with a filler after it: the cell moves by the filler's width, and its pads and stems with it. */
function exchange(p: Draft, dice: Dice): boolean {
  const places = p.cells.flatMap((cell, i) => {
    const next = p.cells[i + 1];
    const movable = cell.side !== null && cell.role !== 'filler' && runsThrough(p, cell);
    return movable && next?.role === 'filler' && next.side === cell.side ? [i] : [];
  });
  const i = dice.of(places);
  const [cell, filler] = i === undefined ? [] : [p.cells[i], p.cells[i + 1]];
  if (i === undefined || cell?.side == null || filler === undefined) return false;
  const { side } = cell;
  const by = filler[extent(filler)];
  const back = cell[extent(cell)];
  const pads = padsOf(p, cell);
  const numbers = new Set(pads.map((pad) => pad.number));
  moveCell(cell, (shape) => along(side, shape, by));
  moveCell(filler, (shape) => along(side, shape, -back));
  for (const pad of pads) along(side, pad, by);
  for (const stem of p.stems) if (numbers.has(stem.bondPad)) along(side, stem, by);
  [p.cells[i], p.cells[i + 1]] = [filler, cell];
  return true;
}

export const EDITS: readonly Edit[] = [
  {
    name: 'every list in another order',
    apply: (p, dice) => {
      const lists = [
        p.cells,
        p.bondPads,
        p.stems,
        p.rails,
        p.partings,
        p.nets,
        p.sections,
        p.footprints,
        p.sides,
        p.pins ?? [],
        p.rules.pads.kinds ?? [],
      ];
      for (const list of lists) shuffle(list, dice);
      for (const rail of p.rails) for (const list of [rail.rectangles, rail.supplies]) shuffle(list, dice);
      for (const parting of p.partings) shuffle(parting.lanes, dice);
      for (const f of p.footprints) for (const lane of f.lanes) shuffle(lane.strips, dice);
      return true;
    },
  },
  {
    name: 'cells renamed wherever they are spoken of',
    apply: (p, dice) => {
      const taken = new Set(p.cells.map((c) => c.name));
      const names = new Map<string, string>();
      for (const { name } of p.cells) {
        if (dice.below(2) === 0) continue;
        let fresh = `u${dice.below(1e6)}`;
        while (taken.has(fresh)) fresh += 'x';
        taken.add(fresh);
        names.set(name, fresh);
      }
      const renamed = (name: string): string => names.get(name) ?? name;
      for (const cell of p.cells) cell.name = renamed(cell.name);
      for (const pad of p.bondPads) pad.cell = renamed(pad.cell);
      for (const rail of p.rails) rail.supplies = rail.supplies.map(renamed);
      for (const parting of p.partings) parting.cell = renamed(parting.cell);
      return true;
    },
  },
  { name: 'a filler replaced by two', apply: (p, dice) => split(p, dice, true) },
  { name: 'a filler replaced by two, the counts forgotten', apply: (p, dice) => split(p, dice, false) },
  { name: 'a cell moved by a filler', apply: exchange },
  {
    name: 'a cell with its pad in the middle mirrored',
    apply: (p, dice) => {
      const cell = dice.of(
        p.cells.filter((c) => {
          const f = footprintOf(p, c);
          return (
            f?.drawnFor === 'bottom' &&
            c.role === 'signal' &&
            !c.mirrored &&
            f.turns.mirrored.includes(c.rotation) &&
            f.landings.every((l) => l.at === f.width / 2)
          );
        }),
      );
      if (cell?.side == null) return false;
      cell.mirrored = true;
      along(cell.side, cell.origin, cell[extent(cell)]);
      return true;
    },
  },
  {
    name: 'fields that the format does not know',
    apply: (p, dice) => {
      for (const item of [p, p.rules, ...p.cells, ...p.bondPads])
        if (dice.below(2) === 0) Reflect.set(item, 'remark', 'by a script');
      return true;
    },
  },
];
