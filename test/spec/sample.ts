/** A small invented cell library and a ring on it that every test of the spec changes in one place. */
import { exactUnits, type Units } from '../../src/geometry/units.ts';
import type { Footprint, FootprintLane, Landing, Library, Role } from '../../src/library/footprint.ts';
import { failed, found, type Outcome, type Problem } from '../../src/problems/problem.ts';
import { parseRing } from '../../src/spec/parse.ts';
import type { Ring } from '../../src/spec/ring.ts';
import type { KnownRule } from '../../src/spec/rule-names.ts';

export const um = (micrometres: number): Units => {
  const exact = exactUnits(micrometres);
  if (exact === undefined) throw new Error(`${micrometres} um is no whole number of units`);
  return exact;
};

export const LANES = ['VDD', 'VSS', 'VDDIO', 'VSSIO'] as const;

const through = (lanes: readonly string[], cut: readonly string[] = []): readonly FootprintLane[] =>
  lanes.map((lane, i) => ({
    lane,
    strips: [
      {
        layer: 'M4',
        from: um(20 * i),
        to: um(20 * i + 15),
        edges: 'both',
        carry: cut.includes(lane) ? 'cut' : 'through',
      },
    ],
  }));

export const landing = (at: number, feeds: readonly string[] = [], name = 'pad'): Landing => ({
  name,
  at: um(at),
  feeds,
  inside: null,
});

const inCell = (at: number, feeds: readonly string[] = []): Landing => ({
  ...landing(at, feeds),
  inside: {
    t: um(40),
    along: um(60),
    deep: um(60),
    opening: { along: um(50), deep: um(50) },
  },
});

export function footprint(name: string, role: Role, width: number, more: Partial<Footprint> = {}): Footprint {
  return {
    name,
    role,
    drawn: { width: um(width), height: um(180) },
    drawnFor: 'bottom',
    width: um(width),
    depth: um(180),
    setback: um(0),
    landings: [],
    lanes: through(LANES),
    ties: [],
    clamps: [],
    diodes: [],
    standsAlone: true,
    padOnTop: true,
    turns: { plain: [0, 90, 180, 270], mirrored: [0, 90, 180, 270] },
    onVertical: null,
    perSection: null,
    needs: [],
    ...more,
  };
}

const CELLS: readonly Footprint[] = [
  footprint('io_bi', 'signal', 60, {
    landings: [landing(30)],
    signals: [
      { name: 'enable', direction: 'input' },
      { name: 'value', direction: 'output' },
    ],
  }),
  footprint('io_in', 'signal', 60, { landings: [landing(30)], padOnTop: false }),
  footprint('io_odd', 'signal', 60, { landings: [landing(30.0025)] }),
  footprint('io_side', 'signal', 60, { landings: [landing(30)], onVertical: 'io_upright' }),
  footprint('io_upright', 'signal', 70, { landings: [landing(35)] }),
  footprint('io_full', 'signal', 75, { landings: [inCell(37.5)] }),
  footprint('vdd_full', 'supply', 75, { landings: [inCell(37.5, ['VDD'])] }),
  ...LANES.map((lane) =>
    footprint(`pw_${lane.toLowerCase()}`, 'supply', 60, { landings: [landing(30, [lane])] }),
  ),
  footprint('wide_vdd', 'supply', 140, {
    landings: [landing(35, ['VDD'], 'west'), landing(105, ['VDD'], 'east')],
  }),
  footprint('clamp', 'clamp', 40, { clamps: [{ supply: 'VDDIO', ground: 'VSSIO' }] }),
  footprint('off', 'clamp', 40.0025),
  footprint('brk5', 'break', 5, { lanes: through(LANES, ['VDD', 'VDDIO']) }),
  footprint('fill10', 'filler', 10),
  footprint('fill1', 'filler', 1),
  footprint('fill10_up', 'filler', 10),
  footprint('corner', 'corner', 180),
  footprint('strange', 'signal', 60, { landings: [landing(30)], lanes: through([...LANES, 'VREF']) }),
];

export const LIBRARY: Library = {
  name: 'sample',
  footprints: new Map(CELLS.map((cell) => [cell.name, cell])),
};

/** The library with some cells changed or added. */
export function libraryWith(...changed: readonly Footprint[]): Library {
  const footprints = new Map(LIBRARY.footprints);
  for (const cell of changed) footprints.set(cell.name, cell);
  return { name: 'sample', footprints };
}

export { CELLS };

export const RULES: readonly KnownRule[] = [
  { name: 'break-needless', severity: 'warning' },
  { name: 'clamp-missing', severity: 'error' },
  { name: 'pad-pitch', severity: 'error' },
];

/** One section, all sides inline. */
export const PLAIN_RING = `ring: sample
cells: cells.yaml
die: {width: 2000, height: 1800}
edge: {street: 40}
bondPads:
  kinds:
    plain: {along: 60, deep: 70, opening: {along: 50, deep: 60}}
  pitch: 70
  spacing: 10
  toCell: 5
stems: {width: 12, layers: [M5]}
sections:
  main:
    lanes: {VDD: vdd, VSS: vss, VDDIO: vddio, VSSIO: vssio}
    pairs:
      - {supply: VDDIO, ground: VSSIO}
sides:
  left:
    - {pin: A0, cell: io_bi}
    - {pin: A1, cell: io_bi}
    - {cell: clamp}
  bottom:
    - {pin: VDD, cell: pw_vdd}
    - {pin: VSS, cell: pw_vss}
  right:
    - {pin: VDDIO, cell: pw_vddio}
  top:
    - {pin: VSSIO, cell: pw_vssio}
`;

/** A text with one piece exchanged; the piece must be there. */
export function changed(text: string, ...swaps: readonly (readonly [string, string])[]): string {
  let result = text;
  for (const [from, to] of swaps) {
    if (!result.includes(from)) throw new Error(`the text has no "${from}"`);
    result = result.replace(from, () => to);
  }
  return result;
}

export interface Given {
  readonly library?: Library;
  /** Other files, such as a pin list. */
  readonly files?: Readonly<Record<string, string>>;
}

/** The outcome of a description. */
export function outcomeOf(text: string, { library = LIBRARY, files = {} }: Given = {}): Outcome<Ring> {
  return parseRing(text, 'ring.yaml', {
    readFile: (path) => {
      const file = Object.hasOwn(files, path) ? files[path] : undefined;
      return file === undefined
        ? failed({ code: 'no-such-file', message: `there is no ${path}` })
        : found(file);
    },
    readLibrary: () => found(library),
    knownRules: RULES,
  });
}

/** The ring of a description that must be sound. */
export function ringOf(text: string, given?: Given): Ring {
  const outcome = outcomeOf(text, given);
  if (!outcome.ok) throw new Error(outcome.problems.map(brief).join('\n'));
  return outcome.value;
}

/** What stands against a description, each as `line:column code`; empty if nothing. */
export function problemsOf(text: string, given?: Given): readonly string[] {
  const outcome = outcomeOf(text, given);
  return outcome.ok ? [] : outcome.problems.map(brief);
}

export const brief = (problem: Problem): string =>
  `${problem.place ? `${problem.place.file === 'ring.yaml' ? '' : `${problem.place.file}:`}${problem.place.line}:${problem.place.column}` : '-'} ${problem.code}`;
