/** An older placement as wishes of a ring: every pin that is still there is to stand where it stood. */
import type { BondPad, PlacedCell, Placement } from '../format/placement.ts';
import type { Side } from '../geometry/side.ts';
import { exactUnits, onStep, PER_MICROMETRE, type Units, units } from '../geometry/units.ts';
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import type { Entry, Kept, Ring, RowName, Style } from '../spec/ring.ts';

/** Where a pin stood, along its side; `bonded`: the place is its bond pad's centre, else its cell's start edge. */
interface OldPin {
  readonly side: Side;
  readonly s: number;
  readonly bonded: boolean;
  readonly row: BondPad['row'] | null;
}

/**
 * The ring with the places of an older placement to be kept: each entry's start edge from its pins' bond pads, its
 * row where the side has two and the user names none (`rows` false leaves that open), and the old die where the
 * description leaves the die open. Notes name the pins that the description itself moves. What is fixed stays fixed.
 *
 * Places are kept in the side's frame. Numbers run around the ring in order, so a pin's number stays if no pin
 * before it came or went.
 */
export function holdPins(ring: Ring, old: Placement, rows = true): Outcome<Ring> {
  const die = { width: exactUnits(old.die.width), height: exactUnits(old.die.height) };
  if (die.width === undefined || die.height === undefined)
    return failed({
      code: 'old-die-not-exact',
      message: `the die of the placement to keep is ${old.die.width} x ${old.die.height} um, no whole number of picometres`,
      mend: 'give a placement file that the program wrote',
    });
  const notes: Problem[] = [];
  const pins = oldPins(old);
  const sideOf = (side: Side): Ring['sides'][Side] => {
    const spec = ring.sides[side];
    const entries = spec.entries.map((entry) => holdEntry(ring, side, spec.style, entry, pins, rows, notes));
    return { ...spec, entries };
  };
  const sides = {
    left: sideOf('left'),
    bottom: sideOf('bottom'),
    right: sideOf('right'),
    top: sideOf('top'),
  };
  const gridded = onStep(die.width, ring.grid) && onStep(die.height, ring.grid);
  const keptDie = gridded ? { keptDie: { width: die.width, height: die.height } } : {};
  return found({ ...ring, sides, ...keptDie }, notes);
}

/** The pins of a placement by name; of several of one name the first. */
function oldPins(old: Placement): ReadonlyMap<string, OldPin> {
  const pins = new Map<string, OldPin>();
  const put = (pin: string, place: OldPin): void => {
    if (!pins.has(pin)) pins.set(pin, place);
  };
  for (const pad of old.bondPads) {
    const s = alongSide(pad.side, old.die, pad.x, pad.y);
    put(pad.pin, { side: pad.side, s, bonded: true, row: pad.row });
  }
  for (const cell of old.cells)
    for (const pin of cell.pins ?? [])
      if (cell.side !== null)
        put(pin, { side: cell.side, s: startEdge(cell, cell.side, old.die), bonded: false, row: null });
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

function startEdge(cell: PlacedCell, side: Side, die: Placement['die']): number {
  const ends = [
    alongSide(side, die, cell.x, cell.y),
    alongSide(side, die, cell.x + cell.width, cell.y + cell.height),
  ];
  return Math.min(...ends);
}

function holdEntry(
  ring: Ring,
  side: Side,
  style: Style,
  entry: Entry,
  pins: ReadonlyMap<string, OldPin>,
  rows: boolean,
  notes: Problem[],
): Entry {
  const known = entry.pins.flatMap((pin, k) => {
    const place = pins.get(pin);
    return place ? [{ pin, k, place }] : [];
  });
  const here = known.filter(({ place }) => place.side === side);
  for (const { pin, place } of known)
    if (place.side !== side)
      notes.push(
        moved(entry, `${pin} moves from the ${place.side} to the ${side} side: so the description has it`),
      );
  const kept = keptPlace(ring, entry, here);
  if (kept === null && here.length > 0)
    notes.push(moved(entry, `${here.map(({ pin }) => pin).join(', ')} moves: its old place is off the grid`));
  const row = rows && twoRows(ring, style) ? oneRow(here.map(({ place }) => place.row)) : null;
  return {
    ...entry,
    row: entry.row ?? row,
    ...(kept === null ? {} : { kept }),
  };
}

const moved = (entry: Entry, message: string): Problem => ({
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

const twoRows = (ring: Ring, style: Style): boolean =>
  style === 'staggered' || (style === 'over-circuit' && ring.rows.overCircuit === 2);

/** The row that all of a cell's pads were in, if they were in one of two. */
function oneRow(rows: readonly (BondPad['row'] | null)[]): RowName | null {
  const [first, ...others] = new Set(rows);
  return others.length === 0 && (first === 'outer' || first === 'inner') ? first : null;
}
