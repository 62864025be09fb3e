/** Findings on wires at their places: a ringed spot, and its number where nothing else is. */

import type { Spot } from '../bond/frame.ts';
import { wireRules } from '../bond/rules.ts';
import { isAbout } from '../format/finding-order.ts';
import type { Placement } from '../format/placement.ts';
import type { Diagram } from './bond-svg-draw.ts';
import type { Taken } from './bond-svg-labels.ts';
import type { View } from './bond-svg-view.ts';
import { add, group, lettering, type Pen, write } from './canvas.ts';
import type { Box } from './frame.ts';
import { mm } from './numbers.ts';
import { INK, PAPER } from './palette.ts';
import { findingColour, MOST_RINGED, type NumberedFinding, numberedFindings } from './ring/findings.ts';

const FLAG = { radius: 2.4, size: 2.2 } as const;
/** More numbers than this hide what they speak of; further findings are ringed alone. */
const MOST_FLAGS = 60;
const ON_WIRES = new Set(wireRules.map((rule) => rule.name));

/**
 * The findings on wires, with the numbers that all drawings give them; `names` leaves those that are about some
 * pins or fingers.
 */
export const wireFindings = (placement: Placement, names?: ReadonlySet<string>): readonly NumberedFinding[] =>
  numberedFindings(placement).filter(
    ({ finding }) =>
      isAbout(finding, ON_WIRES) && (names === undefined || finding.items.some((item) => names.has(item))),
  );

/** Marks those findings with a place inside the area; more than have room are marked without a number. */
export function markWireFindings(
  pen: Pen,
  diagram: Diagram,
  view: View,
  findings: readonly NumberedFinding[],
  area: Box,
  taken: Taken,
): void {
  const spots = findings.flatMap(({ number, finding }) => {
    const { x, y } = finding;
    if (x === undefined || y === undefined) return [];
    const spot = diagram.frames.toPackage(x, y);
    const at = view.spot(spot.x, spot.y);
    const inside =
      at.x > area.x && at.x < area.x + area.width && at.y > area.y && at.y < area.y + area.height;
    return inside ? [{ number, finding, at }] : [];
  });
  spots.splice(MOST_RINGED);
  if (spots.length === 0) return;
  const all = group(pen, {
    id: `${diagram.name}-findings`,
    class: 'findings',
    fill: 'none',
    'stroke-width': 0.3,
  });
  const flags = spots.slice(0, MOST_FLAGS).flatMap((one) => {
    const flag = flagFor(one.at, area, taken);
    return flag === undefined ? [] : [{ ...one, flag }];
  });
  for (const { number, finding, at, flag } of flags)
    add(all, 'path', {
      d: `M${mm(at.x)} ${mm(at.y)}L${mm(flag.x)} ${mm(flag.y)}`,
      stroke: findingColour(finding),
      'data-finding': String(number),
    });
  for (const { number, finding, at } of spots) {
    const about = { 'data-finding': String(number), stroke: findingColour(finding) };
    add(all, 'circle', { cx: at.x, cy: at.y, r: 1.5, ...about });
    add(all, 'circle', { cx: at.x, cy: at.y, r: 0.4, ...about, fill: findingColour(finding) });
  }
  for (const { number, finding, flag } of flags)
    add(all, 'circle', {
      cx: flag.x,
      cy: flag.y,
      r: FLAG.radius,
      fill: PAPER,
      stroke: findingColour(finding),
      'data-finding': String(number),
    });
  const letters = lettering(all, FLAG.size, { fill: INK.text });
  for (const { number, flag } of flags)
    write(letters, flag.x, flag.y, String(number), { anchor: 'middle' }, { 'data-finding': String(number) });
}

/** The nearest free place for a number, in rings around its spot. */
function flagFor(at: Spot, area: Box, taken: Taken): Spot | undefined {
  const room = FLAG.radius + 0.2;
  for (let ring = 5; ring <= 60; ring += 5)
    for (let k = 0; k < 16; k++) {
      const turn = (k * Math.PI) / 8;
      const spot = { x: at.x + ring * Math.cos(turn), y: at.y + ring * Math.sin(turn) };
      const box = { x: spot.x - room, y: spot.y - room, width: 2 * room, height: 2 * room };
      const inside =
        box.x > area.x &&
        box.y > area.y &&
        box.x + box.width < area.x + area.width &&
        box.y + box.height < area.y + area.height;
      if (!inside || !taken.free(box)) continue;
      taken.take(box);
      return spot;
    }
  return undefined;
}
