/** What the library demands of each run of a section: numbers of cells, and cells that rely on others. */
import type { Hit, Rule } from '../finding.ts';
import type { Kind } from '../kinds.ts';
import { hit, hitAt } from '../say.ts';
import { type SectionRun, sectionRuns } from '../section-runs.ts';
import type { View } from '../view.ts';

/** How many of a footprint a run holds, its stand-in on the vertical sides included. */
function countOf(view: View, kinds: ReadonlyMap<Kind, number>, name: string): number {
  const standIn = view.kindNamed.get(name)?.footprint.onVertical ?? null;
  let count = 0;
  for (const [kind, n] of kinds)
    if (kind.footprint.name === name || kind.footprint.name === standIn) count += n;
  return count;
}

/** The runs, each with a word on which it is where its section has several. */
function namedRuns(view: View): readonly (readonly [SectionRun, string])[] {
  const counts = new Map<SectionRun['section'], number>();
  for (const { section } of sectionRuns(view)) counts.set(section, (counts.get(section) ?? 0) + 1);
  return sectionRuns(view).map((run) => [
    run,
    (counts.get(run.section) ?? 0) > 1 ? ` in its run from "${run.first.name}" on` : '',
  ]);
}

const say = (run: SectionRun, where: string, message: string, ...items: readonly string[]): Hit =>
  where === '' ? hit(message, ...items) : hitAt(run.first, message, ...items);

function counts(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  const demanding = view.kinds.filter((k) => k.footprint.perSection !== null);
  if (demanding.length === 0) return hits;
  // A stand-in is counted with the footprint that it stands for, whose demand holds for both.
  const standIns = new Set(demanding.flatMap((k) => k.footprint.onVertical ?? []));
  for (const [run, where] of namedRuns(view))
    for (const { footprint } of demanding) {
      const { perSection: demand, name } = footprint;
      const self = footprint.onVertical === name;
      if (demand === null || (standIns.has(name) && !self)) continue;
      const count = countOf(view, run.kinds, name);
      const least = run.used ? demand.least : 0;
      if (count >= least && (demand.most === null || count <= demand.most)) continue;
      const asked =
        demand.most === null
          ? `at least ${demand.least}`
          : demand.least === demand.most
            ? `exactly ${demand.least}`
            : `${demand.least} to ${demand.most}`;
      hits.push(
        say(
          run,
          where,
          `section "${run.section.name}" has ${count} of ${name}${where}; the library asks for ${asked}`,
          run.section.name,
          name,
        ),
      );
    }
  return hits;
}

function needs(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const [run, where] of namedRuns(view))
    for (const { footprint } of run.kinds.keys()) {
      if (footprint.needs.length === 0) continue;
      if (footprint.needs.some((name) => countOf(view, run.kinds, name) > 0)) continue;
      const asked = footprint.needs.join(' or ');
      hits.push(
        say(
          run,
          where,
          `section "${run.section.name}" holds ${footprint.name}${where}, which needs ${asked} there`,
          run.section.name,
          footprint.name,
        ),
      );
    }
  return hits;
}

export const SECTION_DEMAND_RULES: readonly Rule[] = [
  {
    name: 'section-count',
    severity: 'error',
    protects:
      'That every run of a section has as many of a cell as the library demands, such as one start-up control cell.',
    mend: 'Add or take out cells of that kind in the section, in each run that other sections part from the rest.',
    run: counts,
  },
  {
    name: 'section-needs',
    severity: 'error',
    protects: 'That a cell finds in its run of the section the other cell that it relies on.',
    mend: 'Add one of the cells named to the section, in the run that the message names.',
    run: needs,
  },
];
