/** The lines of the difference under the dies, in columns, as many as there is room for. */
import type { Block } from '../../compare/text.ts';
import { group, type Pen } from '../canvas.ts';
import { type Column, heading, LINE_STEP, line } from '../column.ts';
import { INK } from '../palette.ts';
import { clean, LEAST_SIZE, wrap } from '../text.ts';
import { AREA } from './plan.ts';

const COLUMNS = 3;
const GAP = 6;
/** A heading with the space above it. */
const HEADING = LINE_STEP + 2;

export function drawLists(page: Pen, blocks: readonly Block[], top: number): void {
  const pen = group(page, { class: 'lists' });
  const width = (AREA.width - (COLUMNS - 1) * GAP) / COLUMNS;
  const linesOf = (text: string): readonly string[] =>
    wrap(clean(text.replaceAll('->', '\u2192')), width / LEAST_SIZE);
  const heights = blocks.map(
    ({ lines }) => HEADING + lines.reduce((sum, text) => sum + linesOf(text).length, 0) * LINE_STEP,
  );
  // Columns of one height, and a little more, because a heading does not part from its first line.
  const even = heights.reduce((sum, height) => sum + height, 0) / COLUMNS + 2 * HEADING;
  const bottom = Math.min(AREA.y + AREA.height, top + even);
  let number = 0;
  const open = (): Column => ({ pen, x: AREA.x + number * (width + GAP), y: top, width, end: bottom });
  let column = open();
  /** Goes on in the next column where this one is full; false where there is none. */
  const room = (height: number): boolean => {
    const last = number === COLUMNS - 1;
    if (column.y + height <= column.end - (last ? LINE_STEP : 0)) return true;
    if (last) return false;
    number++;
    column = open();
    return true;
  };
  const total = blocks.reduce((sum, { lines }) => sum + lines.length, 0);
  let written = 0;
  for (const { head, lines } of blocks) {
    if (!room(HEADING + LINE_STEP)) break;
    heading(column, head);
    for (const text of lines) {
      const parts = linesOf(text);
      if (!room(parts.length * LINE_STEP)) break;
      for (const part of parts) line(column, part);
      written++;
    }
    if (column.y + LINE_STEP > column.end) break;
  }
  if (written < total)
    line(column, `and ${total - written} more, which ringwright diff prints`, LEAST_SIZE, INK.quiet);
}
