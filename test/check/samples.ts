/**
 * Sound placements of every style, laid by the engine from one invented library that has all that a checker must
 * look at: strips on two layers with one cut at the supplies, drawings for other sides, a stand-in for the vertical
 * sides, several landings, ties, setbacks, demands by section, break cells that cut more or less, a filler that may
 * not stand alone, corner cells that are not square.
 */
import { existsSync, readFileSync } from 'node:fs';
import type { Placement } from '../../src/format/placement.ts';
import type { Side } from '../../src/geometry/side.ts';
import { units } from '../../src/geometry/units.ts';
import type { Footprint, Strip } from '../../src/library/footprint.ts';
import { found } from '../../src/problems/problem.ts';
import { lay, run } from '../../src/run.ts';
import type { Entry, Ring, Section, Style } from '../../src/spec/ring.ts';
import { entry, footprint, LANES, PAD, ring, um } from '../helpers/ring.ts';

/** Two layers a lane; the upper one is narrower, and cut in the supply cells. */
function lanes(cut: readonly string[] = [], upper: Strip['carry'] = 'through'): Footprint['lanes'] {
  return LANES.map((lane, i) => {
    const from = 20 + 32 * i;
    const carry = cut.includes(lane) ? 'cut' : 'through';
    return {
      lane,
      strips: [
        { layer: 'M4', from: um(from), to: um(from + 24), edges: 'both', carry },
        {
          layer: 'M5',
          from: um(from + 2),
          to: um(from + 20),
          edges: 'both',
          carry: carry === 'cut' ? 'cut' : upper,
        },
      ],
    };
  });
}

const CLAMPS = [
  { supply: 'VDD', ground: 'VSS' },
  { supply: 'VDDIO', ground: 'VSSIO' },
];

/** A drawing whose outward edge lies at another side than the bottom. */
function drawnFor(side: Side, f: Footprint): Footprint {
  const flat = side === 'bottom' || side === 'top';
  return {
    ...f,
    drawnFor: side,
    drawn: flat ? { width: f.width, height: f.depth } : { width: f.depth, height: f.width },
  };
}

const LYING = { plain: [0, 180], mirrored: [0, 180] } as const;

/** The invented library; `contains`: its cells hold their bond pads. */
function library(contains: boolean): readonly Footprint[] {
  const inside = contains
    ? {
        t: um(36),
        along: um(52),
        deep: um(60),
        opening: { along: um(44), deep: um(52) },
      }
    : null;
  const pads = (at: readonly number[], feeds: readonly string[] = []): Partial<Footprint> => ({
    landings: at.map((a, k) => ({ name: `p${k}`, at: um(a), feeds, inside })),
    lanes: lanes(),
    padOnTop: true,
  });
  return [
    footprint('sig', 'signal', 60, { ...pads([30]), turns: LYING, onVertical: 'sig_v' }),
    drawnFor('left', footprint('sig_v', 'signal', 60, { ...pads([30]), turns: LYING })),
    drawnFor('top', footprint('skew', 'analog', 62, { ...pads([28]), needs: ['start'] })),
    ...LANES.map((lane) =>
      footprint(`sup_${lane.toLowerCase()}`, 'supply', 60, {
        ...pads([30], [lane]),
        lanes: lanes([], 'cut'),
        clamps: CLAMPS,
      }),
    ),
    footprint('wide', 'supply', 200, { ...pads([40, 160], ['VSSIO']), clamps: CLAMPS }),
    footprint('both', 'supply', 60, { ...pads([30], ['VSS', 'VSSIO']), ties: [['VSS', 'VSSIO']] }),
    footprint('clamp', 'clamp', 24, { landings: [], lanes: lanes(), clamps: CLAMPS, padOnTop: true }),
    footprint('start', 'control', 18, {
      landings: [],
      lanes: lanes(),
      perSection: { least: 1, most: 1 },
      padOnTop: true,
      signals: [
        { name: 'en', direction: 'input' },
        { name: 'ok', direction: 'output' },
      ],
    }),
    footprint('block', 'macro', 150, {
      landings: [],
      lanes: lanes(),
      depth: um(260),
      setback: um(0),
      padOnTop: true,
    }),
    footprint('part_all', 'break', 6, { lanes: lanes(LANES), padOnTop: true, diodes: ['VSS'] }),
    footprint('part_core', 'break', 6, { lanes: lanes(['VDD', 'VSS']), padOnTop: true }),
    ...[20, 6, 5, 1].map((width) =>
      footprint(`fill_${width}`, 'filler', width, { lanes: lanes(), padOnTop: true }),
    ),
    footprint('fill_half', 'filler', 0.5, { lanes: lanes(), padOnTop: true, standsAlone: false }),
    footprint('corner', 'corner', 210, { depth: um(196), lanes: lanes(), padOnTop: false }),
  ];
}

const SECTIONS: readonly Section[] = [
  { name: 'main', nets: ['vdd', 'vss', 'vddio', 'vssio'] },
  { name: 'quiet', nets: ['avdd', 'avss', 'vddio', 'vssio'] },
  { name: 'drive', nets: ['vdd', 'hvss', 'hvdd', 'hvss'] },
].map(({ name, nets }) => ({
  name,
  lanes: new Map(LANES.map((lane, i) => [lane, nets[i] ?? ''])),
  pairs: CLAMPS,
}));

/** One side's cells of one section, in order. */
type Row = readonly (readonly [section: string, cells: readonly string[]])[];

const ROWS: Readonly<Record<Side, Row>> = {
  left: [['main', ['sig', 'sup_vdd', 'sup_vss', 'skew', 'sig', 'sig', 'sup_vddio', 'sup_vssio']]],
  bottom: [
    ['main', ['sig', 'start', 'sig', 'wide', 'sig']],
    ['quiet', ['sup_vdd', 'sup_vss', 'skew', 'start', 'sup_vddio', 'sig', 'clamp', 'sig']],
  ],
  right: [['quiet', ['sig', 'wide', 'sig', 'skew', 'sup_vddio', 'sig', 'sig', 'clamp', 'sig']]],
  top: [
    ['drive', ['sup_vdd', 'sig', 'both', 'sig', 'sup_vddio', 'sig', 'start', 'skew', 'block', 'wide']],
    ['main', ['sig', 'sig', 'wide', 'sig']],
  ],
};

export interface Sample {
  readonly name: string;
  readonly placement: Placement;
}

type Styles = Readonly<Record<Side, Style>>;

const all = (style: Style): Styles => ({ left: style, bottom: style, right: style, top: style });

function ringOf(name: string, styles: Styles, more: Partial<Ring>): Ring {
  const plain = new Map(library(false).map((f) => [f.name, f]));
  const containing = new Map(
    library(true)
      .map((f) => (f.landings.length > 0 ? { ...f, name: `${f.name}_in` } : f))
      .map((f) => [f.name, f]),
  );
  for (const f of [...containing.values()])
    if (f.onVertical !== null) containing.set(f.name, { ...f, onVertical: `${f.onVertical}_in` });
  let pins = 0;
  const sideOf = (side: Side): Ring['sides'][Side] => {
    const style = styles[side];
    const vertical = side === 'left' || side === 'right';
    const pick = (wanted: string): Footprint => {
      const known = (key: string): Footprint | undefined =>
        style === 'in-cell' ? (containing.get(`${key}_in`) ?? containing.get(key)) : plain.get(key);
      const f = known(wanted === 'sig' && vertical ? 'sig_v' : wanted);
      if (f === undefined) throw new Error(`no footprint ${wanted}`);
      return f;
    };
    const entries = ROWS[side].flatMap(([section, cells]): Entry[] => {
      const nets = SECTIONS.find((s) => s.name === section)?.lanes;
      return cells.map((cell, k) => {
        const f = pick(cell);
        const names = f.landings.map(() => `P${++pins}`);
        return {
          ...entry(f, null),
          pins: names,
          nets: f.landings.map((l, i) => nets?.get(l.feeds[0] ?? '') ?? names[i] ?? ''),
          section,
          pad: f.landings.length > 0 && style !== 'in-cell' ? PAD : null,
          mirrored: k % 4 === 3,
          ...(k === 4 && f.landings.length === 1 && style === 'inline' ? { shift: um(2) } : {}),
          ...(cell === 'start' ? { tied: { en: 1 as const } } : {}),
        };
      });
    });
    return { style, slack: 'shared', entries };
  };
  const footprints = [...new Map([...plain, ...containing]).values()];
  const base = ring(footprints, 'inline', {});
  return {
    ...base,
    name,
    grid: um(0.5),
    core: { width: um(200), height: um(200), clearance: um(10) },
    pads: {
      ...base.pads,
      pitch: um(64),
      spacing: um(4),
      openingSpacing: um(9),
      openingToSeal: { least: um(8), most: um(300) },
    },
    corners: { ...base.corners, clearance: um(150), pitches: [{ pads: 2, pitch: um(90) }] },
    fillers: footprints.filter((f) => f.role === 'filler'),
    breaks: footprints.filter((f) => f.role === 'break'),
    sections: SECTIONS,
    sides: { left: sideOf('left'), bottom: sideOf('bottom'), right: sideOf('right'), top: sideOf('top') },
    neighbours: [
      { kind: 'together', pins: ['P2', 'P3'] },
      { kind: 'apart', pins: ['P1'], from: ['P20', 'P21'], distance: um(100) },
      { kind: 'beside-ground', nets: ['avdd'] },
      { kind: 'signals-between-grounds', most: 40, sections: ['main', 'quiet', 'drive'] },
    ],
    ...more,
  };
}

const MIXED: Styles = { left: 'inline', bottom: 'staggered', right: 'over-circuit', top: 'in-cell' };

const RINGS: readonly Ring[] = [
  ringOf('inline', all('inline'), {}),
  ringOf('staggered', all('staggered'), {}),
  ringOf('over circuit, two rows', all('over-circuit'), {
    rows: { overCircuit: 2, gap: um(12), first: 'inner', inset: um(4) },
    numbering: { side: 'right', end: 'last', direction: 'clockwise' },
  }),
  ringOf('over circuit, one row', all('over-circuit'), {
    rows: { overCircuit: 1, gap: um(12), first: 'outer', inset: um(20) },
  }),
  ringOf('in cell', all('in-cell'), {
    numbering: { side: 'bottom', end: 'first', direction: 'counter-clockwise' },
  }),
  ringOf('mixed', MIXED, { grid: units(500_000) }),
];

const DEMONSTRATIONS = ['tide-gauge/ring.yaml', 'frost-hub/ring.yaml', 'lamp-controller/ring.yaml'];
const ON_OPEN_LIBRARIES = ['open-130/inline.ring.yaml', 'open-130/staggered.ring.yaml', 'open-180/ring.yaml'];

/**
 * The rings of the demonstrations, and those of the two open libraries where these are there; that they are not is
 * said aloud, and is an error in CI.
 */
export function demonstrations(): readonly Sample[] {
  const open = existsSync('../shared/open-io-cells');
  if (!open) {
    const said = 'the open libraries are not there: their rings are left out here';
    if (process.env.CI) throw new Error(said);
    console.warn(said);
  }
  return [...DEMONSTRATIONS, ...(open ? ON_OPEN_LIBRARIES : [])].map((name) => {
    const outcome = run((path) => found(readFileSync(path, 'utf8')), `fixtures/${name}`);
    if (outcome.kind !== 'laid') throw new Error(outcome.problems.map((p) => p.message).join('\n'));
    return { name, placement: outcome.placement };
  });
}

/** One sound placement of each style, and one of four styles. */
export function samples(): readonly Sample[] {
  return RINGS.map((spec) => {
    const outcome = lay(spec);
    if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.message).join('\n'));
    return { name: spec.name, placement: outcome.value };
  });
}
