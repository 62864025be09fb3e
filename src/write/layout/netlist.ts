/** What is joined to what: the part of the placement that the netlist formats share, named alike in all of them. */
import type { BondPad, PlacedCell, PlacedFootprint, Placement } from '../../format/placement.ts';
import { failed, found, type Outcome, type Problem } from '../../problems/problem.ts';
import { groupBy } from './group.ts';
import { bitOfName, gatherBits, legalByName, legalNames, type Ports } from './names.ts';

/**
 * What no Verilog reader takes for part of a name: whatever is not printable or is a blank, and signs that are taken
 * for a macro, a string or a comment even inside an escaped identifier.
 */
export const FOREIGN = /[^!-~]|[`"]|\/(?=[/*])/gu;

export type Direction = 'input' | 'output' | 'inout';

/** A pin of the chip on a port of a cell; a landing is named as the cell's pin there. */
export interface PadJoin {
  readonly landing: string;
  /** The pin's legal name. */
  readonly pin: string;
}

/** A cell's signal toward the core: a port of the ring, or a constant. */
export interface CoreJoin {
  readonly signal: string;
  readonly direction: Direction;
  /** The name of the ring's port, or the constant that the description holds the input at. */
  readonly to: string | 0 | 1;
}

export interface Instance {
  /** `io_` and the cell's name: a cell is named like its pin, and a netlist has one space for both. */
  readonly name: string;
  readonly cell: PlacedCell;
  readonly pads: readonly PadJoin[];
  readonly core: readonly CoreJoin[];
  /** Only supplies and grounds end at it: no signal to or from the core, no signal pin. */
  readonly supplyOnly: boolean;
}

export interface Netlist {
  /** Every placed cell, in the placement's order. */
  readonly instances: readonly Instance[];
  /** The legal name of each pin, by the pin. */
  readonly pinName: ReadonlyMap<string, string>;
  /** The pins as ports, bits taken together. */
  readonly pins: Ports;
  /** The signals toward the core as ports of the ring. */
  readonly core: Ports;
  /** The direction of each of the core's ports, seen from outside the ring's cells. */
  readonly coreDirection: ReadonlyMap<string, Direction>;
}

export function netlist(placement: Placement): Outcome<Netlist> {
  const problems: Problem[] = [];
  const footprints = new Map(placement.footprints.map((footprint) => [footprint.name, footprint]));
  const kinds = new Map(placement.nets.map((net) => [net.name, net.kind]));
  const padsOf = groupBy(placement.bondPads, (pad) => pad.cell);
  const netOf = new Map(placement.bondPads.map((pad) => [pad.pin, pad.net]));

  const allPins = [
    ...placement.bondPads.map((pad) => pad.pin),
    ...placement.cells.flatMap((cell) => cell.pins ?? []),
  ];
  const pinName = legalByName(allPins, FOREIGN);
  const pins = gatherBits(pinName.values());
  const names = legalNames(
    placement.cells.map((cell) => `io_${cell.name}`),
    FOREIGN,
    pins.ports.map((port) => port.name),
  );

  const wished: { owner: string; signal: string }[] = [];
  const drafts = placement.cells.map((cell, index) => {
    const footprint = footprints.get(cell.footprint);
    const signals = footprint?.signals ?? [];
    for (const [name, value] of Object.entries(cell.tied ?? {}))
      if (!signals.some((signal) => signal.name === name && signal.direction === 'input'))
        problems.push({
          code: 'tied-no-input',
          message: `cell ${cell.name} ties ${name} to ${value}, which is no input of ${cell.footprint}`,
          mend: inputsOf(signals),
        });
    const pads = padJoins(cell, footprint, padsOf.get(cell.name) ?? []);
    const owner = pads[0]?.pin ?? cell.name;
    // A library may draw one pin from the bond pad to the core: then it is the landing, and joined once.
    const apart = signals.filter((signal) => !pads.some(({ landing }) => landing === signal.name));
    for (const signal of apart)
      if (tiedTo(cell, signal.name) === undefined) wished.push({ owner, signal: signal.name });
    const supplies = pads.every(({ pin }) => {
      const kind = kinds.get(netOf.get(pin) ?? '');
      return kind === undefined ? cell.role === 'supply' || cell.role === 'clamp' : kind !== 'signal';
    });
    return { cell, name: names[index] ?? cell.name, pads, signals: apart, supplies };
  });
  if (problems.length > 0) return failed(...problems);

  const coreNames = legalNames(
    wished.map(({ owner, signal }) => coreName(pinName.get(owner) ?? owner, signal, pins)),
    FOREIGN,
    [...names, ...pins.ports.map((port) => port.name)],
  );
  let next = 0;
  const directions = new Map<string, Direction>();
  const instances = drafts.map(({ cell, name, pads, signals, supplies }): Instance => {
    const core = signals.map((signal): CoreJoin => {
      const to = tiedTo(cell, signal.name) ?? coreNames[next++] ?? signal.name;
      if (typeof to === 'string') directions.set(to, signal.direction);
      return { signal: signal.name, direction: signal.direction, to };
    });
    return {
      name,
      cell,
      pads: pads.map(({ landing, pin }) => ({ landing, pin: pinName.get(pin) ?? pin })),
      core,
      supplyOnly: supplies && signals.length === 0,
    };
  });
  const core = gatherBits(directions.keys());
  const coreDirection = new Map<string, Direction>();
  for (const [name, direction] of directions) {
    const { port } = core.bitOf.get(name) ?? { port: name };
    const before = coreDirection.get(port);
    coreDirection.set(port, before === undefined || before === direction ? direction : 'inout');
  }
  return found({ instances, pinName, pins, core, coreDirection });
}

/** Pins at their landings; one without a bond pad ends at the landing that has its place in the list. */
function padJoins(
  cell: PlacedCell,
  footprint: PlacedFootprint | undefined,
  pads: readonly BondPad[],
): readonly PadJoin[] {
  const bonded = pads.map(({ landing, pin }) => ({ landing, pin }));
  const others = (cell.pins ?? []).flatMap((pin, place) => {
    const landing = footprint?.landings[place]?.name;
    const free = landing !== undefined && !bonded.some((b) => b.landing === landing || b.pin === pin);
    return free ? [{ landing, pin }] : [];
  });
  return [...bonded, ...others];
}

/** A signal's port is named after the cell's first pin: `sda_OE`, and `data_OE[3]` for that of `data[3]`. */
function coreName(owner: string, signal: string, pins: Ports): string {
  const { port, bit } = pins.bitOf.get(owner) ?? { port: owner, bit: null };
  if (bit === null) return `${port}_${signal}`;
  return bitOfName(signal) === null ? `${port}_${signal}[${bit}]` : `${port}_${bit}_${signal}`;
}

const tiedTo = (cell: PlacedCell, signal: string): 0 | 1 | undefined =>
  cell.tied !== undefined && Object.hasOwn(cell.tied, signal) ? cell.tied[signal] : undefined;

function inputsOf(signals: readonly { readonly name: string; readonly direction: Direction }[]): string {
  const inputs = signals.filter((signal) => signal.direction === 'input').map((signal) => signal.name);
  return inputs.length === 0 ? 'it has no inputs toward the core' : `its inputs are ${inputs.join(', ')}`;
}
