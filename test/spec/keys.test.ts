/**
 * Shows that no key of a ring description is accepted and ignored: for each key that the schema has, a change of it
 * changes the resolved ring, to the value that is asked for here. The list of keys comes from the schema, so a new key
 * without a line in the table fails. Source of the values: the descriptions themselves; 70 and 10 on silicon at 0.9 are
 * 77.777778 and 11.111112 drawn, by hand and rounded up to a picometre.
 */
import { describe, expect, test } from 'vitest';
import type { Placement } from '../../src/format/placement.ts';
import { micrometres } from '../../src/geometry/units.ts';
import { failed, found } from '../../src/problems/problem.ts';
import { lay } from '../../src/run.ts';
import { parseRing } from '../../src/spec/parse.ts';
import type { Entry, Ring } from '../../src/spec/ring.ts';
import { ringJsonSchema } from '../../src/spec/schema.ts';
import { chosenFormats, layoutFiles } from '../../src/write/layout/index.ts';
import { ELECTRICAL_KEYS } from './electrical-keys.ts';
import { LAYOUT_KEYS } from './layout-keys.ts';
import { ORDER_TELLING, orderKeys } from './order-keys.ts';
import { PACKAGE, PACKAGE_KEYS } from './package-keys.ts';
import { changed, footprint, type Given, LIBRARY, libraryWith, PLAIN_RING, ringOf, um } from './sample.ts';

type Swap = readonly [string, string];

interface Change {
  /** What is exchanged in the description. */
  readonly swap: readonly (readonly [string, string])[];
  /** Exchanged beforehand, where the plain ring has no use for the key. */
  readonly before?: readonly (readonly [string, string])[];
  readonly given?: Given;
  readonly read: (ring: Ring) => unknown;
  readonly becomes: unknown;
}

const STAGGERED = ['edge: {street: 40}', 'edge: {street: 40}\nstyle: staggered'] as const;
const OVER = ['edge: {street: 40}', 'edge: {street: 40}\nstyle: over-circuit'] as const;
const NO_STEMS = ['stems: {width: 12, layers: [M5]}\n', ''] as const;
const NO_GAP = ['  toCell: 5\n', ''] as const;
const A0 = '{pin: A0, cell: io_bi}';
const WIDE = [A0, '{pins: {west: VDD, east: VDD}, cell: wide_vdd}'] as const;
const TWO_SECTIONS = [
  [
    'sections:\n',
    'sections:\n  io:\n    lanes: {VDD: vdd2, VSS: vss, VDDIO: vddio, VSSIO: vssio}\n    pairs: [{supply: VDD, ground: VSS}]\n',
  ],
  ...[
    'A0, cell: io_bi',
    'A1, cell: io_bi',
    '{cell: clamp',
    'VDD, cell: pw_vdd',
    'VSS, cell: pw_vss',
    'VDDIO, cell: pw_vddio',
  ].map((cell) => [`${cell}}`, `${cell}, section: main}`] as const),
  ['VSSIO, cell: pw_vssio}', 'VSSIO, cell: pw_vssio, section: io}'],
] as const satisfies readonly (readonly [string, string])[];

const end = (text: string): readonly [string, string] => ['sides:\n', `${text}\nsides:\n`];
const first = (ring: Ring): Entry => {
  const entry = ring.sides.left.entries[0];
  if (entry === undefined) throw new Error('the left side is empty');
  return entry;
};
const names = (cells: readonly { readonly name: string }[]): readonly string[] =>
  cells.map((cell) => cell.name);
/** The first cell of a side, with something more said about it. */
const entry = (more: string): readonly (readonly [string, string])[] => [
  [A0, `{pin: A0, cell: io_bi, ${more}}`],
];

const plain = (from: string, to: string, read: (ring: Ring) => unknown, becomes: unknown): Change => ({
  swap: [[from, to]],
  read,
  becomes,
});

const SPACING_LINE = '  spacing: 10\n';
const limit = (more: string, read: (ring: Ring) => unknown, becomes: unknown): Change =>
  plain(SPACING_LINE, `${SPACING_LINE}  ${more}\n`, read, becomes);

const ENTRY: Readonly<Record<string, Change>> = {
  pin: plain(A0, '{pin: B0, cell: io_bi}', (r) => [first(r).pins, first(r).nets], [['B0'], ['B0']]),
  'pins.*': {
    before: [WIDE],
    swap: [['east: VDD', 'east: VDDE']],
    read: (r) => first(r).pins,
    becomes: ['VDD', 'VDDE'],
  },
  cell: plain(A0, '{pin: A0, cell: io_in}', (r) => first(r).footprint.name, 'io_in'),
  section: {
    before: TWO_SECTIONS,
    swap: [['A0, cell: io_bi, section: main', 'A0, cell: io_bi, section: io']],
    read: (r) => first(r).section,
    becomes: 'io',
  },
  net: { swap: entry('net: data'), read: (r) => first(r).nets, becomes: ['data'] },
  'nets.*': {
    before: [[A0, '{pins: {a: A0, b: B0}, cell: macro}']],
    swap: [['cell: macro}', 'cell: macro, nets: {b: data}}']],
    given: {
      library: libraryWith(
        footprint('macro', 'macro', 200, {
          landings: [
            { name: 'a', at: um(50), feeds: [], inside: null },
            { name: 'b', at: um(150), feeds: [], inside: null },
          ],
        }),
      ),
    },
    read: (r) => first(r).nets,
    becomes: ['A0', 'data'],
  },
  at: { swap: entry('at: 500'), read: (r) => first(r).at, becomes: um(500) },
  gap: { swap: entry('gap: 10'), read: (r) => first(r).gap, becomes: um(10) },
  row: { before: [STAGGERED], swap: entry('row: inner'), read: (r) => first(r).row, becomes: 'inner' },
  shift: { swap: entry('shift: -2.5'), read: (r) => first(r).shift, becomes: um(-2.5) },
  mirrored: { swap: entry('mirrored: true'), read: (r) => first(r).mirrored, becomes: true },
  bondPad: { swap: entry('bondPad: none'), read: (r) => first(r).pad, becomes: null },
  'tied.*': { swap: entry('tied: {enable: 1}'), read: (r) => first(r).tied, becomes: { enable: 1 } },
};

const edgeOf = (key: 'street' | 'seal' | 'clearance', to: string): Change =>
  plain(
    'edge: {street: 40}',
    `edge: {street: 40, ${key}: 7}`.replace('street: 40, street', 'street'),
    (r) => r.edge[key],
    um(Number(to)),
  );

const bySide = (
  key: 'style' | 'slack',
  word: string,
  before: readonly (readonly [string, string])[],
): Record<string, Change> => ({
  [key]: {
    before,
    swap: [end(`${key}: ${word}`)],
    read: (r) => Object.values(r.sides).map((s) => s[key]),
    becomes: [word, word, word, word],
  },
  [`${key}.default`]: {
    swap: [end(`${key}: {default: ${word}, left: ${key === 'style' ? 'inline' : 'shared'}}`)],
    read: (r) => [r.sides.left[key], r.sides.bottom[key], r.sides.right[key], r.sides.top[key]],
    becomes: [key === 'style' ? 'inline' : 'shared', word, word, word],
  },
  ...Object.fromEntries(
    (['left', 'bottom', 'right', 'top'] as const).map((side): [string, Change] => [
      `${key}.${side}`,
      { swap: [end(`${key}: {${side}: ${word}}`)], read: (r) => r.sides[side][key], becomes: word },
    ]),
  ),
});

const TABLE: Readonly<Record<string, Change>> = {
  ring: plain('ring: sample', 'ring: other', (r) => r.name, 'other'),
  grid: plain('ring: sample', 'ring: sample\ngrid: 0.5', (r) => r.grid, um(0.5)),
  shrink: plain(
    'ring: sample',
    'ring: sample\nshrink: 0.9',
    (r) => [r.shrink, r.pads.pitch, r.pads.spacing, micrometres(first(r).pad?.along ?? um(0))],
    [0.9, um(77.777778), um(11.111112), 60],
  ),
  die: plain('die: {width: 2000, height: 1800}', 'die: fit', (r) => r.die, null),
  'edge.street': edgeOf('street', '7'),
  'edge.seal': edgeOf('seal', '7'),
  'edge.clearance': edgeOf('clearance', '7'),
  'core.width': { swap: [end('core: {width: 900}')], read: (r) => r.core.width, becomes: um(900) },
  'core.height': { swap: [end('core: {height: 900}')], read: (r) => r.core.height, becomes: um(900) },
  'core.clearance': { swap: [end('core: {clearance: 9}')], read: (r) => r.core.clearance, becomes: um(9) },
  ...bySide('style', 'over-circuit', [NO_STEMS, NO_GAP]),
  ...bySide('slack', 'after', []),
  'bondPads.kinds.*.along': plain('along: 60', 'along: 64', (r) => first(r).pad?.along, um(64)),
  'bondPads.kinds.*.deep': plain('deep: 70', 'deep: 74', (r) => first(r).pad?.deep, um(74)),
  'bondPads.kinds.*.opening.along': plain(
    'along: 50',
    'along: 52',
    (r) => first(r).pad?.opening.along,
    um(52),
  ),
  'bondPads.kinds.*.opening.deep': plain('deep: 60', 'deep: 62', (r) => first(r).pad?.opening.deep, um(62)),
  'bondPads.pitch': plain('pitch: 70', 'pitch: 80', (r) => r.pads.pitch, um(80)),
  'bondPads.spacing': plain('spacing: 10', 'spacing: 8', (r) => r.pads.spacing, um(8)),
  'bondPads.openingSpacing': limit('openingSpacing: 15', (r) => r.pads.openingSpacing, um(15)),
  'bondPads.openingInset': limit('openingInset: 2', (r) => r.pads.openingInset, um(2)),
  'bondPads.openingToSeal.least': limit(
    'openingToSeal: {least: 20}',
    (r) => r.pads.openingToSeal.least,
    um(20),
  ),
  'bondPads.openingToSeal.most': limit(
    'openingToSeal: {most: 200}',
    (r) => r.pads.openingToSeal.most,
    um(200),
  ),
  'bondPads.toCell': plain('toCell: 5', 'toCell: 6', (r) => r.pads.toCell, um(6)),
  'rows.overCircuit': {
    before: [OVER, NO_STEMS, NO_GAP],
    swap: [end('rows: {overCircuit: 2}')],
    read: (r) => r.rows.overCircuit,
    becomes: 2,
  },
  'rows.gap': {
    before: [STAGGERED],
    swap: [end('rows: {gap: 14}')],
    read: (r) => r.rows.gap,
    becomes: um(14),
  },
  'rows.first': {
    before: [STAGGERED],
    swap: [end('rows: {first: inner}')],
    read: (r) => r.rows.first,
    becomes: 'inner',
  },
  'rows.inset': {
    before: [OVER, NO_STEMS, NO_GAP],
    swap: [end('rows: {inset: 12}')],
    read: (r) => r.rows.inset,
    becomes: um(12),
  },
  'stems.width': plain('width: 12, layers', 'width: 10, layers', (r) => r.stems.width, um(10)),
  'stems.spacing': plain('{width: 12, ', '{width: 12, spacing: 4, ', (r) => r.stems.spacing, um(4)),
  'stems.layers[]': plain('[M5]', '[M4, M5]', (r) => r.stems.layers, ['M4', 'M5']),
  'corners.cell': {
    given: { library: libraryWith(footprint('corner', 'corner', 180), footprint('round', 'corner', 190)) },
    before: [end('corners: {cell: corner}')],
    swap: [['cell: corner', 'cell: round']],
    read: (r) => r.corners.footprint.name,
    becomes: 'round',
  },
  'corners.clearance': {
    swap: [end('corners: {clearance: 150}')],
    read: (r) => r.corners.clearance,
    becomes: um(150),
  },
  'corners.pitches[].pads': {
    before: [end('corners: {pitches: [{pads: 3, pitch: 90}]}')],
    swap: [['pads: 3', 'pads: 4']],
    read: (r) => r.corners.pitches,
    becomes: [{ pads: 4, pitch: um(90) }],
  },
  'corners.pitches[].pitch': {
    before: [end('corners: {pitches: [{pads: 3, pitch: 90}]}')],
    swap: [['pitch: 90', 'pitch: 95']],
    read: (r) => r.corners.pitches,
    becomes: [{ pads: 3, pitch: um(95) }],
  },
  'numbering.side': { swap: [end('numbering: {side: top}')], read: (r) => r.numbering.side, becomes: 'top' },
  'numbering.end': { swap: [end('numbering: {end: last}')], read: (r) => r.numbering.end, becomes: 'last' },
  'numbering.direction': {
    swap: [end('numbering: {direction: clockwise}')],
    read: (r) => r.numbering.direction,
    becomes: 'clockwise',
  },
  'fillers[]': { swap: [end('fillers: [fill1]')], read: (r) => names(r.fillers), becomes: ['fill1'] },
  'breaks[]': {
    before: TWO_SECTIONS,
    given: { library: libraryWith(footprint('brk2', 'break', 2)) },
    swap: [end('breaks: [brk2]')],
    read: (r) => names(r.breaks),
    becomes: ['brk2'],
  },
  'sections.*.lanes.*': plain('VSS: vss,', 'VSS: gnd,', (r) => r.sections[0]?.lanes.get('VSS'), 'gnd'),
  'sections.*.pairs[].supply': plain('supply: VDDIO', 'supply: VDD', (r) => r.sections[0]?.pairs, [
    { supply: 'VDD', ground: 'VSSIO' },
  ]),
  'sections.*.pairs[].ground': plain('ground: VSSIO', 'ground: VSS', (r) => r.sections[0]?.pairs, [
    { supply: 'VDDIO', ground: 'VSS' },
  ]),
  ...Object.fromEntries(Object.entries(ENTRY).map(([key, change]) => [`sides.left[].${key}`, change])),
  ...Object.fromEntries(
    (['bottom', 'right', 'top'] as const).flatMap((side) =>
      Object.keys(ENTRY).map((key): [string, Change] => {
        const change = ENTRY[key] as Change;
        return [
          `sides.${side}[].${key}`,
          {
            ...change,
            before: [
              ['  left:\n', `  ${side}:\n`],
              [`  ${side}:\n    - {pin: V`, '  left:\n    - {pin: V'],
              ...(change.before ?? []),
            ],
            read: (ring) => change.read({ ...ring, sides: { ...ring.sides, left: ring.sides[side] } }),
          },
        ];
      }),
    ),
  ),
  pins: {
    before: [[PLAIN_RING.slice(PLAIN_RING.indexOf('sides:')), 'pins: one.csv\n']],
    swap: [['one.csv', 'two.csv']],
    given: {
      files: {
        'one.csv': 'side,pin,cell\nleft,A0,io_bi\n',
        'two.csv': 'side,pin,cell\ntop,A0,io_bi\n',
      },
    },
    read: (r) => [r.sides.left.entries.length, r.sides.top.entries.length],
    becomes: [0, 1],
  },
  'neighbours[].together[]': {
    swap: [end('neighbours: [{together: [A0, A1]}]')],
    read: (r) => r.neighbours,
    becomes: [{ kind: 'together', pins: ['A0', 'A1'] }],
  },
  ...Object.fromEntries(
    (
      [
        ['apart[]', 'apart: [A0]', 'apart: [A1]', { pins: ['A1'], from: ['VDD'], distance: um(200) }],
        ['from[]', 'from: [VDD]', 'from: [VSS]', { pins: ['A0'], from: ['VSS'], distance: um(200) }],
        ['distance', 'distance: 200', 'distance: 300', { pins: ['A0'], from: ['VDD'], distance: um(300) }],
      ] as const
    ).map(([key, from, to, rule]): [string, Change] => [
      `neighbours[].${key}`,
      {
        before: [end('neighbours: [{apart: [A0], from: [VDD], distance: 200}]')],
        swap: [[from, to]],
        read: (r) => r.neighbours,
        becomes: [{ kind: 'apart', ...rule }],
      },
    ]),
  ),
  'neighbours[].besideGround[]': {
    swap: [end('neighbours: [{besideGround: [vddio]}]')],
    read: (r) => r.neighbours,
    becomes: [{ kind: 'beside-ground', nets: ['vddio'] }],
  },
  'neighbours[].signalsBetweenGrounds': {
    swap: [end('neighbours: [{signalsBetweenGrounds: 8}]')],
    read: (r) => r.neighbours,
    becomes: [{ kind: 'signals-between-grounds', most: 8, sections: ['main'] }],
  },
  'neighbours[].sections[]': {
    before: [...TWO_SECTIONS, end('neighbours: [{signalsBetweenGrounds: 8}]')],
    swap: [['Grounds: 8', 'Grounds: 8, sections: [io]']],
    read: (r) => r.neighbours,
    becomes: [{ kind: 'signals-between-grounds', most: 8, sections: ['io'] }],
  },
  ...PACKAGE_KEYS,
  ...LAYOUT_KEYS,
  ...ELECTRICAL_KEYS,
  ...orderKeys(ENTRY),
  'severities.*': {
    swap: [end('severities: {break-needless: note}')],
    read: (r) => [...r.severities],
    becomes: [['break-needless', 'note']],
  },
  ...Object.fromEntries(
    (
      [
        [
          'rule',
          'rule: pad-pitch',
          'rule: clamp-missing',
          { rule: 'clamp-missing', items: ['A0'], reason: 'agreed' },
        ],
        [
          'items[]',
          'items: [A0]',
          'items: [A0, A1]',
          { rule: 'pad-pitch', items: ['A0', 'A1'], reason: 'agreed' },
        ],
        ['reason', 'agreed', 'measured', { rule: 'pad-pitch', items: ['A0'], reason: 'measured' }],
      ] as const
    ).map(([key, from, to, waiver]): [string, Change] => [
      `waivers[].${key}`,
      {
        before: [end('waivers: [{rule: pad-pitch, items: [A0], reason: agreed}]')],
        swap: [[from, to]],
        read: (r) => r.waivers,
        becomes: [waiver],
      },
    ]),
  ),
};

/** Every key of the schema that holds a value of its own: `edge.seal`, `sections.*.lanes.*`, `stems.layers[]`. */
function keysOf(schema: unknown, path = ''): readonly string[] {
  const { properties, additionalProperties, items, anyOf } = schema as {
    readonly properties?: Record<string, unknown>;
    readonly additionalProperties?: unknown;
    readonly items?: unknown;
    readonly anyOf?: readonly unknown[];
  };
  if (anyOf) return [...new Set(anyOf.flatMap((one) => keysOf(one, path)))];
  if (properties)
    return Object.entries(properties).flatMap(([key, one]) =>
      keysOf(one, path === '' ? key : `${path}.${key}`),
    );
  if (typeof additionalProperties === 'object') return keysOf(additionalProperties, `${path}.*`);
  if (items) return keysOf(items, `${path}[]`);
  return [path];
}

const BROKEN: Swap = ['    - {pin: A1, cell: io_bi}\n', '    - {cell: brk5}\n    - {pin: A1, cell: io_bi}\n'];
const apart = (what: string): Swap => end(`neighbours: [{apart: [A0], from: [A1], distance: 2000${what}}]`);

/**
 * Changes that a placed ring shows, where the table's own change is too small to: the sample ring has room to spare.
 * The text is the plain ring with `before`, and then with `swap` too.
 */
const TELLING: Readonly<
  Record<string, { readonly before?: readonly Swap[]; readonly swap: readonly Swap[] }>
> = {
  'core.width': { swap: [end('core: {width: 1900}')] },
  'core.height': { swap: [end('core: {height: 1700}')] },
  'bondPads.spacing': { swap: [[SPACING_LINE, '  spacing: 700\n']] },
  'bondPads.openingSpacing': { swap: [[SPACING_LINE, `${SPACING_LINE}  openingSpacing: 700\n`]] },
  'bondPads.openingInset': { swap: [[SPACING_LINE, `${SPACING_LINE}  openingInset: 9\n`]] },
  'bondPads.openingToSeal.most': {
    swap: [[SPACING_LINE, `${SPACING_LINE}  openingToSeal: {least: 1, most: 3}\n`]],
  },
  'stems.spacing': { swap: [['{width: 12,', '{width: 12, spacing: 700,']] },
  'corners.clearance': { swap: [end('corners: {clearance: 800}')] },
  'corners.pitches[].pads': {
    before: [
      [
        '    - {cell: clamp}\n',
        '    - {pin: A2, cell: io_bi}\n    - {pin: A3, cell: io_bi}\n    - {cell: clamp}\n',
      ],
      end('corners: {pitches: [{pads: 1, pitch: 350}]}'),
    ],
    swap: [['pads: 1', 'pads: 2']],
  },
  'neighbours[].together[]': { swap: [end('neighbours: [{together: [A0, VDD]}]')] },
  'neighbours[].apart[]': { before: [apart('')], swap: [['apart: [A0]', 'apart: [VDD]']] },
  'neighbours[].from[]': { before: [apart('')], swap: [['from: [A1]', 'from: [VDD]']] },
  'neighbours[].distance': { before: [apart('')], swap: [['distance: 2000', 'distance: 2001']] },
  'neighbours[].signalsBetweenGrounds': { swap: [end('neighbours: [{signalsBetweenGrounds: 1}]')] },
  'neighbours[].sections[]': {
    before: [...TWO_SECTIONS, end('neighbours: [{signalsBetweenGrounds: 1}]')],
    swap: [['signalsBetweenGrounds: 1}', 'signalsBetweenGrounds: 1, sections: [io]}']],
  },
  'package.bonds.free[]': {
    before: [end(PACKAGE.trimEnd())],
    swap: [['  wires: {', '  bonds: {free: [2]}\n  wires: {']],
  },
  ...ORDER_TELLING,
  'severities.*': { before: [BROKEN], swap: [end('severities: {break-needless: error}')] },
  'waivers[].reason': {
    before: [BROKEN, end('waivers: [{rule: break-needless, items: [brk5-1], reason: agreed}]')],
    swap: [['reason: agreed', 'reason: seen']],
  },
};

/** The layout formats that a description has settings for. */
function layoutsOf(ring: Ring, placement: Placement): unknown {
  const formats = chosenFormats('gdsii,def');
  if (ring.layout === undefined || !formats.ok) return null;
  const files = layoutFiles(placement, formats.value, ring.layout);
  if (!files.ok) throw new Error(files.problems.map((p) => p.message).join());
  return files.value.map(({ content }) => Buffer.from(content).toString('latin1'));
}

describe('every key changes the ring', () => {
  const keys = keysOf(ringJsonSchema());

  test('the table has a line for each key of the schema, and no other', () => {
    expect([...Object.keys(TABLE), 'cells'].toSorted()).toEqual([...keys].toSorted());
    expect(keys.length).toBeGreaterThan(100);
  });

  test('cells: the library comes from the file of that name, beside the description', () => {
    const asked: string[] = [];
    const outcome = parseRing(PLAIN_RING, 'chips/ring.yaml', {
      readFile: () => failed(),
      readLibrary: (path) => {
        asked.push(path);
        return found(LIBRARY);
      },
      knownRules: [],
    });
    expect(outcome.ok && outcome.value.library).toBe(LIBRARY);
    expect(asked).toEqual(['chips/cells.yaml']);
  });

  test.each(Object.entries(TABLE))('%s', (_, change) => {
    const text = changed(PLAIN_RING, ...(change.before ?? []));
    const before = change.read(ringOf(text, change.given));
    const after = change.read(ringOf(changed(text, ...change.swap), change.given));
    expect(after).toEqual(change.becomes);
    expect(before).not.toEqual(change.becomes);
  });

  // The limits that a placement carries along do not count as a change: a shape, a figure or a finding has to differ.
  test.each(Object.entries(TABLE))('%s changes what is laid', (key, change) => {
    const { before: first = [], swap } = TELLING[key] ?? change;
    const text = changed(PLAIN_RING, ...first);
    const laid = (ring: Ring): unknown => {
      const outcome = lay(ring);
      if (!outcome.ok) return outcome.problems;
      return { ...outcome.value, rules: null, files: layoutsOf(ring, outcome.value) };
    };
    const before = laid(ringOf(text, change.given));
    const after = laid(ringOf(changed(text, ...swap), change.given));
    expect(after).not.toEqual(before);
  });
});
