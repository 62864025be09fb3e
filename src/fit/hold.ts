/** An older placement as wishes of a plan: every cell that is still there is to stand where it stood. */
import type { BondPad, PlacedCell, Placement } from '../format/placement.ts';
import type { Side } from '../geometry/side.ts';
import { exactUnits, onStep, PER_MICROMETRE, type Units, units } from '../geometry/units.ts';
import type { Kept, Plan, PlannedCell } from '../plan/plan.ts';
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import type { Entry, Ring, RowName } from '../spec/ring.ts';

/** Where a pin stood, along its side; `bonded`: the place is its bond pad's centre, else its cell's start edge. */
interface OldPin {
  readonly side: Side;
  readonly s: number;
  readonly bonded: boolean;
  readonly row: BondPad['row'] | null;
}

interface Old {
  readonly pins: ReadonlyMap<string, OldPin>;
  readonly cells: ReadonlyMap<string, PlacedCell>;
  readonly die: Placement['die'];
  /** Whether rows are kept too. */
  readonly rows: boolean;
}

/**
 * The plan with the places of an older placement to be kept: each cell's start edge from its pins' bond pads, its
 * row where the side has two and the user names none (`rows` false leaves that open), and the old die where the
 * description leaves the die open. Cells without pins keep their places where that costs no pin its own. Notes name
 * the pins that the description itself moves.
 *
 * Places are kept in the side's frame. Numbers run around the ring in order, so a pin's number stays if no pin
 * before it came or went.
 */
export function holdPins(plan: Plan, placement: Placement, rows = true): Outcome<Plan> {
  const { ring } = plan;
  const width = exactUnits(placement.die.width);
  const height = exactUnits(placement.die.height);
  if (width === undefined || height === undefined)
    return failed({
      code: 'old-die-not-exact',
      message: `the die of the placement to keep is ${placement.die.width} x ${placement.die.height} um, no whole number of picometres`,
      mend: 'give a placement file that the program wrote',
    });
  const old: Old = {
    pins: oldPins(placement),
    cells: new Map(placement.cells.map((cell) => [cell.name, cell])),
    die: placement.die,
    rows,
  };
  const notes: Problem[] = [];
  const held = (side: Side): readonly PlannedCell[] =>
    plan.sides[side].map((cell) => holdCell(ring, side, cell, old, notes));
  const sides = { left: held('left'), bottom: held('bottom'), right: held('right'), top: held('top') };
  const gridded = onStep(width, ring.grid) && onStep(height, ring.grid);
  return found({ ...plan, sides, ...(gridded ? { keptDie: { width, height } } : {}) }, notes);
}

/** The pins of a placement by name; of several of one name the first. */
function oldPins(placement: Placement): ReadonlyMap<string, OldPin> {
  const pins = new Map<string, OldPin>();
  const put = (pin: string, place: OldPin): void => {
    if (!pins.has(pin)) pins.set(pin, place);
  };
  for (const pad of placement.bondPads) {
    const s = alongSide(pad.side, placement.die, pad.x, pad.y);
    put(pad.pin, { side: pad.side, s, bonded: true, row: pad.row });
  }
  for (const cell of placement.cells)
    for (const pin of cell.pins ?? [])
      if (cell.side !== null)
        put(pin, { side: cell.side, s: startEdge(cell, cell.side, placement.die), bonded: false, row: null });
  return pins;
}

/** Picometres along a side, of a point in micrometres; exact for whatever is. */
function alongSide(side: Side, die: Placement['die'], x: number, y: number): number {
  const pm = (length: number): number => Math.round(length * PER_MICROMETRE);
  switch (side) {
    case 'bottom':
      return pm(x);
    case 'right':
      return pm(y);
    case 'top':
      return pm(die.width) - pm(x);
    case 'left':
      return pm(die.height) - pm(y);
  }
}

const startEdge = (cell: PlacedCell, side: Side, die: Placement['die']): number =>
  Math.min(
    alongSide(side, die, cell.x, cell.y),
    alongSide(side, die, cell.x + cell.width, cell.y + cell.height),
  );

function holdCell(ring: Ring, side: Side, cell: PlannedCell, old: Old, notes: Problem[]): PlannedCell {
  const { entry } = cell;
  if (entry === null || entry.pins.length === 0) {
    const before = old.cells.get(cell.name);
    if (before?.side !== side || before.footprint !== cell.footprint.name) return cell;
    const start = units(startEdge(before, side, old.die));
    return onStep(start, ring.grid) ? { ...cell, kept: { start, pins: 0 } } : cell;
  }
  const known = entry.pins.flatMap((pin, k) => {
    const place = old.pins.get(pin);
    return place ? [{ pin, k, place }] : [];
  });
  const here = known.filter(({ place }) => place.side === side);
  for (const { pin, place } of known)
    if (place.side !== side)
      notes.push(
        movedNote(
          entry,
          `${pin} moves from the ${place.side} to the ${side} side: so the description has it`,
        ),
      );
  const kept = keptPlace(ring, entry, here);
  if (kept === null && here.length > 0) {
    const names = here.map(({ pin }) => pin).join(', ');
    notes.push(movedNote(entry, `${names} moves: the old place is off the grid`));
  }
  const row = old.rows && twoRows(ring, side) ? oneRow(here.map(({ place }) => place.row)) : null;
  return { ...cell, entry: { ...entry, row: entry.row ?? row }, ...(kept === null ? {} : { kept }) };
}

const movedNote = (entry: Entry, message: string): Problem => ({
  code: 'pin-moved',
  message,
  place: entry.place,
});

/** The start edge that most of a cell's pins ask for, of several the first. */
function keptPlace(
  ring: Ring,
  entry: Entry,
  here: readonly { readonly k: number; readonly place: OldPin }[],
): Kept | null {
  const votes = new Map<Units, number>();
  for (const { k, place } of here) {
    const start = units(place.s - (place.bonded ? offsetOf(entry, k) : 0));
    if (onStep(start, ring.grid)) votes.set(start, (votes.get(start) ?? 0) + 1);
  }
  let kept: Kept | null = null;
  for (const [start, count] of votes) if (kept === null || count > kept.pins) kept = { start, pins: count };
  return kept;
}

/** From a cell's start edge to the centre of a pin's bond pad. */
function offsetOf({ footprint, mirrored, shift }: Entry, k: number): number {
  const at = footprint.landings[k]?.at ?? 0;
  return (mirrored ? footprint.width - at : at) + shift;
}

function twoRows(ring: Ring, side: Side): boolean {
  const { style } = ring.sides[side];
  return style === 'staggered' || (style === 'over-circuit' && ring.rows.overCircuit === 2);
}

/** The row that all of a cell's pads were in, if they were in one of two. */
function oneRow(rows: readonly (BondPad['row'] | null)[]): RowName | null {
  const [first, ...others] = new Set(rows);
  return others.length === 0 && (first === 'outer' || first === 'inner') ? first : null;
}
