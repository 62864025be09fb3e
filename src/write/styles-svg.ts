/**
 * `styles.svg`: the least die of each style, side by side to one scale, with the ring's share of it, the room left for
 * the core and the core that was asked for. A die is a group of class `die` with `data-style`, `data-width` and
 * `data-height` (micrometres, drawn).
 */
import type { Sized, Sizes } from '../size/sizes.ts';
import { bindingText } from '../size/text.ts';
import { add, drawSheet, group, lettering, type Pen, SHEET, write } from './canvas.ts';
import { type Column, heading, line, paragraph, samples } from './column.ts';
import type { Box } from './frame.ts';
import { um } from './numbers.ts';
import { CELL, INK, PAPER } from './palette.ts';
import { clean, ems, inSentence, LEAST_SIZE, LINE_BOX, shorten } from './text.ts';
import { drawBlock } from './title.ts';

const NAME = 'styles';
const COLUMN = { width: 104, gap: 7 } as const;
const GAP = 7;
/** Lines of text under each die. */
const LINES = 4;
const STEP = LEAST_SIZE * LINE_BOX + 0.4;
const UNDER = LINES * STEP + 2;
const RING = CELL.supply ?? { fill: PAPER, stroke: INK.line };
const ROOM = CELL.analog ?? { fill: PAPER, stroke: INK.line };

export function stylesSvg(sizes: Sizes): string {
  const title = `${inSentence(sizes.ring)}: styles side by side`;
  const text = `The least dies of ${sizes.styles.length} styles to one scale: ${sizes.styles.map(({ name, die }) => `${name} ${um(die.width)} by ${um(die.height)} micrometres`).join(', ')}.`;
  return drawSheet(NAME, { title, text }, ({ page }) => {
    const field: Box = {
      x: SHEET.margin,
      y: SHEET.margin,
      width: SHEET.width - 2 * SHEET.margin - COLUMN.width - COLUMN.gap,
      height: SHEET.height - 2 * SHEET.margin,
    };
    const { across, scale, cell } = layout(sizes.styles, field);
    sizes.styles.forEach((style, i) => {
      const box = {
        ...cell,
        x: field.x + (i % across) * (cell.width + GAP),
        y: field.y + Math.floor(i / across) * (cell.height + GAP),
      };
      drawDie(page, sizes, style, box, scale);
    });
    drawColumn(page, sizes, scale);
  });
}

/** How many dies stand in a row, the scale that then fits them all, and the room of each. */
function layout(
  styles: readonly Sized[],
  field: Box,
): {
  readonly across: number;
  readonly scale: number;
  readonly cell: { readonly width: number; readonly height: number };
} {
  const widest = Math.max(...styles.map(({ die }) => die.width));
  const highest = Math.max(...styles.map(({ die }) => die.height));
  let best = { across: 1, scale: 0, cell: { width: field.width, height: field.height } };
  for (let across = 1; across <= styles.length; across++) {
    const down = Math.ceil(styles.length / across);
    const width = (field.width - (across - 1) * GAP) / across;
    const height = (field.height - (down - 1) * GAP) / down;
    const scale = Math.min(width / widest, (height - UNDER) / highest);
    // Rows no higher than they need to be stand at the top, beside the column.
    if (scale > best.scale) best = { across, scale, cell: { width, height: highest * scale + UNDER } };
  }
  return best;
}

/** A die above its lines, at the foot of its box; the described one has a heavier outline. */
function drawDie(page: Pen, { core }: Sizes, style: Sized, box: Box, scale: number): void {
  const { die } = style;
  const [width, height] = [die.width * scale, die.height * scale];
  const x = box.x + (box.width - width) / 2;
  const foot = box.y + box.height - UNDER;
  const pen = group(page, {
    class: 'die',
    'data-style': style.name,
    'data-width': um(die.width),
    'data-height': um(die.height),
  });
  add(pen, 'rect', {
    x,
    y: foot - height,
    width,
    height,
    fill: RING.fill,
    stroke: INK.text,
    'stroke-width': style.described ? 0.9 : 0.35,
  });
  add(pen, 'rect', {
    class: 'room',
    x: x + style.core.x * scale,
    y: foot - (style.core.y + style.core.height) * scale,
    width: style.core.width * scale,
    height: style.core.height * scale,
    fill: ROOM.fill,
    stroke: ROOM.stroke,
    'stroke-width': 0.25,
  });
  const [wide, high] = [Math.min(core.width, style.core.width), Math.min(core.height, style.core.height)];
  add(pen, 'rect', {
    class: 'core',
    x: x + (style.core.x + (style.core.width - wide) / 2) * scale,
    y: foot - (style.core.y + (style.core.height + high) / 2) * scale,
    width: wide * scale,
    height: high * scale,
    fill: PAPER,
    stroke: ROOM.stroke,
    'stroke-width': 0.25,
    'stroke-dasharray': '1.6 0.8',
  });
  const letters = lettering(pen, LEAST_SIZE);
  linesOf(style).forEach((text, i) => {
    const shown = shorten(clean(text), box.width / LEAST_SIZE);
    write(letters, box.x + box.width / 2, foot + 2 + (i + 0.5) * STEP, shown, { anchor: 'middle' });
  });
}

const linesOf = ({ name, described, die, limits, area, ringShare }: Sized): readonly string[] => {
  const by = ({ side, by: what }: Sized['limits']['width']): string =>
    side !== null ? `the ${side} side` : what === 'core' ? 'the core' : 'what is given';
  return [
    `${name}${described ? ' (as described)' : ''}`,
    `${um(die.width)} \u00d7 ${um(die.height)} \u00b5m`,
    `${by(limits.width)} sets the width, ${by(limits.height)} the height`,
    `${um(Number(area.die.toFixed(3)))} mm\u00b2, ${um(Math.round(100 * ringShare))} % of it ring`,
  ];
};

function drawColumn(page: Pen, sizes: Sizes, scale: number): void {
  const x = SHEET.width - SHEET.margin - COLUMN.width;
  const foot = drawBlock(
    page,
    x,
    COLUMN.width,
    {
      ring: sizes.ring,
      what: ['styles side by side'],
      lines: [
        {
          text: `${um(sizes.pads)} pads, core ${um(sizes.core.width)} \u00d7 ${um(sizes.core.height)} \u00b5m`,
        },
        { text: sizes.sides === 'cut' ? 'cut into sides anew for each style' : 'pins bound to sides' },
        ...(sizes.shrink === 1 ? [] : [{ text: `drawn; silicon \u00d7 ${um(sizes.shrink)}` }]),
      ],
      notes: [],
    },
    scale,
  );
  const column: Column = {
    pen: group(page, { class: 'column' }),
    x,
    width: COLUMN.width,
    y: SHEET.margin,
    end: SHEET.height - SHEET.margin - foot,
  };
  const swatch =
    (fill: string, stroke: string, dashes?: string) =>
    (pen: Pen, sx: number, sy: number): void => {
      add(pen, 'rect', {
        x: sx - 4,
        y: sy - 1.3,
        width: 8,
        height: 2.6,
        fill,
        stroke,
        'stroke-width': 0.25,
        'stroke-dasharray': dashes,
      });
    };
  heading(column, 'what is drawn');
  samples(
    column,
    [
      { text: 'ring, edge and clearance', sample: swatch(RING.fill, INK.text) },
      { text: 'room left for the core', sample: swatch(ROOM.fill, ROOM.stroke) },
      { text: 'the core that is asked for', sample: swatch(PAPER, ROOM.stroke, '1.6 0.8') },
    ],
    2,
  );
  heading(column, `whole dies on a wafer, ${um(sizes.wafers.exclusion)} mm edge left out (and the estimate)`);
  const letters = lettering(column.pen, LEAST_SIZE);
  const wafers = sizes.wafers.diameters.map((d) => `${um(d)} mm`);
  const counts = sizes.styles.map(({ dies }) =>
    dies.map(({ whole, estimate }) => `${whole} (${Math.round(estimate)})`),
  );
  const each = Math.max(20, ...counts.flat().map((text) => ems(text) * LEAST_SIZE + 1.5));
  const row = (name: string, cells: readonly string[]): void => {
    const y = column.y + STEP / 2;
    write(letters, column.x, y, shorten(clean(name), (column.width - each * cells.length - 1) / LEAST_SIZE));
    cells.forEach((cell, i) => {
      write(
        letters,
        column.x + column.width - each * (cells.length - 1 - i),
        y,
        shorten(cell, (each - 1) / LEAST_SIZE),
        { anchor: 'end' },
      );
    });
    column.y += STEP;
  };
  row('', wafers);
  sizes.styles.forEach(({ name }, i) => {
    row(name, counts[i] ?? []);
  });
  heading(column, 'what binds');
  for (const style of sizes.styles.filter(({ mixed, described }) => described || !mixed))
    for (const binding of style.bindings) {
      if (column.y + 3 * STEP > column.end) return;
      paragraph(column, `${style.name}: ${bindingText(binding)}`, 3);
    }
  for (const { name, reasons } of sizes.refused) {
    if (column.y + 3 * STEP > column.end) return;
    paragraph(column, `${name} is not sized: ${reasons.join('; ')}`, 2, LEAST_SIZE, INK.quiet);
  }
  if (column.y + STEP < column.end && sizes.styles.some(({ mixed }) => mixed))
    line(column, 'Mixes are listed where a single side decides an axis.', LEAST_SIZE, INK.quiet);
}
