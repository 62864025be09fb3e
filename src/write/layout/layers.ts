/** Which GDSII layer each purpose of the ring's shapes goes to, as the user's layer map says. */
import type { Placement } from '../../format/placement.ts';
import { failed, found, type Outcome, type Problem } from '../../problems/problem.ts';
import type { Box } from './scale.ts';

export interface LayerNumber {
  readonly layer: number;
  /** The data type of shapes, the text type of labels. */
  readonly datatype: number;
}

export interface LayerMap {
  /** Metal of bond pads that stand outside a cell. */
  readonly bondPads?: LayerNumber | undefined;
  /** Their openings in the passivation. */
  readonly openings?: LayerNumber | undefined;
  /** Pin names, one at the centre of each bond pad. */
  readonly labels?: LayerNumber | undefined;
  /** The die's outline; not drawn where it is left out. */
  readonly die?: LayerNumber | undefined;
  /** The outline of every placed cell, to see the ring without the library; not drawn where it is left out. */
  readonly cells?: LayerNumber | undefined;
  /** By the name of the layer, as the placement has it. */
  readonly stems?: Readonly<Record<string, LayerNumber>> | undefined;
  /** By the name of the layer. The library's cells hold these strips too, so a data type of its own is usual. */
  readonly rails?: Readonly<Record<string, LayerNumber>> | undefined;
  /** By the name of the layer: the core's strips and the straps that join them to supply cells. */
  readonly coreStrips?: Readonly<Record<string, LayerNumber>> | undefined;
}

/** The layer map with all that a placement needs at hand. */
export interface ResolvedLayers {
  readonly bondPads: LayerNumber;
  readonly openings: LayerNumber;
  readonly labels: LayerNumber;
  readonly die: LayerNumber | null;
  readonly cells: LayerNumber | null;
  readonly stem: (layer: string) => LayerNumber;
  readonly rail: (layer: string) => LayerNumber;
  readonly coreStrip: (layer: string) => LayerNumber;
}

const UNUSED: LayerNumber = { layer: 0, datatype: 0 };

/** GDSII keeps both numbers in two bytes with a sign, and negative ones mean nothing. */
const MOST = 32_767;

/** Everything that the placement draws, looked up once; all that lacks is told in one problem. */
export function resolveLayers(map: LayerMap, placement: Placement): Outcome<ResolvedLayers> {
  const outside = outsidePads(placement);
  const stems = new Set(placement.stems.flatMap((stem) => stem.layers));
  const rails = new Set(placement.rails.flatMap((rail) => rail.rectangles.map((r) => r.layer)));
  const strips = new Set(coreMetal(placement).map((r) => r.layer));
  const lacking = [
    ...(outside.length > 0 && !map.bondPads ? ['bondPads'] : []),
    ...(outside.length > 0 && !map.openings ? ['openings'] : []),
    ...(placement.bondPads.length > 0 && !map.labels ? ['labels'] : []),
    ...[...stems].filter((name) => !own(map.stems, name)).map((name) => `stems.${name}`),
    ...[...rails].filter((name) => !own(map.rails, name)).map((name) => `rails.${name}`),
    ...[...strips].filter((name) => !own(map.coreStrips, name)).map((name) => `coreStrips.${name}`),
  ];
  const problems: Problem[] = [];
  if (lacking.length > 0)
    problems.push({
      code: 'layer-map-lacks',
      message: `the layer map has no number for ${lacking.join(', ')}`,
      mend: 'give each a layer and a datatype',
    });
  for (const [name, number] of entries(map))
    if (![number.layer, number.datatype].every((n) => Number.isInteger(n) && n >= 0 && n <= MOST))
      problems.push({
        code: 'layer-number',
        message: `${name} has layer ${number.layer} and datatype ${number.datatype}, which GDSII cannot hold`,
        mend: `both are whole numbers from 0 to ${MOST}`,
      });
  if (problems.length > 0) return failed(...problems);
  return found({
    bondPads: map.bondPads ?? UNUSED,
    openings: map.openings ?? UNUSED,
    labels: map.labels ?? UNUSED,
    die: map.die ?? null,
    cells: map.cells ?? null,
    stem: (layer) => own(map.stems, layer) ?? UNUSED,
    rail: (layer) => own(map.rails, layer) ?? UNUSED,
    coreStrip: (layer) => own(map.coreStrips, layer) ?? UNUSED,
  });
}

/** The bond pads that no cell contains: the others come with the cell's own drawing. */
export function outsidePads(placement: Placement): Placement['bondPads'] {
  const cells = new Map(placement.cells.map((cell) => [cell.name, cell.footprint]));
  const inside = new Set(
    placement.footprints.flatMap((footprint) =>
      footprint.landings
        .filter((l) => l.inside !== null)
        .map((l) => JSON.stringify([footprint.name, l.name])),
    ),
  );
  return placement.bondPads.filter((pad) => !inside.has(JSON.stringify([cells.get(pad.cell), pad.landing])));
}

/** The core's strips and their straps, each with its layer. */
export const coreMetal = (
  placement: Placement,
): readonly { readonly net: string; readonly layer: string; readonly box: Box; readonly strap: boolean }[] =>
  (placement.coreStrips ?? []).flatMap(({ net, rectangles, straps }) => [
    ...rectangles.map((box) => ({ net, layer: box.layer, box, strap: false })),
    ...straps.map((box) => ({ net, layer: box.layer, box, strap: true })),
  ]);

function own(
  record: Readonly<Record<string, LayerNumber>> | undefined,
  key: string,
): LayerNumber | undefined {
  return record !== undefined && Object.hasOwn(record, key) ? record[key] : undefined;
}

function entries(map: LayerMap): readonly (readonly [string, LayerNumber])[] {
  const single = ['bondPads', 'openings', 'labels', 'die', 'cells'] as const;
  return [
    ...single.flatMap((name) => (map[name] ? [[name, map[name]] as const] : [])),
    ...(['stems', 'rails', 'coreStrips'] as const).flatMap((group) =>
      Object.entries(map[group] ?? {}).map(([name, number]) => [`${group}.${name}`, number] as const),
    ),
  ];
}
