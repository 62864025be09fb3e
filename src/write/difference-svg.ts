/**
 * `diff.svg`: the dies of two placements on one A3 sheet to one scale, before and now, with what changed marked on
 * them and listed below. What stands for a pin carries `data-pin`, its mark also `data-change`.
 */
import type { Difference } from '../compare/difference.ts';
import { differenceBlocks, headLine } from '../compare/text.ts';
import type { Placement } from '../format/placement.ts';
import { add, drawSheet, group, lettering, type Pen, SHEET, write } from './canvas.ts';
import { type Column, heading, paragraph, SAMPLE, samples } from './column.ts';
import { drawArrows, head } from './difference/arrows.ts';
import { drawDie, drawMark } from './difference/die.ts';
import { drawLists } from './difference/lists.ts';
import { KINDS, type Kind, LOOKS, markedPins } from './difference/looks.ts';
import { drawNames } from './difference/names.ts';
import { AREA, COLUMN, planDifference, type View } from './difference/plan.ts';
import { counted, um } from './numbers.ts';
import { INK, PAPER } from './palette.ts';
import { inSentence, LEAST_SIZE } from './text.ts';
import { drawFoot } from './title.ts';

const NAME = 'diff';

/** The drawing of a difference, as the text of an SVG file. */
export function differenceSvg(a: Placement, b: Placement, difference: Difference): string {
  const plan = planDifference(a, b);
  const marked = markedPins(a, b, difference);
  const counts = headLine(difference);
  const title = `${inSentence(a.ring)} before, ${inSentence(b.ring)} now: the difference`;
  return drawSheet(NAME, { title, text: `Both dies to one scale; ${counts}.` }, ({ page }) => {
    const [before, now] = (['before', 'now'] as const).map((which) => {
      const pen = group(page, { id: `${NAME}-${which}`, class: which });
      const view = plan[which];
      headDie(pen, view, which);
      drawDie(pen, view, marked[which]);
      if (which === 'now') drawArrows(pen, view, difference.moved);
      return drawNames(pen, view, marked[which]);
    });
    drawLists(page, differenceBlocks(difference), plan.lists);
    drawColumn(page, b, plan.now.scale, counts, (before ?? 0) + (now ?? 0));
  });
}

function headDie(pen: Pen, view: View, which: string): void {
  const { die, bondPads } = view.placement;
  const text = `${which}: ${um(die.width)} \u00d7 ${um(die.height)} \u00b5m, ${counted(bondPads.length, 'pad')}`;
  const middle = view.x + (die.width * view.scale) / 2;
  write(lettering(pen, 3), middle, AREA.y + 2, text, { anchor: 'middle' });
}

function drawColumn(page: Pen, now: Placement, scale: number, counts: string, unnamed: number): void {
  const pen = group(page, { id: `${NAME}-legend`, class: 'legend' });
  const x = SHEET.width - SHEET.margin - COLUMN.width;
  const notes =
    unnamed > 0 ? [`${counted(unnamed, 'name')} of marked pins found no room beside the dies.`] : [];
  const high = drawFoot(pen, x, COLUMN.width, now, scale, ['the difference from the ring before'], notes);
  const column: Column = {
    pen,
    x,
    width: COLUMN.width,
    y: AREA.y - 1.2,
    end: SHEET.height - SHEET.margin - high,
  };
  heading(column, 'pins');
  samples(column, KINDS.map(sampleOf));
  heading(column, 'in short');
  paragraph(column, counts, 4);
  paragraph(
    column,
    'Places count along their side from its first corner: a die that grows moves no pin.',
    4,
    LEAST_SIZE,
    INK.quiet,
  );
}

const MEANING: Readonly<Record<Kind, string>> = {
  added: 'added',
  removed: 'removed',
  moved: 'moved; short ways are drawn longer',
  changed: 'another cell, section, net or detail',
  renumbered: 'another number, where they are few',
};

const sampleOf = (kind: Kind) => ({
  text: MEANING[kind],
  sample: (pen: Pen, x: number, y: number): void => {
    const { colour } = LOOKS[kind];
    const half = SAMPLE.height / 2 - 0.1;
    const shift = kind === 'moved' ? 3 : 0;
    add(pen, 'rect', {
      x: x - half + shift,
      y: y - half,
      width: 2 * half,
      height: 2 * half,
      fill: kind === 'removed' || kind === 'changed' ? PAPER : colour,
      stroke: colour,
      'stroke-width': 0.25,
    });
    drawMark(pen, kind, x, y, half - 0.35);
    if (kind !== 'moved') return;
    add(pen, 'path', { d: `M${x - 4} ${y}h5`, stroke: colour, 'stroke-width': 0.3 });
    head(pen, { x: x - 4, y }, { x: x + 1.2, y }, colour);
  },
});
