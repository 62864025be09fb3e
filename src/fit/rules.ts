/**
 * The distances that bond pads, stems and cells of one side owe each other along s, as rules between the start
 * edges of named cells: `to` stands at least `distance` after `from`. Ring-model section 3.
 */
import type { Ring } from '../spec/ring.ts';
import type { SidePad, SideRows } from './rows.ts';

export interface DistanceRule {
  readonly from: number;
  readonly to: number;
  readonly distance: number;
  /** What decides, in words for the user. */
  readonly why: string;
}

/** A pad of a side with what its neighbours must know. */
export interface Ranked extends SidePad {
  /** Counted in its row from the side's start and from its end. */
  readonly fromStart: number;
  readonly fromEnd: number;
}

interface Least {
  readonly distance: number;
  readonly why: string;
}

/** Least distances between two pads' centres, the first one nearer the side's start, and what decides it. */
export function padDistance(ring: Ring, a: Ranked, b: Ranked): Least {
  const { spacing, openingSpacing } = ring.pads;
  const metal = (a.along + b.along) / 2 + spacing;
  const openings = (a.opening.along + b.opening.along) / 2 + openingSpacing;
  const oneRow = a.row === b.row;
  let distance = 0;
  let why = '';
  if (oneRow) {
    distance = pitchOf(ring, a, b);
    why = distance > ring.pads.pitch ? 'wider pitch near a corner' : 'bond-pad pitch';
  }
  if (metal > distance && (oneRow || apartAcross(a.t, a.deep, b.t, b.deep) < spacing)) {
    distance = metal;
    why = 'spacing of pad metal';
  }
  if (openings > distance && (oneRow || openingsAcross(a, b) < openingSpacing)) {
    distance = openings;
    why = 'spacing of openings';
  }
  const stem = a.stem === null && b.stem === null ? 0 : stemDistance(ring, a, b);
  if (stem > distance) {
    distance = stem;
    why = 'stem between pads';
  }
  return { distance, why };
}

/** The least pitch between neighbours of a row: near a corner the first pads keep a wider one. */
function pitchOf(ring: Ring, a: Ranked, b: Ranked): number {
  const { pitches } = ring.corners;
  let pitch: number = ring.pads.pitch;
  if (pitches.length === 0 || Math.abs(a.fromStart - b.fromStart) !== 1) return pitch;
  const index = Math.min(a.fromStart, b.fromStart, a.fromEnd, b.fromEnd);
  for (const step of pitches) if (index < step.pads) pitch = Math.max(pitch, step.pitch);
  return pitch;
}

/** How far apart along t two extents are; negative where they overlap. */
const apartAcross = (t: number, deep: number, otherT: number, otherDeep: number): number =>
  Math.max(otherT - (t + deep), t - (otherT + otherDeep));

function openingsAcross(a: SidePad, b: SidePad): number {
  const from = (p: SidePad): number => p.t + (p.deep - p.opening.deep) / 2;
  return apartAcross(from(a), a.opening.deep, from(b), b.opening.deep);
}

/**
 * The distance of centres that keeps stems clear of the other's pad and stem. A shifted pad's stem stands at its
 * landing, so the distance is brought to the pads' centres.
 */
function stemDistance(ring: Ring, a: SidePad, b: SidePad): number {
  const { width, spacing } = ring.stems;
  const stemOf = (p: SidePad): number => p.landingOffset - p.offset;
  let least = 0;
  if (a.stem && apartAcross(a.stem.from, a.stem.to - a.stem.from, b.t, b.deep) < spacing)
    least = Math.max(least, width / 2 + spacing + b.along / 2 + stemOf(a));
  if (b.stem && apartAcross(b.stem.from, b.stem.to - b.stem.from, a.t, a.deep) < spacing)
    least = Math.max(least, width / 2 + spacing + a.along / 2 - stemOf(b));
  if (
    a.stem &&
    b.stem &&
    apartAcross(a.stem.from, a.stem.to - a.stem.from, b.stem.from, b.stem.to - b.stem.from) < spacing
  )
    least = Math.max(least, width + spacing + stemOf(a) - stemOf(b));
  return least;
}

/** Pads with their rank in their row from both ends, in the order of their cells. */
function ranked(pads: readonly SidePad[]): readonly Ranked[] {
  const total: Record<SidePad['row'], number> = { single: 0, outer: 0, inner: 0 };
  for (const pad of pads) total[pad.row]++;
  const seen: Record<SidePad['row'], number> = { single: 0, outer: 0, inner: 0 };
  return pads.map((pad): Ranked => {
    const fromStart = seen[pad.row]++;
    const { cell, landing, pin, net, offset, landingOffset, along, deep, opening, row, t, stem } = pad;
    const fromEnd = total[row] - 1 - fromStart;
    return {
      cell,
      landing,
      pin,
      net,
      offset,
      landingOffset,
      along,
      deep,
      opening,
      row,
      t,
      stem,
      fromStart,
      fromEnd,
    };
  });
}

/** The pads ordered along s within each cell, which is the order of their places whatever the cells' are. */
export function padsInOrder(rows: SideRows): readonly SidePad[] {
  const { pads } = rows;
  const inOrder = pads.every((pad, i) => {
    const before = pads[i - 1];
    return before === undefined || before.cell < pad.cell || before.offset <= pad.offset;
  });
  return inOrder ? pads : [...pads].sort((a, b) => a.cell - b.cell || a.offset - b.offset);
}

/** Pairs of pads of one cell that its own landings bring too close: no place of the cell can mend them. */
export interface TooClose {
  readonly cell: number;
  readonly pins: readonly [string, string];
  readonly missing: number;
  readonly why: string;
}

export interface SideRules {
  /** By `to`, then `from`; one rule a pair, and none that the cells' own widths fulfil. */
  readonly rules: readonly DistanceRule[];
  readonly tooClose: readonly TooClose[];
}

/** All rules of a side. Pairs are followed until the cells between them alone keep every distance there is. */
export function sideRules(ring: Ring, rows: SideRows): SideRules {
  const pads = ranked(padsInOrder(rows));
  const start = startsPacked(rows);
  const reach = farthest(ring, pads);
  const all: DistanceRule[] = [];
  const tooClose: TooClose[] = [];
  const startOf = (cell: number): number => start[cell] ?? 0;
  const add = (from: number, to: number, distance: number, why: string): void => {
    if (distance > startOf(to) - startOf(from)) all.push({ from, to, distance, why });
  };
  for (let i = 0; i < pads.length; i++) {
    const a = pads[i];
    if (a === undefined) break;
    for (let j = i + 1; j < pads.length; j++) {
      const b = pads[j];
      if (b === undefined) break;
      const shift = a.offset - b.offset;
      if (b.cell !== a.cell && startOf(b.cell) - startOf(a.cell) - shift >= reach) break;
      const { distance, why } = padDistance(ring, a, b);
      if (a.cell !== b.cell) add(a.cell, b.cell, distance + shift, why);
      else if (distance + shift > 0)
        tooClose.push({ cell: a.cell, pins: [a.pin, b.pin], missing: distance + shift, why });
    }
  }
  if (rows.over) for (const rule of overhangs(rows, pads, start)) add(...rule);
  all.sort((a, b) => a.to - b.to || a.from - b.from || b.distance - a.distance);
  const rules = all.filter((rule, i) => rule.to !== all[i - 1]?.to || rule.from !== all[i - 1]?.from);
  return { rules, tooClose };
}

/** Start edges of the cells packed without gaps: no placement brings two nearer. */
export function startsPacked(rows: SideRows): readonly number[] {
  let s = 0;
  return rows.cells.map((cell) => {
    const start = s;
    s += cell.footprint.width;
    return start;
  });
}

/** No distance between centres that a rule asks for exceeds this. */
export function farthest(ring: Ring, pads: readonly SidePad[]): number {
  let along = 0;
  let off = 0;
  for (const pad of pads) {
    along = Math.max(along, pad.along, pad.opening.along);
    off = Math.max(off, Math.abs(pad.landingOffset - pad.offset));
  }
  const pitch = Math.max(ring.pads.pitch, ...ring.corners.pitches.map((step) => step.pitch));
  const spacing = Math.max(ring.pads.spacing, ring.pads.openingSpacing, ring.stems.spacing);
  return Math.max(pitch, along + spacing + ring.stems.width) + 2 * off;
}

/** Over circuit: a pad's overhang keeps off neighbouring cells that allow no pad on top. */
export function* overhangs(
  rows: SideRows,
  pads: readonly SidePad[],
  start: readonly number[],
): Generator<[number, number, number, string]> {
  const forbids = rows.cells.map((cell) => !cell.footprint.padOnTop);
  for (const pad of pads) {
    const right = pad.offset + pad.along / 2;
    const left = pad.offset - pad.along / 2;
    for (let k = pad.cell + 1; k < rows.cells.length; k++) {
      if ((start[k] ?? 0) - (start[pad.cell] ?? 0) >= right) break;
      if (forbids[k] === true) yield [pad.cell, k, right, 'no pad on top of the next cell'];
    }
    for (let k = pad.cell - 1; k >= 0; k--) {
      const width = rows.cells[k]?.footprint.width ?? 0;
      if ((start[pad.cell] ?? 0) - (start[k] ?? 0) + left >= width) break;
      if (forbids[k] === true) yield [k, pad.cell, width - left, 'no pad on top of the cell before'];
    }
  }
}
