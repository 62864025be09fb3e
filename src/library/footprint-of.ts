/** One cell's footprint from what LEF draws and what the cell file says. */
import type { Extent } from '../geometry/side.ts';
import { micrometres, ZERO } from '../geometry/units.ts';
import { type Book, type Candidate, knowsLane, quoted, wrong } from './book.ts';
import { signalsOf, strapsOf } from './core-side.ts';
import { extentInCell, type Standing } from './drawing.ts';
import { electricalOf } from './electrical.ts';
import type { Footprint, FootprintLane, Role } from './footprint.ts';
import { landingsOf } from './landings.ts';
import { type LaneStrip, tiesSeen } from './lane-names.ts';
import { lanesOf } from './lanes-of.ts';
import type { LefPin } from './lef/lef.ts';
import { joinedGroups } from './ties.ts';
import { ALL_TURNS, turnsOfSymmetry, UNTURNED } from './turns.ts';

/** What is settled of a cell before its footprint is built. */
export interface Settled {
  readonly cell: Candidate;
  readonly role: Role;
  readonly drawn: Extent;
  readonly standing: Standing;
  /** What LEF draws at its edges; null without LEF. */
  readonly strips: readonly LaneStrip[] | null;
  readonly laneOfPin: (pin: LefPin) => string | undefined;
}

/** The footprint; what stands against it is added to the book, which then makes no library. */
export function footprintOf(book: Book, settled: Settled): Footprint {
  const { cell, role, drawn, standing } = settled;
  const { entry, macro } = cell;
  const extent = extentInCell(standing, drawn);
  const ties = tiesOf(book, settled);
  const lanes = lanesOf(book, cell, settled.strips, extent, standing.corner);
  const landings = landingsOf(book, cell, { role, standing, laneOfPin: settled.laneOfPin, ties });
  for (const [i, landing] of landings.entries())
    if (landing.at > extent.width)
      wrong(book, cell, entry.landings ? ['landings', i, 'at'] : [], {
        code: 'outside-cell',
        message: `\`${quoted(cell.name)}\`: the landing \`${quoted(landing.name)}\` lies outside the cell`,
        mend: `place it within the cell's ${micrometres(extent.width)} um along the side`,
      });
  for (const [i, { name, inside }] of landings.entries())
    if (inside !== null && (inside.t < inside.deep / 2 || inside.t + inside.deep / 2 > extent.height))
      wrong(book, cell, entry.landings ? ['landings', i, 'inside'] : [], {
        code: 'outside-cell',
        message: `\`${quoted(cell.name)}\`: the bond pad at landing \`${quoted(name)}\` reaches beyond the depth of the cell`,
        mend: `place it within ${micrometres(extent.height)} um of the cell's outward edge`,
      });
  demandStrips(book, cell, lanes);
  const inRow = role !== 'filler' && role !== 'corner' && role !== 'break';
  const signals = entry.signals ?? (macro && inRow ? signalsOf(book, cell, macro, settled) : []);
  const straps = entry.straps ?? (macro && role === 'supply' ? strapsOf(macro, settled) : []);
  straps.forEach((strap, i) => {
    if (!entry.straps) return;
    knowsLane(book, cell, ['straps', i, 'lane'], strap.lane);
    const half = strap.width / 2;
    if (strap.at < half || strap.at + half > extent.width)
      wrong(book, cell, ['straps', i, 'at'], {
        code: 'outside-cell',
        message: `\`${quoted(cell.name)}\`: a strap of \`${quoted(strap.lane)}\`, ${micrometres(strap.width)} um wide, reaches beyond the cell`,
        mend: `place it within the cell's ${micrometres(extent.width)} um along the side`,
      });
  });
  const { perSection } = entry;
  const electrical = electricalOf(book, cell, role);
  return {
    name: cell.name,
    role,
    drawn,
    drawnFor: standing.drawnFor,
    width: extent.width,
    depth: extent.height,
    setback: entry.setback ?? ZERO,
    landings,
    lanes,
    ties,
    clamps: clampsOf(book, cell),
    diodes: diodesOf(book, cell, lanes),
    standsAlone: entry.standsAlone ?? true,
    padOnTop: entry.padOnTop ?? book.file.padOnTop,
    turns: turnsOf(book, cell),
    onVertical: entry.onVertical ?? null,
    perSection: perSection ? { least: perSection.least, most: perSection.most ?? null } : null,
    needs: entry.needs ?? [],
    ...(signals.length > 0 ? { signals } : {}),
    ...(straps.length > 0 ? { straps } : {}),
    ...(entry.rating === undefined ? {} : { rating: entry.rating }),
    ...(electrical === undefined ? {} : { electrical }),
  };
}

/** Ties as the cell file states them; one that LEF shows and the cell file does not is a problem. */
function tiesOf(book: Book, { cell, strips }: Settled): readonly (readonly string[])[] {
  const stated = cell.entry.ties ?? [];
  stated.forEach((group, i) => {
    group.forEach((lane, k) => {
      knowsLane(book, cell, ['ties', i, k], lane);
    });
  });
  const fed = (cell.entry.landings ?? []).map((landing) => landing.feeds);
  const groups = joinedGroups([...stated, ...fed], book.lanes);
  for (const { lane, own, pin, layer } of tiesSeen(strips ?? [])) {
    if (groups.some((group) => group.includes(lane) && group.includes(own))) continue;
    wrong(book, cell, [], {
      code: 'unstated-tie',
      message: `\`${quoted(cell.name)}\` has its pin \`${quoted(pin)}\` on strips of ${quoted(layer)} that are lane \`${quoted(lane)}\` in the other cells: it ties the lanes \`${quoted(lane)}\` and \`${quoted(own)}\``,
      mend: `if it is meant to, state \`ties: [[${lane}, ${own}]]\` for it in the cell file`,
    });
  }
  return groups;
}

/** A cell joins only lanes of which it has a strip: to its bond pads, in its clamps and where it ties them. */
function demandStrips(book: Book, cell: Candidate, lanes: readonly FootprintLane[]): void {
  const own = new Set(lanes.filter(({ strips }) => strips.length > 0).map(({ lane }) => lane));
  const demand = (path: readonly (string | number)[], lane: string, what: string): void => {
    if (own.has(lane) || !book.lanes.includes(lane)) return;
    wrong(book, cell, path, {
      code: 'lane-without-strip',
      message: `\`${quoted(cell.name)}\` ${what} lane \`${quoted(lane)}\`, of which it has no strip`,
      mend:
        own.size === 0
          ? 'it has strips of no lane'
          : `it has strips of ${[...own].map((one) => `\`${quoted(one)}\``).join(', ')}`,
    });
  };
  const { landings, clamps, ties } = cell.entry;
  landings?.forEach(({ feeds }, i) => {
    for (const [k, lane] of feeds.entries()) demand(['landings', i, 'feeds', k], lane, 'feeds');
  });
  clamps?.forEach(({ supply, ground }, i) => {
    demand(['clamps', i, 'supply'], supply, 'clamps');
    demand(['clamps', i, 'ground'], ground, 'clamps');
  });
  ties?.forEach((group, i) => {
    for (const [k, lane] of group.entries()) demand(['ties', i, k], lane, 'ties');
  });
}

function clampsOf(book: Book, cell: Candidate): Footprint['clamps'] {
  return (cell.entry.clamps ?? []).map(({ supply, ground }, i) => {
    const known = [
      knowsLane(book, cell, ['clamps', i, 'supply'], supply),
      knowsLane(book, cell, ['clamps', i, 'ground'], ground),
    ].every(Boolean);
    if (known && supply === ground)
      wrong(book, cell, ['clamps', i, 'ground'], {
        code: 'clamp-to-itself',
        message: `\`${quoted(cell.name)}\`: a clamp needs two lanes, but has \`${quoted(supply)}\` twice`,
        mend: 'name the lane of its ground',
      });
    return { supply, ground };
  });
}

/** The lanes across whose parting diodes stand; one that goes through is parted nowhere. */
function diodesOf(book: Book, cell: Candidate, lanes: readonly FootprintLane[]): readonly string[] {
  const diodes = cell.entry.diodes ?? [];
  diodes.forEach((lane, i) => {
    if (!knowsLane(book, cell, ['diodes', i], lane)) return;
    if (!lanes.some((one) => one.lane === lane && one.strips.some((strip) => strip.carry === 'through')))
      return;
    wrong(book, cell, ['diodes', i], {
      code: 'lane-not-parted',
      message: `\`${quoted(cell.name)}\` has diodes across lane \`${quoted(lane)}\`, but lets it through`,
      mend: 'name the lane under `cuts`, or leave its diodes out',
    });
  });
  return diodes;
}

function turnsOf(book: Book, { entry, macro }: Candidate): Footprint['turns'] {
  if (entry.turns) return entry.turns;
  if (macro?.symmetry) return turnsOfSymmetry(macro.symmetry);
  return book.file.drawn.turns ?? (macro ? UNTURNED : ALL_TURNS);
}
