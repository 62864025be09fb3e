/**
 * Placements of this folder's own for the tests of the writers and the difference: valid against the schema, small,
 * and with every orientation that a cell can have. They are not laid by the engine and need not be sound rings.
 */
import fc from 'fast-check';
import type { Placement } from '../../src/format/placement.ts';
import { originOf, rectOnDie, SIDES, type Side, type Turn, turnOfSide } from '../../src/geometry/side.ts';
import { micrometres, units } from '../../src/geometry/units.ts';

type Cell = Placement['cells'][number];
type Pad = Placement['bondPads'][number];
type Footprint = Placement['footprints'][number];

export const TURNS: readonly Turn[] = [0, 90, 180, 270];
const um = (length: number) => micrometres(units(length));
const pm = (length: number) => units(Math.round(length * 1e6));

/** A footprint of the invented library, its landing in the middle. */
export function footprint(name: string, role: Footprint['role'], width: number, height: number): Footprint {
  const pad = role === 'filler' || role === 'corner' || role === 'break';
  return {
    name,
    role,
    width,
    height,
    drawnFor: 'bottom',
    setback: 0,
    landings: pad
      ? []
      : [{ name: 'PAD', at: width / 2, feeds: role === 'supply' ? ['VDD'] : [], inside: null }],
    lanes: [],
    ties: [],
    clamps: [],
    diodes: [],
    standsAlone: true,
    padOnTop: false,
    turns: { plain: [...TURNS], mirrored: [...TURNS] },
    onVertical: null,
    perSection: null,
    needs: [],
    ...(role === 'signal'
      ? {
          signals: [
            { name: 'Y', direction: 'output' as const },
            { name: 'A', direction: 'input' as const },
            { name: 'OE', direction: 'input' as const },
            { name: 'DRIVE[0]', direction: 'input' as const },
            { name: 'DRIVE[1]', direction: 'input' as const },
          ],
        }
      : {}),
  };
}

export interface SamplePin {
  readonly pin: string;
  readonly net?: string;
  readonly footprint?: string;
  readonly section?: string;
  readonly mirrored?: boolean;
  readonly tied?: Readonly<Record<string, 0 | 1>>;
}

export interface SampleOptions {
  readonly sides?: Partial<Record<Side, readonly SamplePin[]>>;
  readonly die?: number;
}

const SIDE_PINS: Readonly<Record<Side, readonly SamplePin[]>> = {
  left: [{ pin: 'sda' }, { pin: 'scl', mirrored: true }, { pin: 'VDD_1', net: 'VDD', footprint: 'power' }],
  bottom: [
    { pin: 'data[0]' },
    { pin: 'data[1]', mirrored: true },
    { pin: 'VSS_1', net: 'VSS', footprint: 'ground', mirrored: true },
  ],
  right: [{ pin: 'adc in' }, { pin: 'lone[7]', mirrored: true, tied: { OE: 0, 'DRIVE[1]': 1 } }],
  top: [{ pin: 'module' }, { pin: 'clk', mirrored: true, tied: { OE: 0 } }],
};

/** Cells 40 x 100, bond pads 30 x 36 outside them, a pitch of 50 from the corner; a filler behind each cell. */
export function sample(options: SampleOptions = {}): Placement {
  const extent = options.die ?? 600;
  const die = { width: pm(extent), height: pm(extent + 20) };
  const footprints = [
    footprint('io', 'signal', 40, 100),
    footprint('power', 'supply', 40, 100),
    footprint('ground', 'supply', 40, 100),
    footprint('f-10', 'filler', 10, 100),
    footprint('corner', 'corner', 170, 170),
  ];
  const cells: Cell[] = [];
  const bondPads: Pad[] = [];
  const stems: Placement['stems'][number][] = [];
  const rails: Placement['rails'][number][] = [];
  const nets = new Map<string, Placement['nets'][number]>();
  const place = (name: string, kind: Footprint, side: Side, s: number, mirrored: boolean): Cell => {
    const rect = rectOnDie(side, die, pm(s), pm(70), pm(kind.width), pm(kind.height));
    const turn = turnOfSide(side);
    const drawn = { width: pm(kind.width), height: pm(kind.height) };
    const origin = originOf(drawn, mirrored, turn, rect);
    return {
      name,
      footprint: kind.name,
      role: kind.role,
      side,
      x: um(rect.x),
      y: um(rect.y),
      width: um(rect.width),
      height: um(rect.height),
      rotation: turn,
      mirrored,
      origin: { x: um(origin.x), y: um(origin.y) },
      section: 'main',
    };
  };
  for (const side of SIDES) {
    const pins = options.sides?.[side] ?? SIDE_PINS[side];
    pins.forEach((wish, index) => {
      const kind = footprints.find((f) => f.name === (wish.footprint ?? 'io'));
      if (kind === undefined) throw new Error(`no footprint ${wish.footprint ?? 'io'}`);
      const s = 170 + 50 * index;
      const twins = cells.filter((cell) => cell.pins?.[0] === wish.pin).length;
      const name = twins === 0 ? wish.pin : `${wish.pin}.${twins + 1}`;
      const net = wish.net ?? wish.pin;
      nets.set(net, { name: net, kind: net === 'VDD' ? 'supply' : net === 'VSS' ? 'ground' : 'signal' });
      cells.push({
        ...place(name, kind, side, s, wish.mirrored ?? false),
        pins: [wish.pin],
        section: wish.section ?? 'main',
        ...(wish.tied ? { tied: wish.tied } : {}),
      });
      const filler = footprints[3];
      if (filler) cells.push(place(`f-10-${cells.length}`, filler, side, s + 40, false));
      const pad = rectOnDie(side, die, pm(s + 5), pm(30), pm(30), pm(36));
      const number = bondPads.length + 1;
      bondPads.push({
        number,
        pin: wish.pin,
        net,
        cell: name,
        landing: 'PAD',
        side,
        row: 'single',
        x: um(pad.x) + um(pad.width) / 2,
        y: um(pad.y) + um(pad.height) / 2,
        width: um(pad.width),
        height: um(pad.height),
        opening: { width: um(pad.width) - 4, height: um(pad.height) - 4 },
      });
      const stem = rectOnDie(side, die, pm(s + 15), pm(66), pm(10), pm(4));
      stems.push({
        bondPad: number,
        layers: ['Metal4', 'Metal5'],
        x: um(stem.x),
        y: um(stem.y),
        width: um(stem.width),
        height: um(stem.height),
      });
    });
    const rail = rectOnDie(side, die, pm(170), pm(100), pm(160), pm(20));
    rails.push({
      lane: side === 'left' ? 'VSS' : 'VDD',
      net: side === 'left' ? 'VSS' : 'VDD',
      closed: false,
      rectangles: [
        {
          layer: 'Metal3',
          x: um(rail.x),
          y: um(rail.y),
          width: um(rail.width),
          height: um(rail.height),
        },
      ],
      supplies: [],
      cells: pins.length,
    });
  }
  const inner = { x: 180, y: 180, width: extent - 360, height: extent - 340 };
  const strip = (net: string, at: number): NonNullable<Placement['coreStrips']>[number] => ({
    net,
    layer: 'Metal5',
    width: 6,
    rectangles: [
      { layer: 'Metal5', x: inner.x + at, y: inner.y + at, width: 6, height: inner.height - 2 * at },
      { layer: 'Metal4', x: inner.x + at, y: inner.y + at, width: inner.width - 2 * at, height: 6 },
    ],
    straps: [{ cell: 'VDD_1', layer: 'Metal4', x: 170, y: 300, width: inner.x + at - 170, height: 5 }],
  });
  const coreStrips = [strip('VDD', 4), strip('VSS', 14)];
  return assembled({
    die: { width: extent, height: extent + 20 },
    footprints,
    cells,
    bondPads,
    stems,
    rails,
    nets,
    coreStrips,
  });
}

interface Parts {
  readonly die: Placement['die'];
  readonly footprints: readonly Footprint[];
  readonly cells: readonly Cell[];
  readonly bondPads: readonly Pad[];
  readonly stems: Placement['stems'];
  readonly rails: Placement['rails'];
  readonly nets: ReadonlyMap<string, Placement['nets'][number]>;
  readonly coreStrips: NonNullable<Placement['coreStrips']>;
}

function assembled(parts: Parts): Placement {
  const { die } = parts;
  return {
    format: 'ringwright-placement',
    version: 1,
    ring: 'tide gauge',
    units: { length: 'um', grid: 0.005 },
    numbering: { start: { side: 'left', end: 'first' }, direction: 'counter-clockwise' },
    rules: {
      edge: { street: 10, seal: 10, clearance: 10 },
      core: { width: 100, height: 100, clearance: 10 },
      shrink: 1,
      pads: {
        pitch: 40,
        spacing: 5,
        openingSpacing: 9,
        openingInset: 2,
        openingToSeal: { least: 10, most: null },
        toCell: 4,
      },
      rows: { overCircuit: 1, gap: 10, first: 'outer', inset: 10 },
      stems: { width: 10, spacing: 4, layers: ['Metal4', 'Metal5'] },
      corners: { clearance: 50, pitches: [] },
      neighbours: [],
      severities: {},
      waivers: [],
    },
    nets: [...parts.nets.values()],
    sections: [
      { name: 'main', lanes: { VDD: 'VDD', VSS: 'VSS' }, pairs: [{ supply: 'VDD', ground: 'VSS' }] },
    ],
    footprints: parts.footprints,
    die,
    core: { x: 180, y: 180, width: die.width - 360, height: die.height - 360 },
    sides: SIDES.map((side) => ({
      side,
      style: 'inline' as const,
      cells: parts.cells.filter((cell) => cell.side === side).length,
      bondPads: parts.bondPads.filter((pad) => pad.side === side).length,
      length: die.width - 340,
      filled: 0,
    })),
    cells: parts.cells,
    bondPads: parts.bondPads,
    stems: parts.stems,
    rails: parts.rails,
    coreStrips: parts.coreStrips,
    partings: [],
    findings: [],
    summary: {
      roles: {},
      pitches: [],
      area: { die: die.width * die.height, core: 0 },
      limits: { width: 'given', height: 'given' },
    },
  };
}

/** Ring-model section 1: a 75 x 350 cell, mirrored, right side of a die 3000 wide, t 50 to 400, s 1000 to 1075. */
export function handWorkedCell(): Placement {
  const base = sample();
  const [io] = base.footprints;
  const [cell] = base.cells;
  if (!io || !cell) throw new Error('the sample is empty');
  return {
    ...base,
    die: { width: 3000, height: 3000 },
    footprints: [{ ...io, width: 75, height: 350 }],
    cells: [
      {
        ...cell,
        name: 'sda',
        side: 'right',
        x: 2600,
        y: 1000,
        width: 350,
        height: 75,
        rotation: 90,
        mirrored: true,
        origin: { x: 2950, y: 1075 },
      },
    ],
  };
}

const NASTY = [
  'a b',
  'x/y',
  'bus[3]',
  'bus[4]',
  'é',
  '\\',
  '"q"',
  'if',
  '-;-',
  '#1',
  "it's",
  'A',
  'a',
  'a_b',
  '$',
  '*',
];

/** Any number of cells, pads, stems and rails at any place and turn, names of any kind; on the grid. */
export const anyPlacement: fc.Arbitrary<Placement> = fc
  .record({
    names: fc.uniqueArray(fc.oneof(fc.constantFrom(...NASTY), fc.string({ minLength: 1, maxLength: 12 })), {
      minLength: 1,
      maxLength: 12,
    }),
    kinds: fc.uniqueArray(fc.oneof(fc.constantFrom(...NASTY), fc.string({ minLength: 1, maxLength: 40 })), {
      minLength: 1,
      maxLength: 4,
    }),
    grid: fc.constantFrom(0.001, 0.005, 0.0025, 0.05),
    seed: fc.array(
      fc.record({
        x: fc.integer({ min: 0, max: 900_000 }),
        y: fc.integer({ min: 0, max: 900_000 }),
        width: fc.integer({ min: 1, max: 40_000 }),
        height: fc.integer({ min: 1, max: 40_000 }),
        turn: fc.constantFrom(...TURNS),
        mirrored: fc.boolean(),
        side: fc.constantFrom(...SIDES),
        kind: fc.nat(3),
      }),
      { minLength: 12, maxLength: 12 },
    ),
  })
  .map(({ names, kinds, grid, seed }) => {
    const at = (steps: number) => um(Math.round(grid * 1e6) * steps);
    const half = (steps: number) => um((Math.round(grid * 1e6) / 2) * steps);
    const footprints = kinds.map((name, index) =>
      ((shape) => footprint(name, index === 0 ? 'signal' : 'supply', at(shape.width), at(shape.height)))(
        seed[index] ?? { width: 1, height: 1 },
      ),
    );
    const nets = new Map<string, Placement['nets'][number]>(
      names.map((name) => [name, { name, kind: 'signal' }]),
    );
    const cells: Cell[] = [];
    const bondPads: Pad[] = [];
    const stems: Placement['stems'][number][] = [];
    const rails: Placement['rails'][number][] = [];
    names.forEach((name, index) => {
      const shape = seed[index];
      const kind = shape && footprints[shape.kind % footprints.length];
      if (!shape || !kind) return;
      const swapped = shape.turn === 90 || shape.turn === 270;
      const corner = { x: pm(at(shape.x)), y: pm(at(shape.y)) };
      const drawn = { width: pm(kind.width), height: pm(kind.height) };
      const origin = originOf(drawn, shape.mirrored, shape.turn, corner);
      cells.push({
        name,
        footprint: kind.name,
        role: kind.role,
        side: shape.side,
        x: um(corner.x),
        y: um(corner.y),
        width: swapped ? kind.height : kind.width,
        height: swapped ? kind.width : kind.height,
        rotation: shape.turn,
        mirrored: shape.mirrored,
        origin: { x: um(origin.x), y: um(origin.y) },
        section: 'main',
        pins: [name],
      });
      bondPads.push({
        number: index + 1,
        pin: name,
        net: name,
        cell: name,
        landing: 'PAD',
        side: shape.side,
        row: 'single',
        x: half(2 * shape.x + shape.width),
        y: half(2 * shape.y + shape.height),
        width: at(shape.width),
        height: at(shape.height),
        opening: { width: at(shape.width), height: at(shape.height) },
      });
      const box = { x: at(shape.y), y: at(shape.x), width: at(shape.width), height: at(shape.height) };
      stems.push({ bondPad: index + 1, layers: ['Metal4'], ...box });
      rails.push({
        lane: 'VDD',
        net: index % 2 === 0 ? 'VDD' : name,
        closed: false,
        rectangles: [{ layer: 'Metal3', ...box }],
        supplies: [],
        cells: 1,
      });
    });
    nets.set('VDD', { name: 'VDD', kind: 'supply' });
    const box = { layer: 'Metal5', x: at(3), y: at(5), width: at(7), height: at(11) };
    const straps = [{ ...box, cell: 'any', layer: 'Metal4' }];
    const coreStrips = [{ net: names[0] ?? '', layer: 'Metal5', width: at(7), rectangles: [box], straps }];
    const die = { width: at(1_000_000), height: at(1_000_000) };
    return {
      ...assembled({ die, footprints, cells, bondPads, stems, rails, nets, coreStrips }),
      units: { length: 'um' as const, grid },
    };
  });
