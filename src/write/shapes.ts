/**
 * One shape for each kind of cell and of bond pad, in micrometres of the library's own drawing, to be stamped
 * wherever one stands: a ring of a thousand pads stays light.
 */
import type { BondPad, PlacedCell, PlacedFootprint, Placement } from '../format/placement.ts';
import { add, group, type Pen, stamp } from './canvas.ts';
import { type Extent, lies } from './frame.ts';
import { um } from './numbers.ts';
import { CELL, INK, PAD, PAPER } from './palette.ts';

/** The shapes of a drawing by what they show. */
export interface Shapes {
  /** The whole cell, by footprint. */
  readonly cells: ReadonlyMap<string, string>;
  /** The marks that stand above the rails, of footprints that have any. */
  readonly marks: ReadonlyMap<string, string>;
  readonly pad: (pad: BondPad) => string | undefined;
}

type Dot = readonly [s: number, t: number];

/** A dot of a cell's own frame (s from its start edge, t from its outward edge) in the library's drawing. */
function onDrawing({ drawnFor, width, height }: PlacedFootprint, [s, t]: Dot): Dot {
  switch (drawnFor) {
    case 'bottom':
      return [s, t];
    case 'right':
      return [width - t, s];
    case 'top':
      return [width - s, height - t];
    case 'left':
      return [t, height - s];
  }
}

const path = (dots: readonly Dot[], closed = true): string =>
  `${dots.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${um(x)} ${um(y)}`).join('')}${closed ? 'Z' : ''}`;

/**
 * Defines the shapes of a placement; `fine` is the width of a fine line on the sheet, in micrometres. `signed`
 * pads show what their net is.
 */
export function defineShapes(
  defs: Pen,
  name: string,
  placement: Placement,
  fine: number,
  signed = true,
): Shapes {
  const used = new Set(placement.cells.map((cell) => cell.footprint));
  const cells = new Map<string, string>();
  const marks = new Map<string, string>();
  placement.footprints.forEach((print, i) => {
    if (!used.has(print.name)) return;
    const id = `${name}-cell-shape-${i + 1}`;
    drawBody(group(defs, { id }), print, fine);
    cells.set(print.name, id);
    const strokes = markOf(print, fine);
    if (strokes.length === 0) return;
    const pen = group(defs, { id: `${id}-mark`, 'stroke-width': um(1.6 * fine), 'stroke-linejoin': 'round' });
    for (const { d, solid } of strokes)
      add(pen, 'path', { d, fill: solid ? INK.line : PAPER, stroke: solid ? PAPER : INK.line });
    marks.set(print.name, `${id}-mark`);
  });
  return { cells, marks, pad: definePads(defs, name, placement, fine, signed) };
}

function drawBody(pen: Pen, print: PlacedFootprint, fine: number): void {
  const { width, height, role } = print;
  const { fill, stroke } = CELL[role] ?? { fill: PAPER, stroke: INK.line };
  add(pen, 'rect', {
    width: um(width),
    height: um(height),
    fill,
    stroke,
    'stroke-width': um(role === 'filler' ? 0.6 * fine : fine),
  });
  if (role === 'filler') return;
  const notch = Math.min(width, height) * 0.22;
  const side = Math.min(notch, 9 * fine);
  add(pen, 'path', {
    d: path([
      [0, 0],
      [side, 0],
      [0, side],
    ]),
    fill: stroke,
  });
  if (role === 'corner')
    add(pen, 'path', {
      d: path(
        [
          [width, 0],
          [0, height],
        ],
        false,
      ),
      stroke,
      'stroke-width': um(0.6 * fine),
      fill: 'none',
    });
}

/**
 * What tells a role at sight: a diamond for a supply, an hourglass for a clamp, a hexagon for a control cell, a
 * zigzag across a break cell. They stand at the cell's inward end, in a row where there are two.
 */
function markOf(print: PlacedFootprint, fine: number): { d: string; solid: boolean }[] {
  const upright = lies(print.drawnFor);
  const width = upright ? print.width : print.height;
  const depth = upright ? print.height : print.width;
  const dots = (at: readonly Dot[]) => at.map((dot) => onDrawing(print, dot));
  if (print.role === 'break') {
    const teeth: Dot[] = [];
    for (let i = 0; i <= 8; i++) teeth.push([i % 2 === 0 ? 0 : width, (depth * i) / 8]);
    return [{ d: path(dots(teeth), false), solid: false }];
  }
  const kinds = [
    ...(print.role === 'supply' ? ['supply'] : []),
    ...(print.role === 'clamp' || print.clamps.length > 0 ? ['clamp'] : []),
    ...(print.role === 'control' ? ['control'] : []),
  ];
  const half = Math.min(width * 0.36, depth * 0.09, 15 * fine);
  return kinds.map((kind, i) => {
    const [s, t] = [width / 2, depth - half * (1.5 + 2.3 * i)];
    const [l, r, o, n] = [s - half, s + half, t - half, t + half];
    if (kind === 'supply')
      return {
        d: path(
          dots([
            [s, o],
            [r, t],
            [s, n],
            [l, t],
          ]),
        ),
        solid: true,
      };
    if (kind === 'clamp')
      return {
        d: path(
          dots([
            [l, o],
            [r, o],
            [l, n],
            [r, n],
          ]),
        ),
        solid: true,
      };
    return {
      d: path(
        dots([
          [l, t],
          [s - half / 2, o],
          [s + half / 2, o],
          [r, t],
          [s + half / 2, n],
          [s - half / 2, n],
        ]),
      ),
      solid: false,
    };
  });
}

export type NetKind = 'signal' | 'supply' | 'ground';

export const netKinds = (placement: Placement): ReadonlyMap<string, NetKind> =>
  new Map(placement.nets.map((net) => [net.name, net.kind]));

function definePads(
  defs: Pen,
  name: string,
  placement: Placement,
  fine: number,
  signed: boolean,
): Shapes['pad'] {
  const kinds = netKinds(placement);
  const key = (pad: BondPad) =>
    [kinds.get(pad.net) ?? 'signal', pad.width, pad.height, pad.opening.width, pad.opening.height].join(' ');
  const known = new Map<string, string>();
  for (const pad of placement.bondPads) {
    if (known.has(key(pad))) continue;
    const id = `${name}-pad-shape-${known.size + 1}`;
    drawPad(group(defs, { id }), pad, kinds.get(pad.net) ?? 'signal', fine, signed);
    known.set(key(pad), id);
  }
  return (pad) => known.get(key(pad));
}

const frame = ({ width, height }: Extent): string =>
  `M${um(-width / 2)} ${um(-height / 2)}h${um(width)}v${um(height)}h${um(-width)}z`;

/** Metal around an opening through which the rails below are seen, and in it a plus for a supply, a block for a ground. */
function drawPad(pen: Pen, pad: BondPad, kind: NetKind, fine: number, signed: boolean): void {
  add(pen, 'path', { d: frame(pad.opening), fill: PAPER, 'fill-opacity': '0.6' });
  add(pen, 'path', {
    d: frame(pad) + frame(pad.opening),
    'fill-rule': 'evenodd',
    fill: PAD[kind],
    stroke: INK.line,
    'stroke-width': um(0.8 * fine),
  });
  if (kind === 'signal' || !signed) return;
  const arm = Math.min(pad.opening.width, pad.opening.height) * 0.3;
  const d =
    kind === 'supply'
      ? `M${um(-arm)} 0H${um(arm)}M0 ${um(-arm)}V${um(arm)}`
      : `M${um(-arm / 2)} 0H${um(arm / 2)}`;
  const width = kind === 'supply' ? Math.max(arm * 0.5, fine) : arm;
  add(pen, 'path', { d, fill: 'none', stroke: PAD[kind], 'stroke-width': um(width) });
}

/** Where a placed cell's drawing goes: mirrored, then turned, then moved, as the placement file has it. */
export const placing = ({ origin, rotation, mirrored }: PlacedCell): string =>
  `translate(${um(origin.x)} ${um(origin.y)})${rotation === 0 ? '' : ` rotate(${rotation})`}${mirrored ? ' scale(-1 1)' : ''}`;

export function stampCell(pen: Pen, shape: string | undefined, cell: PlacedCell): void {
  if (shape === undefined) return;
  stamp(pen, shape, {
    transform: placing(cell),
    'data-cell': cell.name,
    'data-section': cell.section ?? undefined,
  });
}

/** The mark of a placed cell, above the rails. */
export function stampMark(pen: Pen, shape: string, cell: PlacedCell): void {
  stamp(pen, shape, { transform: placing(cell), 'data-cell': cell.name });
}

export function stampPad(pen: Pen, shape: string | undefined, pad: BondPad): void {
  if (shape === undefined) return;
  stamp(pen, shape, {
    x: um(pad.x),
    y: um(pad.y),
    'data-pad': String(pad.number),
    'data-net': pad.net,
    'data-cell': pad.cell,
  });
}
