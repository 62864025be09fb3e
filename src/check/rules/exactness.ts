/** Numbers: exact, on the grid, and limits that can be kept at all. */
import { inexactLengths } from '../exact.ts';
import type { Hit, Rule } from '../finding.ts';
import { hit, hitAt, um } from '../say.ts';
import type { Box } from '../turn.ts';
import type { View } from '../view.ts';

const inexact = ({ placement, doubt }: View): readonly Hit[] =>
  inexactLengths(placement, doubt).map(({ path, value, item }) =>
    hit(`${path} is ${value}, which is no whole number of picometres within 1e9 um`, item),
  );

/** A grid whose half is exact. */
function gridStep({ grid }: View): readonly Hit[] {
  if (grid > 0 && grid % 2 === 0) return [];
  return [
    hit(`the grid of ${um(grid)} is not a multiple of 0.000002 um, so that half a step is not exact`, 'grid'),
  ];
}

function offGrid(view: View): readonly Hit[] {
  const { grid } = view;
  if (grid <= 0) return [];
  const hits: Hit[] = [];
  // Exact: lengths stay below 2^51 units, so that no quotient but that of a multiple is a whole number.
  const odd = (length: number): boolean => Math.floor(length / grid) !== length / grid;
  const off = (b: Box): boolean => odd(b.x0) || odd(b.y0) || odd(b.x1) || odd(b.y1);
  const step = um(grid);
  for (const c of view.cells)
    if (off(c)) hits.push(hitAt(c, `an edge of cell "${c.name}" is off the grid of ${step}`, c.name));
  for (const p of view.pads) {
    if (off(p))
      hits.push(hitAt(p, `an edge of the bond pad of "${p.pad.pin}" is off the grid of ${step}`, p.pad.pin));
    if (odd(p.openX0) || odd(p.openY0) || odd(p.openX1) || odd(p.openY1))
      hits.push(hitAt(p, `an edge of the opening of "${p.pad.pin}" is off the grid of ${step}`, p.pad.pin));
  }
  for (const s of view.stems)
    if (off(s)) {
      const item = s.pad?.pad.pin ?? String(s.stem.bondPad);
      hits.push(hitAt(s, `an edge of the stem of "${item}" is off the grid of ${step}`, item));
    }
  if (odd(view.die.width) || odd(view.die.height))
    hits.push(hit(`the die's extents are off the grid of ${step}`, 'die'));
  return hits;
}

/** Limits that contradict each other. */
function limits({ limits }: View): readonly Hit[] {
  const { least, most } = limits.openingToSeal;
  if (most === null || most >= least) return [];
  return [
    hit(
      `openings may be at most ${um(most)} from the seal ring, and must be at least ${um(least)}`,
      'openingToSeal',
    ),
  ];
}

export const EXACTNESS_RULES: readonly Rule[] = [
  {
    name: 'inexact-length',
    severity: 'error',
    protects: 'That every length is a whole number of picometres, so that sums and comparisons are exact.',
    mend: 'Round the figure to the grid.',
    run: inexact,
  },
  {
    name: 'grid-step',
    severity: 'error',
    protects: 'That a centre half a grid step off is an exact length too.',
    mend: 'Set units.grid to the manufacturing grid, a multiple of 0.000002 um.',
    run: gridStep,
  },
  {
    name: 'off-grid',
    severity: 'error',
    protects: 'That every edge can be drawn on the manufacturing grid.',
    mend: 'Move the shape, or change its extent, so that all four edges are multiples of the grid.',
    run: offGrid,
  },
  {
    name: 'limits',
    severity: 'error',
    protects: 'That the limits can be kept at all.',
    mend: 'Correct the limit that is mistaken in the rules.',
    run: limits,
  },
];
