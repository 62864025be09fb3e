/** Break cells: a dashed line across the ring at each, with a wedge at both ends. */
import type { Placement } from '../../format/placement.ts';
import { add, group, type Pen } from '../canvas.ts';
import { stretchOn } from '../frame.ts';
import { mm } from '../numbers.ts';
import { INK } from '../palette.ts';
import { onSheet } from './place.ts';
import type { RingPlan } from './plan.ts';

const WEDGE = 1.1;

export function markPartings(page: Pen, name: string, placement: Placement, plan: RingPlan): void {
  const cells = placement.cells.filter((cell) => cell.role === 'break');
  if (cells.length === 0) return;
  const pen = group(page, { id: `${name}-breaks`, class: 'breaks', stroke: INK.alarm, fill: INK.alarm });
  const parted = new Map(placement.partings.map((parting) => [parting.cell, parting]));
  for (const cell of cells) {
    const { side } = cell;
    if (side === null) continue;
    const { s0, s1, t0, t1 } = stretchOn(side, placement.die, cell);
    const s = (s0 + s1) / 2;
    const spot = (t: number, aside = 0) => {
      const { x, y } = onSheet(plan, placement.die, side, s + aside / plan.scale, t);
      return `${mm(x)} ${mm(y)}`;
    };
    const parting = parted.get(cell.name);
    const mark = group(pen, {
      'data-cell': cell.name,
      'data-lanes': parting?.lanes.join(' '),
      'stroke-width': 0.2,
    });
    const [out, far] = [t0 - (WEDGE * 1.4) / plan.scale, t1 + (WEDGE * 1.4) / plan.scale];
    add(mark, 'path', {
      d: `M${spot(t0)}L${spot(t1)}`,
      'stroke-width': 0.45,
      'stroke-dasharray': '1.6 0.8',
    });
    add(mark, 'path', {
      d: `M${spot(t0)}L${spot(out, -WEDGE)}L${spot(out, WEDGE)}ZM${spot(t1)}L${spot(far, -WEDGE)}L${spot(far, WEDGE)}Z`,
    });
  }
}
