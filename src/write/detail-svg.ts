/**
 * `detail.svg`: for each style in use the stretch where its pads come closest to their limits, dimensioned. Each dimension's
 * line and figure carry `data-dimension` (its name) and `data-value` (micrometres, exactly as placed); a panel
 * carries `data-style`, `data-side` and `data-scale` (millimetres a micrometre).
 */
import type { Placement } from '../format/placement.ts';
import { drawSheet, group, type Pen, SHEET } from './canvas.ts';
import { type Column, heading, line } from './column.ts';
import { drawPanel, framePanel, type PanelFrame } from './detail/panel.ts';
import { stylesInUse, type TightStretch, tightest } from './detail/stretch.ts';
import type { Box } from './frame.ts';
import { um } from './numbers.ts';
import { INK } from './palette.ts';
import { defineShapes } from './shapes.ts';
import { drawFoot, ringTitle, stylesText } from './title.ts';

const NAME = 'detail';
const COLUMN = { width: 62, gap: 6 } as const;
const FINE = 0.16;

/** The fields of so many panels. */
function fields(count: number): readonly Box[] {
  const width = SHEET.width - 2 * SHEET.margin - COLUMN.width - COLUMN.gap;
  const height = SHEET.height - 2 * SHEET.margin;
  const [across, down] = count <= 1 ? [1, 1] : count === 2 ? [1, 2] : [2, 2];
  return Array.from({ length: count }, (_, i) => ({
    x: SHEET.margin + (i % across) * (width / across),
    y: SHEET.margin + Math.floor(i / across) * (height / down),
    width: width / across - (across > 1 ? 3 : 0),
    height: height / down - (down > 1 ? 4 : 0),
  }));
}

/** The dimensioned drawing, as the text of an SVG file. */
export function detailSvg(placement: Placement): string {
  const stretches = stylesInUse(placement).flatMap((style) => tightest(placement, style) ?? []);
  const places = fields(stretches.length);
  const panels = stretches.flatMap((stretch, i) => {
    const field = places[i];
    return field === undefined ? [] : [{ stretch, field, frame: framePanel(placement, stretch, field) }];
  });
  const text = `The tightest stretch of each style, dimensioned in micrometres: ${stylesText(placement)}.`;
  return drawSheet(NAME, { title: ringTitle(placement, 'details'), text }, ({ defs, page }) => {
    const largest = Math.max(...panels.map(({ frame }) => frame.scale), 1e-9);
    const shapes = defineShapes(defs, NAME, placement, FINE / largest, false);
    for (const { stretch, field, frame } of panels)
      drawPanel(defs, page, NAME, placement, stretch, shapes, field, frame);
    drawColumn(page, placement, panels);
  });
}

function drawColumn(
  page: Pen,
  placement: Placement,
  panels: readonly { readonly stretch: TightStretch; readonly frame: PanelFrame }[],
): void {
  const pen = group(page, { id: `${NAME}-legend`, class: 'legend' });
  const x = SHEET.width - SHEET.margin - COLUMN.width;
  const column: Column = { pen, x, width: COLUMN.width, y: SHEET.margin - 1.2, end: SHEET.height };
  for (const { stretch, frame } of panels) {
    heading(column, `${stretch.style}, \u00b5m${placement.rules.shrink === 1 ? '' : ' as drawn'}`);
    for (const { name, from, to, least } of frame.measures) {
      if (least === undefined || least === 0) continue;
      const short = to - from < least - 1e-7;
      const text = `${name} ${um(to - from)}, at least ${um(least)}`;
      line(column, text, undefined, short ? INK.alarm : INK.text);
    }
  }
  drawFoot(pen, x, COLUMN.width, placement, undefined, ['details, the die\u2019s edge turned down'], []);
}
