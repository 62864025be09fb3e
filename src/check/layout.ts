/**
 * What stands where along t on each side: as the rules and the bond pads ask (section 2 of the ring model), and as
 * the cells have it. Both are kept, so that one slipped cell is blamed and not all others.
 */
import type { Limits } from './limits.ts';
import type { CellView, PadView, Style } from './view.ts';

export interface SideLayout {
  readonly style: Style;
  /** Where the cells' common outward edge belongs. */
  readonly wanted: number;
  /** Where most of the cells have it. */
  readonly base: number;
  /** Where the outward edges of the bond pads belong, by row; an in-cell pad's follows from its cell. */
  readonly first: number;
  readonly inner: number;
}

export function layoutOf(
  style: Style,
  limits: Limits,
  pads: readonly PadView[],
  cells: readonly CellView[],
): SideLayout {
  let outerDeep = 0;
  let innerDeep = 0;
  for (const p of pads) {
    const deep = p.t1 - p.t0;
    if (p.pad.row === 'inner') innerDeep = Math.max(innerDeep, deep);
    else outerDeep = Math.max(outerDeep, deep);
  }
  const outside = style === 'inline' || style === 'staggered';
  const first = limits.allowance + (outside ? 0 : limits.inset);
  const inner = first + (outerDeep > 0 && innerDeep > 0 ? outerDeep + limits.rowGap : 0);
  const padsEnd = innerDeep > 0 ? inner + innerDeep : first + outerDeep;
  const wanted = outside && pads.length > 0 ? padsEnd + limits.toCell : limits.allowance;
  return { style, wanted, base: mostCommonBase(cells) ?? wanted, first, inner };
}

/** Where the row's outward edge lies for most cells: each cell's own less its setback. */
function mostCommonBase(cells: readonly CellView[]): number | null {
  const counts = new Map<number, number>();
  let best: number | null = null;
  let most = 0;
  for (const cell of cells) {
    const base = cell.t0 - (cell.kind?.setback ?? 0);
    const count = (counts.get(base) ?? 0) + 1;
    counts.set(base, count);
    if (count > most) [best, most] = [base, count];
  }
  return best;
}
