/** What is known of the metal layers: from LEF, and before it from the cell file. */
import type { CellFile } from './cell-file.ts';
import type { CurrentLimit, Metal } from './footprint.ts';
import type { LefLayer } from './lef/lef.ts';

/** The layers by name, LEF's first; undefined where nothing is known of any. */
export function metalsOf(
  lef: readonly LefLayer[],
  layers: CellFile['layers'],
): ReadonlyMap<string, Metal> | undefined {
  const metals = new Map<string, Metal>();
  for (const layer of lef) if (layer.type === 'ROUTING') metals.set(layer.name, metalOfLef(layer));
  for (const [name, { sheetResistance, currentLimits }] of Object.entries(layers ?? {}))
    metals.set(name, {
      ...metals.get(name),
      ...(sheetResistance === undefined ? {} : { sheetResistance }),
      ...(currentLimits ? { currentLimits: currentLimits.toSorted((a, b) => a.celsius - b.celsius) } : {}),
    });
  return metals.size === 0 ? undefined : metals;
}

/** A current limit that LEF gives by wire width counts with its least figure. */
function metalOfLef({ sheetResistance, currentDensity }: LefLayer): Metal {
  const least = Math.min(...currentDensity.map((one) => one.limit));
  const limit: CurrentLimit = { celsius: null, perMicrometre: least };
  return {
    ...(sheetResistance === null ? {} : { sheetResistance }),
    ...(currentDensity.length > 0 ? { currentLimits: [limit] } : {}),
  };
}
