/**
 * What the demands and the package speak of by name. A name that nothing bears switches its check off without a word,
 * and so does a budget of a net that it cannot be of: each is told.
 */
import type { ElectricalRules, PlacedPackage, Placement } from '../../format/placement.ts';
import type { Hit } from '../finding.ts';
import { once } from '../once.ts';
import { hit, names } from '../say.ts';
import type { View } from '../view.ts';

/** The nets of supplies and of grounds, by the sections' pairs. */
const pairNets = once(
  ({ placement }): { readonly supply: ReadonlySet<string>; readonly ground: ReadonlySet<string> } => {
    const nets = { supply: new Set<string>(), ground: new Set<string>() };
    for (const { lanes, pairs } of placement.sections)
      for (const pair of pairs)
        for (const end of ['supply', 'ground'] as const) {
          const net = Object.hasOwn(lanes, pair[end]) ? lanes[pair[end]] : undefined;
          if (net !== undefined) nets[end].add(net);
        }
    return nets;
  },
);

/** Every pin of a cell, and whether it is an output's: of a landing that feeds no lane. */
function pinsOfCells({ cells }: View): ReadonlyMap<string, boolean> {
  const pins = new Map<string, boolean>();
  for (const c of cells)
    c.cell.pins?.forEach((pin, k) => {
      const plain = (c.kind?.landings[k]?.feeds.length ?? 0) === 0;
      pins.set(pin, plain || pins.get(pin) === true);
    });
  return pins;
}

/** References of the demands and of the package to what there is not. */
export function unknownReferences(view: View): readonly Hit[] {
  const { rules, package: bonded } = view.placement;
  return [
    ...(rules.electrical === undefined ? [] : unknownInDemands(view, rules.electrical)),
    ...(bonded === undefined ? [] : unknownInPackage(view.placement, bonded)),
  ];
}

function unknownInDemands(view: View, demands: ElectricalRules): readonly Hit[] {
  const { supply, ground } = pairNets(view);
  const outputs = new Set(demands.outputs.map((output) => output.name));
  const hits: Hit[] = [];
  const look = (
    list: readonly string[],
    what: string,
    known: (name: string) => boolean,
    why: string,
  ): void => {
    for (const name of list) if (!known(name)) hits.push(hit(`${what} "${name}", ${why}`, name));
  };
  const feeds = (net: string): boolean => supply.has(net) || ground.has(net);
  look(
    Object.keys(demands.core),
    "the core's current is given for net",
    (net) => supply.has(net),
    'which is no supply net of any section',
  );
  look(
    Object.keys(demands.drop),
    'a budget for the drop is given for net',
    feeds,
    'which is no supply or ground net of any section',
  );
  look(
    Object.keys(demands.noise),
    'a budget for the noise is given for section',
    (name) => view.sectionNamed.has(name),
    'which is not listed',
  );
  look(
    demands.coreStrips?.nets ?? [],
    'a core strip is asked for net',
    feeds,
    'which is no supply or ground net of any section',
  );
  for (const group of demands.together)
    look(
      group,
      'outputs that switch together name output',
      (name) => outputs.has(name),
      'which is not listed',
    );
  if (demands.outputs.length === 0) return hits;
  const pins = pinsOfCells(view);
  for (const output of demands.outputs) {
    const named = `output "${output.name}" names pin`;
    look(output.pins, named, (pin) => pins.has(pin), 'which no cell has');
    look(output.pins, named, (pin) => pins.get(pin) !== false, "which is a supply's and no output");
  }
  return hits;
}

function unknownInPackage({ bondPads }: Placement, bonded: PlacedPackage): readonly Hit[] {
  const pins = new Set(bondPads.map((pad) => pad.pin));
  const look = (list: readonly string[], what: string): readonly Hit[] =>
    list
      .filter((pin) => !pins.has(pin))
      .map((pin) => hit(`the package ${what} pin "${pin}", which has no bond pad`, pin));
  return [
    ...look(Object.keys(bonded.wires.currents), 'gives a current of'),
    ...look(bonded.unbonded, 'leaves without a wire'),
    ...look(bonded.exchange.flat(), 'lets others take the place of'),
  ];
}

/** What the demands and the package list twice. */
export function doubleReferences({ placement }: View): readonly Hit[] {
  const { rules, package: bonded } = placement;
  const hits: Hit[] = [];
  const look = (list: readonly string[], say: (name: string) => string): void => {
    const seen = new Set<string>();
    const told = new Set<string>();
    for (const name of list) {
      if (seen.has(name) && !told.has(name)) {
        told.add(name);
        hits.push(hit(say(name), name));
      }
      seen.add(name);
    }
  };
  if (rules.electrical !== undefined) {
    const { outputs, layers, together } = rules.electrical;
    look(
      outputs.map((output) => output.name),
      (name) => `two outputs are named "${name}"`,
    );
    look(
      layers.map((layer) => layer.name),
      (name) => `two layers are named "${name}"`,
    );
    look(
      outputs.flatMap((output) => output.pins),
      (pin) => `pin "${pin}" is listed twice among the outputs`,
    );
    for (const group of together)
      look(group, (name) => `output "${name}" is listed twice among those that switch together`);
  }
  if (bonded !== undefined)
    look(bonded.exchange.flat(), (pin) => `pin "${pin}" is listed twice among those that take places`);
  return hits;
}

/** Layers of the demands on which nothing is drawn, while there are rails on one that they do not list. */
export function idleLayers({ placement }: View): readonly Hit[] {
  const layers = placement.rules.electrical?.layers ?? [];
  if (layers.length === 0) return [];
  const rails = new Set<string>();
  const others = [...placement.rules.stems.layers];
  for (const f of placement.footprints) {
    for (const { strips } of f.lanes) for (const { layer } of strips) rails.add(layer);
    for (const { layer } of f.straps ?? []) others.push(layer);
  }
  const drawn = new Set([...rails, ...others]);
  const wanted = placement.rules.electrical?.coreStrips?.layer;
  if (wanted !== undefined) drawn.add(wanted);
  for (const { layer } of placement.coreStrips ?? []) drawn.add(layer);
  const listed = new Set(layers.map((layer) => layer.name));
  const unlisted = [...rails].find((layer) => !listed.has(layer));
  const idle = [...listed].filter((layer) => !drawn.has(layer)).sort();
  if (unlisted === undefined || idle.length === 0) return [];
  return [
    hit(
      `nothing is said of layer "${unlisted}", on which there are rails, and nothing is drawn on ${names(idle)}, which ${idle.length === 1 ? 'is' : 'are'} described`,
      unlisted,
      ...idle,
    ),
  ];
}
