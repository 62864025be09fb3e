/** The sections: a bar along the inner edge of each run of cells, with its name where that fits. */
import type { Placement } from '../../format/placement.ts';
import { nextSide, previousSide, SIDES, type Side } from '../../geometry/side.ts';
import { add, group, lettering, type Pen, write } from '../canvas.ts';
import { lengthOf, lies, stretchOn } from '../frame.ts';
import { mm } from '../numbers.ts';
import { PAPER, SECTIONS, taken } from '../palette.ts';
import { clean, ems, LINE_BOX } from '../text.ts';
import { onSheet } from './place.ts';
import type { RingPlan } from './plan.ts';
import { dashes } from './rails.ts';

const BAR = { gap: 1, width: 1.3 } as const;
/** How far inside the ring's inner edge bars and names reach. */
export const SECTION_REACH = 6.2;
const SIZE = 2.6;

export interface Run {
  readonly side: Side;
  readonly section: string;
  readonly s0: number;
  readonly s1: number;
  /** The inner edge of its deepest cell. */
  readonly t: number;
}

/** Neighbouring cells of one section on one side. */
export function runsOf(placement: Placement): readonly Run[] {
  const runs: Run[] = [];
  for (const side of SIDES) {
    const cells = placement.cells
      .filter((cell) => cell.side === side && cell.section !== null)
      .map((cell) => ({ section: cell.section ?? '', ...stretchOn(side, placement.die, cell) }))
      .sort((a, b) => a.s0 - b.s0);
    let open: Run | undefined;
    for (const { section, s0, s1, t1 } of cells) {
      if (open?.section === section) {
        open = { ...open, s1: Math.max(open.s1, s1), t: Math.max(open.t, t1) };
        runs[runs.length - 1] = open;
      } else {
        open = { side, section, s0, s1, t: t1 };
        runs.push(open);
      }
    }
  }
  return runs;
}

export function sectionLooks(placement: Placement): ReadonlyMap<string, (typeof SECTIONS)[number]> {
  return new Map(
    placement.sections.map(({ name }, i) => [name, taken(SECTIONS, i, { colour: '#000000', dashes: [] })]),
  );
}

/** A section's name and the middle of where it stands. */
export interface SectionName {
  readonly section: string;
  readonly side: Side;
  readonly x: number;
  readonly y: number;
}

/** Draws the bars; returns the names that fit beside them, to be written last. */
export function drawSections(
  page: Pen,
  name: string,
  placement: Placement,
  plan: RingPlan,
): readonly SectionName[] {
  const looks = sectionLooks(placement);
  const runs = runsOf(placement);
  const reach = (side: Side) =>
    Math.max(0, ...runs.filter((run) => run.side === side).map((run) => run.t * plan.scale));
  const room = Math.min(
    plan.die.width - reach('left') - reach('right'),
    plan.die.height - reach('bottom') - reach('top'),
  );
  if (room < 2 * (BAR.gap + BAR.width) + 1) return [];
  const pen = group(page, { id: `${name}-sections`, class: 'sections' });
  const names: SectionName[] = [];
  for (const { side, section, t, ...run } of runs) {
    // A deep cell near the corner on the neighbouring side reaches across the ends of this one.
    const s0 = Math.max(run.s0, reach(previousSide(side)) / plan.scale);
    const s1 = Math.min(run.s1, lengthOf(side, placement.die) - reach(nextSide(side)) / plan.scale);
    const spot = (s: number, away: number) => onSheet(plan, placement.die, side, s, t + away / plan.scale);
    const look = looks.get(section) ?? { colour: '#000000', dashes: [] };
    const cut = BAR.gap + BAR.width / 2;
    if ((s1 - s0) * plan.scale <= 2 * cut) continue;
    const [a, b] = [spot(s0 + cut / plan.scale, cut), spot(s1 - cut / plan.scale, cut)];
    add(pen, 'path', {
      d: `M${mm(a.x)} ${mm(a.y)}L${mm(b.x)} ${mm(b.y)}`,
      stroke: look.colour,
      'stroke-width': BAR.width,
      'stroke-dasharray': dashes(look.dashes, BAR.width, mm),
      'data-section': section,
    });
    const free = (s1 - s0) * plan.scale - 2 * SECTION_REACH;
    if (room < 2 * SECTION_REACH + 4 || ems(clean(section)) * SIZE > free) continue;
    names.push({ section, side, ...spot((s0 + s1) / 2, BAR.gap + BAR.width + 0.55 * SIZE + 0.5) });
  }
  return names;
}

/** Writes the names on fields of paper, so that no line runs through them. */
export function nameSections(page: Pen, name: string, names: readonly SectionName[]): void {
  const pen = group(page, { id: `${name}-section-names`, class: 'section-names' });
  const backs = group(pen, { fill: PAPER });
  const letters = lettering(pen, SIZE);
  for (const { section, side, x, y } of names) {
    const [long, high] = [ems(clean(section)) * SIZE + 1, SIZE * LINE_BOX * 0.95];
    const [width, height] = lies(side) ? [long, high] : [high, long];
    add(backs, 'rect', { x: x - width / 2, y: y - height / 2, width, height });
    write(letters, x, y, section, { anchor: 'middle', upward: !lies(side) }, { 'data-section': section });
  }
}
