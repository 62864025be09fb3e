/**
 * Random rings for property tests: awkward filler sets, wide, padless and deep cells, several landings, corner cells
 * that are not square, drawings for any side, every style and mixes of them, sections with break cells, graded
 * corners, fixed places, given dies. Every section has the supplies, clamps and control cells that it owes, so that a
 * ring which can be laid has to be found sound.
 */
import fc from 'fast-check';
import type { Side } from '../../src/geometry/side.ts';
import { type Units, units } from '../../src/geometry/units.ts';
import type { Footprint } from '../../src/library/footprint.ts';
import type { Entry, PadKind, Ring, Section, Style } from '../../src/spec/ring.ts';
import { entry, footprint, LANES, ring, throughLanes, um } from './ring.ts';

const SIDES = ['left', 'bottom', 'right', 'top'] as const;

const FILLERS: readonly (readonly (readonly [number, boolean])[])[] = [
  [
    [10, true],
    [5, true],
    [1, true],
  ],
  [
    [10, true],
    [5, true],
    [1, true],
    [0.1, false],
  ],
  [
    [7, true],
    [4, true],
    [3, true],
  ],
  [
    [5, true],
    [2, true],
  ],
  [
    [20, true],
    [1, true],
  ],
  [
    [4, false],
    [3, true],
    [1, true],
  ],
  [
    [50, true],
    [0.5, true],
  ],
  [
    [6, true],
    [2.5, true],
    [0.5, false],
  ],
];

interface Shape {
  readonly fillers: readonly (readonly [number, boolean])[];
  readonly width: number;
  readonly depth: number;
  readonly corner: readonly [number, number];
  readonly drawnFor: Side;
  readonly pad: readonly [number, number];
  readonly pitch: number;
  readonly spacing: number;
  readonly openingSpacing: number;
  readonly stem: readonly [number, number];
  readonly rowGap: number;
  readonly toCell: number;
  readonly rows: 1 | 2;
  readonly inset: number;
  readonly onTop: readonly [boolean, boolean, boolean];
  readonly styles: readonly Style[];
  readonly sections: number;
  readonly first: 'outer' | 'inner';
  readonly clearance: number;
  readonly pitches: readonly { pads: number; pitch: number }[];
  readonly numbering: Ring['numbering'];
  readonly slack: Ring['sides']['left']['slack'];
  readonly seed: readonly number[];
  readonly die: readonly [number, number] | null;
  readonly core: readonly [number, number];
}

const style = fc.constantFrom<Style>('inline', 'staggered', 'over-circuit', 'in-cell');

const shapes: fc.Arbitrary<Shape> = fc.record({
  fillers: fc.constantFrom(...FILLERS),
  width: fc.integer({ min: 20, max: 90 }),
  depth: fc.integer({ min: 170, max: 260 }),
  /** Beyond the depth of the row. */
  corner: fc.tuple(fc.integer({ min: -9, max: 90 }), fc.integer({ min: -3, max: 90 })),
  drawnFor: fc.constantFrom<Side>('bottom', 'top', 'left', 'right'),
  pad: fc.tuple(fc.integer({ min: 20, max: 40 }), fc.integer({ min: 20, max: 40 })),
  pitch: fc.integer({ min: 20, max: 110 }),
  spacing: fc.integer({ min: 2, max: 14 }),
  openingSpacing: fc.integer({ min: 0, max: 24 }),
  stem: fc.tuple(fc.integer({ min: 1, max: 10 }), fc.integer({ min: 1, max: 8 })),
  rowGap: fc.integer({ min: 0, max: 16 }),
  toCell: fc.integer({ min: 0, max: 5 }),
  rows: fc.constantFrom<1 | 2>(1, 2),
  inset: fc.integer({ min: 0, max: 4 }),
  onTop: fc.tuple(fc.boolean(), fc.boolean(), fc.boolean()),
  styles: fc.oneof(
    style.map((s) => [s, s, s, s]),
    fc.tuple(style, style, style, style),
  ),
  sections: fc.integer({ min: 1, max: 3 }),
  first: fc.constantFrom<'outer' | 'inner'>('outer', 'inner'),
  clearance: fc.integer({ min: 0, max: 300 }),
  pitches: fc.array(
    fc.record({ pads: fc.integer({ min: 1, max: 4 }), pitch: fc.integer({ min: 40, max: 140 }) }),
    {
      maxLength: 2,
    },
  ),
  numbering: fc.record({
    side: fc.constantFrom(...SIDES),
    end: fc.constantFrom<'first' | 'last'>('first', 'last'),
    direction: fc.constantFrom<'counter-clockwise' | 'clockwise'>('counter-clockwise', 'clockwise'),
  }),
  slack: fc.constantFrom<Ring['sides']['left']['slack']>('after', 'before', 'around', 'shared'),
  seed: fc.array(fc.nat(1000), { minLength: 60, maxLength: 60 }),
  die: fc.option(fc.tuple(fc.integer({ min: 1500, max: 5000 }), fc.integer({ min: 1500, max: 5000 })), {
    nil: null,
    freq: 3,
  }),
  core: fc.tuple(fc.integer({ min: 0, max: 1500 }), fc.integer({ min: 0, max: 1500 })),
});

/** A footprint drawn for any side. */
function drawn(f: Footprint, drawnFor: Side): Footprint {
  const flat =
    f.role === 'corner'
      ? drawnFor === 'left' || drawnFor === 'right'
      : drawnFor === 'bottom' || drawnFor === 'top';
  return {
    ...f,
    drawnFor,
    drawn: flat ? { width: f.width, height: f.depth } : { width: f.depth, height: f.width },
  };
}

interface Cells {
  readonly all: readonly Footprint[];
  readonly pick: (name: string, style: Style) => Footprint;
}

function cellsOf(shape: Shape): Cells {
  const depth = um(shape.depth);
  const [along, deep] = [um(2 * shape.pad[0]), um(2 * shape.pad[1])];
  const [onCell, onFiller, onCorner] = shape.onTop;
  const inside = {
    t: units(um(10) + deep / 2),
    along,
    deep,
    opening: { along: units(along - um(4)), deep: units(deep - um(4)) },
  };
  const both = (make: (contains: boolean) => Footprint): readonly Footprint[] => [make(false), make(true)];
  const padded = (
    name: string,
    role: Footprint['role'],
    width: number,
    at: readonly number[],
    feeds: readonly string[],
  ) =>
    both((contains) =>
      footprint(contains ? `${name}_in` : name, role, width, {
        depth,
        padOnTop: true,
        landings: at.map((a, i) => ({ name: `p${i}`, at: um(a), feeds, inside: contains ? inside : null })),
        clamps:
          role === 'supply'
            ? [
                { supply: 'VDD', ground: 'VSS' },
                { supply: 'VDDIO', ground: 'VSSIO' },
              ]
            : [],
      }),
    );
  const w = shape.width;
  // Two landings a pitch apart that every style allows, in a cell wide enough for both.
  const apart =
    2 *
    (Math.ceil(Math.max(shape.pitch, 2 * shape.pad[0] + Math.max(shape.spacing, shape.openingSpacing))) + 60);
  const list = [
    ...padded('io', 'signal', w, [w / 2], []),
    ...padded('off', 'analog', w + 7, [Math.floor(w / 3)], []),
    ...LANES.flatMap((lane) => padded(`sup_${lane}`, 'supply', w, [w / 2], [lane])),
    ...padded('wide', 'supply', apart + 2 * w, [w, w + apart], ['VSS']),
    footprint('clamp', 'clamp', 13, { depth, padOnTop: onCell }),
    footprint('control', 'control', 17, { depth, padOnTop: onCell, perSection: { least: 1, most: 1 } }),
    footprint('macro', 'macro', 101, { depth: units(depth + um(90)), landings: [], padOnTop: onCell }),
    footprint('part_all', 'break', 6, { depth, lanes: throughLanes('M5', [...LANES]), padOnTop: onCell }),
    footprint('part_io', 'break', 4, {
      depth,
      lanes: throughLanes('M5', ['VDDIO', 'VSSIO']),
      padOnTop: onCell,
    }),
    ...shape.fillers.map(([width, standsAlone]) =>
      footprint(`fill_${String(width).replace('.', '_')}`, 'filler', width, {
        depth,
        standsAlone,
        padOnTop: onFiller,
      }),
    ),
  ].map((f) => drawn(f, shape.drawnFor));
  const corner = drawn(
    footprint('corner', 'corner', shape.depth + shape.corner[0], {
      depth: um(shape.depth + shape.corner[1]),
      padOnTop: onCorner,
    }),
    shape.drawnFor === 'bottom' ? 'left' : shape.drawnFor,
  );
  const all = [...list, corner];
  const named = new Map(all.map((f) => [f.name, f]));
  return {
    all,
    pick: (name, of) => {
      const found = named.get(of === 'in-cell' && named.has(`${name}_in`) ? `${name}_in` : name);
      if (found === undefined) throw new Error(`no footprint ${name}`);
      return found;
    },
  };
}

/** One section for each share of the ring; the third has the first's core nets, so that a break may leave these be. */
function sectionsOf(count: number): readonly Section[] {
  return Array.from({ length: count }, (_, k) => ({
    name: `part${k}`,
    lanes: new Map(LANES.map((lane) => [lane, lane.endsWith('IO') || k === 1 ? `${lane}_${k}` : lane])),
    pairs: [
      { supply: 'VDD', ground: 'VSS' },
      { supply: 'VDDIO', ground: 'VSSIO' },
    ],
  }));
}

function ringOf(shape: Shape): Ring {
  const cells = cellsOf(shape);
  const sections = sectionsOf(shape.sections);
  let turn = 0;
  const chance = (of: number): number => (shape.seed[turn++ % shape.seed.length] ?? 0) % of;
  const pad: PadKind = {
    name: 'plain',
    along: um(2 * shape.pad[0]),
    deep: um(2 * shape.pad[1]),
    opening: { along: um(2 * shape.pad[0] - 4), deep: um(2 * shape.pad[1] - 4) },
  };
  const narrow: PadKind = {
    ...pad,
    name: 'narrow',
    along: um(2 * shape.pad[0] - 6),
    opening: { ...pad.opening, along: um(2 * shape.pad[0] - 12) },
  };
  const sides: Record<Side, Entry[]> = { left: [], bottom: [], right: [], top: [] };
  const counts = SIDES.map(() => chance(9));
  const total = Math.max(
    1,
    counts.reduce((a, b) => a + b, 0),
  );
  let pins = 0;
  sections.forEach((section, k) => {
    const from = Math.floor((k * total) / sections.length);
    const to = Math.floor(((k + 1) * total) / sections.length);
    const sideAt = (i: number): Side => {
      let rest = i;
      for (const [n, side] of SIDES.entries()) {
        rest -= counts[n] ?? 0;
        if (rest < 0) return side;
      }
      return 'top';
    };
    const put = (name: string, side: Side, pinned: boolean, net?: string): void => {
      const style = shape.styles[SIDES.indexOf(side)] ?? 'inline';
      const f = cells.pick(name, style);
      const names = pinned ? f.landings.map((_, n) => (n === 0 ? `P${++pins}` : `P${pins}.${n}`)) : [];
      const contained = style === 'in-cell';
      sides[side].push({
        ...entry(f, null),
        pins: names,
        nets: names.map((pin) => net ?? pin),
        section: section.name,
        pad: pinned ? (chance(5) === 0 ? narrow : pad) : null,
        mirrored: chance(4) === 0,
        gap: chance(6) === 0 ? um(chance(40)) : um(0),
        shift: contained || chance(9) !== 0 ? um(0) : um(chance(7) - 3),
        row: chance(8) === 0 ? (chance(2) === 0 ? 'outer' : 'inner') : null,
        at: chance(160) === 0 ? um(900 + chance(1000)) : null,
      });
    };
    const home = sideAt(from);
    for (const lane of LANES) put(`sup_${lane}`, home, true, section.lanes.get(lane));
    put('control', home, false);
    for (let i = from; i < to; i++) {
      const side = sideAt(i);
      const kind = chance(9);
      if (kind === 0) put('clamp', side, false);
      else if (kind === 1) put('macro', side, false);
      else if (kind === 2) put('wide', side, true, section.lanes.get('VSS'));
      else put(kind === 3 ? 'off' : 'io', side, true);
    }
  });
  const of = (side: Side): Ring['sides'][Side] => ({
    style: shape.styles[SIDES.indexOf(side)] ?? 'inline',
    slack: shape.slack,
    entries: sides[side],
  });
  const base = ring(cells.all, 'inline', {});
  const dieOf = (d: readonly [number, number]): { width: Units; height: Units } => ({
    width: um(d[0]),
    height: um(d[1]),
  });
  return {
    ...base,
    name: 'random',
    die: shape.die === null ? null : dieOf(shape.die),
    core: {
      width: um(shape.die === null ? shape.core[0] : 0),
      height: um(shape.die === null ? shape.core[1] : 0),
      clearance: um(10),
    },
    pads: {
      pitch: um(shape.pitch),
      spacing: um(shape.spacing),
      openingSpacing: um(shape.openingSpacing),
      openingInset: um(2),
      openingToSeal: { least: um(8), most: null },
      toCell: um(shape.toCell),
    },
    rows: { overCircuit: shape.rows, gap: um(shape.rowGap), first: shape.first, inset: um(shape.inset) },
    stems: { width: um(2 * shape.stem[0]), spacing: um(shape.stem[1]), layers: ['M5'] },
    corners: {
      ...base.corners,
      clearance: um(shape.clearance),
      pitches: shape.pitches.map((p) => ({ pads: p.pads, pitch: um(p.pitch) })),
    },
    numbering: shape.numbering,
    sections,
    sides: { left: of('left'), bottom: of('bottom'), right: of('right'), top: of('top') },
  };
}

/** Two rows of pads over the circuits have to lie within the cells' depth. */
const deepEnough = (shape: Shape): Shape => ({
  ...shape,
  depth: Math.max(shape.depth, shape.inset + shape.rowGap + 4 * shape.pad[1]),
});

export const randomRings: fc.Arbitrary<Ring> = shapes.map((shape) => ringOf(deepEnough(shape)));
