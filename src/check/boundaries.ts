/**
 * Where two cells meet: their strips compared layer by layer and extent by extent. Rings repeat a few pairs of
 * kinds over and over, so a verdict is kept for each.
 */

import { carries, partedBy } from './arcs.ts';
import type { Face } from './kinds.ts';
import { once } from './once.ts';
import { lowT } from './turn.ts';
import type { CellView, SectionView, View } from './view.ts';

export interface Verdict {
  /** Pairs of nets that meet on one strip, as `VDD on VDDIO (M5)`. */
  readonly shorts: readonly string[];
  /** Strips of the cell before, and of the cell after, that end at the boundary. */
  readonly opens: { readonly before: readonly string[]; readonly after: readonly string[] };
  /** Strips that go on with another extent. */
  readonly steps: readonly string[];
}

export interface Boundary {
  readonly before: CellView;
  readonly after: CellView;
  readonly verdict: Verdict;
}

/** An edge of a cell as it stands: its strips, where t is counted from, and the section whose nets they carry. */
interface Edge {
  readonly cell: CellView;
  readonly face: Face;
  readonly t: number;
  readonly section: SectionView | null;
}

const CLEAN: Verdict = { shorts: [], opens: { before: [], after: [] }, steps: [] };

/** The boundaries of the ring at which something is amiss. */
export const troubledBoundaries = once((view): readonly Boundary[] => {
  const { ring } = view;
  const parted = partedBy(view);
  const known = new Map<number, Verdict>();
  const found: Boundary[] = [];
  const faces = 2 * view.kinds.length;
  const width = view.sections.length + 1;
  for (let i = 0; i < ring.length; i++) {
    const j = i + 1 < ring.length ? i + 1 : 0;
    const [a, b] = [ring[i], ring[j]];
    if (a === undefined || b === undefined || a === b || !meet(a, b)) continue;
    const [left, entered] = [faceLeft(a), faceEntered(b)];
    if (left === null || entered === null) continue;
    // A break cell's strips carry the nets of whatever they lead to; between two of them a lane is one piece of metal,
    // whichever of the two cuts it.
    const between = a.role === 'break' && b.role === 'break';
    const before = between ? null : a.role === 'break' ? (parted.get(a)?.after.section ?? null) : a.section;
    const after = between ? null : b.role === 'break' ? (parted.get(b)?.before.section ?? null) : b.section;
    const tBefore = a.isCorner ? lowT((a.side + 1) & 3, view.die, a) : a.t0;
    const key =
      tBefore === b.t0
        ? ((left.id * faces + entered.id) * width + numberOf(before)) * width + numberOf(after)
        : -1;
    let verdict = known.get(key);
    if (verdict === undefined) {
      verdict = compare(
        view,
        { cell: a, face: left, t: tBefore, section: before },
        { cell: b, face: entered, t: b.t0, section: after },
      );
      if (key >= 0) known.set(key, verdict);
    }
    if (verdict !== CLEAN) found.push({ before: a, after: b, verdict });
  }
  return found;
});

const numberOf = (section: SectionView | null): number => (section === null ? 0 : section.index + 1);

/** Whether two cells that follow each other stand on one side, or at a corner cell between two. */
const meet = (a: CellView, b: CellView): boolean =>
  a.isCorner ? !b.isCorner && b.side === ((a.side + 1) & 3) : b.side === a.side;

/** The face at which the ring leaves a cell. */
function faceLeft({ kind, pose }: CellView): Face | null {
  if (kind === null || pose === null) return null;
  return pose.reversed ? kind.start : kind.end;
}

/** The face at which the ring enters a cell. */
function faceEntered({ kind, pose }: CellView): Face | null {
  if (kind === null || pose === null) return null;
  return pose.reversed ? kind.end : kind.start;
}

function compare(view: View, before: Edge, after: Edge): Verdict {
  const shorts = new Set<string>();
  const steps = new Set<string>();
  const metBefore = new Set<number>();
  const metAfter = new Set<number>();
  for (const [i, a] of before.face.strips.entries())
    for (const [j, b] of after.face.strips.entries()) {
      if (a.layer !== b.layer) continue;
      const off = before.t - after.t;
      if (a.from + off >= b.to || b.from >= a.to + off) continue;
      if (oneNet(before, a.lane, after, b.lane)) {
        metBefore.add(i);
        metAfter.add(j);
        if (a.from + off !== b.from || a.to + off !== b.to)
          steps.add(`${laneName(view, a.lane)} (${a.layer})`);
      } else {
        const nets = [
          netOn(before, a.lane) ?? laneName(view, a.lane),
          netOn(after, b.lane) ?? laneName(view, b.lane),
        ];
        shorts.add(`${nets.join(' meets ')} on ${a.layer}`);
      }
    }
  const opens = {
    before: openStrips(view, before, after, metBefore),
    after: openStrips(view, after, before, metAfter),
  };
  if (shorts.size + opens.before.length + opens.after.length + steps.size === 0) return CLEAN;
  return { shorts: [...shorts], opens, steps: [...steps] };
}

/** Strips without a continuation, those apart that end because one of the two is a break cell that cuts their lane. */
function openStrips(view: View, own: Edge, other: Edge, met: ReadonlySet<number>): string[] {
  if (met.size === own.face.strips.length) return [];
  const open: string[] = [];
  own.face.strips.forEach((strip, i) => {
    if (met.has(i) || cuts(own.cell, strip.lane) || cuts(other.cell, strip.lane)) return;
    open.push(`${laneName(view, strip.lane)} (${strip.layer})`);
  });
  return open;
}

const cuts = (cell: CellView, lane: number): boolean => cell.role === 'break' && !carries(cell, lane);

/** Whether two strips carry one net; where a section is unknown or names none, whether they are one lane. */
function oneNet(a: Edge, laneA: number, b: Edge, laneB: number): boolean {
  const [x, y] = [netOn(a, laneA), netOn(b, laneB)];
  const unknown = a.section === null || b.section === null || (x === null && y === null);
  return unknown ? laneA === laneB : x === y;
}

const netOn = (edge: Edge, lane: number): string | null => edge.section?.nets.get(lane) ?? null;

const laneName = (view: View, lane: number): string => view.lanes.names[lane] ?? '';
