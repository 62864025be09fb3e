/** For keys.test.ts: a change of each key of `electrical`, and what becomes of the resolved demands. */
import type { Library } from '../../src/library/footprint.ts';
import type { Electrical } from '../../src/spec/electrical.ts';
import type { Ring } from '../../src/spec/ring.ts';
import { footprint, type Given, landing, libraryWith, um } from './sample.ts';

type Swap = readonly [string, string];

interface ElectricalChange {
  readonly before: readonly Swap[];
  readonly swap: readonly Swap[];
  readonly given: Given;
  readonly read: (ring: Ring) => unknown;
  readonly becomes: unknown;
}

const strap = (lane: string) => ({ lane, layer: 'M5', at: um(30), width: um(20), t: um(180) });

/** The sample's library with metal that is known, rated core supplies on which straps land, and a second cell for VDDIO. */
export const ELECTRICAL_LIBRARY: Library = {
  ...libraryWith(
    footprint('pw_vdd', 'supply', 60, {
      landings: [landing(30, ['VDD'])],
      straps: [strap('VDD')],
      rating: 60,
    }),
    footprint('pw_vss', 'supply', 60, {
      landings: [landing(30, ['VSS'])],
      straps: [strap('VSS')],
      rating: 60,
    }),
    footprint('pw_vddio_2', 'supply', 70, { landings: [landing(35, ['VDDIO'])], rating: 90 }),
  ),
  layers: new Map([
    ['M4', { sheetResistance: 0.08, currentLimits: [{ celsius: 110, perMicrometre: 1 }] }],
    ['M5', { sheetResistance: 0.04, currentLimits: [{ celsius: 110, perMicrometre: 2 }] }],
  ]),
};

export const PAIRS: Swap = [
  '- {supply: VDDIO, ground: VSSIO}',
  '- {supply: VDDIO, ground: VSSIO}\n      - {supply: VDD, ground: VSS}',
];

/** Everything at once, so that any key can be changed and still acts. */
export const ELECTRICAL = `electrical:
  celsius: 100
  wires: {diameter: 25, length: 2000}
  core: {vdd: 40}
  outputs:
    bus: {pins: [A0], current: 4, load: 15, swing: 3.3, edge: 2}
    clock: {pins: [A1], slope: 5, load: 5, swing: 2.5}
  noise: {main: 0.03}
  drop: {vdd: 0.05}
  discharge: {level: 2000, rail: 6, path: 20}
  decoupling: {chip: 0.3, package: 0.2}
  supplies: auto
  coreStrips: {nets: [vdd, vss], layer: M5, spacing: 5}
`;

const demandsOf = (ring: Ring): Electrical => {
  if (ring.electrical === undefined) throw new Error('the ring demands nothing');
  return ring.electrical;
};

export const DRIVEN: Library = {
  ...ELECTRICAL_LIBRARY,
  footprints: new Map([
    ...ELECTRICAL_LIBRARY.footprints,
    [
      'io_bi',
      {
        ...footprint('io_bi', 'signal', 60, { landings: [landing(30)] }),
        electrical: {
          drives: { supply: 'VDDIO', ground: 'VSSIO', slope: null },
          clamp: null,
          padDiode: null,
          breakDiode: null,
        },
      },
    ],
  ]),
};

/** One piece of the block exchanged. */
const change = (
  from: string,
  to: string,
  read: (demands: Electrical) => unknown,
  becomes: unknown,
  before: readonly Swap[] = [],
): ElectricalChange => ({
  before: [PAIRS, ['sides:\n', `${ELECTRICAL}sides:\n`], ...before],
  swap: [[from, to]],
  given: { library: DRIVEN },
  read: (ring) => read(demandsOf(ring)),
  becomes,
});

const strips = (to: string, read: (demands: Electrical) => unknown, becomes: unknown): ElectricalChange =>
  change('spacing: 5}', to, read, becomes);
const bus = (d: Electrical) => d.outputs.find((output) => output.name === 'bus');
const clock = (d: Electrical) => d.outputs.find((output) => output.name === 'clock');

export const ELECTRICAL_KEYS: Readonly<Record<string, ElectricalChange>> = {
  'electrical.celsius': change('celsius: 100', 'celsius: 85', (d) => d.celsius, 85),
  'electrical.wires.metal': change(
    '{diameter: 25,',
    '{metal: silver, diameter: 25,',
    (d) => d.wires?.metal,
    'silver',
  ),
  'electrical.wires.diameter': change('diameter: 25', 'diameter: 30', (d) => d.wires?.diameter, um(30)),
  'electrical.wires.length': change('length: 2000', 'length: 2500', (d) => d.wires?.length, um(2500)),
  'electrical.wires.lead': change('length: 2000', 'length: 2000, lead: 1.5', (d) => d.wires?.lead, 1.5),
  'electrical.core.*': change('vdd: 40', 'vdd: 50', (d) => d.core.get('vdd'), 50),
  'electrical.outputs.*.pins[]': {
    ...change('', '', (d) => d.outputs.map((output) => output.pins), [['A1'], ['A0']]),
    swap: [
      ['[A0], current', '[A1], current'],
      ['[A1], slope', '[A0], slope'],
    ],
  },
  'electrical.outputs.*.current': change('current: 4', 'current: 5', (d) => bus(d)?.current, 5),
  'electrical.outputs.*.slope': change('slope: 5', 'slope: 40', (d) => clock(d)?.slope, 40),
  'electrical.outputs.*.load': change('load: 15', 'load: 25', (d) => bus(d)?.load, 25),
  'electrical.outputs.*.swing': change('swing: 3.3', 'swing: 1.8', (d) => bus(d)?.swing, 1.8),
  'electrical.outputs.*.edge': change('edge: 2', 'edge: 1', (d) => bus(d)?.edge?.time, 1),
  'electrical.outputs.*.shape': change(
    'edge: 2',
    'edge: 2, shape: gaussian',
    (d) => bus(d)?.edge?.shape,
    'gaussian',
  ),
  'electrical.together[][]': change('  noise:', '  together: [[bus, clock]]\n  noise:', (d) => d.together, [
    ['bus', 'clock'],
  ]),
  'electrical.noise': change('noise: {main: 0.03}', 'noise: 0.3', (d) => [...d.noise], [['main', 0.3]]),
  'electrical.noise.*': change('main: 0.03', 'main: 0.5', (d) => [...d.noise], [['main', 0.5]]),
  'electrical.drop': change(
    'drop: {vdd: 0.05}',
    'drop: 0.03',
    (d) => [...d.drop.values()],
    [0.03, 0.03, 0.03, 0.03],
  ),
  'electrical.drop.*': change('vdd: 0.05', 'vdd: 0.06', (d) => [...d.drop], [['vdd', 0.06]]),
  'electrical.discharge.level': change('level: 2000', 'level: 4000', (d) => d.discharge?.level, 4000),
  'electrical.discharge.rail': change('rail: 6', 'rail: 5', (d) => d.discharge?.rail, 5),
  'electrical.discharge.path': change('path: 20', 'path: 15', (d) => d.discharge?.path, 15),
  'electrical.decoupling.chip': change('chip: 0.3', 'chip: 0.1', (d) => d.decoupling?.chip, 0.1),
  'electrical.decoupling.package': change('package: 0.2', 'package: 0.1', (d) => d.decoupling?.package, 0.1),
  'electrical.supplies': change('supplies: auto', 'supplies: given', (d) => d.supplies.set, false),
  'electrical.supplies.cells.*': change(
    'supplies: auto',
    'supplies: {cells: {VDDIO: pw_vddio_2}}',
    (d) => d.supplies.cells.get('VDDIO')?.name,
    'pw_vddio_2',
  ),
  'electrical.supplies.spare': change('supplies: auto', 'supplies: {spare: 4}', (d) => d.supplies.spare, 4),
  'electrical.coreStrips.nets[]': change('nets: [vdd, vss]', 'nets: [vss, vdd]', (d) => d.coreStrips?.nets, [
    'vss',
    'vdd',
  ]),
  'electrical.coreStrips.layer': change(
    'layer: M5, spacing',
    'layer: M4, spacing',
    (d) => d.coreStrips?.layer,
    'M4',
  ),
  'electrical.coreStrips.width': strips('spacing: 5, width: 12}', (d) => d.coreStrips?.width, um(12)),
  'electrical.coreStrips.spacing': strips('spacing: 7}', (d) => d.coreStrips?.spacing, um(7)),
  'electrical.coreStrips.clearance': strips(
    'spacing: 5, clearance: 3}',
    (d) => d.coreStrips?.clearance,
    um(3),
  ),
};
