/** The rails: every arc of every lane as straight stretches of its strips, and what feeds it. */
import type { Fit } from '../fit/fit.ts';
import { cornerEnd, cornerStart } from '../fit/problem.ts';
import type { Rail } from '../format/placement.ts';
import { nextSide, rectOnDie, type Side, sideLength } from '../geometry/side.ts';
import { micrometres } from '../geometry/units.ts';
import type { Footprint, Strip } from '../library/footprint.ts';
import type { Placed, PlacedSide } from './cells.ts';

/** A stretch of a side that cells alike to every rail cover; a corner cell is two of them, one on each side. */
interface Piece {
  /** The first of its cells. */
  readonly cell: Placed;
  readonly footprint: Footprint;
  readonly side: Side;
  readonly from: number;
  to: number;
  readonly corner: 'arriving' | 'leaving' | null;
  cells: number;
  /** Those of its cells that feed lanes. */
  readonly feeders: Placed[];
}

/** All arcs, by lane in the order of the sections' lists, then along the ring. */
export function railsOf(fit: Fit, sides: readonly PlacedSide[]): readonly Rail[] {
  const lanes = [...new Set(fit.plan.ring.sections.flatMap((section) => [...section.lanes.keys()]))];
  const pieces = piecesOf(fit, sides);
  return lanes.flatMap((lane) => arcsOf(pieces, lane).map((arc) => railOf(fit, lane, arc)));
}

/**
 * The ring as pieces, starting with the half of the last corner cell that lies on the left side, so that a closed
 * arc's stretch along the left side is one.
 */
function piecesOf(fit: Fit, sides: readonly PlacedSide[]): readonly Piece[] {
  const { ring } = fit.plan;
  const profileOf = profiles();
  const pieces: Piece[] = [];
  for (const { side, cells, corner } of sides) {
    const next = nextSide(side);
    const length = sideLength(side, fit.die);
    let last: Piece | undefined;
    let profile = '';
    for (const cell of cells) {
      const { footprint, s: from } = cell;
      const own = profileOf(footprint);
      if (last === undefined || own !== profile) {
        profile = own;
        last = { cell, footprint, side, from, to: from, corner: null, cells: 0, feeders: [] };
        pieces.push(last);
      }
      last.to = from + footprint.width;
      last.cells++;
      if (isFeeder(cell)) last.feeders.push(cell);
    }
    const { footprint } = corner;
    const half = { cell: corner, footprint, cells: 0, feeders: [] };
    const from = length - cornerEnd(ring, fit.rows, side);
    const to = length - fit.rows[next].t0;
    pieces.push({ ...half, side, from, to, corner: 'arriving' });
    const leaving = { from: fit.rows[side].t0, to: cornerStart(ring, fit.rows, next) };
    pieces.push({ ...half, side: next, ...leaving, corner: 'leaving' });
  }
  const last = pieces.at(-1);
  return last === undefined ? pieces : [last, ...pieces.slice(0, -1)];
}

/** What footprints that carry the same strips through have in common; a break cell is alike to none but break cells. */
function profiles(): (footprint: Footprint) => string {
  const known = new Map<Footprint, string>();
  return (footprint) => {
    let profile = known.get(footprint);
    if (profile === undefined) {
      const strips = footprint.lanes.flatMap(({ lane, strips: own }) =>
        own.filter((s) => s.carry === 'through').map((s) => JSON.stringify([lane, stripKey(footprint, s)])),
      );
      profile = `${footprint.role === 'break'} ${strips.sort().join(' ')}`;
      known.set(footprint, profile);
    }
    return profile;
  };
}

interface Arc {
  readonly closed: boolean;
  readonly pieces: readonly Piece[];
}

/** Whether some strip of a lane runs through a cell. */
function carries(footprint: Footprint, lane: string): boolean {
  return footprint.lanes.some((l) => l.lane === lane && l.strips.some((s) => s.carry === 'through'));
}

function arcsOf(pieces: readonly Piece[], lane: string): readonly Arc[] {
  const cutting = new Set<Footprint>();
  for (const footprint of new Set(pieces.map((piece) => piece.footprint)))
    if (!carries(footprint, lane)) cutting.add(footprint);
  if (cutting.size === 0) return [{ closed: true, pieces }];
  const cut = pieces.findIndex((piece) => cutting.has(piece.footprint));
  const arcs: Arc[] = [];
  let run: Piece[] = [];
  for (let k = 1; k <= pieces.length; k++) {
    const i = (cut + k) % pieces.length;
    const piece = pieces[i];
    if (piece !== undefined && !cutting.has(piece.footprint)) run.push(piece);
    else if (run.length > 0) {
      arcs.push({ closed: false, pieces: run });
      run = [];
    }
  }
  return arcs.reverse().sort((a, b) => firstIndex(pieces, a) - firstIndex(pieces, b));
}

const firstIndex = (pieces: readonly Piece[], arc: Arc): number => {
  const first = arc.pieces[0];
  return first === undefined ? -1 : pieces.indexOf(first);
};

function railOf(fit: Fit, lane: string, arc: Arc): Rail {
  const sectioned = arc.pieces.find((piece) => piece.cell.cell.section !== null)?.cell.cell.section;
  const section = fit.plan.ring.sections.find((s) => s.name === sectioned);
  return {
    lane,
    net: section?.lanes.get(lane) ?? lane,
    closed: arc.closed,
    rectangles: stripsOf(arc, lane).flatMap((strip) => stretches(fit, arc, lane, strip)),
    supplies: arc.pieces.flatMap(({ feeders }) =>
      feeders.filter((cell) => feeds(cell, lane)).map(({ cell }) => cell.name),
    ),
    cells: cellsOf(arc),
  };
}

/** How many cells an arc runs through; a corner cell is two pieces, which part only where a closed arc starts. */
function cellsOf(arc: Arc): number {
  const corners = new Set<Placed>();
  let count = 0;
  for (const piece of arc.pieces)
    if (piece.corner === null) count += piece.cells;
    else corners.add(piece.cell);
  return count + corners.size;
}

/** Whether a bond pad of a cell joins any lane. */
const isFeeder = ({ entry, footprint }: Placed): boolean => {
  if (entry === null) return false;
  for (const landing of footprint.landings) if (landing.feeds.length > 0) return true;
  return false;
};

/** Whether a bond pad of a cell joins a lane. */
function feeds({ entry, footprint }: Placed, lane: string): boolean {
  if (entry === null) return false;
  return footprint.landings.some(
    (landing, k) =>
      landing.feeds.includes(lane) &&
      entry.pins[k] !== undefined &&
      (entry.pad !== null || landing.inside !== null),
  );
}

interface StripPlace {
  readonly layer: string;
  /** Along t from the row's outward edge. */
  readonly from: number;
  readonly to: number;
}

const stripKey = (footprint: Footprint, strip: Strip): string =>
  `${strip.layer}:${footprint.setback + strip.from}:${footprint.setback + strip.to}`;

/** The places of a lane's through strips in an arc, by layer in order of appearance, then outward first. */
function stripsOf(arc: Arc, lane: string): readonly StripPlace[] {
  const places = new Map<string, StripPlace>();
  for (const footprint of new Set(arc.pieces.map((piece) => piece.footprint)))
    for (const { strips, lane: own } of footprint.lanes)
      if (own === lane)
        for (const strip of strips)
          if (strip.carry === 'through')
            places.set(stripKey(footprint, strip), {
              layer: strip.layer,
              from: footprint.setback + strip.from,
              to: footprint.setback + strip.to,
            });
  const layers = [...new Set([...places.values()].map((p) => p.layer))].sort();
  return [...places.values()].sort(
    (a, b) => layers.indexOf(a.layer) - layers.indexOf(b.layer) || a.from - b.from || a.to - b.to,
  );
}

/** Whether a strip of a lane runs through a piece. */
function stripThrough(
  footprint: Footprint,
  lane: string,
  place: StripPlace,
  corner: Piece['corner'],
): boolean {
  return footprint.lanes.some(
    (l) =>
      l.lane === lane &&
      l.strips.some(
        (s) =>
          s.carry === 'through' &&
          s.layer === place.layer &&
          footprint.setback + s.from === place.from &&
          footprint.setback + s.to === place.to &&
          (corner === null || s.edges === 'both' || (s.edges === 'start') === (corner === 'arriving')),
      ),
  );
}

/** The straight stretches of one strip along an arc; at a corner each runs to the far edge of the corner square. */
function stretches(fit: Fit, arc: Arc, lane: string, place: StripPlace): Rail['rectangles'][number][] {
  const rectangles: Rail['rectangles'][number][] = [];
  let run: { side: Side; from: number; to: number } | null = null;
  const close = (): void => {
    if (run === null) return;
    const { side, from, to } = run;
    const t = fit.rows[side].t0 + place.from;
    const rect = rectOnDie(side, fit.die, from, t, to - from, place.to - place.from);
    rectangles.push({
      layer: place.layer,
      x: micrometres(rect.x),
      y: micrometres(rect.y),
      width: micrometres(rect.width),
      height: micrometres(rect.height),
    });
    run = null;
  };
  for (const piece of arc.pieces) {
    const through = stripThrough(piece.footprint, lane, place, piece.corner);
    if (!through) {
      close();
      continue;
    }
    const from = piece.corner === 'leaving' ? piece.from + place.from : piece.from;
    const to = piece.corner === 'arriving' ? piece.to - place.from : piece.to;
    if (run !== null && run.side === piece.side && run.to === from) run.to = to;
    else {
      close();
      run = { side: piece.side, from, to };
    }
  }
  close();
  return rectangles;
}
