/** One tight stretch, turned so that the die's edge lies below, to a large scale and dimensioned. */
import type { Placement } from '../../format/placement.ts';
import { group, lettering, type Pen, write } from '../canvas.ts';
import type { Box } from '../frame.ts';
import { counted } from '../numbers.ts';
import { INK } from '../palette.ts';
import type { Shapes } from '../shapes.ts';
import { LEAST_SIZE, shorten } from '../text.ts';
import { drawTurned } from '../turned.ts';
import { dimensionPens, figure, ROW, setAlong, setChain, type View } from './dimension.ts';
import { type Measure, measuresOf } from './measures.ts';
import type { TightStretch } from './stretch.ts';

const TITLE = 6.5;
const SIZE = 2.5;

export interface PanelFrame {
  readonly scale: number;
  readonly view: View;
  readonly measures: readonly Measure[];
}

/** The largest scale at which the stretch and its dimensions fit into a field of the sheet. */
export function framePanel(placement: Placement, stretch: TightStretch, field: Box): PanelFrame {
  const measures = measuresOf(placement, stretch);
  const rows = (place: Measure['place']) => measures.filter((measure) => measure.place === place);
  const wide = (place: Measure['place']) =>
    Math.max(0, ...rows(place).map((measure) => figure(measure).length)) * 0.66 * SIZE + 6;
  const [chain, edge] = [wide('right'), wide('far right')];
  const below = 4 + rows('below').length * ROW + 3;
  const above = TITLE + 4 + rows('above').length * ROW;
  const room = { width: field.width - 6 - chain - edge - 6, height: field.height - below - above };
  const scale = Math.min(room.width / (stretch.s1 - stretch.s0), room.height / stretch.t1);
  const left = field.x + 4 + (room.width - (stretch.s1 - stretch.s0) * scale) / 2;
  const spare = room.height - stretch.t1 * scale;
  const bottom = field.y + field.height - below - spare / 2;
  const view: View = {
    x: (s) => left + (s - stretch.s0) * scale,
    y: (t) => bottom - t * scale,
    left,
    right: left + (stretch.s1 - stretch.s0) * scale,
    bottom,
    top: bottom - stretch.t1 * scale,
  };
  return { scale, view, measures };
}

export function drawPanel(
  defs: Pen,
  page: Pen,
  name: string,
  placement: Placement,
  stretch: TightStretch,
  shapes: Shapes,
  field: Box,
  { scale, view, measures }: PanelFrame,
): void {
  const pen = group(page, {
    class: 'panel',
    'data-style': stretch.style,
    'data-side': stretch.side,
    'data-scale': String(scale),
  });
  write(lettering(pen, 3.2), field.x, field.y + 2.6, titleOf(stretch));
  const { side, s0, s1, t1 } = stretch;
  const window = { side, s0, s1, t1, x: view.left, y: view.bottom, scale };
  drawTurned(defs, pen, `${name}-window-${stretch.style}`, placement, window, shapes);
  nameParts(pen, stretch, view, scale);
  const pens = dimensionPens(group(pen, { class: 'dimensions' }), SIZE);
  const at = (place: Measure['place']) => measures.filter((measure) => measure.place === place);
  setAlong(pens, view, at('below'), 'below');
  setAlong(pens, view, at('above'), 'above');
  setChain(pens, view, at('right'), view.right + 5);
  const width = Math.max(0, ...at('right').map((measure) => figure(measure).length)) * 0.66 * SIZE + 6;
  setChain(pens, view, at('far right'), view.right + 5 + width);
}

function titleOf({ style, side, pads }: TightStretch): string {
  const numbers = pads.map(({ pad }) => pad.number);
  const range =
    numbers.length > 1
      ? `pads ${numbers[0]} to ${numbers.at(-1)}`
      : `${counted(1, 'pad')}, number ${numbers[0]}`;
  return `${style}: the tightest stretch, ${side} side, ${range}`;
}

/** Numbers and pins in the pads' openings, as far as they fit. */
function nameParts(pen: Pen, stretch: TightStretch, view: View, scale: number): void {
  const numbers = lettering(pen, SIZE);
  const names = lettering(pen, LEAST_SIZE, { fill: INK.quiet });
  for (const { pad, s, opening } of stretch.pads) {
    const [width, height] = [(opening.s1 - opening.s0) * scale, (opening.t1 - opening.t0) * scale];
    const middle = view.y((opening.t0 + opening.t1) / 2);
    if (width < 6 || height < 7.5) continue;
    write(
      numbers,
      view.x(s),
      middle - 1.7,
      String(pad.number),
      { anchor: 'middle' },
      { 'data-pad': String(pad.number) },
    );
    write(names, view.x(s), middle + 1.5, shorten(pad.pin, (width - 1) / LEAST_SIZE), { anchor: 'middle' });
  }
}
