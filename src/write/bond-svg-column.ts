/** The right column of the bond diagram's sheets: legend, wires as a table, findings, scale and title. */
import type { Wire } from '../bond/wires.ts';
import type { Placement } from '../format/placement.ts';
import type { Diagram } from './bond-svg-draw.ts';
import { dashOf } from './bond-svg-draw.ts';
import { COLUMN } from './bond-svg-plan.ts';
import { drawTable, roomFor, tableOf } from './bond-svg-table.ts';
import { add, group, type Pen, SHEET } from './canvas.ts';
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
} from './column.ts';
import { counted, mm, um } from './numbers.ts';
import { FINGER, INK, PAPER, WIRE } from './palette.ts';
import { findingColour, type NumberedFinding } from './ring/findings.ts';
import { inSentence, LEAST_SIZE } from './text.ts';
import { drawFoot } from './title.ts';

/** Rows that are left for findings below the table. */
const FOR_FINDINGS = 5;

export interface ColumnContent {
  /** What the sheet shows, in the title block. */
  readonly what: string;
  readonly notes: readonly string[];
  readonly scale: number;
  /** The wires of the table; none: no table. */
  readonly wires: readonly Wire[];
  readonly findings: readonly NumberedFinding[];
}

/** Draws the column; false where its table found no room. */
export function drawBondColumn(page: Pen, diagram: Diagram, side: ColumnContent): boolean {
  let fits = true;
  const { placement, bonded } = diagram;
  const pen = group(page, { id: `${diagram.name}-legend`, class: 'legend' });
  const x = SHEET.width - SHEET.margin - COLUMN.width;
  const what = [side.what, `package ${inSentence(bonded.name)}${lying(placement)}; ${wireText(diagram)}`];
  const high = drawFoot(pen, x, COLUMN.width, placement, side.scale, what, side.notes);
  const column: Column = {
    pen,
    x,
    width: COLUMN.width,
    y: SHEET.margin - 1.2,
    end: SHEET.height - SHEET.margin - high - 3,
  };
  heading(column, 'wires, fingers and marks');
  samples(column, legend(diagram, side.findings), 3);
  line(column, 'beside each finger: its name, the pad, the pin', LEAST_SIZE, INK.quiet);
  worst(column, placement);
  if (side.wires.length > 0) {
    const table = tableOf(side.wires);
    heading(column, 'wires: pad, pin, finger, length with its loop, angle to the side\u2019s normal');
    const found = side.findings.length;
    const kept = found === 0 ? 0 : (Math.min(FOR_FINDINGS, found) + 1) * LINE_STEP + 4;
    const room = column.end - column.y - kept;
    fits = roomFor(table, COLUMN.width, room) >= side.wires.length;
    if (fits) column.y += drawTable(group(pen, { class: 'table' }), table, x, column.y, COLUMN.width, room);
  }
  listFindings(column, side.findings);
  return fits;
}

/** How the die lies, where it does not lie straight in the middle. */
function lying({ package: bonded }: Placement): string {
  if (bonded === undefined) return '';
  const { x, y, rotation } = bonded.die;
  const turned = rotation === 0 ? '' : `, die turned by ${um(rotation)}\u00b0`;
  return x === 0 && y === 0 ? turned : `${turned}, its centre at (${um(x)}, ${um(y)}) \u00b5m`;
}

const wireText = ({ bonded, wires }: Diagram): string =>
  `${counted(wires.length, 'wire')} of ${bonded.wires.metal}, ${um(bonded.wires.diameter)} \u00b5m`;

function worst(column: Column, { summary: { wires } }: Placement): void {
  if (wires === undefined || wires.length === null || wires.angle === null) return;
  const crossing = wires.crossings === 0 ? 'none cross' : counted(wires.crossings, 'crossing');
  line(
    column,
    `longest ${um(Math.round(wires.length))} \u00b5m with its loop, worst angle ${um(Math.round(wires.angle * 10) / 10)}\u00b0, ${crossing}`,
  );
}

function legend(diagram: Diagram, findings: readonly NumberedFinding[]): readonly Item[] {
  const { wires, kinds, heights, bonded } = diagram;
  const used = new Set(wires.map((wire) => kinds.get(wire.net) ?? 'signal'));
  const stroke =
    (colour: string, dash: string | undefined) =>
    (pen: Pen, x: number, y: number): void => {
      add(pen, 'path', {
        d: `M${mm(x - SAMPLE.width / 2)} ${mm(y)}h${SAMPLE.width}`,
        stroke: colour,
        'stroke-width': 0.4,
        'stroke-dasharray': dash,
      });
    };
  const strip =
    (fill: string) =>
    (pen: Pen, x: number, y: number): void => {
      add(pen, 'rect', {
        x: x - 3.5,
        y: y - 0.9,
        width: 7,
        height: 1.8,
        fill,
        stroke: FINGER.stroke,
        'stroke-width': 0.14,
      });
    };
  const bonds = new Set(wires.map((wire) => wire.finger));
  return [
    ...(['signal', 'supply', 'ground'] as const)
      .filter((kind) => used.has(kind))
      .map((kind) => ({ text: `wire, ${kind}`, sample: stroke(WIRE[kind], undefined) })),
    ...(heights.length < 2
      ? []
      : heights.map((height) => ({
          text: `loop ${um(height)} \u00b5m`,
          sample: stroke(INK.line, dashOf(diagram, height)),
        }))),
    { text: 'finger', sample: strip(FINGER.first) },
    ...(bonded.fingers.some(({ tier }) => tier > 1)
      ? [{ text: 'finger, tier 2', sample: strip(FINGER.second) }]
      : []),
    ...(bonded.fingers.some(({ name }) => !bonds.has(name))
      ? [{ text: 'finger, no wire', sample: strip(PAPER) }]
      : []),
    FIRST_PAD_SAMPLE,
    {
      text: 'first finger',
      sample: (pen, x, y) =>
        add(pen, 'circle', { cx: x, cy: y, r: 1.3, fill: 'none', stroke: INK.text, 'stroke-width': 0.45 }),
    },
    ...(findings.length === 0 ? [] : [FINDING_SAMPLE]),
  ];
}

function listFindings(column: Column, all: readonly NumberedFinding[]): void {
  const rows = (): number => Math.floor((column.end - column.y - 1) / LINE_STEP);
  if (all.length === 0 || rows() < 3) return;
  heading(column, 'findings on wires');
  let shown = 0;
  for (const { number, finding } of all) {
    const left = rows() - (shown + 1 < all.length ? 1 : 0);
    if (left < 1) break;
    const waived = finding.waived === undefined ? '' : `, waived (${finding.waived})`;
    const text = `${number} ${finding.severity}${waived}: ${finding.message}`;
    paragraph(column, text, Math.min(2, left), undefined, findingColour(finding));
    shown++;
  }
  if (shown < all.length)
    line(column, `and ${all.length - shown} more in placement.json`, undefined, INK.quiet);
}
