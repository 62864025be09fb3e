/** The wires as a table, in columns beside each other: on the first sheet where it has room, else on further ones. */
import type { Wire } from '../bond/wires.ts';
import { add, lettering, type Pen, write } from './canvas.ts';
import { INK } from './palette.ts';
import { clean, ems, LEAST_SIZE, lineRoom, shorten } from './text.ts';

const SIZE = LEAST_SIZE;
export const ROW = lineRoom(SIZE);
const GAP = 1.1;
/** Between two tables side by side. */
export const BETWEEN = 3;

interface Field {
  readonly head: string;
  readonly text: (wire: Wire) => string;
  /** Numbers stand at the right edge of their column. */
  readonly number: boolean;
  /** A name may be cut to this width; numbers take what they need. */
  readonly most?: number;
}

const whole = (value: number): string => String(Math.round(value) + 0);
const tenth = (value: number): string => (Math.round(value * 10) / 10 + 0).toFixed(1);

const FIELDS: readonly Field[] = [
  { head: 'pad', text: (wire) => String(wire.bondPad), number: true },
  { head: 'pin', text: (wire) => clean(wire.pin), number: false, most: 17 },
  {
    head: 'to',
    text: (wire) => (wire.finger === null ? 'paddle' : clean(wire.finger)),
    number: true,
    most: 9,
  },
  { head: '\u00b5m', text: (wire) => whole(wire.length), number: true },
  { head: '\u00b0', text: (wire) => tenth(wire.angle), number: true },
];

/** What further sheets have room for as well. */
const MORE: readonly Field[] = [
  { head: 'pad', text: (wire) => String(wire.bondPad), number: true },
  { head: 'pin', text: (wire) => clean(wire.pin), number: false, most: 30 },
  { head: 'net', text: (wire) => clean(wire.net), number: false, most: 22 },
  {
    head: 'to',
    text: (wire) => (wire.finger === null ? 'paddle' : clean(wire.finger)),
    number: true,
    most: 14,
  },
  { head: 'span', text: (wire) => whole(wire.span), number: true },
  { head: 'length', text: (wire) => whole(wire.length), number: true },
  { head: '\u00b0', text: (wire) => tenth(wire.angle), number: true },
];

export interface Table {
  readonly rows: readonly (readonly string[])[];
  readonly fields: readonly Field[];
  readonly widths: readonly number[];
  readonly width: number;
}

/** The table of some wires, as wide as its texts need. */
export function tableOf(wires: readonly Wire[], more = false): Table {
  const fields = more ? MORE : FIELDS;
  const rows = wires.map((wire) =>
    fields.map((field) => {
      const text = field.text(wire);
      return field.most === undefined ? text : shorten(text, field.most / SIZE);
    }),
  );
  const widths = fields.map(
    (field, k) => rows.reduce((most, row) => Math.max(most, ems(row[k] ?? '')), ems(field.head)) * SIZE,
  );
  const width = widths.reduce((sum, one) => sum + one, 0) + GAP * (fields.length - 1);
  return { rows, fields, widths, width };
}

/** How many rows have room in a field of the sheet. */
export function roomFor(table: Table, width: number, height: number): number {
  const across = Math.floor((width + BETWEEN) / (table.width + BETWEEN));
  return across * Math.max(0, Math.floor(height / ROW) - 1);
}

/** Draws the rows from one on, in columns of a height; returns how high the tallest is. */
export function drawTable(
  pen: Pen,
  table: Table,
  x: number,
  y: number,
  width: number,
  height: number,
): number {
  const across = Math.max(1, Math.floor((width + BETWEEN) / (table.width + BETWEEN)));
  const most = Math.max(1, Math.floor(height / ROW) - 1);
  const each = Math.min(most, Math.ceil(table.rows.length / across));
  const heads = lettering(pen, SIZE, { class: 'heads', fill: INK.quiet });
  const letters = lettering(pen, SIZE, { class: 'rows' });
  const columns = Math.min(across, Math.ceil(table.rows.length / Math.max(1, each)));
  for (let c = 0; c < columns; c++) {
    const left = x + c * (table.width + BETWEEN);
    const put = (into: typeof letters, texts: readonly string[], line: number): void => {
      let at = left;
      texts.forEach((text, k) => {
        const wide = table.widths[k] ?? 0;
        if (table.fields[k]?.number === true) write(into, at + wide, line, text, { anchor: 'end' });
        else write(into, at, line, text);
        at += wide + GAP;
      });
    };
    put(
      heads,
      table.fields.map((field) => field.head),
      y + ROW / 2,
    );
    add(pen, 'path', { d: `M${left} ${y + ROW}h${table.width}`, stroke: INK.hair, 'stroke-width': 0.15 });
    table.rows.slice(c * each, (c + 1) * each).forEach((row, i) => {
      put(letters, row, y + (i + 1.5) * ROW + 0.3);
    });
  }
  return (each + 1) * ROW + 0.6;
}
