/** What the arcs of a placement need of supply cells, in the form in which the plan can set them. */
import { isAssessed } from '../figures/figure.ts';
import type { Assessment } from './assess.ts';

/** An arc and how many more supply cells it needs; none where it has enough. */
export interface ArcNeed {
  readonly lane: string;
  readonly kind: 'supply' | 'ground';
  readonly closed: boolean;
  /** Names of all its cells, in ring order. */
  readonly cells: readonly string[];
  readonly more: number;
  /** What switches on it for each of its supply cells: where spare ones help most. */
  readonly strain: number;
}

/** Every supplied arc; of arcs that share their bond pads the first stands for all. One that nothing feeds needs one. */
export function arcNeeds({ supplies }: Assessment): readonly ArcNeed[] {
  return supplies.flatMap(({ group, have, needed }): ArcNeed[] => {
    const [first] = group.arcs;
    if (first === undefined) return [];
    const least = isAssessed(needed) ? needed.value : 1;
    const slope = first.loads.reduce((sum, { load }) => sum + (load.slope ?? 0), 0);
    const { lane, closed, cells } = first.arc;
    return [
      {
        lane,
        kind: group.kind,
        closed,
        cells: cells.map(({ cell }) => cell.name),
        more: Math.max(0, least - have),
        strain: (slope === 0 ? 1e-3 * cells.length : slope) / Math.max(1, have),
      },
    ];
  });
}

/** The needs of a first assessment together with those that later ones, with supplies set, still find. */
export const addNeeds = (first: readonly ArcNeed[], later: readonly ArcNeed[]): readonly ArcNeed[] =>
  first.map((need, i) => ({ ...need, more: need.more + (later[i]?.more ?? 0) }));
