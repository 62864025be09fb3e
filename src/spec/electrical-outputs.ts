/** The groups of outputs: pins found, lanes known, and nothing said twice or in vain. */
import type { Path } from '../source/source.ts';
import type { Electrical, OutputGroup } from './electrical.ts';
import { type ElectricalContext, refuse, wrong } from './electrical-context.ts';
import { ELECTRICAL_DEFAULTS, type ElectricalText } from './electrical-schema.ts';
import { didYouMean, shown } from './report.ts';
import type { Entry } from './ring.ts';

/** Whether an output switches: by its own keys, or by what the library says of all its cells. */
export const switches = (context: ElectricalContext, output: OutputGroup): boolean =>
  output.slope !== null || output.edge !== null || slopeOfCells(context, output);

const slopeOfCells = ({ entries }: ElectricalContext, { pins }: OutputGroup): boolean => {
  const wanted = new Set(pins);
  return entries.some(
    (entry) =>
      entry.pins.some((pin) => wanted.has(pin)) &&
      (entry.footprint.electrical?.drives?.slope ?? null) !== null,
  );
};

export function resolveOutputs(context: ElectricalContext, text: ElectricalText): readonly OutputGroup[] {
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

export function resolveTogether(
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
