/** The strips between ring and core and the straps that join them to supply cells, by net. */
import type { Placement } from '../../format/placement.ts';
import { add, group, type Pen } from '../canvas.ts';
import type { Box } from '../frame.ts';
import { mm, um } from '../numbers.ts';
import { INK, PAD, PAPER } from '../palette.ts';
import { netKinds } from '../shapes.ts';
import { dieOnSheet } from './place.ts';
import type { RingPlan } from './plan.ts';

const outline = ({ x, y, width, height }: Box): string =>
  `M${um(x)} ${um(y)}h${um(width)}v${um(height)}h${um(-width)}z`;

/**
 * Draws over the sections' bars, in micrometres of the die. A ground's outline is dashed, so that no meaning hangs on the colour.
 */
export function drawCoreStrips(page: Pen, name: string, placement: Placement, plan: RingPlan): void {
  const { coreStrips } = placement;
  if (coreStrips === undefined || coreStrips.length === 0) return;
  const kinds = netKinds(placement);
  const origin = dieOnSheet(plan, 0, 0);
  const fine = 0.12 / plan.scale;
  const pen = group(page, {
    id: `${name}-core-strips`,
    class: 'core-strips',
    transform: `translate(${mm(origin.x)} ${mm(origin.y)}) scale(${plan.scale} ${-plan.scale})`,
    'stroke-width': um(fine),
  });
  for (const { net, rectangles, straps } of coreStrips) {
    const ground = kinds.get(net) === 'ground';
    const fill = ground ? PAD.ground : PAD.supply;
    const strip = group(pen, { class: 'core-strip', 'data-net': net });
    add(strip, 'path', {
      class: 'straps',
      d: straps.map(outline).join(''),
      fill,
      'fill-opacity': '0.45',
      stroke: INK.line,
    });
    add(strip, 'path', {
      d: rectangles.map(outline).join(''),
      'fill-rule': 'nonzero',
      fill,
      stroke: PAPER,
      'stroke-dasharray': ground ? `${um(6 * fine)} ${um(3 * fine)}` : undefined,
    });
  }
}
