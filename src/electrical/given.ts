/** What every supply cell gives, by the solved rails. */
import type { ArcFeed, LoadedArc } from './groups.ts';
import type { Missing } from './metal.ts';
import type { SolvedArc } from './rails.ts';

/** What a supply cell gives to all arcs that it feeds, mA. */
export interface Given {
  readonly feed: ArcFeed;
  readonly current: number;
}

/** What each supply cell gives, by its name, over all arcs that could be solved; strips take an even share. */
export function givenBy(
  arcs: readonly LoadedArc[],
  rails: readonly (SolvedArc | Missing)[],
): ReadonlyMap<string, Given> {
  const given = new Map<string, Given>();
  for (const [i, loaded] of arcs.entries()) {
    const solved = rails[i];
    for (const [k, feed] of loaded.feeds.entries()) {
      const own = solved === undefined || 'missing' in solved ? 0 : (solved.solution.given[k] ?? 0) * 1e3;
      const current = own + loaded.strip / loaded.feeds.length;
      const { name } = feed.cell.cell;
      given.set(name, { feed, current: (given.get(name)?.current ?? 0) + current });
    }
  }
  return given;
}
