/**
 * The ring as DEF 5.8: die, every placed cell fixed, the pins with their bond pads' metal, and supply nets with
 * their rails (LEF/DEF 5.8 language reference, from memory).
 *
 * The standard's own words stay in this file: its orientation letters, and a place that means the lower-left corner
 * of the placed cell's outline, whatever its orientation.
 */
import type { BondPad, Placement } from '../../format/placement.ts';
import { exactUnits, PER_MICROMETRE, units } from '../../geometry/units.ts';
import { failed, found, type Outcome, type Problem } from '../../problems/problem.ts';
import { groupBy } from './group.ts';
import { coreMetal } from './layers.ts';
import { gatherBits, legalByName, legalNames, terminalNames } from './names.ts';
import { type Netlist, netlist } from './netlist.ts';
import { type Box, boxAbout, type Scale, scaleOf } from './scale.ts';

/**
 * The standard's values of database units in a micrometre are 100, 200, 400, 800, 1000, 2000, 4000, 8000, 10000 and
 * 20000. Those below 1000 are left out: whatever grid they hold, one of these does too, and readers expect 1000.
 */
const PER_MICRON = [1000, 2000, 4000, 8000, 10_000, 20_000];

/** By turn; the mirrored ones are mirrored x to -x first and then turned, as the placement has it. */
const PLAIN = { 0: 'N', 90: 'W', 180: 'S', 270: 'E' } as const;
const MIRRORED = { 0: 'FN', 90: 'FE', 180: 'FS', 270: 'FW' } as const;

/** Signs that a DEF reader could take for a comment, a string, a wildcard or the end of a statement. */
export const FOREIGN = /[^!-~]|[#"();*%+]/gu;

export interface DefSettings {
  /** The layer of the bond pads' metal; without it a pad has its stem's layers, or no shape where it has no stem. */
  readonly padLayer?: string;
}

/** The text of a DEF file, or what stands against it: a grid without a unit, a shape off the grid. */
export function def(placement: Placement, settings: DefSettings = {}): Outcome<string> {
  const per = perMicron(placement.units.grid);
  if (typeof per !== 'number') return failed(per);
  const joined = netlist(placement);
  if (!joined.ok) return joined;
  const scale = scaleOf(units(PER_MICROMETRE / per), 'DEF');
  const words = wordsOf(placement, settings, joined.value, scale);
  const [design = 'ring'] = legalNames([placement.ring], FOREIGN);
  const lines = [
    'VERSION 5.8 ;',
    'DIVIDERCHAR "/" ;',
    'BUSBITCHARS "[]" ;',
    `DESIGN ${escaped(design)} ;`,
    `UNITS DISTANCE MICRONS ${per} ;`,
    `DIEAREA ${words.corners({ x: 0, y: 0, ...placement.die }, 'the die')} ;`,
    ...section('COMPONENTS', components(placement, words)),
    ...section('PINS', pins(placement, words, settings)),
    ...section('SPECIALNETS', specialNets(placement, words)),
    ...section('NETS', nets(placement, words, joined.value)),
    'END DESIGN',
  ];
  const problems = scale.problems();
  return problems.length > 0 ? failed(...problems) : found(`${lines.join('\n')}\n`);
}

const section = (name: string, lines: readonly string[]): readonly string[] =>
  lines.length === 0 ? [] : [`${name} ${lines.length} ;`, ...lines, `END ${name}`];

/** The first of the standard's units of which a step of the grid is a whole number. */
function perMicron(grid: number): number | Problem {
  const step = exactUnits(grid);
  const fitting = PER_MICRON.find((per) => step !== undefined && step % (PER_MICROMETRE / per) === 0);
  return (
    fitting ?? {
      code: 'grid-not-in-def',
      message: `DEF has no database unit for a grid of ${grid} um`,
      mend: 'its finest are 1/8000 and 1/20000 um; the grid must be a whole number of one of them',
    }
  );
}

/** Names and shapes as this file writes them. */
interface Words {
  readonly instance: (index: number) => string;
  readonly footprint: (name: string) => string;
  readonly layer: (name: string) => string;
  readonly pin: (name: string) => string;
  readonly net: (name: string) => string;
  readonly use: (net: string) => 'POWER' | 'GROUND' | 'SIGNAL';
  readonly point: (at: { readonly x: number; readonly y: number }, item: string) => string;
  /** Two opposite corners. */
  readonly corners: (box: Box, item: string) => string;
}

function wordsOf(placement: Placement, settings: DefSettings, joined: Netlist, scale: Scale): Words {
  const instances = legalNames(
    joined.instances.map((instance) => instance.name),
    FOREIGN,
  );
  const footprints = legalByName(
    placement.cells.map((cell) => cell.footprint),
    FOREIGN,
  );
  const layers = legalByName(
    [
      ...(settings.padLayer === undefined ? [] : [settings.padLayer]),
      ...placement.stems.flatMap((stem) => stem.layers),
      ...placement.rails.flatMap((rail) => rail.rectangles.map((r) => r.layer)),
      ...coreMetal(placement).map((strip) => strip.layer),
    ],
    FOREIGN,
  );
  const pinText = busNames(joined.pinName.values());
  const netText = busNames([
    ...placement.bondPads.map((pad) => pad.net),
    ...placement.rails.map((rail) => rail.net),
    ...coreMetal(placement).map((strip) => strip.net),
  ]);
  const kinds = new Map(placement.nets.map((net) => [net.name, net.kind]));
  return {
    instance: (index) => escaped(instances[index] ?? ''),
    footprint: (name) => escaped(footprints.get(name) ?? name),
    layer: (name) => escaped(layers.get(name) ?? name),
    pin: (name) => pinText(joined.pinName.get(name) ?? name),
    net: netText,
    use: (net) => {
      const kind = kinds.get(net);
      return kind === 'supply' ? 'POWER' : kind === 'ground' ? 'GROUND' : 'SIGNAL';
    },
    point: ({ x, y }, item) => `( ${scale.whole(x, item)} ${scale.whole(y, item)} )`,
    corners: ({ x, y, width, height }, item) => {
      const [left, low] = [scale.whole(x, item), scale.whole(y, item)];
      return `( ${left} ${low} ) ( ${left + scale.whole(width, item)} ${low + scale.whole(height, item)} )`;
    },
  };
}

/** Divider, bus brackets and the backslash lose their meaning behind a backslash. */
const escaped = (name: string): string => name.replaceAll(/[[\]/\\]/gu, '\\$&');

/** Names of pins or nets: brackets mean a bus where the bits of one stand together, elsewhere they are escaped. */
function busNames(names: Iterable<string>): (name: string) => string {
  const legal = legalByName(names, FOREIGN);
  const { bitOf } = gatherBits(legal.values());
  return (name) => {
    const known = legal.get(name) ?? name;
    const bit = bitOf.get(known);
    return bit === undefined || bit.bit === null ? escaped(known) : `${escaped(bit.port)}[${bit.bit}]`;
  };
}

/** A cell of which no net list speaks is marked as there for the supplies only. */
const components = (placement: Placement, words: Words): readonly string[] =>
  placement.cells.map((cell, index) => {
    const orientation = (cell.mirrored ? MIRRORED : PLAIN)[cell.rotation];
    const source = ['filler', 'break', 'corner'].includes(cell.role) ? ' + SOURCE DIST' : '';
    const place = words.point(cell, `cell ${cell.name}`);
    return `- ${words.instance(index)} ${words.footprint(cell.footprint)}${source} + FIXED ${place} ${orientation} ;`;
  });

/**
 * A pin for each name, with a port for each of its bond pads where it has several, as supplies do. Shapes are relative
 * to the pin's place, which here is the bond pad's lower-left corner.
 */
function pins(placement: Placement, words: Words, settings: DefSettings): readonly string[] {
  const stemsOf = groupBy(placement.stems, (stem) => stem.bondPad);
  const shapeOf = (pad: BondPad): string => {
    const item = `bond pad ${pad.number}`;
    const box = boxAbout(pad, pad);
    const layers = new Set(
      settings.padLayer === undefined
        ? (stemsOf.get(pad.number) ?? []).flatMap((stem) => stem.layers)
        : [settings.padLayer],
    );
    if (layers.size === 0) return '';
    const shapes = [...layers].map(
      (name) => ` + LAYER ${words.layer(name)} ${words.corners({ ...box, x: 0, y: 0 }, item)}`,
    );
    return `${shapes.join('')} + FIXED ${words.point(box, item)} N`;
  };
  return [...groupBy(placement.bondPads, (pad) => words.pin(pad.pin))].map(([pin, pads]) => {
    const net = pads[0]?.net ?? '';
    const use = words.use(net);
    const special = use === 'SIGNAL' ? '' : ' + SPECIAL';
    const head = `- ${pin} + NET ${words.net(net)}${special} + DIRECTION INOUT + USE ${use}`;
    const shapes = pads.map(shapeOf).filter((shape) => shape !== '');
    const ports = shapes.length > 1 ? shapes.map((shape) => `\n  + PORT${shape}`) : shapes;
    return `${head}${ports.join('')} ;`;
  });
}

/** Supplies with their pins, rails and stems; a signal net stands here too where it has a stem. */
function specialNets(placement: Placement, words: Words): readonly string[] {
  const netOfPad = new Map(placement.bondPads.map((pad) => [pad.number, pad.net]));
  const padsOf = groupBy(placement.bondPads, (pad) => pad.net);
  const railsOf = groupBy(placement.rails, (rail) => rail.net);
  const stemsOf = groupBy(placement.stems, (stem) => netOfPad.get(stem.bondPad) ?? '');
  const coreOf = groupBy(coreMetal(placement), (strip) => strip.net);
  const wired = [...new Set([...padsOf.keys(), ...railsOf.keys(), ...coreOf.keys()])].filter(
    (net) => words.use(net) !== 'SIGNAL' || railsOf.has(net) || stemsOf.has(net) || coreOf.has(net),
  );
  return wired.map((net) => {
    const use = words.use(net);
    const ends = pinsOf(padsOf.get(net) ?? [], words).map((pin) => ` ( PIN ${pin} )`);
    const rails = (railsOf.get(net) ?? []).flatMap((rail) =>
      rail.rectangles.map((r) => metal('PADRING', r.layer, r, `a rail of lane ${rail.lane}`, words)),
    );
    const stems = (stemsOf.get(net) ?? []).flatMap((stem) =>
      stem.layers.map((layer) => metal('IOWIRE', layer, stem, `the stem of bond pad ${stem.bondPad}`, words)),
    );
    const core = (coreOf.get(net) ?? []).map(({ strap, layer, box }) =>
      metal(strap ? 'IOWIRE' : 'RING', layer, box, `a core strip of ${net}`, words),
    );
    const named = use === 'SIGNAL' ? '' : ends.join('');
    return `- ${words.net(net)}${named}${[...rails, ...stems, ...core].join('')}\n  + USE ${use} ;`;
  });
}

const pinsOf = (pads: readonly BondPad[], words: Words): readonly string[] => [
  ...new Set(pads.map((pad) => words.pin(pad.pin))),
];

const metal = (shape: string, layer: string, box: Box, item: string, words: Words): string =>
  `\n  + FIXED + SHAPE ${shape} + RECT ${words.layer(layer)} ${words.corners(box, item)}`;

/** Signal nets from the pin to the cell's pin, which the landing is named after. */
function nets(placement: Placement, words: Words, joined: Netlist): readonly string[] {
  const instanceOf = new Map(joined.instances.map(({ cell }, index) => [cell.name, words.instance(index)]));
  const terminals = terminalNames(placement, FOREIGN);
  const terminalOf = ({ cell, landing }: BondPad): string => terminals.get(cell)?.get(landing) ?? landing;
  const signals = groupBy(
    placement.bondPads.filter((pad) => words.use(pad.net) === 'SIGNAL'),
    (pad) => pad.net,
  );
  return [...signals].map(([net, pads]) => {
    const joins = [
      ...pinsOf(pads, words).map((pin) => `( PIN ${pin} )`),
      ...pads.map((pad) => `( ${instanceOf.get(pad.cell) ?? ''} ${terminalOf(pad)} )`),
    ];
    return `- ${words.net(net)} ${joins.join(' ')} + USE SIGNAL ;`;
  });
}
