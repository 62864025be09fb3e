/**
 * Placements to draw without the engine: an invented library, any number of pads, every style, sections that
 * break cells part. They hold to the placement file's schema and look like a laid ring; they are no proof of one.
 */
import type {
  BondPad,
  Finding,
  PlacedCell,
  PlacedFootprint,
  Placement,
  Rail,
  Stem,
} from '../../src/format/placement.ts';
import {
  addTurns,
  originOf,
  rectOnDie,
  SIDES,
  type Side,
  turnOfCorner,
  turnOfSide,
} from '../../src/geometry/side.ts';
import { units } from '../../src/geometry/units.ts';

type Style = Placement['sides'][number]['style'];

export interface SampleWish {
  readonly ring?: string;
  /** Bond pads on each side. */
  readonly pads: Readonly<Record<Side, number>>;
  readonly style: Style | Readonly<Record<Side, Style>>;
  readonly sections?: readonly string[];
  /** The pin's name from its number in ring order, counted from 0. */
  readonly pinName?: (index: number) => string;
  readonly findings?: readonly Finding[];
  readonly shrink?: number;
}

const U = 1_000_000;
const WIDTH = 35;
const DEPTH = 180;
const CORNER = 180;
const EDGE = { street: 40, seal: 14, clearance: 6 };
const PAD = { width: 60, height: 70 };
const IN_CELL = { width: 75, depth: 350, pad: 60, t: 40 };
const LANES = [
  { lane: 'vdd', from: 92, to: 112, layers: ['m4', 'm5'] },
  { lane: 'vss', from: 116, to: 136, layers: ['m4', 'm5'] },
  { lane: 'vddio', from: 40, to: 62, layers: ['m5'] },
  { lane: 'vssio', from: 64, to: 86, layers: ['m5'] },
] as const;
const CUT = ['vdd', 'vddio'];

const styleOf = (wish: SampleWish, side: Side): Style =>
  typeof wish.style === 'string' ? wish.style : wish.style[side];

/** Cell pitch, width, depth and the cells' outward edge of a side. */
function measure(style: Style): { pitch: number; width: number; depth: number; edge: number } {
  const edge = EDGE.street + EDGE.seal + EDGE.clearance;
  switch (style) {
    case 'inline':
      return { pitch: 70, width: WIDTH, depth: DEPTH, edge: edge + PAD.height + 3 };
    case 'staggered':
      return { pitch: 40, width: WIDTH, depth: DEPTH, edge: edge + 2 * PAD.height + 12 + 3 };
    case 'over-circuit':
      return { pitch: 35, width: WIDTH, depth: DEPTH, edge };
    case 'in-cell':
      return { pitch: 75, width: IN_CELL.width, depth: IN_CELL.depth, edge };
  }
}

function footprint(
  name: string,
  role: PlacedFootprint['role'],
  width: number,
  depth: number,
): PlacedFootprint {
  const corner = role === 'corner';
  return {
    name,
    role,
    width,
    height: depth,
    drawnFor: corner ? 'left' : 'bottom',
    setback: 0,
    landings: [],
    lanes: LANES.map(({ lane, from, to, layers }) => ({
      lane,
      strips: layers.map((layer) => ({
        layer,
        from,
        to,
        edges: 'both' as const,
        carry: role === 'break' && CUT.includes(lane) ? ('cut' as const) : ('through' as const),
      })),
    })),
    ties: [],
    clamps: [],
    diodes: [],
    standsAlone: true,
    padOnTop: !corner,
    turns: { plain: [0, 90, 180, 270], mirrored: [0, 90, 180, 270] },
    onVertical: null,
    perSection: null,
    needs: [],
    signals: [],
  };
}

const NINTHS: readonly (readonly [string, PlacedFootprint['role'], string | null])[] = [
  ['in', 'signal', null],
  ['out', 'signal', null],
  ['supply-vdd', 'supply', 'vdd'],
  ['out', 'signal', null],
  ['supply-vss', 'supply', 'vss'],
  ['sense', 'analog', null],
  ['supply-vddio', 'supply', 'vddio'],
  ['in', 'signal', null],
  ['supply-vssio', 'supply', 'vssio'],
];

/** A placement of the wished pads; the die is the least that the longest sides need. */
export function sample(wish: SampleWish): Placement {
  const sections = wish.sections ?? ['digital', 'analog', 'lamps'];
  const total = SIDES.reduce((sum, side) => sum + wish.pads[side], 0);
  const name = wish.pinName ?? ((index: number) => `${['gpio', 'adc', 'lamp', 'bus_d'][index % 4]}_${index}`);
  const depth = Math.max(...SIDES.map((side) => measure(styleOf(wish, side)).edge));
  const corner = Math.max(CORNER, ...SIDES.map((side) => (styleOf(wish, side) === 'in-cell' ? 355 : CORNER)));
  const ends = depth + corner;
  const run = (side: Side) => wish.pads[side] * measure(styleOf(wish, side)).pitch + 70;
  const die = {
    width: 2 * ends + Math.max(run('bottom'), run('top')),
    height: 2 * ends + Math.max(run('left'), run('right')),
  };
  const exact = { width: units(die.width * U), height: units(die.height * U) };

  const cells: PlacedCell[] = [];
  const bondPads: BondPad[] = [];
  const stems: Stem[] = [];
  const partings: Placement['partings'][number][] = [];
  const breaks: { side: Side; s: number; cell: string }[] = [];
  let count = 0;

  const onDie = (side: Side, s: number, t: number, along: number, deep: number) => {
    const r = rectOnDie(side, exact, s * U, t * U, along * U, deep * U);
    return { x: r.x / U, y: r.y / U, width: r.width / U, height: r.height / U };
  };
  const put = (
    side: Side,
    s: number,
    print: string,
    role: PlacedCell['role'],
    along: number,
    deep: number,
    t: number,
    section: string | null,
    pins?: string[],
    mirrored = false,
  ) => {
    const box = onDie(side, s, t, along, deep);
    const origin = originOf(
      { width: units(along * U), height: units(deep * U) },
      mirrored,
      addTurns(turnOfSide(side), 0),
      { x: units(box.x * U), y: units(box.y * U) },
    );
    const cell: PlacedCell = {
      name: `${print}-${cells.length + 1}`,
      footprint: print,
      role,
      side,
      ...box,
      rotation: turnOfSide(side),
      mirrored,
      origin: { x: origin.x / U, y: origin.y / U },
      section,
      ...(pins ? { pins } : {}),
    };
    cells.push(cell);
    return cell.name;
  };
  const fill = (side: Side, from: number, to: number, deep: number, t: number, section: string) => {
    let s = from;
    for (const width of [20, 5])
      while (to - s >= width) {
        const print = `fill-${width}${deep === DEPTH ? '' : '-deep'}`;
        put(side, s, print, 'filler', width, deep, t, section);
        s += width;
      }
  };
  const sectionOf = (index: number) =>
    sections[Math.min(sections.length - 1, Math.floor((index * sections.length) / Math.max(1, total)))] ??
    'digital';

  for (const side of SIDES) {
    const style = styleOf(wish, side);
    const m = measure(style);
    const length = side === 'left' || side === 'right' ? die.height : die.width;
    const n = wish.pads[side];
    const from = ends;
    const to = length - ends;
    let s = from;
    let section = sectionOf(Math.max(0, count - 1));
    for (let i = 0; i < n; i++) {
      const next = sectionOf(count);
      const gap = i === 0 ? 20 : m.pitch - m.width;
      const breaking = next !== section;
      fill(side, s, s + gap, m.depth, m.edge, section);
      s += gap;
      if (breaking) {
        const cell = put(side, s, m.depth === DEPTH ? 'gap' : 'gap-deep', 'break', 5, m.depth, m.edge, null);
        partings.push({ cell, lanes: CUT, between: [section, next] });
        breaks.push({ side, s: s + 2.5, cell });
        s += 5;
        section = next;
      }
      const [print, role, feeds] = NINTHS[count % NINTHS.length] ?? ['in', 'signal', null];
      const pin = name(count);
      const net = feeds === null ? pin : `${feeds.toUpperCase()}_${section}`;
      const cell = put(
        side,
        s,
        m.depth === DEPTH ? print : `${print}-deep`,
        role,
        m.width,
        m.depth,
        m.edge,
        section,
        [pin],
        count % 5 === 4,
      );
      const centre = s + m.width / 2;
      const inner = (style === 'staggered' || style === 'over-circuit') && i % 2 === 1;
      const row = style === 'staggered' || style === 'over-circuit' ? (inner ? 'inner' : 'outer') : 'single';
      const first = EDGE.street + EDGE.seal + EDGE.clearance;
      const size = style === 'in-cell' ? { width: IN_CELL.pad, height: IN_CELL.pad } : PAD;
      const t =
        style === 'in-cell'
          ? m.edge + IN_CELL.t
          : (style === 'over-circuit' ? first + 10 : first) +
            (inner ? size.height + 12 : 0) +
            size.height / 2;
      const box = onDie(side, centre - size.width / 2, t - size.height / 2, size.width, size.height);
      bondPads.push({
        number: count + 1,
        pin,
        net,
        cell,
        landing: 'pad',
        side,
        row,
        x: box.x + box.width / 2,
        y: box.y + box.height / 2,
        width: box.width,
        height: box.height,
        opening: { width: box.width - 6, height: box.height - 6 },
      });
      const end = t + size.height / 2;
      if (style === 'inline' || style === 'staggered')
        stems.push({ bondPad: count + 1, layers: ['m5'], ...onDie(side, centre - 6, end, 12, m.edge - end) });
      s += m.width;
      count++;
    }
    fill(side, s, to, m.depth, m.edge, section);
    const at = onDie(side, length - ends, depth, corner, corner);
    const turn = turnOfCorner(side);
    const origin = originOf({ width: units(corner * U), height: units(corner * U) }, false, turn, {
      x: units(at.x * U),
      y: units(at.y * U),
    });
    cells.push({
      name: `corner-${side}`,
      footprint: 'corner',
      role: 'corner',
      side: null,
      ...at,
      rotation: turn,
      mirrored: false,
      origin: { x: origin.x / U, y: origin.y / U },
      section,
    });
  }

  const rails: Rail[] = [];
  for (const { lane, from, to, layers } of LANES) {
    const cuts = CUT.includes(lane) ? breaks : [];
    let arc: { layer: string; x: number; y: number; width: number; height: number }[] = [];
    const arcs = [arc];
    for (const side of SIDES) {
      const edge = measure(styleOf(wish, side)).edge;
      const length = side === 'left' || side === 'right' ? die.height : die.width;
      const reach = depth + from;
      let s = reach;
      for (const cut of [...cuts.filter((b) => b.side === side).map((b) => b.s), null]) {
        const end = cut === null ? length - reach : cut - 2.5;
        for (const layer of layers) arc.push({ layer, ...onDie(side, s, edge + from, end - s, to - from) });
        if (cut !== null) {
          arc = [];
          arcs.push(arc);
          s = cut + 2.5;
        }
      }
    }
    const last = arcs.length > 1 ? arcs.pop() : undefined;
    if (last) arcs[0] = [...last, ...(arcs[0] ?? [])];
    arcs.forEach((rectangles, i) => {
      const net =
        cuts.length === 0 ? lane.toUpperCase() : `${lane.toUpperCase()}_${sections[i] ?? sections[0]}`;
      rails.push({
        lane,
        net,
        closed: cuts.length === 0,
        rectangles,
        supplies: cells
          .filter((c) => c.role === 'supply' && c.footprint.startsWith(`supply-${lane}`))
          .map((c) => c.name),
        cells: cells.length,
      });
    });
  }

  const prints: PlacedFootprint[] = [];
  const used = new Map(cells.map((cell) => [cell.footprint, cell]));
  for (const [print, cell] of used) {
    const deep = print.endsWith('-deep');
    const upright = cell.rotation === 0 || cell.rotation === 180;
    const base = footprint(
      print,
      cell.role,
      upright ? cell.width : cell.height,
      upright ? cell.height : cell.width,
    );
    const lane = /^supply-(\w+?)(-deep)?$/.exec(print)?.[1];
    const landing = cell.pins
      ? [
          {
            name: 'pad',
            at: base.width / 2,
            feeds: lane ? [lane] : [],
            inside: deep ? { t: 40, along: 60, deep: 60, opening: { along: 54, deep: 54 } } : null,
          },
        ]
      : [];
    prints.push({
      ...base,
      landings: landing,
      clamps: lane === 'vssio' ? [{ supply: 'vddio', ground: 'vssio' }] : [],
    });
  }
  const kind = (net: string) => (/^VSS/.test(net) ? 'ground' : /^VDD/.test(net) ? 'supply' : 'signal');
  const nets = [...new Set([...bondPads.map((p) => p.net), ...rails.map((r) => r.net)])];
  const inset = depth + Math.max(...SIDES.map((side) => measure(styleOf(wish, side)).depth)) + 60;
  const roles: Partial<Record<PlacedCell['role'], number>> = {};
  for (const cell of cells) roles[cell.role] = (roles[cell.role] ?? 0) + 1;
  return {
    format: 'ringwright-placement',
    version: 1,
    ring: wish.ring ?? `sample of ${total} pads`,
    units: { length: 'um', grid: 0.5 },
    numbering: { start: { side: 'left', end: 'first' }, direction: 'counter-clockwise' },
    rules: {
      edge: EDGE,
      core: { width: 200, height: 200, clearance: 60 },
      shrink: wish.shrink ?? 1,
      pads: {
        pitch: 70,
        spacing: 10,
        openingSpacing: 12,
        openingInset: 2,
        openingToSeal: { least: 5, most: null },
        toCell: 3,
      },
      rows: { overCircuit: 2, gap: 12, first: 'outer', inset: 10 },
      stems: { width: 12, spacing: 4, layers: ['m5'] },
      corners: { clearance: 0, pitches: [] },
      neighbours: [],
      severities: {},
      waivers: [],
    },
    nets: nets.map((net) => ({ name: net, kind: kind(net) })),
    sections: sections.map((section) => ({
      name: section,
      lanes: Object.fromEntries(
        LANES.map(({ lane }) => [
          lane,
          CUT.includes(lane) ? `${lane.toUpperCase()}_${section}` : lane.toUpperCase(),
        ]),
      ),
      pairs: [{ supply: 'vddio', ground: 'vssio' }],
    })),
    footprints: prints,
    die,
    core: {
      x: inset,
      y: inset,
      width: Math.max(0, die.width - 2 * inset),
      height: Math.max(0, die.height - 2 * inset),
    },
    sides: SIDES.map((side) => ({
      side,
      style: styleOf(wish, side),
      cells: cells.filter((c) => c.side === side && c.role !== 'filler').length,
      bondPads: wish.pads[side],
      length: (side === 'left' || side === 'right' ? die.height : die.width) - 2 * ends,
      filled: cells
        .filter((c) => c.side === side && c.role === 'filler')
        .reduce((sum, c) => sum + (side === 'left' || side === 'right' ? c.height : c.width), 0),
    })),
    cells,
    bondPads,
    stems,
    rails,
    partings,
    findings: [...(wish.findings ?? [])],
    summary: {
      roles,
      pitches: SIDES.map((side) => {
        const m = measure(styleOf(wish, side));
        const few = wish.pads[side] < 2;
        return { side, least: few ? null : m.pitch, greatest: few ? null : m.pitch };
      }),
      area: { die: die.width * die.height, core: 40000 },
      limits: { width: 'pads', height: 'pads' },
    },
  };
}

/** So many pads, spread over the four sides. */
export const spread = (pads: number): Record<Side, number> => ({
  left: Math.ceil(pads / 4),
  bottom: Math.floor(pads / 4),
  right: Math.ceil(pads / 4),
  top: pads - 2 * Math.ceil(pads / 4) - Math.floor(pads / 4),
});
