/**
 * Random rings whose pins are not bound to sides: awkward fillers, wide and padless cells, pads of several sizes, rows
 * chosen by hand, graded corners, fixed cells, sections, groups, sides that a cell may not lie on, cores and wishes.
 */
import { SIDES, type Side } from '../../src/geometry/side.ts';
import type { Footprint } from '../../src/library/footprint.ts';
import type { DieWish, Order, OrderedCell, OrderGroup } from '../../src/spec/order.ts';
import type { Entry, PadKind, Ring, Section, Style } from '../../src/spec/ring.ts';
import { entry, footprint, LANES, library, PAD, ring, SECTION, um } from '../helpers/ring.ts';

/** A source of numbers from 0 up to 1, the same for the same seed. */
export function numbers(seed: number): () => number {
  let state = (seed * 2654435761 + 12345) >>> 0;
  return () => {
    state = (state * 1664525 + 1013904223) >>> 0;
    return state / 0x100000000;
  };
}

export type FillerWidths = readonly (readonly [width: number, standsAlone: boolean])[];

/** Sets with a filler of the step that may stand alone, and sets that leave lengths out. */
export const PLAIN: readonly FillerWidths[] = [
  [[1, true]],
  [
    [5, true],
    [1, true],
  ],
  [[0.5, true]],
];
export const AWKWARD: readonly FillerWidths[] = [
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
    [4, false],
    [3, true],
  ],
];

/** Every gap of whole steps is legal, but cells are not whole steps wide: their widths leave 2 of 3 or 3, 0 and 1 of 4. */
export const COARSE: readonly FillerWidths[] = [
  [
    [6, true],
    [3, true],
  ],
  [[4, true]],
];

export const fillerCells = (widths: FillerWidths): readonly Footprint[] =>
  widths.map(([width, standsAlone]) =>
    footprint(`fill_${width}`.replace('.', '_'), 'filler', width, { standsAlone }),
  );

const kind = (name: string, along: number, deep: number): PadKind => ({
  name,
  along: um(along),
  deep: um(deep),
  opening: { along: um(along - 10), deep: um(deep - 10) },
});
const KINDS: readonly PadKind[] = [PAD, kind('wide', 90, 70), kind('deep', 40, 100)];

const OTHER: Section = {
  ...SECTION,
  name: 'other',
  lanes: new Map(LANES.map((lane) => [lane, lane.endsWith('IO') ? `${lane}_2` : lane.toLowerCase()])),
};

const pairFrom = (first: number, n: number): readonly number[] => [first, (first + 1) % n];

export interface FreeOptions {
  /** How many cells at the least and at the most. */
  readonly cells: readonly [number, number];
  /** Whether fillers leave lengths out; null: some do. */
  readonly awkward: boolean | null;
  /** Sets to choose from in place of those. */
  readonly fillers?: readonly FillerWidths[];
  readonly styles?: readonly Style[];
}

/** A ring with an order to cut. */
export type FreeRing = Ring & { readonly order: Order };

export function freeRing(seed: number, options: FreeOptions): FreeRing {
  const random = numbers(seed);
  const chance = (share: number): boolean => random() < share;
  const pick = <T>(list: readonly [T, ...T[]] | readonly T[]): T => {
    const item = list[Math.floor(random() * list.length)];
    if (item === undefined) throw new Error('nothing to pick from');
    return item;
  };
  const [least, most] = options.cells;
  const n = least + Math.floor(random() * (most - least + 1));
  const awkward = options.awkward ?? chance(0.4);
  const bare = footprint('bare', 'clamp', 20, { padOnTop: chance(0.5) });
  const macro = footprint('macro', 'macro', 200, {
    landings: [
      { name: 'a', at: um(40), feeds: [], inside: null },
      { name: 'b', at: um(150), feeds: [], inside: null },
    ],
    padOnTop: chance(0.5),
    depth: um(pick([180, 180, 400])),
  });
  const cells = [
    ...library(35, []),
    ...fillerCells(pick(options.fillers ?? (awkward ? AWKWARD : PLAIN))),
    bare,
    macro,
  ];
  const io = cells[0] ?? bare;
  const kinds = chance(0.5) ? [PAD] : chance(0.15) ? [...KINDS, kind('huge', pick([300, 500]), 70)] : KINDS;
  const sections = chance(0.3) ? [SECTION, OTHER] : [SECTION];
  const border = Math.floor(random() * n);
  const bound = chance(0.3);
  const chosen = Array.from({ length: n }, (_, i): OrderedCell => {
    const role = random();
    const section = i >= border ? (sections.at(-1)?.name ?? 'main') : 'main';
    const more: Partial<Entry> = {
      pad: pick(kinds),
      section,
      row: chance(0.1) ? pick(['outer', 'inner'] as const) : null,
      shift: um(pick([0, 0, 3, -4])),
      gap: um(pick([0, 0, 0, 7])),
      mirrored: chance(0.3),
      place: { file: 'ring.yaml', line: 10 + i, column: 3 },
    };
    let sides: readonly Side[] = bound && chance(0.4) ? SIDES.filter(() => chance(0.5)) : SIDES;
    const fixed = chance(0.04) ? { at: um(pick([420, 500, 610])) } : {};
    if (sides.length === 0 || 'at' in fixed) sides = [pick(SIDES)];
    const standing = (): Entry => {
      if (role < 0.75) return entry(io, `p${i}`, { ...more, ...fixed });
      if (role < 0.9) return entry(bare, null, { ...more, pad: null, ...fixed });
      return entry(macro, `a${i}`, { ...more, pins: [`a${i}`, `b${i}`], nets: [`a${i}`, `b${i}`], ...fixed });
    };
    return { on: Object.fromEntries(sides.map((side) => [side, standing()])) };
  });
  const groups: readonly OrderGroup[] = chance(0.3)
    ? [
        {
          name: 'pair',
          cells: pairFrom(Math.floor(random() * n), n),
          sides: SIDES,
          whole: true,
          place: { file: 'ring.yaml', line: 5, column: 3 },
        },
      ]
    : [];
  const square = cells.find((cell) => cell.role === 'corner') ?? bare;
  const corner = {
    ...square,
    padOnTop: chance(0.5),
    ...(chance(0.2) ? { width: um(150), depth: um(220) } : {}),
  };
  const wishes: readonly DieWish[] = [
    { width: um(pick([900, 1000, 1111])), height: null, aspect: null, least: 'side' },
    { width: null, height: um(1000), aspect: null, least: 'side' },
    { width: null, height: null, aspect: pick([1, 1.3, 2]), least: pick(['side', 'area'] as const) },
    { width: null, height: null, aspect: null, least: 'area' },
  ];
  const style = pick(options.styles ?? (['inline', 'staggered', 'over-circuit'] as const));
  const mixed = options.styles === undefined && chance(0.2);
  const styleOf = (): Style => (mixed ? pick(['inline', 'staggered', 'over-circuit'] as const) : style);
  const large = chance(0.3);
  const plain = ring(
    cells,
    style,
    {},
    {
      core: {
        width: um(large ? pick([700, 300]) : 100),
        height: um(large ? pick([100, 400, 700]) : 100),
        clearance: um(10),
      },
      corners: {
        clearance: um(pick([0, 300])),
        pitches: pick([
          [],
          [],
          [{ pads: 2, pitch: um(110) }],
          [
            { pads: 3, pitch: um(90) },
            { pads: 1, pitch: um(130) },
          ],
        ]),
        footprint: corner,
      },
      rows: {
        overCircuit: pick([1, 2] as const),
        gap: um(pick([2, 12])),
        first: pick(['outer', 'inner'] as const),
        inset: um(5),
      },
      sections,
      die: chance(0.08) ? { width: um(pick([900, 1100, 1300])), height: um(pick([900, 1150, 1300])) } : null,
      ...(chance(0.25) ? { dieWish: pick(wishes) } : {}),
    },
  );
  const spec = (side: Side): Ring['sides'][Side] => ({ ...plain.sides[side], style: styleOf() });
  return {
    ...plain,
    sides: { left: spec('left'), bottom: spec('bottom'), right: spec('right'), top: spec('top') },
    order: { cells: chosen, groups },
  };
}
