/** Random rings for the proofs, once as the model has them and once as the program does. */
import type { Side } from '../../src/geometry/side.ts';
import { units } from '../../src/geometry/units.ts';
import type { Footprint } from '../../src/library/footprint.ts';
import type { Entry, PadKind, Ring, Section } from '../../src/spec/ring.ts';
import { entry, footprint, LANES, ring, SECTION, throughLanes, um } from '../helpers/ring.ts';
import { numbers } from './free-rings.ts';
import type { ModelCell, ModelRules, Um } from './model.ts';

/** Widths, those that may not stand alone below zero; only the first set has a filler of its common step. */
const FILLERS: readonly (readonly number[])[] = [
  [10, 5, 1],
  [7, 4, 3],
  [5, 2],
  [-4, 3],
  [8, 5],
  [9, 5],
  [12, 7],
  [11, 6, -4],
  [13, 7, -6],
  [15, 8, -7],
];

export interface ProofCase {
  readonly rules: ModelRules;
  readonly cells: readonly ModelCell[];
  readonly random: () => number;
}

export interface CaseOptions {
  readonly cells: readonly [least: number, most: number];
  readonly styles: readonly ModelRules['style'][];
  readonly sections: boolean;
  /** Only fillers with which every gap of whole steps is legal. */
  readonly plain?: boolean;
}

/** Cells and rules from a seed: wide cells, cells without pads, pads of two widths, graded corners, least gaps. */
export function proofCase(seed: number, options: CaseOptions): ProofCase {
  const random = numbers(seed);
  for (let i = 0; i < 5; i++) random();
  const pick = <T>(list: readonly T[]): T => {
    const item = list[Math.floor(random() * list.length)];
    if (item === undefined) throw new Error('nothing to pick from');
    return item;
  };
  const between = (least: number, most: number): number => least + Math.floor(random() * (most - least + 1));
  const style = pick(options.styles);
  const width = pick([24, 27, 31, 35, 36]);
  const along = pick([30, 40, 44]);
  const spacing = between(4, 12);
  const two = style !== 'inline';
  const pitch = two ? between(60, 80) : between(40, 62);
  const rules: ModelRules = {
    style,
    first: pick(['outer', 'inner']),
    pitch,
    spacing,
    stem: { width: pick([6, 8, 10]), spacing: between(2, 4) },
    edge: between(40, 60),
    deep: 40,
    rowGap: spacing + between(0, 3),
    toCell: between(2, 4),
    corner: {
      width: pick([180, 185, 200]),
      depth: pick([180, 190]),
      clearance: pick([0, 0, between(250, 420)]),
    },
    grades: pick([
      [],
      [{ pads: 2, pitch: pitch + between(5, 30) }],
      [
        { pads: 3, pitch: pitch + 5 },
        { pads: 1, pitch: pitch + between(10, 40) },
      ],
    ]),
    breakWidth: between(3, 9),
    fillers: (options.plain === true ? [1] : pick(FILLERS)).map((w) => ({
      width: Math.abs(w),
      alone: w > 0,
    })),
  };
  const count = between(...options.cells);
  const border = options.sections && random() < 0.5 ? between(1, count - 1) : count;
  const cells = Array.from({ length: count }, (_, i): ModelCell => {
    const role = random();
    const section = i < border ? 'main' : 'other';
    const own = random() < 0.15 ? along + 20 : along;
    const gap = random() < 0.1 ? between(1, 9) : 0;
    if (role < 0.12) return { width: between(8, 26), gap, at: null, pads: [], section };
    if (role < 0.2) {
      const wide = between(160, 220);
      return {
        width: wide,
        gap,
        at: null,
        section,
        pads: [
          { offset: 40, along },
          { offset: wide - 40, along },
        ],
      };
    }
    const w = random() < 0.2 ? width + between(1, 12) : width;
    return {
      width: w,
      gap,
      at: null,
      section,
      pads: [{ offset: Math.floor(w / 2) + pick([0, 0, 2, -3, 5]), along: own }],
    };
  });
  return { rules, cells, random };
}

const OTHER: Section = {
  ...SECTION,
  name: 'other',
  lanes: new Map(LANES.map((lane) => [lane, lane.endsWith('IO') ? `${lane}_2` : lane.toLowerCase()])),
};

/** The program's ring with some cells on its sides, and the entries that stand for cells of the model. */
export interface ProgramRing {
  readonly ring: Ring;
  readonly entryOf: (cell: ModelCell) => Entry;
}

export function programRing(
  rules: ModelRules,
  sides: Partial<Record<Side, readonly ModelCell[]>>,
): ProgramRing {
  const prints = new Map<string, Footprint>();
  const kinds = new Map<number, PadKind>();
  const kindOf = (along: Um): PadKind => {
    const kind = kinds.get(along) ?? {
      name: `k${along}`,
      along: um(along),
      deep: um(rules.deep),
      opening: { along: um(along - 10), deep: um(rules.deep - 10) },
    };
    kinds.set(along, kind);
    return kind;
  };
  let pins = 0;
  const entryOf = (cell: ModelCell): Entry => {
    const key = `c${cell.width}-${cell.pads.map((pad) => pad.offset).join('-')}`;
    const print =
      prints.get(key) ??
      footprint(key, cell.pads.length === 0 ? 'clamp' : 'macro', 1, {
        width: um(cell.width),
        drawn: { width: um(cell.width), height: um(180) },
        landings: cell.pads.map((pad, k) => ({
          name: `p${k}`,
          at: um(pad.offset),
          feeds: [],
          inside: null,
        })),
      });
    prints.set(key, print);
    const names = cell.pads.map(() => `P${pins++}`);
    return {
      ...entry(print, null),
      pins: names,
      nets: names,
      pad: cell.pads[0] === undefined ? null : kindOf(cell.pads[0].along),
      gap: um(cell.gap),
      at: cell.at === null ? null : um(cell.at),
      section: cell.section,
    };
  };
  const of = (side: Side): readonly Entry[] => (sides[side] ?? []).map(entryOf);
  const entries = { left: of('left'), bottom: of('bottom'), right: of('right'), top: of('top') };
  const corner = footprint('corner', 'corner', 180, {
    width: um(rules.corner.width),
    depth: um(rules.corner.depth),
    padOnTop: true,
  });
  const fillers = rules.fillers.map((f) =>
    footprint(`fill_${f.width}`, 'filler', 1, { width: um(f.width), standsAlone: f.alone }),
  );
  const parting = footprint('part', 'break', 1, {
    width: um(rules.breakWidth),
    lanes: throughLanes('M5', [...LANES]),
  });
  const [street, seal] = [um(Math.floor(rules.edge / 2)), um(0)];
  const made = ring([...prints.values(), corner, ...fillers, parting], rules.style, entries, {
    edge: { street, seal, clearance: units(um(rules.edge) - street) },
    core: { width: um(0), height: um(0), clearance: um(0) },
    pads: {
      pitch: um(rules.pitch),
      spacing: um(rules.spacing),
      openingSpacing: um(0),
      openingInset: um(0),
      openingToSeal: { least: um(0), most: null },
      toCell: um(rules.toCell),
    },
    rows: { overCircuit: 2, gap: um(rules.rowGap), first: rules.first, inset: um(0) },
    stems: { width: um(rules.stem.width), spacing: um(rules.stem.spacing), layers: ['M5'] },
    corners: {
      clearance: um(rules.corner.clearance),
      pitches: rules.grades.map((grade) => ({ pads: grade.pads, pitch: um(grade.pitch) })),
      footprint: corner,
    },
    sections: [SECTION, OTHER],
  });
  return { ring: made, entryOf };
}
