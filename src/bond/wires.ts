/** The wires of a placement with all that is asked of them. */
import type { Placement } from '../format/placement.ts';
import { type Neighbour, type Relations, relationsOf } from './near.ts';
import { type StrungWire, stringWires } from './string.ts';

export interface Wire extends StrungWire {
  /** The numbers of the wires that it crosses. */
  readonly crosses: readonly number[];
  /** The nearest wire of like height, by its number, and the nearest pad not its own that it does not pass above. */
  readonly nearestWire: { readonly wire: number; readonly gap: number } | null;
  readonly nearestPad: { readonly bondPad: number; readonly gap: number } | null;
}

export interface Strung {
  readonly wires: readonly Wire[];
  readonly relations: Relations;
}

/** The wires by number, and which of them come too near to each other; none where there is no package. */
export function strung(placement: Placement): Strung {
  const bare = stringWires(placement);
  const relations = relationsOf(placement, bare);
  const crosses: number[][] = bare.map(() => []);
  for (const [a, b] of relations.crossings) {
    crosses[a]?.push(b + 1);
    crosses[b]?.push(a + 1);
  }
  const wires = bare.map((wire, i): Wire => {
    const other: Neighbour | null = relations.nearest[i] ?? null;
    const pad: Neighbour | null = relations.nearestPad[i] ?? null;
    return {
      ...wire,
      crosses: (crosses[i] ?? []).sort((a, b) => a - b),
      nearestWire: other === null ? null : { wire: other.index + 1, gap: other.gap },
      nearestPad: pad === null ? null : { bondPad: placement.bondPads[pad.index]?.number ?? 0, gap: pad.gap },
    };
  });
  return { wires, relations };
}

/** The wires by number; none where there is no package. */
export const wiresOf = (placement: Placement): readonly Wire[] => strung(placement).wires;
