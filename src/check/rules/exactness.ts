/** Numbers: exact, on the grid, and limits that can be kept at all. */
import type { PlacedCell } from '../../format/placement.ts';
import { inexactLengths, whole } from '../exact.ts';
import type { Hit, Rule } from '../finding.ts';
import { hit, hitAt, um } from '../say.ts';
import type { Box } from '../turn.ts';
import type { PadView, View } from '../view.ts';
import { eachCell, eachPad, eachStem, joined } from './each.ts';
import { figuresOfDemands, figuresOfPackage } from './limit-figures.ts';

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

/** Exact: lengths stay below 2^51 units, so that no quotient but that of a multiple is a whole number. */
const odd = (length: number, grid: number): boolean => Math.floor(length / grid) !== length / grid;

const off = (b: Box, grid: number): boolean =>
  grid > 0 && (odd(b.x0, grid) || odd(b.y0, grid) || odd(b.x1, grid) || odd(b.y1, grid));

function padOff(p: PadView, grid: number, metal: boolean, opening: boolean): readonly Hit[] {
  const { pin } = p.pad;
  const said = (what: string): Hit =>
    hitAt(p, `an edge of the ${what} of "${pin}" is off the grid of ${um(grid)}`, pin);
  return [...(metal ? [said('bond pad')] : []), ...(opening ? [said('opening')] : [])];
}

function boxOf(r: Pick<PlacedCell, 'x' | 'y' | 'width' | 'height'>): Box {
  const [x0, y0] = [whole(r.x), whole(r.y)];
  return { x0, y0, x1: x0 + whole(r.width), y1: y0 + whole(r.height) };
}

const offGrid = joined(
  eachCell((c, { grid }) =>
    off(c, grid) ? hitAt(c, `an edge of cell "${c.name}" is off the grid of ${um(grid)}`, c.name) : undefined,
  ),
  eachPad((p, { grid }) => {
    const metal = off(p, grid);
    const opening =
      grid > 0 && (odd(p.openX0, grid) || odd(p.openY0, grid) || odd(p.openX1, grid) || odd(p.openY1, grid));
    return metal || opening ? padOff(p, grid, metal, opening) : undefined;
  }),
  eachStem((s, { grid }) => {
    if (!off(s, grid)) return undefined;
    const item = s.pad?.pad.pin ?? String(s.stem.bondPad);
    return hitAt(s, `an edge of the stem of "${item}" is off the grid of ${um(grid)}`, item);
  }),
  ({ placement, grid }) =>
    placement.rails
      .filter(({ rectangles }) => rectangles.some((r) => off(boxOf(r), grid)))
      .map(({ lane }) => hit(`an edge of a rail of "${lane}" is off the grid of ${um(grid)}`, lane)),
  ({ placement, grid }) =>
    (placement.coreStrips ?? [])
      .filter(({ rectangles, straps }) => [...rectangles, ...straps].some((r) => off(boxOf(r), grid)))
      .map(({ net }) => hit(`an edge of the core strip of "${net}" is off the grid of ${um(grid)}`, net)),
  ({ die, grid }) =>
    grid > 0 && (odd(die.width, grid) || odd(die.height, grid))
      ? [hit(`the die's extents are off the grid of ${um(grid)}`, 'die')]
      : [],
);

/** Distances that contradict each other. */
function toSeal({ limits }: View): readonly Hit[] {
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
    protects: 'That the limits can be kept at all, and that wires are such as there can be.',
    mend: 'Correct the figure that is mistaken in the rules or in the package.',
    run: joined(toSeal, figuresOfDemands, figuresOfPackage),
  },
];
