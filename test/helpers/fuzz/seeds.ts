/**
 * The sound rings that inputs are made from: the demonstrations, small rings that use many keys in few pads, and the
 * starter's library drawn in LEF. All invented.
 */
import { readFileSync } from 'node:fs';
import { macro } from '../../library/small.ts';

export type Reader = 'ring' | 'table' | 'lef' | 'cells' | 'placement';
export const READERS: readonly Reader[] = ['ring', 'table', 'lef', 'cells', 'placement'];

export interface Project {
  readonly name: string;
  /** How often it is taken, against the others of a reader. */
  readonly share: number;
  readonly files: Readonly<Record<string, string>>;
  /** The files that a reader reads; of placements the file is laid from the ring first. */
  readonly read: Readonly<Partial<Record<Reader, readonly string[]>>>;
}

const fixture = (path: string): string => readFileSync(`fixtures/${path}`, 'utf8');

/** A text with one piece exchanged, which must be there. */
function swap(text: string, from: string | RegExp, to: string): string {
  const now = text.replace(from, () => to);
  if (now === text) throw new Error(`nothing to exchange for ${to.slice(0, 40)}`);
  return now;
}

const STARTER = fixture('starter/ring.yaml');
const STARTER_CELLS = fixture('starter/cells.yaml');
/** The starter without its pins. */
const STARTER_HEAD = STARTER.slice(0, STARTER.indexOf('# The pins of each side'));
const HARBOUR = fixture('cells/harbour.cells.yaml');

/** The starter's pins as rows: side, pin, cell. */
const STARTER_PINS = ['left', 'bottom', 'right', 'top'].flatMap((side) => {
  const [, list = ''] = new RegExp(`^  ${side}:\\n((?:    .*\\n)+)`, 'm').exec(STARTER) ?? [];
  return [...list.matchAll(/pin: (\w+), cell: (\w+)/g)].map(([, pin = '', cell = '']) => [side, pin, cell]);
});

const SECTIONS = `
sections:
  quiet:
    lanes: {VDD: avdd, VSS: vss, VDDIO: avddio, VSSIO: avssio}
    pairs: [{supply: VDD, ground: VSS}, {supply: VDDIO, ground: VSSIO}]
  main:
    lanes: {VDD: vdd, VSS: vss, VDDIO: vddio, VSSIO: vssio}
    pairs: [{supply: VDD, ground: VSS}, {supply: VDDIO, ground: VSSIO}]
`;

/** Twenty pads, two sections, a package, budgets, a deep macro: many keys in few lines. */
const SMALL = `ring: small
cells: cells.yaml
grid: 0.005
shrink: 0.9
die: {width: 1300, height: 1200}
edge: {street: 40, seal: 10, clearance: 10}
core: {width: 500, height: 400, clearance: 20}
style: {default: inline, top: staggered}
slack: {default: shared, left: around, right: toward-fingers}
bondPads:
  kinds:
    plain: {along: 60, deep: 70, opening: {along: 52, deep: 62}}
    long: {along: 64, deep: 90, opening: {along: 50, deep: 70}}
  pitch: 60
  spacing: 5
  openingSpacing: 10
  openingInset: 2
  openingToSeal: {least: 5, most: 300}
  toCell: 3
rows: {gap: 12, first: outer}
stems: {width: 12, spacing: 4, layers: [M6]}
corners: {cell: corner, clearance: 120, pitches: [{pads: 2, pitch: 62}]}
numbering: {side: top, end: last, direction: clockwise}
fillers: [fill_10, fill_5, fill_1, fill_0p1]
${SECTIONS}
sides:
  left:
    - {pin: AVDDIO, cell: vddio, section: quiet}
    - {pin: AVSSIO, cell: vssio, section: quiet}
    - {pin: IN_P, cell: ana, section: quiet, shift: 1, bondPad: long}
    - {pin: IN_N, cell: ana, section: quiet, mirrored: true}
    - {pin: AVDD, cell: vdd, section: quiet}
    - {pin: VSS, cell: vss, section: quiet}
    - {cell: clamp, section: quiet, gap: 10}
  bottom:
    - {pin: VDDIO, cell: vddio, section: main, at: 400}
    - {pin: VSSIO, cell: vssio, section: main}
    - {pin: D0, cell: io_bi, section: main, tied: {OE: 1}}
    - {pin: D1, cell: io_bi, section: main, net: data}
    - {cell: startup, section: main}
  right:
    - {pins: {RF_P: RF_P, RF_N: RF_N, BIAS: BIAS}, cell: radio, section: main}
    - {pin: VDD, cell: vdd, section: main}
    - {pin: VSS, cell: vss, section: main}
  top:
    - {pin: Q0, cell: io_out, section: main, row: inner}
    - {pin: Q1, cell: io_out, section: main}
    - {pin: Q2, cell: io_out, section: main, bondPad: none}
    - {pins: {PAD1: VSSIO, PAD2: VSSIO}, cell: vssio_wide, section: main}
    - {pin: CLOCK, cell: io_in, section: main}
package:
  name: 32 leads
  cavity: {width: 3000, height: 3000}
  fingers: {count: 40, pitch: 150, distance: 1500, width: 80}
  bonds: {by: sides, to: {CLOCK: 40, VSS: paddle}, unbonded: [BIAS]}
  wires: {metal: gold, diameter: 25, foot: 30, lead: 2, drops: [100], loops: [{height: 150}, {row: outer, height: 120}]}
  paddle: {width: 2000, height: 2000, reach: 100}
  limits: {span: {least: 100, most: 2500}, length: 3000, angle: 60, wireSpacing: 10}
neighbours:
  - {together: [IN_P, IN_N]}
  - {apart: [IN_P], from: [Q0], distance: 200}
  - {besideGround: [vddio]}
  - {signalsBetweenGrounds: 6}
severities: {row-first: warning, pin-without-pad: warning}
electrical:
  celsius: 85
  core: {vdd: 20, avdd: 5}
  outputs:
    data: {pins: [Q0, Q1], current: 1, load: 10, swing: 3.3, edge: 3}
  noise: {main: 0.6}
  drop: 0.1
  discharge: {level: 1000, rail: 20, path: 40}
layout:
  gdsii:
    bondPads: {layer: 46, datatype: 0}
    openings: {layer: 90, datatype: 0}
    labels: {layer: 91, datatype: 0}
    stems: {M6: {layer: 46, datatype: 5}}
    rails: {M4: {layer: 44, datatype: 7}, M5: {layer: 45, datatype: 7}, M6: {layer: 46, datatype: 7}}
  def: {padLayer: M6}
`;

/** The starter's ring as one order, cut into sides for the least die. */
const ORDER_HEAD = swap(STARTER_HEAD, /^die: .*$/m, 'die: {aspect: 1.5, least: area}');
const ORDER = `${swap(ORDER_HEAD, 'ring: starter', 'ring: order')}order:
  groups:
    - {pins: [D0, D1, D2, D3], whole: true}
    - {pins: [VDD, VSS], sides: [right, top]}
  cells:
${STARTER_PINS.map(([, pin, cell]) => `    - {pin: ${pin}, cell: ${cell}}\n`).join('')}`;

const LISTED = `${STARTER_HEAD}pins: pins.csv
package:
  name: 16 leads
  cavity: {width: 3000, height: 3000}
  fingers: fingers.csv
  bonds: {by: order, first: 1}
  wires: {diameter: 20, lead: 2}
  limits: {angle: 60}
`;
const PINS = `side,pin,pins,cell,section,at,gap,shift,mirrored,bondPad,net,tied\n${STARTER_PINS.map(
  ([side, pin, cell], i) =>
    `${side},${pin},,${cell},main,,${i % 5 === 1 ? 5 : ''},${i % 7 === 3 ? '1.5' : ''},${i % 3 === 0 ? 'no' : ''},plain,,\n`,
).join('')}`;
const AROUND: readonly (readonly [number, number, number])[] = [
  ...[3, 1, -1, -3].map((k): [number, number, number] => [-1000, k * 100, 180]),
  ...[-3, -1, 1, 3].map((k): [number, number, number] => [k * 100, -1000, -90]),
  ...[-3, -1, 1, 3].map((k): [number, number, number] => [1000, k * 100, 0]),
  ...[3, 1, -1, -3].map((k): [number, number, number] => [k * 100, 1000, 90]),
];
const FINGERS = `name;x;y;width;angle;tier\r\n${AROUND.map(([x, y, angle], i) => `${i + 1};${x},5;${y},5;80;${angle};1\r\n`).join('')}`;
const FREE = `pin\tcell\tside\n${STARTER_PINS.map(([side, pin, cell], i) => `${pin}\t${cell}\t${i % 4 === 0 ? side : ''}\n`).join('')}`;

/** The starter's library as LEF draws it. */
const STRIPS = Object.entries({ VDDIO: [10, 40], VSSIO: [45, 75], VDD: [80, 95], VSS: [100, 115] });
const rails = (width: number) =>
  STRIPS.map(([pin, [from = 0, to = 0]]) => ({
    pin,
    use: pin.startsWith('VSS') ? 'GROUND' : 'POWER',
    rects: [[0, from, width, to]],
  }));
const landingRect = { use: 'SIGNAL', layer: 'M5', rects: [[20, 0, 40, 5]] };
const CORNER_PORTS = STRIPS.map(([pin, [from = 0, to = 0]]) => ({
  pin,
  use: 'POWER',
  rects: [
    [0, from, 120 - from, to],
    [120 - to, from, 120 - from, 120],
  ],
}));
const LEF_LAYERS =
  'VERSION 5.8 ;\nBUSBITCHARS "[]" ;\nDIVIDERCHAR "/" ;\nUNITS DATABASE MICRONS 2000 ; END UNITS\nMANUFACTURINGGRID 0.005 ;\n' +
  ['M4', 'M5']
    .map(
      (name) =>
        `LAYER ${name}\n  TYPE ROUTING ;\n  DIRECTION HORIZONTAL ;\n  WIDTH 0.2 ;\n  RESISTANCE RPERSQ 0.08 ;\n  DCCURRENTDENSITY AVERAGE 2 ;\nEND ${name}\n`,
    )
    .join('');
const LEF = `VERSION 5.8 ;\n${macro('io', 'PAD INOUT', [60, 120], [...rails(60), { pin: 'pad', ...landingRect }])}${macro(
  'input',
  'PAD INPUT',
  [60, 120],
  [...rails(60), { pin: 'pad', ...landingRect }],
)}${STRIPS.map(([lane]) =>
  macro(
    lane.toLowerCase(),
    'PAD POWER',
    [60, 120],
    [
      ...rails(60).filter(({ pin }) => pin !== lane),
      {
        pin: lane,
        rects: [...(rails(60).find(({ pin }) => pin === lane)?.rects ?? []), [20, 0, 40, 5]],
      },
    ],
  ),
).join('')}${macro('corner', 'ENDCAP BOTTOMLEFT', [120, 120], CORNER_PORTS)}${[20, 5, 1]
  .map((width) => macro(`fill_${width}`, 'PAD SPACER', [width, 120], rails(width)))
  .join('')}END LIBRARY\n`;
const LEF_CELLS = `name: drawn
lef: [layers.lef, io.lef]
drawn: {outward: bottom}
cells:
  corner: {role: corner}
  vddio: {landings: [{name: pad, at: 30, feeds: [VDDIO]}], clamps: [{supply: VDDIO, ground: VSSIO}]}
  vdd: {landings: [{name: pad, at: 30, feeds: [VDD]}], clamps: [{supply: VDD, ground: VSS}]}
  vssio: {landings: [{name: pad, at: 30, feeds: [VSSIO]}]}
  vss: {landings: [{name: pad, at: 30, feeds: [VSS]}]}
`;

const beside = (ring: string): string =>
  swap(ring, 'cells: ../cells/harbour.cells.yaml', 'cells: cells.yaml');

export const PROJECTS: readonly Project[] = [
  {
    name: 'starter',
    share: 40,
    files: { 'ring.yaml': STARTER, 'cells.yaml': STARTER_CELLS },
    read: { ring: ['ring.yaml'], cells: ['cells.yaml'], placement: ['placement.json'] },
  },
  {
    name: 'small',
    share: 40,
    files: { 'ring.yaml': SMALL, 'cells.yaml': HARBOUR },
    read: { ring: ['ring.yaml'], cells: ['cells.yaml'], placement: ['placement.json'] },
  },
  {
    name: 'order',
    share: 15,
    files: { 'ring.yaml': ORDER, 'cells.yaml': STARTER_CELLS },
    read: { ring: ['ring.yaml'], placement: ['placement.json'] },
  },
  {
    name: 'listed',
    share: 35,
    files: { 'ring.yaml': LISTED, 'cells.yaml': STARTER_CELLS, 'pins.csv': PINS, 'fingers.csv': FINGERS },
    read: { ring: ['ring.yaml'], table: ['pins.csv', 'fingers.csv'], placement: ['placement.json'] },
  },
  {
    name: 'free',
    share: 12,
    files: {
      'ring.yaml': `${ORDER_HEAD}order: {pins: free.csv}\n`,
      'cells.yaml': STARTER_CELLS,
      'free.csv': FREE,
    },
    read: { table: ['free.csv'] },
  },
  {
    name: 'drawn',
    share: 35,
    files: { 'ring.yaml': STARTER, 'cells.yaml': LEF_CELLS, 'io.lef': LEF, 'layers.lef': LEF_LAYERS },
    read: { lef: ['io.lef', 'io.lef', 'layers.lef'], cells: ['cells.yaml'] },
  },
  {
    name: 'tide-gauge',
    share: 1,
    files: { 'ring.yaml': beside(fixture('tide-gauge/ring.yaml')), 'cells.yaml': HARBOUR },
    read: { ring: ['ring.yaml'], cells: ['cells.yaml'], placement: ['placement.json'] },
  },
  {
    name: 'frost-hub',
    share: 1,
    files: {
      'ring.yaml': beside(fixture('frost-hub/ring.yaml')),
      'cells.yaml': HARBOUR,
      'pins.csv': fixture('frost-hub/pins.csv'),
    },
    read: { ring: ['ring.yaml'], table: ['pins.csv'] },
  },
  {
    name: 'lamp-controller',
    share: 1,
    files: { 'ring.yaml': beside(fixture('lamp-controller/ring.yaml')), 'cells.yaml': HARBOUR },
    read: { ring: ['ring.yaml'] },
  },
];
