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
  /** By name, in the order of their places; supplies often share one. */
  readonly pins: ReadonlyMap<string, readonly OldPin[]>;
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
  const held = (side: Side): readonly PlannedCell[] => {
    const placesOf = placesOnSide(plan, side, old);
    return plan.sides[side].map((cell) => holdCell(ring, side, cell, old, placesOf, notes));
  };
  const sides = { left: held('left'), bottom: held('bottom'), right: held('right'), top: held('top') };
  const gridded = onStep(width, ring.grid) && onStep(height, ring.grid);
  return found({ ...plan, sides, ...(gridded ? { keptDie: { width, height } } : {}) }, notes);
}

/** The pins of a placement by name, each side's in the order of their places. */
function oldPins(placement: Placement): ReadonlyMap<string, readonly OldPin[]> {
  const pins = new Map<string, OldPin[]>();
  const put = (pin: string, place: OldPin): void => {
    const all = pins.get(pin);
    if (all) all.push(place);
    else pins.set(pin, [place]);
  };
  for (const pad of placement.bondPads) {
    const s = alongSide(pad.side, placement.die, pad.x, pad.y);
    put(pad.pin, { side: pad.side, s, bonded: true, row: pad.row });
  }
  const bonded = new Set(placement.bondPads.map((pad) => JSON.stringify([pad.cell, pad.pin])));
  for (const cell of placement.cells)
    for (const pin of cell.pins ?? [])
      if (cell.side !== null && !bonded.has(JSON.stringify([cell.name, pin])))
        put(pin, { side: cell.side, s: startEdge(cell, cell.side, placement.die), bonded: false, row: null });
  for (const places of pins.values()) places.sort((a, b) => a.s - b.s);
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

/**
 * The older places that the next pin of a name on a side may take. Of several of one name the n-th takes the n-th where
 * there are as many as before; otherwise any of them may take any.
 */
function placesOnSide(plan: Plan, side: Side, old: Old): (pin: string) => readonly OldPin[] {
  const now = new Map<string, number>();
  for (const { entry } of plan.sides[side])
    for (const pin of entry?.pins ?? []) now.set(pin, (now.get(pin) ?? 0) + 1);
  const seen = new Map<string, number>();
  return (pin) => {
    const places = (old.pins.get(pin) ?? []).filter((place) => place.side === side);
    const n = seen.get(pin) ?? 0;
    seen.set(pin, n + 1);
    const own = places.length === now.get(pin) ? places[n] : undefined;
    return own ? [own] : places;
  };
}

function holdCell(
  ring: Ring,
  side: Side,
  cell: PlannedCell,
  old: Old,
  placesOf: (pin: string) => readonly OldPin[],
  notes: Problem[],
): PlannedCell {
  const { entry } = cell;
  if (entry === null || entry.pins.length === 0) {
    const before = old.cells.get(cell.name);
    if (before?.side !== side || before.footprint !== cell.footprint.name) return cell;
    const start = units(startEdge(before, side, old.die));
    return onStep(start, ring.grid) ? { ...cell, kept: { starts: [start], pins: 0 } } : cell;
  }
  const wishes = entry.pins.map((pin, k) => ({ pin, k, places: placesOf(pin) }));
  for (const { pin, places } of wishes) {
    const [elsewhere, ...others] = old.pins.get(pin) ?? [];
    if (places.length === 0 && elsewhere && others.length === 0)
      notes.push(
        movedNote(
          entry,
          `${pin} moves from the ${elsewhere.side} to the ${side} side: so the description has it`,
        ),
      );
  }
  const here = wishes.filter(({ places }) => places.length > 0);
  const kept = keptPlaces(ring, entry, here);
  if (kept === null && here.length > 0) {
    const names = here.map(({ pin }) => pin).join(', ');
    notes.push(movedNote(entry, `${names} moves: the old place is off the grid`));
  }
  const rows = here.flatMap(({ places }) => places.map(({ row }) => row));
  const row = old.rows && twoRows(ring, side) ? oneRow(rows) : null;
  return {
    ...cell,
    entry: { ...entry, row: entry.row ?? row },
    rowAsked: entry.row,
    ...(kept === null ? {} : { kept }),
  };
}

const movedNote = (entry: Entry, message: string): Problem => ({
  code: 'pin-moved',
  message,
  place: entry.place,
});

/** The start edges that most of a cell's pins ask for. */
function keptPlaces(
  ring: Ring,
  entry: Entry,
  here: readonly { readonly k: number; readonly places: readonly OldPin[] }[],
): Kept | null {
  const votes = new Map<Units, number>();
  for (const { k, places } of here)
    for (const { s, bonded } of places) {
      const start = units(s - (bonded ? offsetOf(entry, k) : 0));
      if (onStep(start, ring.grid)) votes.set(start, (votes.get(start) ?? 0) + 1);
    }
  const pins = Math.max(0, ...votes.values());
  const starts = [...votes].flatMap(([start, count]) => (count === pins ? [start] : []));
  return starts.length === 0 ? null : { starts: starts.sort((a, b) => a - b), pins };
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
