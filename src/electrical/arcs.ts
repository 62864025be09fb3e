/**
 * The ring of a placement as its arcs see it: every cell in ring order, and for each lane the runs of cells through
 * which it goes on. Order is taken from the places of cells, not from the order in which a file lists them.
 */
import type { BondPad, PlacedCell, PlacedFootprint, Placement } from '../format/placement.ts';
import { isHorizontal, SIDES, type Side } from '../geometry/side.ts';

export interface RingCell {
  readonly cell: PlacedCell;
  readonly footprint: PlacedFootprint;
  /** The side that it stands on, or after which it stands as a corner cell. */
  readonly side: Side;
  /** Where its start edge is along the side, micrometres from the die corner. */
  readonly s: number;
  /** Its extent along the side; of a corner cell along the side before it. */
  readonly along: number;
  readonly pads: readonly BondPad[];
}

export interface Arc {
  readonly lane: string;
  readonly net: string;
  readonly closed: boolean;
  readonly cells: readonly RingCell[];
  /** The sections that it runs through, in ring order. */
  readonly sections: readonly string[];
}

/** The side after which a corner cell stands, by the quarter of the die that its middle is in. */
function sideBefore({ x, y, width, height }: PlacedCell, die: Placement['die']): Side {
  const right = 2 * x + width > die.width;
  const upper = 2 * y + height > die.height;
  if (right) return upper ? 'right' : 'bottom';
  return upper ? 'top' : 'left';
}

function startAlong(side: Side, { x, y, width, height }: PlacedCell, die: Placement['die']): number {
  switch (side) {
    case 'bottom':
      return x;
    case 'right':
      return y;
    case 'top':
      return die.width - x - width;
    case 'left':
      return die.height - y - height;
  }
}

/** All cells in ring order, from the left side's upper end on. */
export function ringCells(placement: Placement): readonly RingCell[] {
  const { die } = placement;
  const footprints = new Map(placement.footprints.map((f) => [f.name, f]));
  const pads = new Map<string, BondPad[]>();
  for (const pad of placement.bondPads) {
    const list = pads.get(pad.cell);
    if (list === undefined) pads.set(pad.cell, [pad]);
    else list.push(pad);
  }
  const cells = placement.cells.flatMap((cell): RingCell[] => {
    const footprint = footprints.get(cell.footprint);
    if (footprint === undefined) return [];
    const side = cell.side ?? sideBefore(cell, die);
    const along = isHorizontal(side) ? cell.width : cell.height;
    return [
      { cell, footprint, side, s: startAlong(side, cell, die), along, pads: pads.get(cell.name) ?? [] },
    ];
  });
  const place = new Map(SIDES.map((side, i) => [side, i]));
  return cells.sort((a, b) => (place.get(a.side) ?? 0) - (place.get(b.side) ?? 0) || a.s - b.s);
}

/** Whether some strip of a lane runs through a cell. */
const carries = (footprint: PlacedFootprint, lane: string): boolean =>
  footprint.lanes.some((l) => l.lane === lane && l.strips.some((s) => s.carry === 'through'));

/** All arcs, by lane in the order of the sections' lists, then along the ring. */
export function arcsOf(placement: Placement, ring: readonly RingCell[]): readonly Arc[] {
  const lanes = [...new Set(placement.sections.flatMap((section) => Object.keys(section.lanes)))];
  const nets = new Map(placement.sections.map((section) => [section.name, section.lanes]));
  return lanes.flatMap((lane) =>
    runsOf(ring, lane).map(({ closed, cells }): Arc => {
      const sections = [...new Set(cells.flatMap(({ cell }) => cell.section ?? []))];
      const own = sections.map((name) => nets.get(name)?.[lane]).find((net) => net !== undefined);
      return { lane, net: own ?? lane, closed, cells, sections };
    }),
  );
}

function runsOf(
  ring: readonly RingCell[],
  lane: string,
): readonly { readonly closed: boolean; readonly cells: readonly RingCell[] }[] {
  const known = new Map<PlacedFootprint, boolean>();
  const goesOn = ({ footprint }: RingCell): boolean => {
    let through = known.get(footprint);
    if (through === undefined) {
      through = carries(footprint, lane);
      known.set(footprint, through);
    }
    return through;
  };
  const cut = ring.findIndex((cell) => !goesOn(cell));
  if (cut < 0) return ring.length > 0 ? [{ closed: true, cells: ring }] : [];
  const runs: RingCell[][] = [[]];
  for (const cell of [...ring.slice(cut + 1), ...ring.slice(0, cut)])
    if (goesOn(cell)) runs.at(-1)?.push(cell);
    else runs.push([]);
  const first = (run: readonly RingCell[]): number => (run[0] === undefined ? 0 : ring.indexOf(run[0]));
  return runs
    .filter((run) => run.length > 0)
    .map((cells) => ({ closed: false, cells, at: first(cells) }))
    .sort((a, b) => a.at - b.at);
}

/** The bond pads of a cell that feed a lane. */
export function feedingPads({ footprint, pads }: RingCell, lane: string): readonly BondPad[] {
  const landings = footprint.landings.filter((landing) => landing.feeds.includes(lane));
  return pads.filter((pad) => landings.some((landing) => landing.name === pad.landing));
}

/** The cell of an arc that is nearest to a place and neither filler nor corner cell, by its name. */
export function nearestCell({ cells, closed }: Arc, at: number): string {
  const plain = (i: number): string | undefined => {
    const one = cells[closed ? (i + cells.length) % cells.length : i]?.cell;
    return one === undefined || one.role === 'filler' || one.role === 'corner' ? undefined : one.name;
  };
  for (let away = 0; away <= cells.length; away++) {
    const name = plain(at + away) ?? plain(at - away);
    if (name !== undefined) return name;
  }
  return cells[at]?.cell.name ?? '';
}

/** How a report names a place on an arc: a filler or corner cell by the nearest other one. */
export function cellName(arc: Arc, at: number): string {
  const name = nearestCell(arc, at);
  return name === arc.cells[at]?.cell.name ? name : `beside ${name}`;
}

/** How a report names a bond pad: by its cell, which is unique, unless the cell has several. */
export const padName = (pad: BondPad, { pads }: RingCell): string => (pads.length > 1 ? pad.pin : pad.cell);

/** How a report names an arc. */
export const arcName = ({ net, lane, sections }: Arc): string =>
  `${net}${net === lane ? '' : ` on ${lane}`}${sections.length > 0 ? ` (${sections.join(', ')})` : ''}`;
