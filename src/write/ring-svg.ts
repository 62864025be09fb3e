/**
 * `ring.svg`: the whole die on one A3 sheet.
 *
 * Groups by purpose, each with an id `ring-<purpose>` and a class `<purpose>`: `die` (with `cells`, `rails`,
 * `marks`, `stems`, `pads` in it, all in micrometres of the die, y upward), `core`, `sections`, `breaks`,
 * `section-names`, `names`, `findings`, `legend`. What stands for a thing carries its name: `data-cell`, `data-section`,
 * `data-pad` (the number), `data-net`, `data-lane`, `data-arc` (its place among `rails[]`, from 1),
 * `data-finding`. These ids, classes and attributes are what other parts of the program rely on.
 */
import type { Placement } from '../format/placement.ts';
import { add, drawSheet, group, lettering, type Pen, write } from './canvas.ts';
import { counted, mm, um } from './numbers.ts';
import { INK, PAPER, STEM } from './palette.ts';
import { drawColumn } from './ring/column.ts';
import { drawCoreStrips } from './ring/core-strips.ts';
import { markFindings } from './ring/findings.ts';
import { drawLabels, markFirstPad } from './ring/labels.ts';
import { markPartings } from './ring/partings.ts';
import { dieOnSheet } from './ring/place.ts';
import { planRing, type RingPlan } from './ring/plan.ts';
import { drawRails } from './ring/rails.ts';
import { drawSections, nameSections } from './ring/sections.ts';
import { defineShapes, stampCell, stampMark, stampPad } from './shapes.ts';
import { ems } from './text.ts';
import { findingsText, ringTitle, stylesText } from './title.ts';

const NAME = 'ring';
/** A fine line on the sheet, in millimetres. */
const FINE = 0.12;

/**
 * The drawing of the whole die, as the text of an SVG file. Where the plan has no room for names they stand on
 * sheets of their own, and the drawing says so.
 */
export function ringSvg(placement: Placement, plan: RingPlan = planRing(placement)): string {
  const { die, bondPads } = placement;
  const text = `Die ${um(die.width)} by ${um(die.height)} micrometres, ${counted(bondPads.length, 'bond pad')}, ${stylesText(placement)}; ${findingsText(placement.findings)}.`;
  return drawSheet(NAME, { title: ringTitle(placement, 'the ring'), text }, ({ defs, page }) => {
    drawDie(defs, page, placement, plan);
    drawCore(page, placement, plan);
    const sections = drawSections(page, NAME, placement, plan);
    drawCoreStrips(page, NAME, placement, plan);
    markPartings(page, NAME, placement, plan);
    markFirstPad(page, placement, plan);
    drawLabels(page, NAME, placement, plan);
    markFindings(page, NAME, placement, plan);
    nameSections(page, NAME, sections);
    drawColumn(page, NAME, placement, plan, notes(plan, placement));
  });
}

function notes(plan: RingPlan, placement: Placement): readonly string[] {
  if (plan.named) return [];
  const sides = placement.sides.filter(({ bondPads }) => bondPads > 0).map(({ side }) => `names-${side}.svg`);
  return [`Names do not fit here: see ${sides.join(', ')}.`];
}

function drawDie(defs: Pen, page: Pen, placement: Placement, plan: RingPlan): void {
  const { die, rules } = placement;
  const fine = FINE / plan.scale;
  const origin = dieOnSheet(plan, 0, 0);
  const pen = group(page, {
    id: `${NAME}-die`,
    class: 'die',
    transform: `translate(${mm(origin.x)} ${mm(origin.y)}) scale(${plan.scale} ${-plan.scale})`,
  });
  add(pen, 'rect', {
    class: 'outline',
    width: um(die.width),
    height: um(die.height),
    fill: PAPER,
    stroke: INK.line,
    'stroke-width': um(2.4 * fine),
  });
  const inset = rules.edge.street + rules.edge.seal / 2;
  if (rules.edge.seal > 0 && 2 * inset < Math.min(die.width, die.height))
    add(pen, 'rect', {
      class: 'seal-ring',
      x: um(inset),
      y: um(inset),
      width: um(die.width - 2 * inset),
      height: um(die.height - 2 * inset),
      fill: 'none',
      stroke: INK.seal,
      'stroke-width': um(rules.edge.seal),
    });
  const shapes = defineShapes(defs, NAME, placement, fine);
  const cells = group(pen, { id: `${NAME}-cells`, class: 'cells' });
  for (const cell of placement.cells) stampCell(cells, shapes.cells.get(cell.footprint), cell);
  drawRails(pen, NAME, placement, fine);
  const stems = group(pen, { id: `${NAME}-stems`, class: 'stems', fill: STEM });
  for (const { bondPad, x, y, width, height } of placement.stems)
    add(stems, 'rect', {
      x: um(x),
      y: um(y),
      width: um(width),
      height: um(height),
      'data-pad': String(bondPad),
    });
  const pads = group(pen, { id: `${NAME}-pads`, class: 'pads' });
  for (const pad of placement.bondPads) stampPad(pads, shapes.pad(pad), pad);
  const marks = group(pen, { id: `${NAME}-marks`, class: 'marks' });
  for (const cell of placement.cells) {
    const mark = shapes.marks.get(cell.footprint);
    if (mark !== undefined) stampMark(marks, mark, cell);
  }
}

/** The rectangle left to the core, its size in its middle where that fits. */
function drawCore(page: Pen, { core }: Placement, plan: RingPlan): void {
  if (core.width <= 0 || core.height <= 0) return;
  const pen = group(page, { id: `${NAME}-core`, class: 'core' });
  const { x, y } = dieOnSheet(plan, core.x, core.y + core.height);
  const [width, height] = [core.width * plan.scale, core.height * plan.scale];
  add(pen, 'rect', {
    x,
    y,
    width,
    height,
    fill: 'none',
    stroke: INK.hair,
    'stroke-width': 0.2,
    'stroke-dasharray': '2.4 1.2 0.4 1.2',
  });
  const size = 3.2;
  const label = `${um(core.width)} \u00d7 ${um(core.height)} \u00b5m`;
  if (width < ems(label) * size + 30 || height < 40) return;
  const letters = lettering(pen, size, { fill: INK.quiet });
  write(letters, x + width / 2, y + height / 2 - 2.4, 'core', { anchor: 'middle' });
  write(letters, x + width / 2, y + height / 2 + 2.4, label, { anchor: 'middle' });
}
