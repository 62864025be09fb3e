/**
 * The runs of each section: its cells between break cells. Where a break cell stands between two stretches of one section
 * and lets any of its lanes through, the two are one run; with other sections between, they are two.
 */
import { carries } from './arcs.ts';
import type { Kind } from './kinds.ts';
import { once } from './once.ts';
import type { CellView, SectionView, View } from './view.ts';

export interface SectionRun {
  readonly section: SectionView;
  readonly first: CellView;
  /** How many cells of each kind it holds. */
  readonly kinds: ReadonlyMap<Kind, number>;
  /** Whether it holds more than fillers and corner cells. */
  readonly used: boolean;
}

interface Growing extends SectionRun {
  readonly kinds: Map<Kind, number>;
  used: boolean;
}

/** A stretch of the ring without a break cell, and the break cells behind it. */
interface Stretch {
  readonly runs: Map<SectionView, Growing>;
  readonly ends: CellView[];
}

const add = (kinds: Map<Kind, number>, kind: Kind, count: number): void => {
  kinds.set(kind, (kinds.get(kind) ?? 0) + count);
};

/** The ring from behind its first break cell on; one stretch where it has none. */
function stretchesOf({ ring }: View): readonly Stretch[] {
  const start = ring.findIndex((cell) => cell.role === 'break');
  const stretches: Stretch[] = [];
  let last: Stretch | undefined;
  let before: { section: SectionView; stretch: Stretch; run: Growing } | undefined;
  for (let k = 1; k <= ring.length; k++) {
    const cell = ring[(start + k) % ring.length];
    if (cell === undefined) continue;
    if (cell.role === 'break') {
      last?.ends.push(cell);
      continue;
    }
    if (last === undefined || last.ends.length > 0) {
      last = { runs: new Map(), ends: [] };
      stretches.push(last);
    }
    const { section, kind } = cell;
    if (section === null) continue;
    // Cells of one kind follow each other in most places, as fillers do.
    let run = before?.section === section && before.stretch === last ? before.run : last.runs.get(section);
    if (run === undefined) {
      run = { section, first: cell, kinds: new Map(), used: false };
      last.runs.set(section, run);
    }
    if (before?.run !== run) before = { section, stretch: last, run };
    if (kind !== null) add(run.kinds, kind, 1);
    run.used ||= cell.role !== 'filler' && cell.role !== 'corner';
  }
  return stretches;
}

/** Whether a lane of a section goes on through all of some break cells. */
const goesOn = (section: SectionView, breaks: readonly CellView[]): boolean =>
  [...section.nets.keys()].some((lane) => breaks.every((cell) => carries(cell, lane)));

/** All runs of all sections that have cells. */
export const sectionRuns = once((view): readonly SectionRun[] => {
  const stretches = stretchesOf(view);
  const joined = new Map<Growing, Growing>();
  const rootOf = (run: Growing): Growing => {
    const next = joined.get(run);
    return next === undefined ? run : rootOf(next);
  };
  stretches.forEach(({ runs, ends }, k) => {
    const following = stretches[(k + 1) % stretches.length];
    for (const [section, run] of runs) {
      const other = following?.runs.get(section);
      if (other === undefined || !goesOn(section, ends)) continue;
      const [a, b] = [rootOf(run), rootOf(other)];
      if (a === b) continue;
      for (const [kind, count] of b.kinds) add(a.kinds, kind, count);
      a.used ||= b.used;
      joined.set(b, a);
    }
  });
  return stretches.flatMap(({ runs }) => [...runs.values()].filter((run) => !joined.has(run)));
});

/** Which kinds each section holds, over all its runs. */
export const kindsIn = once((view): ReadonlyMap<SectionView, ReadonlySet<Kind>> => {
  const bySection = new Map<SectionView, Set<Kind>>();
  for (const { section, kinds } of sectionRuns(view)) {
    const own = bySection.get(section) ?? new Set();
    bySection.set(section, own);
    for (const kind of kinds.keys()) own.add(kind);
  }
  return bySection;
});
