/**
 * `supplies.svg`: for each arc a chart of the voltage drop along it, and for each ground arc one of the switching load
 * between its grounds. A chart is a group of class `chart` with `data-chart` (`drop` or `load`), `data-arc` (the arc's
 * name) and `data-worst` (V or mA/ns); marks of supply cells carry `data-cell`. Further sheets are `supplies-2.svg` and on.
 */
import { type Chart, chartsOf, type DropChart, type LoadChart } from '../electrical/charts.ts';
import type { Placement } from '../format/placement.ts';
import { add, drawSheet, group, lettering, type Pen, SHEET, write } from './canvas.ts';
import { type Column, heading, line, paragraph } from './column.ts';
import type { Box } from './frame.ts';
import { mm } from './numbers.ts';
import { INK } from './palette.ts';
import { clean, LEAST_SIZE, shorten } from './text.ts';
import { drawFoot, ringTitle } from './title.ts';

const NAME = 'supplies';
const COLUMN = { width: 62, gap: 6 } as const;
const GRID = { across: 2, down: 5, gap: 8 } as const;
/** Room for a chart's title above its frame, for the scale on the left, and for the ways below. */
const ROOM = { above: 8, left: 18, below: 5 } as const;
/** More points than this on one line show nothing more. */
const MOST_POINTS = 500;
const DROP = '#0f5c6e';
const LOAD = '#b5651d';

/** The sheets by name; none where there is nothing to show. */
export function suppliesSheets(placement: Placement): readonly (readonly [string, string])[] {
  const charts = chartsOf(placement);
  const each = GRID.across * GRID.down;
  const sheets = Array.from({ length: Math.ceil(charts.length / each) }, (_, i) =>
    charts.slice(i * each, (i + 1) * each),
  );
  return sheets.map((own, i) => [
    i === 0 ? `${NAME}.svg` : `${NAME}-${i + 1}.svg`,
    sheetOf(placement, own, i + 1, sheets.length),
  ]);
}

function sheetOf(placement: Placement, charts: readonly Chart[], number: number, count: number): string {
  const name = number === 1 ? NAME : `${NAME}-${number}`;
  const text = 'The voltage drop along each rail, and the switching load between grounds.';
  return drawSheet(name, { title: ringTitle(placement, 'supplies'), text }, ({ page }) => {
    charts.forEach((chart, i) => {
      drawChart(page, chart, fieldOf(i));
    });
    drawColumn(page, placement, number, count);
  });
}

function fieldOf(i: number): Box {
  const width = SHEET.width - 2 * SHEET.margin - COLUMN.width - COLUMN.gap;
  const height = SHEET.height - 2 * SHEET.margin;
  const wide = (width - (GRID.across - 1) * GRID.gap) / GRID.across;
  const high = (height - (GRID.down - 1) * GRID.gap) / GRID.down;
  return {
    x: SHEET.margin + (i % GRID.across) * (wide + GRID.gap),
    y: SHEET.margin + Math.floor(i / GRID.across) * (high + GRID.gap),
    width: wide,
    height: high,
  };
}

/** A value as a chart names it. */
const shown = (value: number, unit: string): string => `${Number(value.toPrecision(3))} ${unit}`;

/** The least of 1, 2, 5, 10 and so on that is not below a value. */
function roundUp(value: number): number {
  if (!(value > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(value));
  const step = [1, 2, 5, 10].find((one) => one * power >= value * (1 - 1e-9)) ?? 10;
  return Number((step * power).toPrecision(3));
}

interface Scale {
  readonly frame: Box;
  readonly x: (way: number) => number;
  readonly y: (value: number) => number;
}

function drawChart(page: Pen, chart: Chart, field: Box): void {
  const pen = group(page, {
    class: 'chart',
    'data-chart': chart.kind,
    'data-arc': clean(chart.name),
    'data-worst': String(chart.worst),
  });
  const frame = {
    x: field.x + ROOM.left,
    y: field.y + ROOM.above,
    width: field.width - ROOM.left,
    height: field.height - ROOM.above - ROOM.below,
  };
  const unit = chart.kind === 'drop' ? 'mV' : 'mA/ns';
  const worst = chart.kind === 'drop' ? chart.worst * 1e3 : chart.worst;
  const budget = chart.kind === 'drop' && chart.budget !== null ? chart.budget * 1e3 : null;
  // The budget belongs in the picture unless it would press the line flat.
  const near = budget !== null && budget <= 4 * worst;
  const top = roundUp(near ? Math.max(worst, budget) : worst);
  const scale: Scale = {
    frame,
    x: (way) => frame.x + (frame.width * way) / chart.length,
    y: (value) => frame.y + frame.height * (1 - value / top),
  };
  const title =
    chart.kind === 'drop'
      ? `drop along ${chart.name}: at most ${shown(worst, unit)}${budget === null ? '' : `, budget ${shown(budget, unit)}`}`
      : `load between grounds of ${chart.name}: at most ${shown(worst, unit)}`;
  write(lettering(pen, LEAST_SIZE), field.x, field.y + 2, shorten(title, field.width / LEAST_SIZE));
  drawFrame(pen, scale, top, unit, chart.length);
  if (chart.kind === 'drop') drawDrop(pen, chart, scale, near ? budget : null);
  else drawLoad(pen, chart, scale);
  markFeeds(pen, chart, scale);
}

function drawFrame(pen: Pen, { frame, y }: Scale, top: number, unit: string, length: number): void {
  const { x, width, height } = frame;
  add(pen, 'rect', { x, y: frame.y, width, height, fill: 'none', stroke: INK.hair, 'stroke-width': 0.2 });
  add(pen, 'path', {
    d: `M${mm(x)} ${mm(y(top / 2))}h${mm(width)}`,
    stroke: INK.hair,
    'stroke-width': 0.12,
    'stroke-dasharray': '1 1',
  });
  const letters = lettering(pen, LEAST_SIZE, { fill: INK.quiet });
  for (const value of [0, top / 2, top]) {
    const text = value === top ? shown(value, unit) : String(Number(value.toPrecision(3)));
    write(letters, x - 1.2, y(value), text, { anchor: 'end' });
  }
  write(letters, x, frame.y + height + 2.6, '0');
  write(letters, x + width, frame.y + height + 2.6, `${Number((length / 1000).toPrecision(3))} mm`, {
    anchor: 'end',
  });
}

/** The points of a line, of very many the highest of each piece. */
function thinned(points: DropChart['points']): DropChart['points'] {
  if (points.length <= MOST_POINTS) return points;
  const piece = points.length / MOST_POINTS;
  return Array.from({ length: MOST_POINTS }, (_, i) =>
    points.slice(Math.floor(i * piece), Math.max(Math.floor(i * piece) + 1, Math.floor((i + 1) * piece))),
  ).map((own) => own.reduce((most, point) => (point.drop > most.drop ? point : most)));
}

function drawDrop(pen: Pen, chart: DropChart, { frame, x, y }: Scale, budget: number | null): void {
  const points = thinned(chart.points);
  const at = (way: number, drop: number): string => `${mm(x(way))} ${mm(y(drop * 1e3))}`;
  const lineOf = points.map(({ way, drop }, i) => `${i === 0 ? 'M' : 'L'}${at(way, drop)}`).join('');
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined) return;
  add(pen, 'path', {
    d: `${lineOf}L${at(last.way, 0)}L${at(first.way, 0)}Z`,
    fill: DROP,
    'fill-opacity': '0.12',
  });
  add(pen, 'path', {
    d: lineOf,
    fill: 'none',
    stroke: DROP,
    'stroke-width': 0.45,
    'stroke-linejoin': 'round',
  });
  if (budget !== null)
    add(pen, 'path', {
      class: 'budget',
      d: `M${mm(frame.x)} ${mm(y(budget))}h${mm(frame.width)}`,
      stroke: INK.alarm,
      'stroke-width': 0.3,
      'stroke-dasharray': '3 1.5',
    });
}

function drawLoad(pen: Pen, { stretches, worst, length }: LoadChart, { frame, x, y }: Scale): void {
  for (const { from, to, load } of stretches) {
    // The stretch through the start of a closed arc shows at both ends.
    const parts =
      to > length
        ? [
            [from, length],
            [0, to - length],
          ]
        : [[from, to]];
    for (const [a = 0, b = 0] of parts)
      add(pen, 'rect', {
        class: 'stretch',
        'data-load': String(load),
        x: x(a),
        y: y(load),
        width: Math.max(0, x(b) - x(a)),
        height: frame.y + frame.height - y(load),
        fill: LOAD,
        'fill-opacity': load === worst ? '0.55' : '0.25',
        stroke: LOAD,
        'stroke-width': 0.2,
      });
  }
}

/** A diamond below the frame for every supply cell: the mark that it bears in the ring. */
function markFeeds(pen: Pen, { feeds }: Chart, { frame, x }: Scale): void {
  const r = 0.9;
  for (const { way, cell } of feeds)
    add(pen, 'path', {
      class: 'feed',
      'data-cell': clean(cell),
      d: `M${mm(x(way))} ${mm(frame.y + frame.height - r)}l${r} ${r}l${-r} ${r}l${-r} ${-r}Z`,
      fill: INK.line,
    });
}

function drawColumn(page: Pen, placement: Placement, number: number, count: number): void {
  const pen = group(page, { id: `${NAME}-legend`, class: 'legend' });
  const x = SHEET.width - SHEET.margin - COLUMN.width;
  const column: Column = { pen, x, width: COLUMN.width, y: SHEET.margin - 1.2, end: SHEET.height };
  heading(column, 'how to read the charts');
  paragraph(
    column,
    'Each runs along its arc, counter-clockwise from the first cell; a closed arc starts at the upper end of the left side.',
    4,
  );
  paragraph(column, 'A diamond on the ground line: a supply cell. A dashed line across: the budget.', 3);
  heading(column, 'supplies');
  const { electrical } = placement.summary;
  if (electrical !== undefined && 'supplies' in electrical)
    for (const { net, have, needed, decides } of electrical.supplies)
      line(
        column,
        `${net}: ${have}, needed ${'value' in needed ? needed.value : 'not assessed'}${decides === null ? '' : `, ${decides}`}`,
      );
  const sheet = count > 1 ? [`supplies, sheet ${number} of ${count}`] : ['supplies'];
  drawFoot(pen, x, COLUMN.width, placement, undefined, sheet, []);
}
