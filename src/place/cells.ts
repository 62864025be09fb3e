/** From start edges along the sides to every placed cell: fillers in the gaps, corner cells, turned into the die. */

import type { Fit } from '../fit/fit.ts';
import { cornerEnd, cornerStart } from '../fit/problem.ts';
import type { PlacedCell } from '../format/placement.ts';
import {
  addTurns,
  nextSide,
  originOf,
  type Point,
  rectOnDie,
  SIDES,
  type Side,
  sideLength,
  type Turn,
  turnOfCorner,
  turnOfSide,
} from '../geometry/side.ts';
import { PER_MICROMETRE, type Units, units } from '../geometry/units.ts';
import type { Footprint } from '../library/footprint.ts';
import { standIn } from '../library/stand-in.ts';
import type { Entry } from '../spec/ring.ts';

export interface Placed {
  /** As the placement file has it. */
  readonly cell: PlacedCell;
  readonly footprint: Footprint;
  readonly entry: Entry | null;
  /** The cell's side; for a corner cell the one that it follows. */
  readonly along: Side;
  /** Start edge along s of that side. */
  readonly s: number;
}

/** How every cell of one footprint stands on a side: all that does not depend on its place along it. */
export interface Stance {
  readonly rotation: Turn;
  readonly mirrored: boolean;
  /** The placed outline's extents, and its lower-left corner where the start edge is at s = 0. */
  readonly width: Units;
  readonly height: Units;
  readonly atZero: Point;
  /** The drawing's origin from the outline's lower-left corner. */
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
}

/** The sides of the ring in ring order, each with the corner cell after it. */
export function placeCells(fit: Fit): readonly PlacedSide[] {
  // Only names like those given here could be given twice.
  const names = new Set<string>();
  for (const side of SIDES)
    for (const { name } of fit.plan.sides[side])
      if (name.startsWith('filler-') || name.startsWith('corner-')) names.add(name);
  let count = 0;
  const nextFiller = (): string => {
    do count++;
    while (names.size > 0 && names.has(`filler-${count}`));
    return `filler-${count}`;
  };
  return SIDES.map((side) => placeSide(fit, side, nextFiller, names));
}

function placeSide(fit: Fit, side: Side, nextFiller: () => string, names: ReadonlySet<string>): PlacedSide {
  const { plan, rows, die } = fit;
  const length = sideLength(side, die);
  const start = cornerStart(plan.ring, rows, side);
  const end = length - cornerEnd(plan.ring, rows, side);
  const cells: Placed[] = [];
  const stances: Stances = new Map();
  const [alongX, alongY] = ALONG[side];
  let section: string | null = plan.entering[side];
  let s = start;
  let filled = 0;
  const stand = (name: string, footprint: Footprint, entry: Entry | null, own: string | null): void => {
    let known = stances.get(footprint);
    if (known === undefined) {
      known = {
        plain: stanceOf(fit, side, footprint, false),
        mirrored: stanceOf(fit, side, footprint, true),
      };
      stances.set(footprint, known);
    }
    const stance = entry?.mirrored === true ? known.mirrored : known.plain;
    const x = stance.atZero.x + alongX * s;
    const y = stance.atZero.y + alongY * s;
    cells.push({
      cell: cellAt(stance, x, y, name, footprint, entry, side, own),
      footprint,
      entry,
      along: side,
      s,
    });
    s += footprint.width;
  };
  const fill = (until: number, gap: number): void => {
    if (until === s) return;
    for (const filler of fit.gaps[side][gap]?.fewest(until - s) ?? []) {
      filled += filler.width;
      stand(nextFiller(), standIn(plan.ring.library, filler, side), null, section);
    }
  };
  plan.sides[side].forEach((cell, i) => {
    fill(fit.places[side][i] ?? s, i);
    stand(cell.name, cell.footprint, cell.entry, cell.section);
    section = cell.section ?? sectionBeyond(fit, side, i);
  });
  fill(end, plan.sides[side].length);
  const corner = cornerCell(fit, side, names);
  return { side, cells, corner, length: units(end - start), filled: units(filled) };
}

/** The section that starts beyond a break cell. */
const sectionBeyond = (fit: Fit, side: Side, index: number): string =>
  fit.plan.sides[side].slice(index + 1).find((cell) => cell.section !== null)?.section ?? after(fit, side);

/** The section that starts beyond a break cell which ends a side. */
function after(fit: Fit, side: Side): string {
  for (let next = nextSide(side), k = 0; k < 4; next = nextSide(next), k++) {
    const section = fit.plan.sides[next].find((cell) => cell.section !== null)?.section;
    if (section !== undefined && section !== null) return section;
  }
  return fit.plan.corners[side];
}

/** Stances are few and cells are many: each is worked out once. */
type Stances = Map<Footprint, { readonly plain: Stance; readonly mirrored: Stance }>;

function stanceOf(fit: Fit, side: Side, footprint: Footprint, mirrored: boolean): Stance {
  const t = fit.rows[side].t0 + footprint.setback;
  const outline = rectOnDie(side, fit.die, 0, t, footprint.width, footprint.depth);
  const base = -turnOfSide(footprint.drawnFor);
  const rotation = addTurns(turnOfSide(side), mirrored ? -base : base);
  return {
    rotation,
    mirrored,
    width: outline.width,
    height: outline.height,
    atZero: { x: outline.x, y: outline.y },
    origin: originOf(footprint.drawn, mirrored, rotation, { x: units(0), y: units(0) }),
  };
}

/** A cell as the placement file has it, its outline's lower-left corner at (x, y). */
function cellAt(
  stance: Stance,
  x: number,
  y: number,
  name: string,
  footprint: Footprint,
  entry: Entry | null,
  side: Side | null,
  section: string | null,
): PlacedCell {
  const cell: PlacedCell = {
    name,
    footprint: footprint.name,
    role: footprint.role,
    side,
    x: x / PER_MICROMETRE,
    y: y / PER_MICROMETRE,
    width: stance.width / PER_MICROMETRE,
    height: stance.height / PER_MICROMETRE,
    rotation: stance.rotation,
    mirrored: stance.mirrored,
    origin: {
      x: (x + stance.origin.x) / PER_MICROMETRE,
      y: (y + stance.origin.y) / PER_MICROMETRE,
    },
    section,
  };
  if (entry === null) return cell;
  const { pins, tied } = entry;
  // The key order of the file: pins, then what is tied.
  const extended: { -readonly [K in keyof PlacedCell]: PlacedCell[K] } = cell;
  if (pins.length > 0) extended.pins = pins;
  if (tied !== undefined) extended.tied = tied;
  return extended;
}

/** Which way the lower-left corner moves as s grows. */
const ALONG: Readonly<Record<Side, readonly [number, number]>> = {
  left: [0, -1],
  bottom: [1, 0],
  right: [0, 1],
  top: [-1, 0],
};

/** The corner cell after a side: its outward edges in line with those of the cells of both sides. */
function cornerCell(fit: Fit, side: Side, names: ReadonlySet<string>): Placed {
  const { plan, rows, die } = fit;
  const footprint = plan.ring.corners.footprint;
  const s = sideLength(side, die) - cornerEnd(plan.ring, rows, side);
  const { x, y, width, height } = rectOnDie(side, die, s, rows[side].t0, footprint.depth, footprint.width);
  const rotation = addTurns(turnOfCorner(side), -turnOfCorner(footprint.drawnFor));
  const wanted = `corner-after-${side}`;
  let name = wanted;
  for (let k = 2; names.has(name); k++) name = `${wanted}.${k}`;
  const origin = originOf(footprint.drawn, false, rotation, { x: units(0), y: units(0) });
  const stance = { rotation, mirrored: false, width, height, atZero: { x, y }, origin };
  return {
    cell: cellAt(stance, x, y, name, footprint, null, null, lastSection(fit, side)),
    footprint,
    entry: null,
    along: side,
    s,
  };
}

/** The section that runs through the corner after a side. */
function lastSection(fit: Fit, side: Side): string {
  const last = fit.plan.sides[side].at(-1);
  return last !== undefined && last.section === null ? after(fit, side) : fit.plan.corners[side];
}
