/**
 * The pads' names on sheets of their own, for rings whose names do not fit around the die: the pads of one side
 * in strips, the die's edge turned down, number and name below each. `names-left.svg` and its like; a side
 * that needs more than one sheet goes on in `names-left-2.svg`.
 */
import type { BondPad, Placement } from '../format/placement.ts';
import { SIDES, type Side } from '../geometry/side.ts';
import { add, drawSheet, group, lettering, type Pen, SHEET, write } from './canvas.ts';
import { boxAround, type Stretch, seenFrom, stretchOn } from './frame.ts';
import { mm } from './numbers.ts';
import { INK } from './palette.ts';
import { defineShapes, type Shapes } from './shapes.ts';
import { spread } from './spread.ts';
import { clean, ems, LEAST_SIZE, lineRoom, wrap } from './text.ts';
import { drawFoot, ringTitle } from './title.ts';
import { drawTurned } from './turned.ts';

const COLUMN = { width: 62, gap: 6 } as const;
const AREA = {
  x: SHEET.margin,
  y: SHEET.margin,
  width: SHEET.width - 2 * SHEET.margin - COLUMN.width - COLUMN.gap,
  height: SHEET.height - 2 * SHEET.margin,
} as const;
const SIZE = LEAST_SIZE;
const LINE = lineRoom(SIZE);
const HEAD = 5;
const FAN = { least: 6, most: 34 } as const;
const GAP = 0.7 * SIZE;
/** The least room for a line of a name. */
const SHORTEST = 14;
const MOST_STRIPS = 6;

interface NamedPad extends Stretch {
  readonly pad: BondPad;
  readonly s: number;
  readonly lines: readonly string[];
}

type Strip = readonly NamedPad[];

/** How a side's strips stand on its sheets. */
interface Layout {
  readonly sheets: readonly (readonly Strip[])[];
  /** The height of a strip, of its drawn part, and the length of a name's line. */
  readonly height: number;
  readonly drawn: number;
  readonly line: number;
}

/** File names and texts, side by side in ring order. */
export function nameSheets(placement: Placement): ReadonlyMap<string, string> {
  const files = new Map<string, string>();
  for (const side of SIDES) {
    if (!placement.bondPads.some((pad) => pad.side === side)) continue;
    const layout = layoutOf(placement, side);
    layout.sheets.forEach((strips, i) => {
      const name = `names-${side}${i === 0 ? '' : `-${i + 1}`}`;
      const part = layout.sheets.length > 1 ? `, sheet ${i + 1} of ${layout.sheets.length}` : '';
      files.set(`${name}.svg`, drawNames(placement, side, name, part, strips, layout));
    });
  }
  return files;
}

const numberWidth = (placement: Placement): number =>
  Math.max(...placement.bondPads.map(({ number }) => ems(String(number)))) * SIZE;

/** As few sheets as can be; among equals the fewest strips a sheet, which leaves most room to the names. */
function layoutOf(placement: Placement, side: Side): Layout {
  let best: Layout | undefined;
  for (let strips = 1; strips <= MOST_STRIPS; strips++) {
    const height = AREA.height / strips;
    const drawn = Math.min(0.4 * height, 46);
    const line = height - HEAD - drawn - FAN.least - numberWidth(placement) - GAP - 3;
    if (line < SHORTEST) break;
    const all = stripsOf(padsOf(placement, side, line));
    const sheets: Strip[][] = [];
    for (let i = 0; i < all.length; i += strips) sheets.push(all.slice(i, i + strips));
    if (best === undefined || sheets.length < best.sheets.length) best = { sheets, height, drawn, line };
  }
  return best ?? { sheets: [], height: AREA.height, drawn: 46, line: SHORTEST };
}

function padsOf(placement: Placement, side: Side, line: number): readonly NamedPad[] {
  const { die } = placement;
  return placement.bondPads
    .filter((pad) => pad.side === side)
    .map((pad) => ({
      pad,
      s: seenFrom(side, die, pad.x, pad.y).s,
      ...stretchOn(side, die, boxAround(pad.x, pad.y, pad)),
      lines: wrap(clean(pad.pin), line / SIZE),
    }))
    .sort((a, b) => a.s - b.s || a.pad.number - b.pad.number);
}

const roomOf = ({ lines }: NamedPad): number => lines.length * LINE;

function stripsOf(pads: readonly NamedPad[]): readonly Strip[] {
  const total = pads.reduce((sum, pad) => sum + roomOf(pad), 0);
  const even = total / Math.ceil(total / AREA.width);
  const strips: NamedPad[][] = [];
  let used = Number.POSITIVE_INFINITY;
  for (const pad of pads) {
    const room = roomOf(pad);
    if (used + room > AREA.width || used >= even) {
      strips.push([]);
      used = 0;
    }
    strips.at(-1)?.push(pad);
    used += room;
  }
  return strips;
}

function drawNames(
  placement: Placement,
  side: Side,
  name: string,
  part: string,
  strips: readonly Strip[],
  layout: Layout,
): string {
  const what = `names of the ${side} side${part}`;
  const about = { title: ringTitle(placement, what), text: `${what}, the die's edge turned down.` };
  return drawSheet(name, about, ({ defs, page }) => {
    const scales = strips.map((strip) => scaleOf(placement, strip, layout));
    const shapes = defineShapes(defs, name, placement, 0.1 / Math.max(...scales));
    strips.forEach((strip, i) => {
      drawStrip(defs, page, `${name}-strip-${i + 1}`, placement, side, strip, shapes, {
        ...layout,
        top: AREA.y + i * layout.height,
        scale: scales[i] ?? 1,
      });
    });
    const pen = group(page, { id: `${name}-legend`, class: 'legend' });
    const x = SHEET.width - SHEET.margin - COLUMN.width;
    drawFoot(pen, x, COLUMN.width, placement, undefined, [what, 'the die\u2019s edge turned down'], []);
  });
}

const rangeOf = (strip: Strip): readonly [number, number] => {
  const [low, high] = [Math.min(...strip.map(({ s0 }) => s0)), Math.max(...strip.map(({ s1 }) => s1))];
  const margin = (high - low) * 0.01;
  return [low - margin, high + margin];
};

/** Wide enough for the names, and not so large that the pads themselves were cut off inward. */
function scaleOf(placement: Placement, strip: Strip, { drawn }: Layout): number {
  const [low, high] = rangeOf(strip);
  const inner = Math.max(...strip.map(({ t1 }) => t1));
  return Math.min(AREA.width / (high - low), drawn / (inner * 1.15), 1000 / placement.units.grid);
}

function drawStrip(
  defs: Pen,
  page: Pen,
  id: string,
  placement: Placement,
  side: Side,
  strip: Strip,
  shapes: Shapes,
  place: Layout & { readonly top: number; readonly scale: number },
): void {
  const { top, scale, drawn } = place;
  const [s0, s1] = rangeOf(strip);
  const pen = group(page, { class: 'strip' });
  const numbers = strip.map(({ pad }) => pad.number);
  write(lettering(pen, 2.6), AREA.x, top + 2.2, `pads ${Math.min(...numbers)} to ${Math.max(...numbers)}`);
  const x = AREA.x + (AREA.width - (s1 - s0) * scale) / 2;
  const y = top + HEAD + drawn;
  const depths = placement.cells
    .filter((cell) => cell.side === side)
    .map((cell) => stretchOn(side, placement.die, cell).t1);
  const t1 = Math.min(drawn / scale, Math.max(...depths, ...strip.map((pad) => pad.t1)));
  drawTurned(defs, pen, id, placement, { side, s0, s1, t1, x, y, scale }, shapes);
  const wishes = strip.map((pad) => ({ at: x + (pad.s - s0) * scale, room: roomOf(pad) }));
  const places = spread(wishes, AREA.x, AREA.x + AREA.width) ?? wishes.map(({ at }) => at);
  const aside = Math.max(...wishes.map(({ at }, i) => Math.abs((places[i] ?? at) - at)));
  const longest = Math.max(...strip.flatMap(({ lines }) => lines.map(ems))) * SIZE;
  const spare = place.height - HEAD - drawn - numberWidth(placement) - GAP - 3 - longest;
  const fan = Math.max(FAN.least, Math.min(FAN.most, spare, aside / 2 + 4));
  writeNames(
    pen,
    placement,
    strip,
    wishes.map(({ at }) => at),
    places,
    { y, scale, fan },
  );
}

function writeNames(
  pen: Pen,
  placement: Placement,
  strip: Strip,
  at: readonly number[],
  places: readonly number[],
  { y, scale, fan }: { readonly y: number; readonly scale: number; readonly fan: number },
): void {
  const leaders = group(pen, { class: 'leaders', fill: 'none', stroke: INK.hair, 'stroke-width': 0.13 });
  const numbers = lettering(pen, SIZE, { class: 'numbers', fill: INK.quiet });
  const names = lettering(pen, SIZE, { class: 'pins' });
  let d = '';
  strip.forEach(({ pad, t0, lines }, i) => {
    const [from, to] = [at[i] ?? 0, places[i] ?? 0];
    d += `M${mm(from)} ${mm(y - t0 * scale)}V${mm(y + 1.5)}L${mm(to)} ${mm(y + fan - 1.5)}V${mm(y + fan - 0.6)}`;
    const about = { 'data-pad': String(pad.number), 'data-net': pad.net };
    write(numbers, to, y + fan, String(pad.number), { anchor: 'end', upward: true }, about);
    const below = y + fan + numberWidth(placement) + GAP;
    lines.forEach((line, j) => {
      const aside = (j - (lines.length - 1) / 2) * LINE;
      write(names, to + aside, below, line, { anchor: 'end', upward: true }, about);
    });
  });
  add(leaders, 'path', { d });
}
