/** The rails: each arc a pale band where its metal lies, and along it a line with the dashes of its lane. */
import type { Placement, Rail } from '../../format/placement.ts';
import { add, group, type Pen } from '../canvas.ts';
import { type Box, lies, nearestSide, stretchOn } from '../frame.ts';
import { um } from '../numbers.ts';
import { LANES, taken } from '../palette.ts';

/** The look of each lane, by its place among the lanes of the ring. */
export function laneLooks(placement: Placement): ReadonlyMap<string, (typeof LANES)[number]> {
  const names = [...new Set(placement.rails.map((rail) => rail.lane))];
  return new Map(names.map((name, i) => [name, taken(LANES, i, { colour: '#000000', dashes: [] })]));
}

export const dashes = (
  list: readonly number[],
  width: number,
  show: (value: number) => string,
): string | undefined => (list.length === 0 ? undefined : list.map((part) => show(part * width)).join(' '));

/** Draws in micrometres of the die; `fine` is the width of a fine line on the sheet. */
export function drawRails(die: Pen, name: string, placement: Placement, fine: number): void {
  const looks = laneLooks(placement);
  const tracks = tracksOf(placement);
  const pen = group(die, { id: `${name}-rails`, class: 'rails', 'stroke-linecap': 'butt' });
  const width = 2.4 * fine;
  placement.rails.forEach((rail, i) => {
    const look = looks.get(rail.lane);
    if (look === undefined || rail.rectangles.length === 0) return;
    const arc = group(pen, {
      class: 'rail',
      'data-arc': String(i + 1),
      'data-lane': rail.lane,
      'data-net': rail.net,
    });
    add(arc, 'path', { d: rail.rectangles.map(outline).join(''), fill: look.colour, 'fill-opacity': '0.16' });
    add(arc, 'path', {
      d: centreLine(placement, rail, tracks.get(rail.lane) ?? 0.5),
      'stroke-linejoin': 'round',
      fill: 'none',
      stroke: look.colour,
      'stroke-width': um(width),
      'stroke-dasharray': dashes(look.dashes, width, um),
    });
  });
}

const outline = ({ x, y, width, height }: Box): string =>
  `M${um(x)} ${um(y)}h${um(width)}v${um(height)}h${um(-width)}z`;

/** The rectangles of the layer on which the arc has most metal. */
function mainStrip(rail: Rail): readonly Box[] {
  const areas = new Map<string, number>();
  for (const { layer, width, height } of rail.rectangles)
    areas.set(layer, (areas.get(layer) ?? 0) + width * height);
  const [main] = [...areas].reduce((best, other) => (other[1] > best[1] ? other : best));
  return rail.rectangles.filter(({ layer }) => layer === main);
}

const sideOf = ({ die }: Placement, box: Box) => {
  const near = nearestSide(die, box.x + box.width / 2, box.y + box.height / 2);
  if (box.width === box.height || box.width > box.height === lies(near)) return near;
  if (box.width > box.height) return box.y + box.height / 2 < die.height / 2 ? 'bottom' : 'top';
  return box.x + box.width / 2 < die.width / 2 ? 'left' : 'right';
};

type Dot = readonly [x: number, y: number];

/** A strip's line from end to end, counter-clockwise, at a share of its width from its outward edge. */
function lineOf(placement: Placement, box: Box, share: number): readonly [Dot, Dot] {
  const side = sideOf(placement, box);
  const inward = side === 'bottom' || side === 'left' ? share : 1 - share;
  const low: Dot = lies(side) ? [box.x, box.y + box.height * inward] : [box.x + box.width * inward, box.y];
  const high: Dot = lies(side) ? [box.x + box.width, low[1]] : [low[0], box.y + box.height];
  return side === 'bottom' || side === 'right' ? [low, high] : [high, low];
}

const overlap = (a: Box, b: Box): boolean =>
  a.x <= b.x + b.width && b.x <= a.x + a.width && a.y <= b.y + b.height && b.y <= a.y + a.height;

/** One line along an arc, turned where two of its strips overlap at a corner. */
function centreLine(placement: Placement, rail: Rail, share: number): string {
  const strips = mainStrip(rail).map((box) => ({ box, ends: lineOf(placement, box, share) }));
  let d = '';
  strips.forEach(({ box, ends }, i) => {
    const before = strips[i - 1] ?? (rail.closed ? strips.at(-1) : undefined);
    const after = strips[i + 1] ?? (rail.closed ? strips[0] : undefined);
    const from = turned(before, { box, ends }) ?? ends[0];
    const to = turned({ box, ends }, after) ?? ends[1];
    if (i === 0 || from === ends[0]) d += `M${um(from[0])} ${um(from[1])}`;
    d += `L${um(to[0])} ${um(to[1])}`;
  });
  return d;
}

interface Strip {
  readonly box: Box;
  readonly ends: readonly [Dot, Dot];
}

/** Where the lines of two strips meet, if one turns off from the other. */
function turned(one: Strip | undefined, other: Strip | undefined): Dot | undefined {
  if (one === undefined || other === undefined || one === other || !overlap(one.box, other.box))
    return undefined;
  const flat = one.ends[0][1] === one.ends[1][1];
  if (flat === (other.ends[0][1] === other.ends[1][1])) return undefined;
  return flat ? [other.ends[0][0], one.ends[0][1]] : [one.ends[0][0], other.ends[0][1]];
}

/** Lanes that lie over each other, on different layers, show their lines side by side. */
function tracksOf(placement: Placement): ReadonlyMap<string, number> {
  const extents = new Map<string, { low: number; high: number }>();
  for (const rail of placement.rails) {
    const [first] = mainStripOrNone(rail);
    if (first === undefined || extents.has(rail.lane)) continue;
    const { t0, t1 } = stretchOn(sideOf(placement, first), placement.die, first);
    extents.set(rail.lane, { low: t0, high: t1 });
  }
  const tracks = new Map<string, number>();
  const lanes = [...extents];
  for (const [lane, { low, high }] of lanes) {
    const over = lanes.filter(([, other]) => other.low < high && low < other.high);
    tracks.set(lane, (over.findIndex(([name]) => name === lane) + 1) / (over.length + 1));
  }
  return tracks;
}

const mainStripOrNone = (rail: Rail): readonly Box[] => (rail.rectangles.length === 0 ? [] : mainStrip(rail));
