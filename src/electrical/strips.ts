/**
 * Core strips: between ring and core one closed strip a core net, from the ring inward, each joined by a strap to
 * every supply cell of its net. A width that is not given follows from the current limit and the currents of the
 * strip, fed where the straps land and drawn from evenly. Lengths are micrometres, currents mA.
 */
import { solveRail } from '../figures/rail.ts';
import { CORNER_SQUARES } from '../figures/strips.ts';
import type { CoreStrip, ElectricalRules, Placement } from '../format/placement.ts';
import type { RingCell } from './arcs.ts';
import { feedingPads } from './arcs.ts';
import { coreCurrents } from './core.ts';
import { type Layers, limitOf, type Missing } from './metal.ts';

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A supply cell's landing for a strap: where along its side, how wide, on which layer, and its inner end. */
interface Foot {
  readonly cell: RingCell;
  readonly layer: string;
  readonly width: number;
  /** The middle along x for horizontal sides, along y for vertical ones. */
  readonly middle: number;
  /** Its inner end across the side. */
  readonly inner: number;
}

export interface StripFigures {
  readonly net: string;
  readonly current: number;
  /** The largest current in a stretch of the strip, mA. */
  readonly most: number;
  readonly width: number;
  readonly limit: { readonly perMicrometre: number; readonly celsius: number | null } | Missing;
  /** The worst drop along it, V, or what is missing. */
  readonly drop: number | Missing;
  /** How far its inner edge lies from the ring. */
  readonly depth: number;
}

export interface Strips {
  readonly strips: readonly CoreStrip[];
  readonly figures: readonly StripFigures[];
  /** Nets whose width cannot be worked out, with what is missing. */
  readonly missing: readonly { readonly net: string; readonly missing: string }[];
}

const up = (length: number, grid: number): number => Math.ceil(length / grid - 1e-9) * grid;
const tidy = (length: number): number => Number(length.toFixed(6));

/** The strips of a placement; undefined where none are asked for. */
export function coreStrips(
  placement: Placement,
  rules: ElectricalRules,
  ring: readonly RingCell[],
  layers: Layers,
): Strips | undefined {
  const wanted = rules.coreStrips;
  if (wanted === null) return undefined;
  const { grid } = placement.units;
  const free = freeInside(placement);
  const currents = coreCurrents(placement, rules);
  const strips: CoreStrip[] = [];
  const figures: StripFigures[] = [];
  const missing: { net: string; missing: string }[] = [];
  let depth = wanted.clearance;
  for (const net of wanted.nets) {
    const feet = feetOf(placement, ring, net);
    const current = currents.get(net) ?? 0;
    const limit = limitOf(wanted.layer, rules.celsius, layers);
    const line = (width: number): Box => inset(free, depth + width / 2);
    const sheet = layers.get(wanted.layer)?.sheetResistance ?? null;
    const solve = (width: number) => stripCurrents(line(width), feet, current, (sheet ?? 1) / width, width);
    let { width } = wanted;
    if (width === null) {
      if ('missing' in limit) missing.push({ net, missing: limit.missing });
      else if (feet.length === 0) missing.push({ net, missing: `a supply cell of ${net} with a strap` });
      if ('missing' in limit || feet.length === 0) continue;
      width = leastWidth((w) => tidy(up(solve(w).most / limit.perMicrometre, 2 * grid)), tidy(2 * grid));
    }
    const solved = solve(width);
    figures.push({
      net,
      current,
      most: solved.most,
      width,
      limit,
      drop: sheet === null ? { missing: `the sheet resistance of layer ${wanted.layer}` } : solved.drop,
      depth: tidy(depth + width),
    });
    strips.push(drawn(net, wanted.layer, width, free, depth, feet));
    depth = tidy(depth + width + wanted.spacing);
  }
  return { strips, figures, missing };
}

/** The rectangle left inside the ring, without the core's clearance. */
function freeInside({ core, rules }: Placement): Box {
  const { clearance } = rules.core;
  return {
    x: core.x - clearance,
    y: core.y - clearance,
    width: core.width + 2 * clearance,
    height: core.height + 2 * clearance,
  };
}

const inset = ({ x, y, width, height }: Box, by: number): Box => ({
  x: x + by,
  y: y + by,
  width: width - 2 * by,
  height: height - 2 * by,
});

function feetOf(placement: Placement, ring: readonly RingCell[], net: string): readonly Foot[] {
  const lanes = new Map(placement.sections.map((section) => [section.name, section.lanes]));
  return ring.flatMap((cell): Foot[] => {
    const own = lanes.get(cell.cell.section ?? '');
    return (cell.footprint.straps ?? [])
      .filter(({ lane }) => own?.[lane] === net && feedingPads(cell, lane).length > 0)
      .map((strap) => footOf(cell, strap));
  });
}

function footOf(
  ringCell: RingCell,
  { layer, at, width, t }: NonNullable<RingCell['footprint']['straps']>[number],
): Foot {
  const { cell, side, along } = ringCell;
  const s = cell.mirrored ? along - at : at;
  const base = { cell: ringCell, layer, width };
  switch (side) {
    case 'bottom':
      return { ...base, middle: cell.x + s, inner: cell.y + t };
    case 'right':
      return { ...base, middle: cell.y + s, inner: cell.x + cell.width - t };
    case 'top':
      return { ...base, middle: cell.x + cell.width - s, inner: cell.y + cell.height - t };
    case 'left':
      return { ...base, middle: cell.y + cell.height - s, inner: cell.x + t };
  }
}

/** Where a foot's strap meets the middle line of a strip, as the way along it from its lower-left corner. */
function wayOf(line: Box, { cell, middle }: Foot): number {
  const { x, y, width, height } = line;
  const clamp = (value: number, most: number): number => Math.min(Math.max(value, 0), most);
  switch (cell.side) {
    case 'bottom':
      return clamp(middle - x, width);
    case 'right':
      return width + clamp(middle - y, height);
    case 'top':
      return width + height + clamp(x + width - middle, width);
    case 'left':
      return 2 * width + height + clamp(y + height - middle, height);
  }
}

/**
 * A width that asks for no more than itself: a wider strip's middle line lies further in, which shifts its currents a
 * little, so what is asked for is asked again until it stays.
 */
function leastWidth(asked: (width: number) => number, step: number): number {
  let width = step;
  for (let round = 0; round < ROUNDS; round++) {
    const next = Math.max(step, asked(width));
    if (next === width) return width;
    width = next;
  }
  while (asked(width) > width) width = tidy(width + step);
  return width;
}

/** How often a width is worked out again at most. */
const ROUNDS = 12;

/** How many pieces an even draw is cut into. */
const PIECES = 512;

/**
 * The currents of a closed strip that is held at its feet and drawn from evenly: the largest, mA, and the largest
 * drop, V. `perLength` is ohm per micrometre; of a given width corners count less than their middle line.
 */
function stripCurrents(
  line: Box,
  feet: readonly Foot[],
  current: number,
  perLength: number,
  width = 0,
): { readonly most: number; readonly drop: number } {
  const around = 2 * (line.width + line.height);
  if (feet.length === 0 || !(around > 0)) return { most: 0, drop: 0 };
  const corners = [0, line.width, line.width + line.height, 2 * line.width + line.height];
  const nodes = [
    ...Array.from({ length: PIECES }, (_, i) => ({
      way: ((i + 0.5) * around) / PIECES,
      draw: current / PIECES,
      held: false,
    })),
    ...feet.map((foot) => ({ way: wayOf(line, foot), draw: 0, held: true })),
  ].sort((a, b) => a.way - b.way);
  // Nodes at one place are one.
  const merged: { way: number; draw: number; held: boolean }[] = [];
  for (const node of nodes) {
    const last = merged.at(-1);
    if (last === undefined || node.way - last.way > 1e-9) merged.push({ ...node });
    else {
      last.draw += node.draw;
      last.held ||= node.held;
    }
  }
  const n = merged.length;
  const resistance = Float64Array.from({ length: n }, (_, i) => {
    const from = merged[i]?.way ?? 0;
    const to = i === n - 1 ? around + (merged[0]?.way ?? 0) : (merged[i + 1]?.way ?? 0);
    const turns = [...corners, around].filter((corner) => corner > from && corner <= to).length;
    const length = to - from - turns * (1 - CORNER_SQUARES) * width;
    return perLength * Math.max(length, (to - from) / 2);
  });
  const solution = solveRail({
    closed: n > 1,
    resistance: n > 1 ? resistance : new Float64Array(0),
    draw: Float64Array.from(merged, (node) => node.draw * 1e-3),
    feeds: merged.flatMap((node, i) => (node.held ? [{ node: i, voltage: 0, resistance: 0 }] : [])),
  });
  let [most, drop] = [0, 0];
  for (const value of solution?.current ?? []) most = Math.max(most, Math.abs(value) * 1e3);
  for (const value of solution?.drop ?? []) drop = Math.max(drop, value);
  return { most, drop };
}

/** The strip's four sides, each to the far edges of its corner squares, and its straps. */
function drawn(
  net: string,
  layer: string,
  width: number,
  free: Box,
  depth: number,
  feet: readonly Foot[],
): CoreStrip {
  const outer = inset(free, depth);
  const inner = inset(free, depth + width);
  const box = (x: number, y: number, w: number, h: number) => ({
    x: tidy(x),
    y: tidy(y),
    width: tidy(w),
    height: tidy(h),
  });
  const [right, top] = [inner.x + inner.width, inner.y + inner.height];
  return {
    net,
    layer,
    width,
    rectangles: [
      { layer, ...box(outer.x, outer.y, width, outer.height) },
      { layer, ...box(outer.x, outer.y, outer.width, width) },
      { layer, ...box(right, outer.y, width, outer.height) },
      { layer, ...box(outer.x, top, outer.width, width) },
    ],
    straps: feet.map(({ cell, layer: own, width: wide, middle, inner: from }) => {
      const low = middle - wide / 2;
      const rect =
        cell.side === 'bottom'
          ? box(low, from, wide, inner.y - from)
          : cell.side === 'top'
            ? box(low, top, wide, from - top)
            : cell.side === 'left'
              ? box(from, low, inner.x - from, wide)
              : box(right, low, from - right, wide);
      return { cell: cell.cell.name, layer: own, ...rect };
    }),
  };
}
