/** A large ring of one section with pads over the circuit, its outputs in groups of sixteen that switch together. */
import type { Placement } from '../../src/format/placement.ts';
import { SIDES, type Side } from '../../src/geometry/side.ts';
import type { Footprint } from '../../src/library/footprint.ts';
import { plan } from '../../src/plan/plan.ts';
import { lay } from '../../src/run.ts';
import type { Entry, Ring } from '../../src/spec/ring.ts';
import { entry, library, ring, um } from '../helpers/ring.ts';
import { RULES } from './sample.ts';

const SLOPE = 20;
const drives = { supply: 'VDDIO', ground: 'VSSIO', slope: null };

function cells(): ReadonlyMap<string, Footprint> {
  const electrical = { drives, clamp: null, padDiode: null, breakDiode: null };
  return new Map(
    library().map((f) => [
      f.name,
      f.role === 'signal' ? { ...f, electrical } : f.role === 'supply' ? { ...f, rating: 60 } : f,
    ]),
  );
}

/** The ring before it is laid; every tenth and eleventh cell an I/O supply and its ground. */
export function largeRing(pads: number): Ring {
  const book = cells();
  const cell = (name: string): Footprint => {
    const found = book.get(name);
    if (found === undefined) throw new Error(name);
    return found;
  };
  let k = 0;
  const sides = Object.fromEntries(
    SIDES.map((side): [Side, readonly Entry[]] => [
      side,
      Array.from({ length: pads / 4 }, (_, i) => {
        const name =
          i % 10 === 0
            ? 'sup_vddio'
            : i % 10 === 1
              ? 'sup_vssio'
              : i % 20 === 5
                ? 'sup_vdd'
                : i % 20 === 6
                  ? 'sup_vss'
                  : 'io';
        return entry(cell(name), `P${k++}`);
      }),
    ]),
  );
  return ring([...book.values()], 'over-circuit', sides, {
    rows: { overCircuit: 1, gap: um(12), first: 'outer', inset: um(0) },
  });
}

/** The ring laid, and what it is asked to carry. */
export function largePlacement(pads: number): Placement {
  const laid = lay(largeRing(pads), undefined, Number.POSITIVE_INFINITY);
  if (!laid.ok) throw new Error(laid.problems.map((problem) => problem.message).join('\n'));
  const placement = laid.value;
  const pins = placement.cells.flatMap((cell) => (cell.role === 'signal' ? (cell.pins ?? []) : []));
  const outputs = Array.from({ length: Math.ceil(pins.length / 16) }, (_, i) => ({
    name: `group ${i}`,
    pins: pins.slice(16 * i, 16 * i + 16),
    current: 1,
    slope: SLOPE,
    edge: null,
    load: 10,
    swing: 3.3,
  }));
  const electrical = {
    ...RULES,
    layers: [{ name: 'M5', sheetResistance: 0.05, limits: [{ celsius: null, perMicrometre: 2 }] }],
    wires: { metal: 'gold' as const, diameter: 25.4, length: 2000, lead: 1 },
    core: { vdd: 500 },
    outputs,
    noise: { main: 0.4 },
    drop: { vdd: 0.1, vss: 0.1, vddio: 0.1, vssio: 0.1 },
  };
  return { ...placement, rules: { ...placement.rules, electrical } };
}

/** A plan of the ring and the needs of its four arcs, an eighth more supplies on each of the I/O's. */
export function largeNeeds(pads: number) {
  const wanted = {
    ...largeRing(pads),
    electrical: {
      celsius: null,
      wires: null,
      core: new Map([['vdd', 500]]),
      outputs: [],
      together: [],
      noise: new Map(),
      drop: new Map(),
      discharge: null,
      decoupling: null,
      supplies: {
        set: true,
        cells: new Map(
          ['VDD', 'VSS', 'VDDIO', 'VSSIO'].flatMap((lane) => {
            const f = cells().get(`sup_${lane.toLowerCase()}`);
            return f === undefined ? [] : [[lane, f] as const];
          }),
        ),
        spare: 0,
      },
      coreStrips: null,
      place: { file: 'ring.yaml', line: 1, column: 1 },
    },
  };
  const planned = plan(wanted);
  if (!planned.ok) throw new Error('it can be planned');
  const names = SIDES.flatMap((side) => planned.value.sides[side].map((cell) => cell.name));
  const needs = (['VDD', 'VSS', 'VDDIO', 'VSSIO'] as const).map((lane) => ({
    lane,
    kind: lane.startsWith('VDD') ? ('supply' as const) : ('ground' as const),
    closed: true,
    cells: names,
    more: lane.endsWith('IO') ? pads / 80 : 0,
  }));
  return { plan: planned.value, needs };
}
