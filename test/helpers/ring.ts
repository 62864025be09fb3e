/** Rings and libraries built in code, for tests of plan, fit and place that need no file. */
import type { Side } from '../../src/geometry/side.ts';
import { exactUnits, PER_MICROMETRE, type Units, units } from '../../src/geometry/units.ts';
import type { Footprint, Role } from '../../src/library/footprint.ts';
import type { Entry, PadKind, Ring, Section, Style } from '../../src/spec/ring.ts';

/** Micrometres to units, rounded up where they are no whole number of them. */
export const um = (length: number): Units => exactUnits(length) ?? units(Math.ceil(length * PER_MICROMETRE));

const PLACE = { file: 'ring.yaml', line: 1, column: 1 };

export const LANES = ['VDD', 'VSS', 'VDDIO', 'VSSIO'] as const;

/** Four lanes of one strip each, run through by every cell. */
export const throughLanes = (layer = 'M5', cut: readonly string[] = []): Footprint['lanes'] =>
  LANES.map((lane, i) => ({
    lane,
    strips: [
      {
        layer,
        from: um(20 + 30 * i),
        to: um(40 + 30 * i),
        edges: 'both',
        carry: cut.includes(lane) ? 'cut' : 'through',
      },
    ],
  }));

export function footprint(name: string, role: Role, width: number, more: Partial<Footprint> = {}): Footprint {
  const depth = more.depth ?? um(180);
  const padded = role === 'signal' || role === 'analog' || role === 'supply';
  return {
    name,
    role,
    drawn: { width: um(width), height: depth },
    drawnFor: role === 'corner' ? 'left' : 'bottom',
    width: um(width),
    depth,
    setback: um(0),
    landings: padded ? [{ name: 'pad', at: um(width / 2), feeds: [], inside: null }] : [],
    lanes: throughLanes(),
    ties: [],
    clamps: [],
    diodes: [],
    standsAlone: true,
    padOnTop: role !== 'corner',
    turns: { plain: [0, 90, 180, 270], mirrored: [0, 90, 180, 270] },
    onVertical: null,
    perSection: null,
    needs: [],
    ...more,
  };
}

const feeding = (lane: string, width: number): Partial<Footprint> => ({
  landings: [{ name: 'pad', at: um(width / 2), feeds: [lane], inside: null }],
  clamps: [lane.endsWith('IO') ? { supply: 'VDDIO', ground: 'VSSIO' } : { supply: 'VDD', ground: 'VSS' }],
});

/** The library of ring-model section 3's worked case: cells 35 x 180, corner cells 180 x 180. */
export function library(width = 35, fillers: readonly number[] = [10, 5, 1, 0.5]): readonly Footprint[] {
  return [
    footprint('io', 'signal', width),
    ...LANES.map((lane) => footprint(`sup_${lane.toLowerCase()}`, 'supply', width, feeding(lane, width))),
    footprint('corner', 'corner', 180),
    ...fillers.map((f) => footprint(`fill_${f}`.replace('.', '_'), 'filler', f)),
    footprint('part_all', 'break', 5, { lanes: throughLanes('M5', [...LANES]) }),
  ];
}

export const PAD: PadKind = {
  name: 'plain',
  along: um(60),
  deep: um(70),
  opening: { along: um(52), deep: um(62) },
};

export const SECTION: Section = {
  name: 'main',
  lanes: new Map(LANES.map((lane) => [lane, lane.toLowerCase()])),
  pairs: [
    { supply: 'VDD', ground: 'VSS' },
    { supply: 'VDDIO', ground: 'VSSIO' },
  ],
};

export function entry(cell: Footprint, pin: string | null, more: Partial<Entry> = {}): Entry {
  const feeds = cell.landings[0]?.feeds[0];
  return {
    pins: pin === null ? [] : [pin],
    nets: pin === null ? [] : [feeds === undefined ? pin : feeds.toLowerCase()],
    footprint: cell,
    section: 'main',
    at: null,
    gap: um(0),
    row: null,
    shift: um(0),
    mirrored: false,
    pad: pin === null ? null : PAD,
    place: PLACE,
    ...more,
  };
}

/** A ring of the worked case's rules; `sides` gives each side's entries. */
export function ring(
  footprints: readonly Footprint[],
  style: Style,
  sides: Partial<Record<Side, readonly Entry[]>>,
  more: Partial<Ring> = {},
): Ring {
  const named = new Map(footprints.map((f) => [f.name, f]));
  const corner = footprints.find((f) => f.role === 'corner');
  if (corner === undefined) throw new Error('a ring needs a corner cell');
  const side = (name: Side): Ring['sides'][Side] => ({ style, slack: 'after', entries: sides[name] ?? [] });
  return {
    name: 'worked',
    grid: um(0.005),
    shrink: 1,
    library: { name: 'worked', footprints: named },
    die: null,
    edge: { street: um(40), seal: um(10), clearance: um(10) },
    core: { width: um(100), height: um(100), clearance: um(10) },
    pads: {
      pitch: um(70),
      spacing: um(10),
      openingSpacing: um(0),
      openingInset: um(2),
      openingToSeal: { least: um(0), most: null },
      toCell: um(3),
    },
    rows: { overCircuit: 2, gap: um(12), first: 'outer', inset: um(0) },
    stems: { width: um(12), spacing: um(4), layers: ['M5'] },
    corners: { clearance: um(0), pitches: [], footprint: corner },
    numbering: { side: 'left', end: 'first', direction: 'counter-clockwise' },
    fillers: footprints.filter((f) => f.role === 'filler'),
    breaks: footprints.filter((f) => f.role === 'break'),
    sections: [SECTION],
    sides: { left: side('left'), bottom: side('bottom'), right: side('right'), top: side('top') },
    neighbours: [],
    severities: new Map(),
    waivers: [],
    place: PLACE,
    diePlace: PLACE,
    ...more,
  };
}
