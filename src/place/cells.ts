/** From start edges along the sides to every placed cell: fillers in the gaps, corner cells, turned into the die. */

import type { Fit } from '../fit/fit.ts';
import { cornerEnd, cornerStart } from '../fit/problem.ts';
import {
  addTurns,
  nextSide,
  originOf,
  type Point,
  type Rect,
  rectOnDie,
  SIDES,
  type Side,
  sideLength,
  type Turn,
  turnOfCorner,
  turnOfSide,
} from '../geometry/side.ts';
import { type Units, units } from '../geometry/units.ts';
import type { Footprint } from '../library/footprint.ts';
import type { Entry } from '../spec/ring.ts';

export interface Placed {
  readonly name: string;
  readonly footprint: Footprint;
  readonly entry: Entry | null;
  /** Null for a corner cell, which stands after side `after`. */
  readonly side: Side | null;
  readonly after: Side;
  /** Start edge along s of its side; for a corner cell of the side after which it stands. */
  readonly s: Units;
  readonly section: string | null;
  readonly outline: Rect;
  readonly rotation: Turn;
  readonly mirrored: boolean;
  readonly origin: Point;
}

export interface PlacedSide {
  readonly side: Side;
  /** Cells, break cells and fillers in order along s. */
  readonly cells: readonly Placed[];
  readonly corner: Placed;
  /** The length between the corner cells, and the fillers' part of it. */
  readonly length: Units;
  readonly filled: Units;
  /** The side's planned cells, by their index in the plan. */
  readonly planned: readonly Placed[];
}

/** The sides of the ring in ring order, each with the corner cell after it. */
export function placeCells(fit: Fit): readonly PlacedSide[] {
  const names = new Set(SIDES.flatMap((side) => fit.plan.sides[side].map((cell) => cell.name)));
  const counts = new Map<string, number>();
  const named = (stem: string): string => {
    let k = (counts.get(stem) ?? 0) + 1;
    while (names.has(`${stem}-${k}`)) k++;
    counts.set(stem, k);
    return `${stem}-${k}`;
  };
  return SIDES.map((side) => placeSide(fit, side, named, names));
}

function placeSide(
  fit: Fit,
  side: Side,
  named: (stem: string) => string,
  names: ReadonlySet<string>,
): PlacedSide {
  const { plan, rows, die } = fit;
  const length = sideLength(side, die);
  const start = cornerStart(plan.ring, rows, side);
  const end = length - cornerEnd(plan.ring, rows, side);
  const cells: Placed[] = [];
  const planned: Placed[] = [];
  let s = start;
  let section = plan.entering[side];
  let filled = 0;
  const fill = (until: number, gap: number): void => {
    for (const footprint of fit.gaps[side][gap]?.fewest(until - s) ?? []) {
      cells.push(standing(fit, side, named('filler'), footprint, null, s, section));
      s += footprint.width;
      filled += footprint.width;
    }
  };
  plan.sides[side].forEach((cell, i) => {
    const at = fit.places[side][i] ?? s;
    fill(at, i);
    const placed = standing(fit, side, cell.name, cell.footprint, cell.entry, at, cell.section);
    cells.push(placed);
    planned.push(placed);
    s = at + cell.footprint.width;
    if (cell.section !== null) section = cell.section;
    else section = plan.sides[side].slice(i + 1).find((c) => c.section !== null)?.section ?? after(fit, side);
  });
  fill(end, plan.sides[side].length);
  const corner = cornerCell(fit, side, names);
  return { side, cells, corner, length: units(end - start), filled: units(filled), planned };
}

/** The section that starts beyond a break cell which ends a side. */
function after(fit: Fit, side: Side): string {
  for (let next = nextSide(side), k = 0; k < 4; next = nextSide(next), k++) {
    const section = fit.plan.sides[next].find((cell) => cell.section !== null)?.section;
    if (section !== undefined && section !== null) return section;
  }
  return fit.plan.corners[side];
}

function standing(
  fit: Fit,
  side: Side,
  name: string,
  footprint: Footprint,
  entry: Entry | null,
  s: number,
  section: string | null,
): Placed {
  const mirrored = entry?.mirrored ?? false;
  const t = fit.rows[side].t0 + footprint.setback;
  const outline = rectOnDie(side, fit.die, s, t, footprint.width, footprint.depth);
  const base = -turnOfSide(footprint.drawnFor);
  const rotation = addTurns(turnOfSide(side), mirrored ? -base : base);
  const origin = originOf(footprint.drawn, mirrored, rotation, outline);
  return {
    name,
    footprint,
    entry,
    side,
    after: side,
    s: units(s),
    section,
    outline,
    rotation,
    mirrored,
    origin,
  };
}

/** The corner cell after a side: its outward edges in line with those of the cells of both sides. */
function cornerCell(fit: Fit, side: Side, names: ReadonlySet<string>): Placed {
  const { plan, rows, die } = fit;
  const footprint = plan.ring.corners.footprint;
  const s = sideLength(side, die) - cornerEnd(plan.ring, rows, side);
  const outline = rectOnDie(side, die, s, rows[side].t0, footprint.depth, footprint.width);
  const rotation = addTurns(turnOfCorner(side), -turnOfCorner(footprint.drawnFor));
  const wanted = `corner-after-${side}`;
  let name = wanted;
  for (let k = 2; names.has(name); k++) name = `${wanted}.${k}`;
  return {
    name,
    footprint,
    entry: null,
    side: null,
    after: side,
    s: units(s),
    section: lastSection(fit, side),
    outline,
    rotation,
    mirrored: false,
    origin: originOf(footprint.drawn, false, rotation, outline),
  };
}

/** The section that runs through the corner after a side. */
function lastSection(fit: Fit, side: Side): string {
  const last = fit.plan.sides[side].at(-1);
  return last !== undefined && last.section === null ? after(fit, side) : fit.plan.corners[side];
}
