/** The right column of the ring's sheet: legend, arcs, findings, scale and title block. */
import type { Placement } from '../../format/placement.ts';
import { add, group, type Pen, SHEET } from '../canvas.ts';
import {
  type Column,
  FINDING_SAMPLE,
  FIRST_PAD_SAMPLE,
  heading,
  type Item,
  LINE_STEP,
  line,
  paragraph,
  SAMPLE,
  samples,
} from '../column.ts';
import { counted, mm, um } from '../numbers.ts';
import { CELL, INK, PAD, PAPER } from '../palette.ts';
import { inSentence } from '../text.ts';
import { drawFoot } from '../title.ts';
import { findingColour, numberedFindings } from './findings.ts';
import { COLUMN, type RingPlan } from './plan.ts';
import { dashes, laneLooks } from './rails.ts';
import { sectionLooks } from './sections.ts';

/** The most members of a list in the legend. */
const MOST = 8;

export function drawColumn(
  page: Pen,
  name: string,
  placement: Placement,
  plan: RingPlan,
  notes: readonly string[],
): void {
  const pen = group(page, { id: `${name}-legend`, class: 'legend' });
  const x = SHEET.width - SHEET.margin - COLUMN.width;
  const high = drawFoot(pen, x, COLUMN.width, placement, plan.scale, ['ring, seen from above'], notes);
  const end = SHEET.height - SHEET.margin - high - 4;
  const column: Column = { pen, x, width: COLUMN.width, y: SHEET.margin - 1.2, end };
  heading(column, 'cells and pads');
  samples(column, [...roles(placement), ...padKinds(placement), ...signs(placement)], 2);
  listed(column, 'rails, by lane', lanes(placement), 'lane');
  listed(column, 'sections', sections(placement), 'section');
  listArcs(column, placement);
  listStrips(column, placement);
  listFindings(column, placement);
}

const rowsLeft = ({ y, end }: Column) => Math.floor((end - y - 1) / LINE_STEP);

function listed(column: Column, title: string, items: readonly Item[], kind: string): void {
  if (items.length === 0) return;
  heading(column, title);
  samples(column, items.slice(0, MOST));
  if (items.length > MOST)
    line(column, `and ${counted(items.length - MOST, `more ${kind}`)}`, undefined, INK.quiet);
}

const box = (fill: string, stroke: string) => (pen: Pen, x: number, y: number) => {
  const [width, height] = [SAMPLE.width - 1, SAMPLE.height];
  add(pen, 'rect', { x: x - width / 2, y: y - height / 2, width, height, fill, stroke, 'stroke-width': 0.2 });
};

function roles(placement: Placement): Item[] {
  const used = new Set(placement.cells.map((cell) => cell.role));
  return Object.entries(CELL)
    .filter(([role]) => used.has(role as never))
    .map(([role, { fill, stroke }]) => ({
      text: role,
      sample: (pen, x, y) => {
        box(fill, stroke)(pen, x, y);
        const d = SIGNS[role]?.(x, y);
        if (d !== undefined)
          add(pen, 'path', {
            d,
            fill: role === 'supply' || role === 'clamp' ? INK.line : 'none',
            stroke: role === 'break' ? INK.alarm : INK.line,
            'stroke-width': 0.25,
          });
      },
    }));
}

/** The marks of roles, as in the cells, for the legend. */
const SIGNS: Readonly<Record<string, (x: number, y: number) => string>> = {
  supply: (x, y) => `M${mm(x)} ${mm(y - 1.1)}l1.1 1.1l-1.1 1.1l-1.1 -1.1z`,
  clamp: (x, y) => `M${mm(x - 1)} ${mm(y - 1)}h2l-2 2h2z`,
  control: (x, y) => `M${mm(x - 1.1)} ${mm(y)}l0.55 -1h1.1l0.55 1l-0.55 1h-1.1z`,
  break: (x, y) => `M${mm(x - 4)} ${mm(y - 1)}l1 2l1 -2l1 2l1 -2l1 2l1 -2l1 2l1 -2`,
};

function padKinds(placement: Placement): Item[] {
  const kinds = new Map(placement.nets.map((net) => [net.name, net.kind]));
  const used = new Set(placement.bondPads.map((pad) => kinds.get(pad.net) ?? 'signal'));
  return (['signal', 'supply', 'ground'] as const)
    .filter((kind) => used.has(kind))
    .map((kind) => ({
      text: `pad, ${kind}`,
      sample: (pen, x, y) => {
        const half = SAMPLE.height / 2;
        const square = (r: number, fill: string) =>
          add(pen, 'rect', { x: x - r, y: y - r, width: 2 * r, height: 2 * r, fill });
        square(half, PAD[kind]);
        square(half - 0.4, PAPER);
        if (kind === 'ground') square(0.5, PAD[kind]);
        if (kind === 'supply')
          add(pen, 'path', {
            d: `M${mm(x - 0.8)} ${mm(y)}h1.6M${mm(x)} ${mm(y - 0.8)}v1.6`,
            stroke: PAD[kind],
            'stroke-width': 0.5,
          });
      },
    }));
}

/** The signs that are no shape of their own kind. */
function signs(placement: Placement): Item[] {
  return [
    FIRST_PAD_SAMPLE,
    {
      text: 'drawing origin',
      sample: (pen, x, y) => {
        box(PAPER, INK.hair)(pen, x, y);
        add(pen, 'path', { d: `M${mm(x - 4)} ${mm(y + 1.55)}v-1.8l1.8 1.8z`, fill: INK.quiet });
      },
    },
    ...(placement.findings.some(({ x }) => x !== undefined) ? [FINDING_SAMPLE] : []),
  ];
}

const lineSample =
  (colour: string, width: number, list: readonly number[]) => (pen: Pen, x: number, y: number) =>
    add(pen, 'path', {
      d: `M${mm(x - SAMPLE.width / 2)} ${mm(y)}h${SAMPLE.width}`,
      stroke: colour,
      'stroke-width': width,
      'stroke-dasharray': dashes(list, width, mm),
    });

function lanes(placement: Placement): Item[] {
  return [...laneLooks(placement)].map(([lane, look]) => {
    const nets = [...new Set(placement.rails.filter((rail) => rail.lane === lane).map((rail) => rail.net))];
    return {
      text: `${inSentence(lane)}: ${nets.map(inSentence).join(', ')}`,
      sample: lineSample(look.colour, 0.5, look.dashes),
    };
  });
}

const sections = (placement: Placement): Item[] =>
  [...sectionLooks(placement)].map(([section, look]) => ({
    text: section,
    sample: lineSample(look.colour, 1.3, look.dashes),
  }));

function listArcs(column: Column, placement: Placement): void {
  const { rails } = placement;
  if (rails.length === 0 || rowsLeft(column) < 8) return;
  heading(column, 'arcs: lane, net, how many cells feed it');
  const shown = rails.slice(0, Math.min(12, rowsLeft(column) - 6));
  for (const rail of shown)
    line(
      column,
      `${inSentence(rail.lane)} ${inSentence(rail.net)} (${rail.closed ? 'loop' : 'open'}): ${rail.supplies.length || 'none'}`,
    );
  if (rails.length > shown.length)
    line(column, `and ${counted(rails.length - shown.length, 'more arc')}`, undefined, INK.quiet);
}

function listStrips(column: Column, { coreStrips = [] }: Placement): void {
  if (coreStrips.length === 0 || rowsLeft(column) < 8) return;
  heading(column, 'core strips, from the ring inward');
  const shown = coreStrips.slice(0, Math.min(8, rowsLeft(column) - 6));
  for (const { net, layer, width, straps } of shown)
    line(
      column,
      `${inSentence(net)}: ${um(width)} \u00b5m on ${inSentence(layer)}, ${counted(straps.length, 'strap')}`,
    );
  if (coreStrips.length > shown.length)
    line(column, `and ${counted(coreStrips.length - shown.length, 'more strip')}`, undefined, INK.quiet);
}

function listFindings(column: Column, placement: Placement): void {
  const all = numberedFindings(placement);
  if (all.length === 0 || rowsLeft(column) < 3) return;
  heading(column, 'findings');
  let shown = 0;
  for (const { number, finding } of all) {
    const left = rowsLeft(column) - (shown + 1 < all.length ? 1 : 0);
    if (left < 1) break;
    const waived = finding.waived === undefined ? '' : `, waived (${finding.waived})`;
    const text = `${number} ${finding.severity}${waived}: ${finding.message}`;
    paragraph(column, text, Math.min(3, left), undefined, findingColour(finding));
    shown++;
  }
  if (shown < all.length)
    line(column, `and ${all.length - shown} more in placement.json`, undefined, INK.quiet);
}
