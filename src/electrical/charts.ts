/**
 * What the drawings show of arcs: the voltage drop along each, and the switching load between its grounds. Ways are
 * micrometres along the arc from its first cell, drops V, loads mA/ns.
 */
import type { Placement } from '../format/placement.ts';
import { arcName, arcsOf, ringCells } from './arcs.ts';
import { coreShares } from './core.ts';
import { groupsOf, type LoadedArc, loadedArcs, worstSwitching } from './groups.ts';
import { loadsOf } from './loads.ts';
import { layersOf } from './metal.ts';
import { withOwnNames } from './own-names.ts';
import { metalBook, solveArc, stemsOf } from './rails.ts';

export interface Mark {
  readonly way: number;
  readonly cell: string;
}

interface ArcChart {
  readonly name: string;
  readonly closed: boolean;
  readonly length: number;
  /** The cells that feed the arc. */
  readonly feeds: readonly Mark[];
}

export interface DropChart extends ArcChart {
  readonly kind: 'drop';
  readonly points: readonly { readonly way: number; readonly drop: number }[];
  readonly worst: number;
  readonly budget: number | null;
}

export interface LoadChart extends ArcChart {
  readonly kind: 'load';
  /** Between one ground and the next; of an open arc from its start and to its end too. */
  readonly stretches: readonly { readonly from: number; readonly to: number; readonly load: number }[];
  readonly worst: number;
  /** The outputs that switch together at worst. */
  readonly outputs: readonly string[];
}

export type Chart = DropChart | LoadChart;

/** The charts of a placement, arc by arc; none where nothing electrical is asked for. */
export function chartsOf(given: Placement): readonly Chart[] {
  const placement = withOwnNames(given);
  const rules = placement.rules.electrical;
  if (rules === undefined) return [];
  const layers = layersOf(rules);
  const plain = arcsOf(placement, ringCells(placement));
  const arcs = loadedArcs(plain, loadsOf(placement, rules), coreShares(placement, rules, plain));
  const metalOf = metalBook(layers);
  const stems = stemsOf(placement);
  const worstOf = new Map(
    groupsOf(placement, arcs).flatMap((group) =>
      group.arcs.map((arc) => [arc, { kind: group.kind, worst: worstSwitching(group, rules) }] as const),
    ),
  );
  return arcs.flatMap((arc): readonly Chart[] => {
    const ways = waysOf(arc);
    const base = {
      name: arcName(arc.arc),
      closed: arc.arc.closed,
      length: arc.arc.cells.reduce((sum, cell) => sum + cell.along, 0),
      feeds: arc.feeds.map(({ at, cell }) => ({ way: ways[at] ?? 0, cell: cell.cell.name })),
    };
    const charts: Chart[] = [];
    const solved = solveArc(arc, metalOf, layers, stems);
    if (!('missing' in solved))
      charts.push({
        ...base,
        kind: 'drop',
        points: [...solved.solution.drop].map((drop, i) => ({ way: ways[i] ?? 0, drop })),
        worst: solved.worst.drop,
        budget: rules.drop[arc.arc.net] ?? null,
      });
    const group = worstOf.get(arc);
    if (group?.kind === 'ground' && group.worst.slope > 0)
      charts.push(loadChart(arc, ways, base, new Set(group.worst.outputs)));
    return charts;
  });
}

/** The way to the middle of each cell. */
function waysOf({ arc }: LoadedArc): readonly number[] {
  let way = 0;
  return arc.cells.map(({ along }) => {
    way += along;
    return way - along / 2;
  });
}

function loadChart(
  { arc, loads }: LoadedArc,
  ways: readonly number[],
  base: ArcChart,
  outputs: ReadonlySet<string>,
): LoadChart {
  const cuts = base.feeds.map((feed) => feed.way).sort((a, b) => a - b);
  const first = cuts[0] ?? 0;
  const last = cuts.at(-1) ?? 0;
  const between = cuts.slice(1).map((to, i) => ({ from: cuts[i] ?? 0, to, load: 0 }));
  // Round a closed arc the last stretch goes on through its start.
  const ends = arc.closed
    ? [{ from: last, to: first + base.length, load: 0 }]
    : [
        { from: 0, to: first, load: 0 },
        { from: last, to: base.length, load: 0 },
      ];
  const stretches =
    cuts.length === 0
      ? [{ from: 0, to: base.length, load: 0 }]
      : [...between, ...ends].sort((a, b) => a.from - b.from);
  // Loads come in the order of the arc, and so do the stretches that they lie in.
  let k = 0;
  for (const { at, load } of loads) {
    if (load.slope === null || !outputs.has(load.output)) continue;
    const way = ways[at] ?? 0;
    while (k + 1 < stretches.length && way >= (stretches[k]?.to ?? 0)) k++;
    const own = way < (stretches[0]?.from ?? 0) ? stretches.at(-1) : stretches[k];
    if (own !== undefined) own.load += load.slope;
  }
  const worst = stretches.reduce((most, { load }) => Math.max(most, load), 0);
  return { ...base, kind: 'load', stretches, worst, outputs: [...outputs] };
}
