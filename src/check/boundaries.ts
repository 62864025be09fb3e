/**
 * Where two cells meet: their strips compared layer by layer and extent by extent. Rings repeat a few pairs of
 * kinds over and over, so a verdict is kept for each.
 */

import { ringSections } from './arcs.ts';
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
  const sections = ringSections(ring);
  const known = new Map<number, Verdict>();
  const found: Boundary[] = [];
  const faces = 2 * view.kinds.length;
  const width = view.sections.length + 1;
  for (let i = 0; i < ring.length; i++) {
    const j = i + 1 < ring.length ? i + 1 : 0;
    const [a, b] = [ring[i], ring[j]];
    if (a === undefined || b === undefined || a === b || !meet(a, b)) continue;
    const before = leaving(view, a, sections.after[i] ?? null);
    const after = entering(b, sections.before[j] ?? null);
    if (before === null || after === null) continue;
    const plain = before.t === after.t;
    const [m, n] = [(before.section?.index ?? -1) + 1, (after.section?.index ?? -1) + 1];
    const key = ((before.face.id * faces + after.face.id) * width + m) * width + n;
    let verdict = plain ? known.get(key) : undefined;
    if (verdict === undefined) {
      verdict = compare(view, before, after);
      if (plain) known.set(key, verdict);
    }
    if (verdict !== CLEAN) found.push({ before: a, after: b, verdict });
  }
  return found;
});

/** Whether two cells that follow each other stand on one side, or at a corner cell between two. */
const meet = (a: CellView, b: CellView): boolean =>
  a.isCorner ? !b.isCorner && b.side === ((a.side + 1) & 3) : b.side === a.side;

/** The edge at which the ring leaves a cell. */
function leaving(view: View, cell: CellView, section: SectionView | null): Edge | null {
  const { kind, pose } = cell;
  if (kind === null || pose === null) return null;
  const t = cell.isCorner ? lowT((cell.side + 1) & 3, view.die, cell) : cell.t0;
  return { cell, face: pose.reversed ? kind.start : kind.end, t, section };
}

/** The edge at which the ring enters a cell. */
function entering(cell: CellView, section: SectionView | null): Edge | null {
  const { kind, pose } = cell;
  if (kind === null || pose === null) return null;
  return { cell, face: pose.reversed ? kind.end : kind.start, t: cell.t0, section };
}

function compare(view: View, before: Edge, after: Edge): Verdict {
  const shorts = new Set<string>();
  const steps: string[] = [];
  const metBefore = new Set<number>();
  const metAfter = new Set<number>();
  before.face.strips.forEach((a, i) => {
    after.face.strips.forEach((b, j) => {
      if (a.layer !== b.layer) return;
      const [a0, a1] = [before.t + a.from, before.t + a.to];
      const [b0, b1] = [after.t + b.from, after.t + b.to];
      if (a0 >= b1 || b0 >= a1) return;
      if (oneNet(before, a.lane, after, b.lane)) {
        metBefore.add(i);
        metAfter.add(j);
        if (a0 !== b0 || a1 !== b1) steps.push(`${laneName(view, a.lane)} (${a.layer})`);
      } else
        shorts.add(
          `${netOn(before, a.lane) ?? laneName(view, a.lane)} meets ${netOn(after, b.lane) ?? laneName(view, b.lane)} on ${a.layer}`,
        );
    });
  });
  const opens = {
    before: openStrips(view, before, after, metBefore),
    after: openStrips(view, after, before, metAfter),
  };
  if (shorts.size + opens.before.length + opens.after.length + steps.length === 0) return CLEAN;
  return { shorts: [...shorts], opens, steps: [...new Set(steps)] };
}

/** Strips without a continuation, those apart that end because one of the two is a break cell that cuts their lane. */
function openStrips(view: View, own: Edge, other: Edge, met: ReadonlySet<number>): string[] {
  const open: string[] = [];
  own.face.strips.forEach((strip, i) => {
    if (met.has(i) || cuts(own.cell, strip.lane) || cuts(other.cell, strip.lane)) return;
    open.push(`${laneName(view, strip.lane)} (${strip.layer})`);
  });
  return open;
}

const cuts = (cell: CellView, lane: number): boolean =>
  cell.role === 'break' && cell.kind?.carries[lane] !== true;

/** Whether two strips carry one net; where a section is unknown or names none, whether they are one lane. */
function oneNet(a: Edge, laneA: number, b: Edge, laneB: number): boolean {
  const [x, y] = [netOn(a, laneA), netOn(b, laneB)];
  const unknown = a.section === null || b.section === null || (x === null && y === null);
  return unknown ? laneA === laneB : x === y;
}

const netOn = (edge: Edge, lane: number): string | null => edge.section?.nets[lane] ?? null;

const laneName = (view: View, lane: number): string => view.lanes.names[lane] ?? '';
