/**
 * From the description's `electrical` to the resolved demands: names found, and every key that cannot act for want of
 * another one refused, so that nobody relies on it.
 */
import type { Electrical, OutputGroup } from './electrical.ts';
import { BLOCK, type ElectricalContext, netsByKind, refuse, wrong } from './electrical-context.ts';
import { resolveOutputs, resolveTogether, switches } from './electrical-outputs.ts';
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
