/** The column at a sheet's edge: title, legend and lists, written from above downward. */
import { add, lettering, type Pen, write } from './canvas.ts';
import { mm } from './numbers.ts';
import { INK } from './palette.ts';
import { clean, ems, LEAST_SIZE, LINE_BOX, shorten, wrap } from './text.ts';

export interface Column {
  readonly pen: Pen;
  readonly x: number;
  readonly width: number;
  /** Where the next line begins. */
  y: number;
  /** Where the column ends. */
  readonly end: number;
}

export const LINE_STEP = LEAST_SIZE * LINE_BOX + 0.5;

/** A line of text, cut where it is too long for the column. */
export function line(column: Column, text: string, size: number = LEAST_SIZE, fill: string = INK.text): void {
  const high = size * LINE_BOX;
  const shown = shorten(clean(text), column.width / size);
  write(lettering(column.pen, size, { fill }), column.x, column.y + high / 2, shown);
  column.y += high + 0.5;
}

/** A text in as many lines as it needs, at most so many. */
export function paragraph(
  column: Column,
  text: string,
  most: number,
  size: number = LEAST_SIZE,
  fill: string = INK.text,
): void {
  const lines = wrap(clean(text), column.width / size);
  const kept = lines.slice(0, most);
  if (lines.length > most) kept[most - 1] = `${kept[most - 1] ?? ''} ${lines[most] ?? ''}`;
  for (const one of kept) line(column, one, size, fill);
}

/** A heading with a rule under it. */
export function heading(column: Column, text: string): void {
  column.y += 1.2;
  line(column, text, LEAST_SIZE, INK.quiet);
  add(column.pen, 'path', {
    d: `M${column.x} ${column.y - 0.2}h${column.width}`,
    stroke: INK.hair,
    'stroke-width': 0.2,
  });
  column.y += 0.7;
}

export interface Item {
  readonly text: string;
  /** Draws the sample in a field of this extent whose middle is at (x, y). */
  readonly sample: (pen: Pen, x: number, y: number) => void;
}

/** The field of a sample. */
export const SAMPLE = { width: 9, height: 3.1 } as const;

/** Samples with their meanings, in as many parallel columns as asked. */
export function samples(column: Column, items: readonly Item[], across = 1): void {
  const each = column.width / across;
  const letters = lettering(column.pen, LEAST_SIZE);
  const step = SAMPLE.height + 0.8;
  items.forEach(({ text, sample }, i) => {
    const x = column.x + (i % across) * each;
    const y = column.y + Math.floor(i / across) * step + step / 2;
    sample(column.pen, x + SAMPLE.width / 2, y);
    const shown = shorten(clean(text), (each - SAMPLE.width - 2) / LEAST_SIZE);
    write(letters, x + SAMPLE.width + 1.2, y, shown);
  });
  column.y += Math.ceil(items.length / across) * step;
}

export const widthOf = (text: string, size: number = LEAST_SIZE): number => ems(clean(text)) * size;

/** How the legend shows a finding, and bond pad 1. */
export const FINDING_SAMPLE: Item = {
  text: 'finding',
  sample: (pen, x, y) => {
    add(pen, 'circle', { cx: x, cy: y, r: 1.4, fill: 'none', stroke: INK.alarm, 'stroke-width': 0.3 });
    add(pen, 'circle', { cx: x, cy: y, r: 0.4, fill: INK.alarm });
  },
};
export const FIRST_PAD_SAMPLE: Item = {
  text: 'pad 1',
  sample: (pen, x, y) =>
    add(pen, 'path', { d: `M${mm(x - 1.3)} ${mm(y - 1.2)}h2.6l-1.3 2.4z`, fill: INK.text }),
};
