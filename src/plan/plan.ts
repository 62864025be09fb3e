/**
 * Decisions before geometry: the section of every cell around the ring, the break cells that part neighbouring
 * sections, and every cell's name.
 */
import { SIDES, type Side } from '../geometry/side.ts';
import type { Units } from '../geometry/units.ts';
import type { Footprint } from '../library/footprint.ts';
import { standIn } from '../library/stand-in.ts';
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import type { Entry, Ring, Section } from '../spec/ring.ts';
import { namer } from './names.ts';

/** Where a cell stood in an older placement, which is to be kept where the rules allow. */
export interface Kept {
  /** Its start edge along s; several where pads share its pin's name, any of whose places is as good. */
  readonly starts: readonly Units[];
  /** How many of its pins stay where they were if it stands there. */
  readonly pins: number;
}

/** One cell of a side, corner cells and fillers apart. */
export interface PlannedCell {
  readonly name: string;
  readonly footprint: Footprint;
  /** The user's entry; null for a break cell that was set by itself. */
  readonly entry: Entry | null;
  /** Null for a break cell. */
  readonly section: string | null;
  readonly kept?: Kept;
  /** The row that was asked for, where the entry's is kept from an older placement. */
  readonly rowAsked?: Entry['row'];
  /** Where its wires would be straightest: the start edge's distance from the side's middle, and how many they are. */
  readonly wish?: { readonly fromMiddle: Units; readonly wires: number };
}

export interface Plan {
  readonly ring: Ring;
  readonly sides: Readonly<Record<Side, readonly PlannedCell[]>>;
  /** The section of the corner cell after a side. */
  readonly corners: Readonly<Record<Side, string>>;
  /** The section that runs on from before a side's first cell: its fillers' section until a cell says otherwise. */
  readonly entering: Readonly<Record<Side, string>>;
  /** The die of an older placement that is to be kept: taken in place of the least one where that moves no more. */
  readonly keptDie?: { readonly width: Units; readonly height: Units };
}

/** Plans the ring; every place where no break cell of the library can part two sections is a problem. */
export function plan(ring: Ring): Outcome<Plan> {
  const problems: Problem[] = [];
  const sections = new Map(ring.sections.map((s) => [s.name, s]));
  const entries = SIDES.flatMap((side) => ring.sides[side].entries.map((entry) => ({ side, entry })));
  const bySection = entries.filter(({ entry }) => entry.footprint.role !== 'break');
  const first = bySection[0]?.entry.section ?? ring.sections[0]?.name ?? '';
  const last = bySection.at(-1)?.entry.section ?? first;
  const name = namer(ring);

  const sides: Record<Side, PlannedCell[]> = { left: [], bottom: [], right: [], top: [] };
  const corners = { left: last, bottom: last, right: last, top: last };
  const entering = { left: last, bottom: last, right: last, top: last };
  let running = last;
  let parted = entries.at(-1)?.entry.footprint.role === 'break';
  for (const side of SIDES) {
    entering[side] = running;
    for (const entry of ring.sides[side].entries) {
      const isBreak = entry.footprint.role === 'break';
      if (!isBreak && !parted && entry.section !== running) {
        const inserted = breakBetween(ring, sections.get(running), sections.get(entry.section), entry);
        if ('problem' in inserted) problems.push(inserted.problem);
        else if (inserted.footprint !== null)
          sides[side].push({
            name: name.ofBreak(),
            footprint: standIn(ring.library, inserted.footprint, side),
            entry: null,
            section: null,
          });
      }
      sides[side].push({
        name: name.ofEntry(entry),
        footprint: entry.footprint,
        entry,
        section: isBreak ? null : entry.section,
      });
      parted = isBreak;
      if (!isBreak) running = entry.section;
    }
    corners[side] = running;
  }
  return problems.length > 0 ? failed(...problems) : found({ ring, sides, corners, entering });
}

type Inserted = { readonly footprint: Footprint | null } | { readonly problem: Problem };

/** The break cell that parts two sections: it cuts every lane whose nets differ and the fewest others. */
function breakBetween(
  ring: Ring,
  before: Section | undefined,
  after: Section | undefined,
  entry: Entry,
): Inserted {
  if (before === undefined || after === undefined) return { footprint: null };
  const differing = differingLanes(before, after);
  if (differing.length === 0) return { footprint: null };
  const fitting = ring.breaks
    .map((footprint) => ({ footprint, others: othersCut(footprint, differing, before, after) }))
    .filter(({ others }) => others >= 0)
    .sort(
      (a, b) =>
        a.others - b.others ||
        a.footprint.width - b.footprint.width ||
        (a.footprint.name < b.footprint.name ? -1 : 1),
    );
  const best = fitting[0];
  if (best !== undefined) return { footprint: best.footprint };
  return {
    problem: {
      code: 'no-break-cell',
      message: `sections "${before.name}" and "${after.name}" meet here with different nets on ${differing.join(', ')}, and no break cell cuts ${differing.length > 1 ? 'all of these lanes' : 'that lane'}`,
      mend: `add a break cell that cuts ${differing.join(', ')} to the cell file, or give both sections the same net there`,
      place: entry.place,
    },
  };
}

/** The lanes on which two sections put different nets. */
function differingLanes(before: Section, after: Section): readonly string[] {
  const lanes = new Set([...before.lanes.keys(), ...after.lanes.keys()]);
  return [...lanes].filter((lane) => before.lanes.get(lane) !== after.lanes.get(lane));
}

/** How many lanes a break cell cuts beyond those that must be cut; -1 where it lets one of these through. */
function othersCut(cell: Footprint, differing: readonly string[], before: Section, after: Section): number {
  const through = new Set(
    cell.lanes.filter((l) => l.strips.some((s) => s.carry === 'through')).map((l) => l.lane),
  );
  if (differing.some((lane) => through.has(lane))) return -1;
  const lanes = new Set([...before.lanes.keys(), ...after.lanes.keys()]);
  return [...lanes].filter((lane) => !differing.includes(lane) && !through.has(lane)).length;
}
