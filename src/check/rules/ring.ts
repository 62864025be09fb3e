/** The cells together: they align, abut from corner to corner, overlap nothing and keep off the die's edge. */
import { whole } from '../exact.ts';
import type { Hit, Rule } from '../finding.ts';
import { hit, hitAt, hitBetween, um } from '../say.ts';
import { type Box, highS, lengthOf, lowS, lowT, sideName } from '../turn.ts';
import type { CellView, StemView, View } from '../view.ts';
import { eachCell, eachPad, eachStem, joined } from './each.ts';

const overlap = (view: View): readonly Hit[] =>
  view.close.cells.map(([a, b]) =>
    hitBetween(a, b, `cells "${a.name}" and "${b.name}" overlap`, a.name, b.name),
  );

const crowded = (view: View): readonly Hit[] =>
  view.close.crowded
    ? [hit('so many shapes lie on one spot that not all pairs of them were compared', view.placement.ring)]
    : [];

/** Cells of a side follow each other without a gap, from corner cell to corner cell. */
function abutment(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (let side = 0; side < 4; side++) {
    const row = view.rows[side] ?? [];
    const before = view.corners[(side + 3) & 3]?.[0];
    const after = view.corners[side]?.[0];
    let last = before;
    let end = before === undefined ? undefined : highS(side, view.die, before);
    const meet = (next: CellView, start: number): void => {
      if (end !== undefined && start > end && last !== undefined)
        hits.push(
          hitBetween(
            last,
            next,
            `between "${last.name}" and "${next.name}" on the ${sideName(side)} side ${um(start - end)} are bare`,
            last.name,
            next.name,
          ),
        );
    };
    for (const cell of row) {
      meet(cell, cell.s0);
      if (end === undefined || cell.s1 > end) {
        end = cell.s1;
        last = cell;
      }
    }
    if (after !== undefined) meet(after, lowS(side, view.die, after));
  }
  return hits;
}

function alignment(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  view.rows.forEach((row, side) => {
    const base = view.layouts[side]?.base ?? 0;
    for (const c of row) {
      const off = c.t0 - (c.kind?.setback ?? 0) - base;
      if (off !== 0)
        hits.push(
          hitAt(
            c,
            `cell "${c.name}" stands ${um(Math.abs(off))} ${off > 0 ? 'further in' : 'further out'} than the ${sideName(side)} side's row asks`,
            c.name,
          ),
        );
    }
  });
  return hits;
}

function rowPlace(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  view.layouts.forEach((layout, side) => {
    if (layout.base === layout.wanted) return;
    hits.push(
      hit(
        `the row of cells of the ${sideName(side)} side begins ${um(layout.base)} from the die edge; allowance and bond pads make it ${um(layout.wanted)}`,
        sideName(side),
      ),
    );
  });
  return hits;
}

function cornerCount(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  view.corners.forEach((cells, after) => {
    if (cells.length === 1) return;
    const where = `the corner after the ${sideName(after)} side`;
    if (cells.length === 0) hits.push(hit(`${where} has no corner cell`, sideName(after)));
    else hits.push(hit(`${where} has ${cells.length} corner cells`, ...cells.map((c) => c.name)));
  });
  return hits;
}

/** A corner cell's outward edges align with the rows of both its sides. */
function cornerPlace(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  view.corners.forEach((cells, after) => {
    const next = (after + 1) & 3;
    for (const c of cells) {
      const setback = c.kind?.setback ?? 0;
      const offBefore = lowT(after, view.die, c) - setback - (view.layouts[after]?.base ?? 0);
      const offNext = lowT(next, view.die, c) - setback - (view.layouts[next]?.base ?? 0);
      for (const [off, side] of [
        [offBefore, after],
        [offNext, next],
      ] as const)
        if (off !== 0)
          hits.push(
            hitAt(
              c,
              `corner cell "${c.name}" stands ${um(Math.abs(off))} ${off > 0 ? 'further in' : 'further out'} than the row of the ${sideName(side)} side`,
              c.name,
            ),
          );
    }
  });
  return hits;
}

/** How far the nearest edge of a shape is from the die's. */
const clearOf = (b: Box, { width, height }: View['die']): number =>
  Math.min(b.x0, b.y0, width - b.x1, height - b.y1);

const beyondDie = (b: Box, view: View, name: string, item: string): Hit =>
  hitAt(b, `${name} reaches ${um(-clearOf(b, view.die))} beyond the die`, item);

/** Shapes beyond the die itself are left to the rule on that. */
function isTooFarOut(b: Box, { die, limits }: View): boolean {
  const clear = clearOf(b, die);
  return clear < limits.allowance && clear >= 0;
}

const onAllowance = (b: Box, { die, limits }: View, name: string, item: string): Hit =>
  hitAt(
    b,
    `${name} reaches ${um(limits.allowance - clearOf(b, die))} into the street, the seal ring or their clearance`,
    item,
  );

const pinOf = (s: StemView): string => s.pad?.pad.pin ?? String(s.stem.bondPad);

const outsideDie = joined(
  eachCell((c, view) =>
    clearOf(c, view.die) < 0 ? beyondDie(c, view, `cell "${c.name}"`, c.name) : undefined,
  ),
  eachPad((p, view) =>
    clearOf(p, view.die) < 0 ? beyondDie(p, view, `the bond pad of "${p.pad.pin}"`, p.pad.pin) : undefined,
  ),
  eachStem((s, view) =>
    clearOf(s, view.die) < 0 ? beyondDie(s, view, `the stem of "${pinOf(s)}"`, pinOf(s)) : undefined,
  ),
);

const edgeAllowance = joined(
  eachCell((c, view) =>
    isTooFarOut(c, view) ? onAllowance(c, view, `cell "${c.name}"`, c.name) : undefined,
  ),
  eachPad((p, view) =>
    isTooFarOut(p, view) ? onAllowance(p, view, `the bond pad of "${p.pad.pin}"`, p.pad.pin) : undefined,
  ),
  eachStem((s, view) =>
    isTooFarOut(s, view) ? onAllowance(s, view, `the stem of "${pinOf(s)}"`, pinOf(s)) : undefined,
  ),
);

/** A run of fillers needs one that may stand alone. */
function fillerAlone(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const row of view.rows) {
    let from = 0;
    let held = true;
    for (let i = 0; i <= row.length; i++) {
      const cell = row[i];
      if (cell?.role === 'filler') {
        held ||= cell.kind?.footprint.standsAlone ?? true;
        continue;
      }
      const first = row[from];
      if (!held && first !== undefined)
        hits.push(
          hitAt(
            first,
            `${first.cell.footprint} may not stand alone, and no ordinary filler stands in the gap of "${first.name}"`,
            ...row.slice(from, i).map((c) => c.name),
          ),
        );
      from = i + 1;
      held = row[from]?.role !== 'filler';
    }
  }
  return hits;
}

/** What the sides report of themselves. */
function sides(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  const listed = view.placement.sides.map((s) => s.side);
  for (let side = 0; side < 4; side++) {
    const name = sideName(side);
    const count = listed.filter((s) => s === name).length;
    if (count !== 1) {
      hits.push(hit(`the ${name} side is listed ${count} times`, name));
      continue;
    }
    const entry = view.placement.sides.find((s) => s.side === name);
    const before = view.corners[(side + 3) & 3]?.[0];
    const after = view.corners[side]?.[0];
    const start = before === undefined ? 0 : highS(side, view.die, before);
    const end = after === undefined ? lengthOf(side, view.die) : lowS(side, view.die, after);
    if (entry !== undefined && whole(entry.length) !== end - start)
      hits.push(
        hit(
          `the ${name} side is ${um(end - start)} long between its corner cells, not ${entry.length} um`,
          name,
        ),
      );
  }
  return hits;
}

export const RING_RULES: readonly Rule[] = [
  {
    name: 'cell-overlap',
    severity: 'error',
    protects: 'That no two cells take the same place on the silicon.',
    mend: 'Move one of them along the side, or take out a filler.',
    run: overlap,
  },
  {
    name: 'crowded',
    severity: 'error',
    protects: 'That every pair of shapes that could conflict has been compared.',
    mend: 'Spread the shapes that lie on top of each other, then check again.',
    run: crowded,
  },
  {
    name: 'abutment',
    severity: 'error',
    protects: 'That cells touch from corner to corner, for a gap leaves every rail and well open.',
    mend: 'Fill the gap with fillers, or move the cells together.',
    run: abutment,
  },
  {
    name: 'cell-alignment',
    severity: 'error',
    protects: 'That the strips of neighbours lie at the same depth.',
    mend: "Move the cell so that its outward edge lies on the row's, plus its setback.",
    run: alignment,
  },
  {
    name: 'row-place',
    severity: 'error',
    protects: 'That the row leaves just the room that the edge allowance, the bond pads and their gaps need.',
    mend: 'Move the whole row, or correct the bond pads and rules that set its place.',
    run: rowPlace,
  },
  {
    name: 'corner-count',
    severity: 'error',
    protects: 'That the rails are led around each of the four corners.',
    mend: 'Place one corner cell at each corner.',
    run: cornerCount,
  },
  {
    name: 'corner-place',
    severity: 'error',
    protects: 'That a corner cell meets the rows of both its sides.',
    mend: 'Move the corner cell so that its outward edges lie on those of both rows.',
    run: cornerPlace,
  },
  {
    name: 'outside-die',
    severity: 'error',
    protects: 'That nothing is cut off when the die is sawn.',
    mend: 'Move the shape inside, or enlarge the die.',
    run: outsideDie,
  },
  {
    name: 'edge-allowance',
    severity: 'error',
    protects: 'That the street, the seal ring and the clearance inside it stay free.',
    mend: 'Move the shape inward.',
    run: edgeAllowance,
  },
  {
    name: 'filler-alone',
    severity: 'error',
    protects: 'That a filler which the library does not let stand alone has an ordinary one in its gap.',
    mend: 'Fill the gap with at least one ordinary filler.',
    run: fillerAlone,
  },
  {
    name: 'sides',
    severity: 'error',
    protects: 'That each side is listed once, with its length between the corner cells.',
    mend: 'List the side once, and measure it anew.',
    run: sides,
  },
];
