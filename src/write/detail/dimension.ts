/** Dimensions as engineering drawings have them: extension lines, arrows, the figure at the line. */
import { add, group, type Lettering, lettering, type Pen, write } from '../canvas.ts';
import { mm, um } from '../numbers.ts';
import { INK, PAPER } from '../palette.ts';
import { spread } from '../spread.ts';
import { ems, LINE_BOX, lineRoom } from '../text.ts';
import type { Measure } from './measures.ts';

/** A panel's scale and where its stretch stands on the sheet: x of s, y of t. */
export interface View {
  readonly x: (s: number) => number;
  readonly y: (t: number) => number;
  readonly left: number;
  readonly right: number;
  /** The die's edge and the inward end of what is shown. */
  readonly bottom: number;
  readonly top: number;
}

/** The height of a row of dimensions along s. */
export const ROW = 5.4;
const FIRST = 5;
const ARROW = { long: 1.9, half: 0.42 } as const;
const BEYOND = 1.2;
const OUTSIDE = 4;

export const figure = ({ name, from, to }: Measure): string => `${name} ${um(to - from)}`;

const about = (measure: Measure) => ({
  'data-dimension': measure.name,
  'data-value': um(measure.to - measure.from),
});

const arrowH = (x: number, y: number, way: 1 | -1): string =>
  `M${mm(x)} ${mm(y)}l${mm(-way * ARROW.long)} ${mm(-ARROW.half)}v${mm(2 * ARROW.half)}z`;
const arrowV = (x: number, y: number, way: 1 | -1): string =>
  `M${mm(x)} ${mm(y)}l${mm(-ARROW.half)} ${mm(-way * ARROW.long)}h${mm(2 * ARROW.half)}z`;

/** The pens of dimensions: extension lines below all, thin lines, solid arrows, figures. */
export interface DimensionPens {
  readonly extensions: Pen;
  readonly lines: Pen;
  readonly arrows: Pen;
  readonly figures: Lettering;
}

/** Dimensions along s, each in a row of its own, below the die's edge or above the cells. */
export function setAlong(
  pens: DimensionPens,
  view: View,
  measures: readonly Measure[],
  place: 'below' | 'above',
): void {
  measures.forEach((measure, i) => {
    const away = FIRST + i * ROW;
    const y = place === 'below' ? view.bottom + away : view.top - away;
    const over = place === 'below' ? BEYOND : -BEYOND;
    const [a, b] = [view.x(measure.from), view.x(measure.to)];
    const starts = measure.begin.map(view.y);
    const text = figure(measure);
    const width = ems(text) * pens.figures.size;
    const inside = b - a >= width + 2 * ARROW.long + 1.5;
    const extension = [a, b].map((x, j) => `M${mm(x)} ${mm(starts[j] ?? y)}V${mm(y + over)}`).join('');
    add(pens.extensions, 'path', { d: extension });
    if (inside) {
      add(pens.lines, 'path', { ...about(measure), class: 'dimension', d: `M${mm(a)} ${mm(y)}H${mm(b)}` });
      add(pens.arrows, 'path', { d: arrowH(a, y, -1) + arrowH(b, y, 1) });
      back(pens.lines, (a + b) / 2 - width / 2 - 0.6, y, width + 1.2, pens.figures.size);
      write(pens.figures, (a + b) / 2, y, text, { anchor: 'middle' }, about(measure));
      return;
    }
    const rightward = b + OUTSIDE + 0.8 + width <= view.right + 30;
    add(pens.lines, 'path', {
      ...about(measure),
      class: 'dimension',
      d: `M${mm(a)} ${mm(y)}H${mm(b)}M${mm(a - OUTSIDE)} ${mm(y)}H${mm(a)}M${mm(b)} ${mm(y)}H${mm(b + OUTSIDE)}`,
    });
    add(pens.arrows, 'path', { d: arrowH(a, y, 1) + arrowH(b, y, -1) });
    const x = rightward ? b + OUTSIDE + 0.8 : a - OUTSIDE - 0.8;
    back(pens.lines, rightward ? x - 0.4 : x - width - 0.4, y, width + 0.8, pens.figures.size);
    write(pens.figures, x, y, text, rightward ? {} : { anchor: 'end' }, about(measure));
  });
}

/** A field of paper under a figure, so that no line runs through it. */
function back(pen: Pen, x: number, y: number, width: number, size: number): void {
  const height = size * LINE_BOX * 0.9;
  add(pen, 'rect', { x, y: y - height / 2, width, height, fill: PAPER, stroke: 'none' });
}

/** A chain of dimensions along t on one line, the figures beside it, each led to its part. */
export function setChain(pens: DimensionPens, view: View, measures: readonly Measure[], x: number): void {
  const room = lineRoom(pens.figures.size) + 0.4;
  const sorted = [...measures].sort((a, b) => b.from + b.to - (a.from + a.to));
  const middles = sorted.map(({ from, to }) => (view.y(from) + view.y(to)) / 2);
  const places = spread(
    middles.map((at) => ({ at, room })),
    view.top - 60,
    view.bottom + 60,
  );
  sorted.forEach((measure, i) => {
    const [a, b] = [view.y(measure.from), view.y(measure.to)];
    const starts = measure.begin.map(view.x);
    const extension = [a, b].map((y, j) => `M${mm(starts[j] ?? x)} ${mm(y)}H${mm(x + BEYOND)}`).join('');
    add(pens.extensions, 'path', { d: extension });
    add(pens.lines, 'path', { ...about(measure), class: 'dimension', d: `M${mm(x)} ${mm(a)}V${mm(b)}` });
    const roomy = a - b > 2 * ARROW.long + 0.6;
    add(pens.arrows, 'path', {
      d: roomy
        ? arrowV(x, a, 1) + arrowV(x, b, -1)
        : [a, b]
            .map((y) => `M${mm(x - 0.45)} ${mm(y)}a0.45 0.45 0 1 0 0.9 0a0.45 0.45 0 1 0 -0.9 0z`)
            .join(''),
    });
    const middle = middles[i] ?? a;
    const place = places?.[i] ?? middle;
    add(pens.lines, 'path', {
      d: `M${mm(x)} ${mm(middle)}L${mm(x + 2.6)} ${mm(place)}h0.7`,
      stroke: INK.hair,
    });
    const text = figure(measure);
    back(pens.lines, x + 3.5, place, ems(text) * pens.figures.size + 0.6, pens.figures.size);
    write(pens.figures, x + 3.8, place, text, {}, about(measure));
  });
}

export function dimensionPens(pen: Pen, size: number): DimensionPens {
  return {
    extensions: group(pen, { class: 'extensions', fill: 'none', stroke: INK.line, 'stroke-width': 0.1 }),
    lines: group(pen, { class: 'dimension-lines', fill: 'none', stroke: INK.line, 'stroke-width': 0.13 }),
    arrows: group(pen, { class: 'arrows', fill: INK.line }),
    figures: lettering(pen, size),
  };
}
