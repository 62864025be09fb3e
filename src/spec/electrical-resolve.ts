/**
 * From the description's `electrical` to the resolved demands: names found, and every key that cannot act for want of
 * another one refused, so that nobody relies on it.
 */
import type { Path } from '../source/source.ts';
import type { Electrical, OutputGroup } from './electrical.ts';
import { BLOCK, type ElectricalContext, netsByKind, refuse, wrong } from './electrical-context.ts';
import { ELECTRICAL_DEFAULTS, type ElectricalText } from './electrical-schema.ts';
import { resolveCoreStrips } from './electrical-strips.ts';
import { resolveSupplies } from './electrical-supplies.ts';
import { suspectFigures } from './electrical-suspicions.ts';
import { didYouMean, shown } from './report.ts';
import type { Entry } from './ring.ts';

export function resolveElectrical(context: ElectricalContext, text: ElectricalText): Electrical {
  if (Object.keys(text).length === 0) refuse(context, [], 'it is empty');
  suspectFigures(context, text);
  const outputs = resolveOutputs(context, text);
  refuseUnneeded(context, text, outputs);
  return {
    celsius: text.celsius ?? null,
    wires:
      text.wires === undefined
        ? null
        : {
            metal: text.wires.metal ?? ELECTRICAL_DEFAULTS.metal,
            diameter: text.wires.diameter,
            length: text.wires.length,
            lead: text.wires.lead ?? null,
          },
    core: resolveCore(context, text),
    outputs,
    together: resolveTogether(context, text, outputs),
    noise: resolveNoise(context, text, outputs),
    drop: resolveDrop(context, text),
    discharge:
      text.discharge === undefined
        ? null
        : {
            level: text.discharge.level,
            rail: text.discharge.rail ?? null,
            path: text.discharge.path ?? null,
          },
    decoupling:
      text.decoupling === undefined
        ? null
        : { chip: text.decoupling.chip ?? null, package: text.decoupling.package ?? null },
    supplies: resolveSupplies(context, text),
    coreStrips: resolveCoreStrips(context, text),
    place: context.source.placeOfKey([BLOCK]),
  };
}

/** Whether an output switches: by its own keys, or by what the library says of all its cells. */
const switches = (context: ElectricalContext, output: OutputGroup): boolean =>
  output.slope !== null || output.edge !== null || slopeOfCells(context, output);

const slopeOfCells = ({ entries }: ElectricalContext, { pins }: OutputGroup): boolean => {
  const wanted = new Set(pins);
  return entries.some(
    (entry) =>
      entry.pins.some((pin) => wanted.has(pin)) &&
      (entry.footprint.electrical?.drives?.slope ?? null) !== null,
  );
};

function resolveOutputs(context: ElectricalContext, text: ElectricalText): readonly OutputGroup[] {
  const { entries } = context;
  const bearers = new Map<string, Entry>();
  for (const entry of entries) for (const pin of entry.pins) if (!bearers.has(pin)) bearers.set(pin, entry);
  const signals = [...bearers].filter(([pin, entry]) => isSignal(entry, pin)).map(([pin]) => pin);
  const taken = new Map<string, string>();
  return Object.entries(text.outputs ?? {}).map(([name, output]) => {
    const path = ['outputs', name];
    output.pins.forEach((pin, i) => {
      const entry = bearers.get(pin);
      const at = [...path, 'pins', i];
      if (entry === undefined)
        wrong(context, at, 'unknown-pin', `there is no pin ${shown(pin)}`, didYouMean(pin, signals, 'pin'));
      else if (!isSignal(entry, pin))
        wrong(context, at, 'no-output', `pin ${shown(pin)} is a supply's, not an output`, 'leave it out');
      else checkLanes(context, at, pin, entry);
      const other = taken.get(pin);
      if (other !== undefined)
        wrong(
          context,
          at,
          'pin-twice',
          `pin ${shown(pin)} is in ${other === name ? 'this group twice' : `group ${shown(other)} as well`}`,
          'keep it in one of them',
        );
      taken.set(pin, name);
    });
    checkEdge(context, name, output);
    const { current, slope, load, swing, edge, shape } = output;
    return {
      name,
      pins: output.pins,
      current: current ?? null,
      slope: slope ?? null,
      load: load ?? null,
      swing: swing ?? null,
      edge: edge === undefined ? null : { time: edge, shape: shape ?? ELECTRICAL_DEFAULTS.shape },
    };
  });
}

const isSignal = ({ footprint, pins }: Entry, pin: string): boolean =>
  (footprint.landings[pins.indexOf(pin)]?.feeds ?? []).length === 0;

/** The lanes that an output's pad circuit works on must be known: from the library, or from the section's only pair. */
function checkLanes(context: ElectricalContext, at: Path, pin: string, { footprint, section }: Entry): void {
  const own = context.sections.find((one) => one.name === section);
  const said = footprint.electrical?.drives;
  const fitting = (own?.pairs ?? []).filter(
    (pair) => (said?.supply ?? pair.supply) === pair.supply && (said?.ground ?? pair.ground) === pair.ground,
  );
  if (own === undefined || fitting.length === 1) return;
  wrong(
    context,
    at,
    'unknown-pair',
    fitting.length === 0
      ? `cell ${shown(footprint.name)} of pin ${shown(pin)} works on lanes that are no pair of section ${shown(section)}`
      : `section ${shown(section)} has ${fitting.length} pairs, and nothing says on which of them cell ${shown(footprint.name)} of pin ${shown(pin)} works`,
    'say in the cell file `drives: {supply: …, ground: …}`, for the cell or for all',
  );
}

type OutputText = NonNullable<ElectricalText['outputs']>[string];

function checkEdge(context: ElectricalContext, name: string, output: OutputText): void {
  const path = ['outputs', name];
  const { current, slope, load, swing, edge, shape } = output;
  if (slope !== undefined && edge !== undefined) refuse(context, [...path, 'edge'], '`slope` is given');
  if (shape !== undefined && (edge === undefined || slope !== undefined))
    refuse(context, [...path, 'shape'], edge === undefined ? 'there is no `edge`' : '`slope` is given');
  if ((load === undefined) !== (swing === undefined))
    refuse(
      context,
      [...path, load === undefined ? 'swing' : 'load'],
      `there is no \`${load === undefined ? 'load' : 'swing'}\``,
    );
  if (edge !== undefined && (load === undefined || swing === undefined))
    refuse(context, [...path, 'edge'], 'it needs `load` and `swing`');
  const nothing = [current, slope, load, swing, edge].every((value) => value === undefined);
  if (
    nothing &&
    !slopeOfCells(context, {
      name,
      pins: output.pins,
      current: null,
      slope: null,
      load: null,
      swing: null,
      edge: null,
    })
  )
    refuse(context, path, 'it says neither what its pins draw nor how they switch');
}

function resolveTogether(
  context: ElectricalContext,
  text: ElectricalText,
  outputs: readonly OutputGroup[],
): Electrical['together'] {
  const known = outputs.map((output) => output.name);
  (text.together ?? []).forEach((group, i) => {
    group.forEach((name, k) => {
      if (!known.includes(name))
        wrong(
          context,
          ['together', i, k],
          'unknown-output',
          `there is no output group ${shown(name)}`,
          didYouMean(name, known, 'output group'),
        );
      else if (group.indexOf(name) !== k)
        wrong(
          context,
          ['together', i, k],
          'duplicate-name',
          `${shown(name)} is listed twice`,
          'list it once',
        );
    });
  });
  return text.together ?? [];
}

function resolveCore(context: ElectricalContext, text: ElectricalText): ReadonlyMap<string, number> {
  const { supply } = netsByKind(context.sections);
  const core = new Map(Object.entries(text.core ?? {}));
  for (const net of core.keys()) {
    if (!supply.has(net))
      wrong(
        context,
        ['core', net],
        'unknown-net',
        `${shown(net)} is no supply net of any section`,
        didYouMean(net, [...supply], 'supply net'),
      );
    else checkRating(context, text, net);
  }
  return core;
}

/** The core's current can only act with a rating of its supply cells, with wires, or on the way to a budget. */
function checkRating(context: ElectricalContext, text: ElectricalText, net: string): void {
  if (hasWires(context, text) || text.drop !== undefined) return;
  const cells = supplyCellsOf(context, net);
  const unrated = cells.find((entry) => entry.footprint.rating === undefined);
  if (cells.length > 0 && unrated === undefined) return;
  const why =
    unrated === undefined
      ? `no supply cell feeds ${shown(net)}`
      : `its supply cell ${shown(unrated.footprint.name)} has no \`rating\` in the cell file`;
  wrong(
    context,
    ['core', net],
    'current-without-rating',
    `a current of ${shown(net)} is given, but ${why}, and there are no wires to count with`,
    'add `rating:` to the cell in the cell file, or `wires:` here',
  );
}

const hasWires = ({ packaged }: ElectricalContext, text: ElectricalText): boolean =>
  packaged || text.wires !== undefined;

/** The entries whose landings feed a lane that is of a net in their section. */
function supplyCellsOf({ entries, sections }: ElectricalContext, net: string): readonly Entry[] {
  const bySection = new Map(sections.map((section) => [section.name, section.lanes]));
  return entries.filter((entry) =>
    entry.footprint.landings.some((landing) =>
      landing.feeds.some((lane) => bySection.get(entry.section)?.get(lane) === net),
    ),
  );
}

function resolveNoise(
  context: ElectricalContext,
  text: ElectricalText,
  outputs: readonly OutputGroup[],
): ReadonlyMap<string, number> {
  const { sections, entries } = context;
  const { noise } = text;
  if (noise === undefined) return new Map();
  if (!hasWires(context, text)) refuse(context, ['noise'], 'neither `wires` nor a `package` is given');
  const switching = new Set(outputs.filter((o) => switches(context, o)).flatMap((o) => o.pins));
  const active = new Set(
    entries.filter((entry) => entry.pins.some((pin) => switching.has(pin))).map((entry) => entry.section),
  );
  if (typeof noise === 'number') {
    if (active.size === 0) refuse(context, ['noise'], 'no output is said to switch');
    return new Map(sections.map((section) => [section.name, noise]));
  }
  const known = sections.map((section) => section.name);
  for (const name of Object.keys(noise)) {
    if (!known.includes(name))
      wrong(
        context,
        ['noise', name],
        'unknown-section',
        `there is no section ${shown(name)}`,
        didYouMean(name, known, 'section'),
      );
    else if (active.size === 0) refuse(context, ['noise', name], 'no output is said to switch');
  }
  return new Map(Object.entries(noise));
}

function resolveDrop(context: ElectricalContext, text: ElectricalText): ReadonlyMap<string, number> {
  const { drop } = text;
  if (drop === undefined) return new Map();
  const { supply, ground } = netsByKind(context.sections);
  const known = [...supply, ...ground];
  const currents =
    text.core !== undefined || Object.values(text.outputs ?? {}).some((o) => o.current !== undefined);
  if (!currents) refuse(context, ['drop'], 'no current is given, of the core or of outputs');
  if (!hasSheets(context)) refuse(context, ['drop'], 'the cell file gives no layer a `sheetResistance`');
  if (typeof drop === 'number') return new Map(known.map((net) => [net, drop]));
  for (const net of Object.keys(drop))
    if (!known.includes(net))
      wrong(
        context,
        ['drop', net],
        'unknown-net',
        `${shown(net)} is no supply or ground net of any section`,
        didYouMean(net, known, 'net'),
      );
  return new Map(Object.entries(drop));
}

const hasSheets = ({ library }: ElectricalContext): boolean =>
  [...(library.layers ?? new Map()).values()].some((layer) => layer.sheetResistance !== undefined);

/** Keys that other keys must give a use. */
function refuseUnneeded(
  context: ElectricalContext,
  text: ElectricalText,
  outputs: readonly OutputGroup[],
): void {
  const { library, packaged } = context;
  const layers = [...(library.layers ?? new Map()).values()];
  const byTemperature = layers.some((layer) =>
    layer.currentLimits?.some((limit: { celsius: number | null }) => limit.celsius !== null),
  );
  if (text.celsius !== undefined && !byTemperature)
    refuse(context, ['celsius'], 'the cell file gives no current limit by temperature');
  if (text.wires !== undefined && packaged)
    refuse(context, ['wires'], 'the `package` says what the wires are');
  const currents = text.core !== undefined || outputs.some((o) => o.current !== null);
  if (text.wires !== undefined && !currents && text.noise === undefined)
    refuse(context, ['wires'], 'there is no current and no noise budget to count with');
  for (const [name, output] of Object.entries(text.outputs ?? {})) {
    if (output.slope !== undefined && text.noise === undefined)
      refuse(context, ['outputs', name, 'slope'], 'there is no `noise` budget');
    if (output.edge !== undefined && text.noise === undefined)
      refuse(context, ['outputs', name, 'edge'], 'there is no `noise` budget');
    if (output.load !== undefined && output.edge === undefined && text.decoupling === undefined)
      refuse(context, ['outputs', name, 'load'], 'there is neither an `edge` nor `decoupling`');
  }
  if (text.together !== undefined && text.noise === undefined && text.decoupling === undefined)
    refuse(context, ['together'], 'there is neither a `noise` budget nor `decoupling`');
  if (text.discharge !== undefined) {
    if (text.discharge.rail === undefined && text.discharge.path === undefined)
      refuse(context, ['discharge', 'level'], 'there is neither a `rail` nor a `path` budget');
    if (!hasSheets(context))
      refuse(context, ['discharge'], 'the cell file gives no layer a `sheetResistance`');
  }
  if (text.decoupling !== undefined) {
    if (Object.keys(text.decoupling).length === 0) refuse(context, ['decoupling'], 'it is empty');
    else if (!outputs.some((o) => o.load !== null && o.swing !== null))
      refuse(context, ['decoupling'], 'no output gives `load` and `swing`');
  }
}
