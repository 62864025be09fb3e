/** What every sheet says of itself: scale bar and title block. */
import type { Placement } from '../format/placement.ts';
import { add, group, lettering, type Pen, SHEET, write } from './canvas.ts';
import { type Column, line, paragraph } from './column.ts';
import { counted, mm, um } from './numbers.ts';
import { INK } from './palette.ts';
import { inSentence, LEAST_SIZE } from './text.ts';

const CAUTION =
  "A first cut and a review aid. The foundry's, the library's and the assembly house's rules and the discharge review stand above it; a qualified engineer signs the ring off.";

const NAME_SIZE = 3.6;

/** What a title block says. */
export interface Block {
  readonly ring: string;
  /** Names the drawing. */
  readonly what: readonly string[];
  readonly lines: readonly { readonly text: string; readonly alarm?: boolean }[];
  /** Say where else to look. */
  readonly notes: readonly string[];
}

/**
 * Scale bar and title block at the foot of a column; returns their height. `what` names the drawing, `notes`
 * say where else to look, `scale` is millimetres a micrometre where the whole sheet has one.
 */
export function drawFoot(
  pen: Pen,
  x: number,
  width: number,
  placement: Placement,
  scale: number | undefined,
  what: readonly string[],
  notes: readonly string[],
): number {
  return drawBlock(pen, x, width, { ring: placement.ring, what, lines: linesOf(placement), notes }, scale);
}

/** The same for a sheet that shows no placement. */
export function drawBlock(
  pen: Pen,
  x: number,
  width: number,
  block: Block,
  scale: number | undefined,
): number {
  const foot = group(pen, { class: 'foot' });
  const column: Column = { pen: foot, x, width, y: 0, end: SHEET.height };
  if (scale !== undefined) scaleBar(column, scale);
  titleBlock(column, block);
  foot.attr('transform', `translate(0 ${mm(SHEET.height - SHEET.margin - column.y)})`);
  return column.y;
}

/** A bar of a round length, at most half the column, with its ends named; `scale` is millimetres a micrometre. */
function scaleBar(column: Column, scale: number): void {
  const most = (column.width * 0.5) / scale;
  const length = roundLength(most);
  const wide = length * scale;
  const pen = group(column.pen, {
    class: 'scale-bar',
    stroke: INK.text,
    'stroke-width': 0.3,
    fill: INK.text,
  });
  const [x, y] = [column.x + 1, column.y + 5];
  for (let i = 0; i < 4; i++)
    add(pen, 'rect', {
      x: x + (i * wide) / 4,
      y: y - 0.6,
      width: wide / 4,
      height: 1.2,
      'fill-opacity': i % 2 === 0 ? '1' : '0',
      'data-length': i === 0 ? um(length) : undefined,
    });
  const letters = lettering(column.pen, LEAST_SIZE);
  write(letters, x + wide + 2, y, `${um(length)} \u00b5m`);
  column.y += 8.5;
}

/** The greatest of 1, 2, 5, 10, 20 and so on, up or down, that is not above a length. */
function roundLength(most: number): number {
  let power = 1;
  while (power > most) power /= 10;
  while (power * 10 <= most) power *= 10;
  return [5, 2].map((step) => step * power).find((step) => step <= most) ?? power;
}

/** What a title block says of a placement. */
function linesOf(placement: Placement): Block['lines'] {
  const { die, sides, bondPads, findings, rules } = placement;
  const drawn = rules.shrink === 1 ? '' : `, drawn; silicon \u00d7 ${um(rules.shrink)}`;
  const bySide = sides.map(({ side, bondPads: n }) => `${side} ${n}`).join(', ');
  return [
    { text: `die ${um(die.width)} \u00d7 ${um(die.height)} \u00b5m${drawn}` },
    { text: `${counted(bondPads.length, 'pad')}: ${bySide}` },
    { text: stylesText(placement) },
    { text: findingsText(findings), alarm: findings.some(isError) },
  ];
}

/** The one block that says what the sheet shows. */
function titleBlock(column: Column, { ring, what, lines, notes }: Block): void {
  const top = column.y;
  const block: Column = { ...column, x: column.x + 2, width: column.width - 4, y: top + 2 };
  line(block, ring, NAME_SIZE);
  for (const text of what) line(block, text, LEAST_SIZE, INK.quiet);
  // Four sides of four styles take more than a line.
  for (const { text, alarm } of lines)
    paragraph(block, text, 2, LEAST_SIZE, alarm === true ? INK.alarm : INK.text);
  for (const note of notes) paragraph(block, note, 4, LEAST_SIZE, INK.alarm);
  block.y += 1;
  paragraph(block, CAUTION, 5, LEAST_SIZE, INK.quiet);
  add(column.pen, 'rect', {
    class: 'title-block',
    x: column.x,
    y: top,
    width: column.width,
    height: mm(block.y - top + 1),
    fill: 'none',
    stroke: INK.line,
    'stroke-width': 0.35,
  });
  column.y = block.y + 1.2;
}

const isError = ({ severity, waived }: Placement['findings'][number]) =>
  severity === 'error' && waived === undefined;

/** The styles of the sides that have pads: one word where they agree. */
export function stylesText({ sides }: Placement): string {
  const used = sides.filter(({ bondPads }) => bondPads > 0);
  const styles = new Set(used.map(({ style }) => style));
  if (styles.size === 1) return [...styles].join('');
  return used.map(({ side, style }) => `${side} ${style}`).join(', ') || 'no pads';
}

/** How many findings stand, by severity, and how many are waived. */
export function findingsText(findings: Placement['findings']): string {
  if (findings.length === 0) return 'no findings';
  const standing = findings.filter(({ waived }) => waived === undefined);
  const parts = (['error', 'warning', 'note'] as const)
    .map((severity) => ({ severity, n: standing.filter((finding) => finding.severity === severity).length }))
    .filter(({ n }) => n > 0)
    .map(({ severity, n }) => counted(n, severity));
  const waived = findings.length - standing.length;
  return [...parts, ...(waived > 0 ? [`${waived} waived`] : [])].join(', ');
}

export const ringTitle = (placement: Placement, what: string): string =>
  `${inSentence(placement.ring)}: ${what}`;
