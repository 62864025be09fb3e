/**
 * A sound placement worked out by hand, so that the checker is held to something that the engine had no part in.
 *
 * Edge 40 + 10 + 10 = 60; bond pads 60 along, 70 deep, 3 to the cells: the row begins at 60 + 70 + 3 = 133. Corner
 * cells 100 x 100: 133 to 233. On each side between them one cell of 60 and two fillers of 20: 100. Die
 * 233 + 100 + 233 = 566 square. Every pad's centre is at 233 + 20 + 30 = 283 along its side and 60 + 35 = 95 from
 * the edge. Lane VDD lies 10 to 30 from the outward edge, so 143 to 163 from the die edge; VSS 40 to 60, 173 to 193.
 */
import type { Placement } from '../../src/format/placement.ts';

type Cell = Placement['cells'][number];
type Footprint = Placement['footprints'][number];
type Side = Placement['bondPads'][number]['side'];

const strip = (lane: string, from: number): Footprint['lanes'][number] => ({
  lane,
  strips: [{ layer: 'M5', from, to: from + 20, edges: 'both', carry: 'through' }],
});

const footprint = (
  name: string,
  role: Footprint['role'],
  width: number,
  more: Partial<Footprint>,
): Footprint => ({
  name,
  role,
  width,
  height: 100,
  drawnFor: role === 'corner' ? 'left' : 'bottom',
  setback: 0,
  landings: [],
  lanes: [strip('VDD', 10), strip('VSS', 40)],
  ties: [],
  clamps: [],
  diodes: [],
  standsAlone: true,
  padOnTop: false,
  turns: { plain: [0, 90, 180, 270], mirrored: [0, 90, 180, 270] },
  onVertical: null,
  perSection: null,
  needs: [],
  ...more,
});

const landing = (...feeds: readonly string[]): Partial<Footprint> => ({
  landings: [{ name: 'pad', at: 30, feeds, inside: null }],
  clamps: feeds.length > 0 ? [{ supply: 'VDD', ground: 'VSS' }] : [],
});

/** Lower-left corners, turns and origins of a side's three cells and of the corner cell after it, in ring order. */
const PLACES: Readonly<
  Record<Side, readonly (readonly [number, number, number, number, number, number, number])[]>
> = {
  // x, y, width, height, rotation, origin x, origin y
  left: [
    [133, 313, 100, 20, 270, 133, 333],
    [133, 253, 100, 60, 270, 133, 313],
    [133, 233, 100, 20, 270, 133, 253],
    [133, 133, 100, 100, 0, 133, 133],
  ],
  bottom: [
    [233, 133, 20, 100, 0, 233, 133],
    [253, 133, 60, 100, 0, 253, 133],
    [313, 133, 20, 100, 0, 313, 133],
    [333, 133, 100, 100, 90, 433, 133],
  ],
  right: [
    [333, 233, 100, 20, 90, 433, 233],
    [333, 253, 100, 60, 90, 433, 253],
    [333, 313, 100, 20, 90, 433, 313],
    [333, 333, 100, 100, 180, 433, 433],
  ],
  top: [
    [313, 333, 20, 100, 180, 333, 433],
    [253, 333, 60, 100, 180, 313, 433],
    [233, 333, 20, 100, 180, 253, 433],
    [133, 333, 100, 100, 270, 133, 433],
  ],
};

const SIDES: readonly Side[] = ['left', 'bottom', 'right', 'top'];
const KIND: Readonly<Record<Side, string>> = { left: 'vdd', bottom: 'vss', right: 'io', top: 'io' };
const PIN: Readonly<Record<Side, string>> = { left: 'VDD', bottom: 'VSS', right: 'A', top: 'B' };
const CENTRE: Readonly<Record<Side, readonly [number, number]>> = {
  left: [95, 283],
  bottom: [283, 95],
  right: [471, 283],
  top: [283, 471],
};
/** Twelve wide, three long, from the pad's inner edge at 130 to the cell at 133, centred at 283. */
const STEM: Readonly<Record<Side, readonly [number, number, number, number]>> = {
  left: [130, 277, 3, 12],
  bottom: [277, 130, 12, 3],
  right: [433, 277, 3, 12],
  top: [277, 433, 12, 3],
};

const cells = SIDES.flatMap((side) =>
  PLACES[side].map(([x, y, width, height, rotation, ox, oy], k): Cell => {
    const isCorner = k === 3;
    const isPadded = k === 1;
    return {
      name: isCorner ? `corner-${side}` : isPadded ? PIN[side] : `fill-${side}-${k}`,
      footprint: isCorner ? 'corner' : isPadded ? KIND[side] : 'fill',
      role: isCorner ? 'corner' : isPadded ? (KIND[side] === 'io' ? 'signal' : 'supply') : 'filler',
      side: isCorner ? null : side,
      x,
      y,
      width,
      height,
      rotation: rotation === 90 ? 90 : rotation === 180 ? 180 : rotation === 270 ? 270 : 0,
      mirrored: false,
      origin: { x: ox, y: oy },
      section: 'all',
      ...(isPadded ? { pins: [PIN[side]] } : {}),
    };
  }),
);

/** A closed lane of one strip: the four stretches, each out to the far edges of the corner squares. */
const loop = (from: number): Placement['rails'][number]['rectangles'] => {
  const far = 566 - from - 20;
  const length = 566 - 2 * from;
  return [
    { layer: 'M5', x: from, y: from, width: 20, height: length },
    { layer: 'M5', x: from, y: from, width: length, height: 20 },
    { layer: 'M5', x: far, y: from, width: 20, height: length },
    { layer: 'M5', x: from, y: far, width: length, height: 20 },
  ];
};

export const HAND_BUILT: Placement = {
  format: 'ringwright-placement',
  version: 1,
  ring: 'by hand',
  units: { length: 'um', grid: 0.5 },
  numbering: { start: { side: 'left', end: 'first' }, direction: 'counter-clockwise' },
  rules: {
    edge: { street: 40, seal: 10, clearance: 10 },
    core: { width: 90, height: 90, clearance: 5 },
    shrink: 1,
    pads: {
      pitch: 70,
      spacing: 10,
      openingSpacing: 9,
      openingInset: 2,
      openingToSeal: { least: 10, most: 100 },
      toCell: 3,
      kinds: [{ name: 'plain', along: 60, deep: 70, opening: { along: 52, deep: 62 } }],
    },
    rows: { overCircuit: 1, gap: 12, first: 'outer', inset: 0 },
    stems: { width: 12, spacing: 4, layers: ['M5'] },
    corners: { clearance: 200, pitches: [] },
    neighbours: [],
    severities: {},
    waivers: [],
  },
  nets: [
    { name: 'vdd', kind: 'supply' },
    { name: 'vss', kind: 'ground' },
    { name: 'A', kind: 'signal' },
    { name: 'B', kind: 'signal' },
  ],
  sections: [{ name: 'all', lanes: { VDD: 'vdd', VSS: 'vss' }, pairs: [{ supply: 'VDD', ground: 'VSS' }] }],
  footprints: [
    footprint('corner', 'corner', 100, {}),
    footprint('fill', 'filler', 20, {}),
    footprint('io', 'signal', 60, landing()),
    footprint('vdd', 'supply', 60, landing('VDD')),
    footprint('vss', 'supply', 60, landing('VSS')),
  ],
  pins: SIDES.map((side, k) => ({
    name: PIN[side],
    net: ['vdd', 'vss', 'A', 'B'][k] ?? '',
    section: 'all',
    footprint: KIND[side],
    landing: 'pad',
    bonded: true,
    kind: 'plain',
  })),
  asked: SIDES.map((side) => ({ side, footprint: KIND[side], section: 'all', pins: [PIN[side]] })),
  die: { width: 566, height: 566 },
  core: { x: 238, y: 238, width: 90, height: 90 },
  sides: SIDES.map((side) => ({ side, style: 'inline', cells: 3, bondPads: 1, length: 100, filled: 40 })),
  cells,
  bondPads: SIDES.map((side, k) => ({
    number: k + 1,
    pin: PIN[side],
    net: ['vdd', 'vss', 'A', 'B'][k] ?? '',
    cell: PIN[side],
    landing: 'pad',
    side,
    row: 'single',
    x: CENTRE[side][0],
    y: CENTRE[side][1],
    width: k % 2 === 0 ? 70 : 60,
    height: k % 2 === 0 ? 60 : 70,
    opening: { width: k % 2 === 0 ? 62 : 52, height: k % 2 === 0 ? 52 : 62 },
  })),
  stems: SIDES.map((side, k) => ({
    bondPad: k + 1,
    layers: ['M5'],
    x: STEM[side][0],
    y: STEM[side][1],
    width: STEM[side][2],
    height: STEM[side][3],
  })),
  rails: [
    { lane: 'VDD', net: 'vdd', closed: true, rectangles: loop(143), supplies: ['VDD'], cells: 16 },
    { lane: 'VSS', net: 'vss', closed: true, rectangles: loop(173), supplies: ['VSS'], cells: 16 },
  ],
  partings: [],
  findings: [],
  summary: {
    roles: { corner: 4, filler: 8, signal: 2, supply: 2 },
    pitches: SIDES.map((side) => ({ side, least: null, greatest: null })),
    area: { die: 566 * 566, core: 90 * 90 },
    limits: { width: 'pads', height: 'pads' },
  },
};
