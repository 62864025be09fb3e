/** Stems of supply cells: the direct current that each cell gives, against what its stems may carry. */
import type { Stem } from '../format/placement.ts';
import { isHorizontal } from '../geometry/side.ts';
import type { Assessment } from './assess.ts';
import { type Layers, type Limit, limitOf, type Missing } from './metal.ts';
import { stemsOf } from './rails.ts';

export interface StemLoad {
  readonly cell: string;
  readonly current: number;
  readonly layer: string;
  readonly share: number;
  readonly width: number;
  readonly density: number;
  readonly limit: Limit;
}

/** The layer of a stem that a current loads most, the layers sharing it by their sheet resistances. */
function stemLoad(
  cell: string,
  current: number,
  stem: Stem,
  horizontal: boolean,
  celsius: number | null,
  layers: Layers,
): StemLoad | Missing {
  const width = horizontal ? stem.width : stem.height;
  const conductances: number[] = [];
  for (const layer of stem.layers) {
    const sheet = layers.get(layer)?.sheetResistance ?? null;
    // A single layer carries all of it, whatever its resistance.
    if (sheet === null && stem.layers.length > 1)
      return { missing: `the sheet resistance of layer ${layer}` };
    conductances.push(1 / (sheet ?? 1));
  }
  const all = conductances.reduce((sum, g) => sum + g, 0);
  let most: StemLoad | undefined;
  for (const [k, layer] of stem.layers.entries()) {
    const limit = limitOf(layer, celsius, layers);
    if ('missing' in limit) return limit;
    const share = (conductances[k] ?? 0) / all;
    const density = (current * share) / width;
    if (most === undefined || density / limit.perMicrometre > most.density / most.limit.perMicrometre)
      most = { cell, current, layer, share, width, density, limit };
  }
  return most ?? { missing: 'the layers of stems' };
}

/** Every stem of a supply cell with its current. */
export function stemLoads(a: Assessment): readonly (StemLoad | Missing)[] {
  const stems = stemsOf(a.placement);
  const loads: (StemLoad | Missing)[] = [];
  for (const [name, { feed, current }] of a.given) {
    const own = feed.pads.flatMap((pad) => stems.get(pad.number) ?? []);
    const pad = feed.pads[0];
    if (pad === undefined || current === 0) continue;
    for (const stem of own)
      loads.push(
        stemLoad(name, current / own.length, stem, isHorizontal(pad.side), a.rules.celsius, a.layers),
      );
  }
  return loads;
}

/** The stem that is nearest to its limit or furthest beyond; undefined where no stem carries a current. */
export function mostLoadedStem(a: Assessment): StemLoad | Missing | undefined {
  let most: StemLoad | undefined;
  for (const load of stemLoads(a)) {
    if ('missing' in load) return load;
    if (
      most === undefined ||
      load.density / load.limit.perMicrometre > most.density / most.limit.perMicrometre
    )
      most = load;
  }
  return most;
}
