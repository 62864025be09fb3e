/** Findings at their place: a ringed spot there, and its number beside the ring, inside, where nothing else is. */
import { findingRank } from '../../format/finding-order.ts';
import type { Finding, Placement } from '../../format/placement.ts';
import { SIDES, type Side } from '../../geometry/side.ts';
import { add, group, lettering, type Pen, write } from '../canvas.ts';
import { nearestSide, seenFrom } from '../frame.ts';
import { mm } from '../numbers.ts';
import { INK, PAPER } from '../palette.ts';
import { spread } from '../spread.ts';
import { dieOnSheet, onSheet } from './place.ts';
import type { RingPlan } from './plan.ts';
import { runsOf, SECTION_REACH } from './sections.ts';

/** So many findings are ringed, the gravest first: more cover the drawing, and a ring can break a rule a million times. */
export const MOST_RINGED = 2000;

const FLAG = { radius: 2.3, size: 2.2 } as const;

export interface NumberedFinding {
  readonly number: number;
  readonly finding: Finding;
}

/** The findings that stand, gravest first, numbered for the drawing; waived ones come last. */
export function numberedFindings(placement: Placement): readonly NumberedFinding[] {
  return placement.findings
    .map((finding, i) => ({ finding, i }))
    .sort((a, b) => findingRank(a.finding) - findingRank(b.finding) || a.i - b.i)
    .map(({ finding }, i) => ({ number: i + 1, finding }));
}

export const findingColour = ({ severity, waived }: Finding): string =>
  severity === 'error' && waived === undefined ? INK.alarm : INK.quiet;

interface Placed extends NumberedFinding {
  readonly x: number;
  readonly y: number;
  readonly side: Side;
}

export function markFindings(page: Pen, name: string, placement: Placement, plan: RingPlan): void {
  const placed: Placed[] = numberedFindings(placement).flatMap(({ number, finding }) => {
    const { x, y } = finding;
    if (x === undefined || y === undefined) return [];
    return [{ number, finding, x, y, side: nearestSide(placement.die, x, y) }];
  });
  placed.splice(MOST_RINGED);
  if (placed.length === 0) return;
  const pen = group(page, { id: `${name}-findings`, class: 'findings', fill: 'none', 'stroke-width': 0.3 });
  const flags = flagsOf(placement, plan, placed);
  for (const { number, finding, x, y } of placed) {
    const spot = dieOnSheet(plan, x, y);
    const about = { 'data-finding': String(number), stroke: findingColour(finding) };
    const flag = flags.get(number);
    if (flag !== undefined)
      add(pen, 'path', { d: `M${mm(spot.x)} ${mm(spot.y)}L${mm(flag.x)} ${mm(flag.y)}`, ...about });
    add(pen, 'circle', { cx: spot.x, cy: spot.y, r: 1.5, ...about });
    add(pen, 'circle', { cx: spot.x, cy: spot.y, r: 0.4, ...about, fill: findingColour(finding) });
  }
  const shown = placed.flatMap((one) => {
    const flag = flags.get(one.number);
    return flag === undefined ? [] : [{ ...one, flag }];
  });
  for (const { number, finding, flag } of shown)
    add(pen, 'circle', {
      cx: flag.x,
      cy: flag.y,
      r: FLAG.radius,
      fill: PAPER,
      stroke: findingColour(finding),
      'data-finding': String(number),
    });
  const letters = lettering(pen, FLAG.size);
  for (const { number, flag } of shown)
    write(letters, flag.x, flag.y, String(number), { anchor: 'middle' }, { 'data-finding': String(number) });
}

/** Where the numbers stand: in a row inside each side, as near as they can to their places; the gravest first. */
function flagsOf(
  placement: Placement,
  plan: RingPlan,
  placed: readonly Placed[],
): ReadonlyMap<number, { readonly x: number; readonly y: number }> {
  const { die } = placement;
  const flags = new Map<number, { x: number; y: number }>();
  const runs = runsOf(placement);
  const depth = (side: Side) => Math.max(0, ...runs.filter((run) => run.side === side).map((run) => run.t));
  const row = (SECTION_REACH + FLAG.radius + 0.6) / plan.scale;
  const ends = (SECTION_REACH + 2 * FLAG.radius + 1.5) / plan.scale;
  for (const side of SIDES) {
    const upright = side === 'left' || side === 'right';
    const [length, across] = upright ? [die.height, die.width] : [die.width, die.height];
    const [before, after, here, beyond]: readonly [Side, Side, Side, Side] = upright
      ? side === 'left'
        ? ['top', 'bottom', 'left', 'right']
        : ['bottom', 'top', 'right', 'left']
      : side === 'bottom'
        ? ['left', 'right', 'bottom', 'top']
        : ['right', 'left', 'top', 'bottom'];
    if (across - depth(here) - depth(beyond) < 2 * ends) continue;
    const [low, high] = [depth(before) + ends, length - depth(after) - ends];
    const room = (2 * FLAG.radius + 0.4) / plan.scale;
    const most = Math.max(0, Math.floor((high - low) / room));
    const own = placed
      .filter((one) => one.side === side)
      .slice(0, most)
      .map((one) => ({ ...one, s: seenFrom(side, die, one.x, one.y).s }))
      .sort((a, b) => a.s - b.s || a.number - b.number);
    const places = spread(
      own.map(({ s }) => ({ at: s, room })),
      low,
      high,
    );
    own.forEach(({ number }, i) => {
      const s = places?.[i];
      if (s !== undefined) flags.set(number, onSheet(plan, die, side, s, depth(side) + row));
    });
  }
  return flags;
}
