/** The core: the rectangle that the ring and its clearance leave, and whether the one asked for has room. */
import type { Hit, Rule } from '../finding.ts';
import { once } from '../once.ts';
import { hit, um } from '../say.ts';
import { type Box, highT } from '../turn.ts';
import type { View } from '../view.ts';

/**
 * The rectangle that the ring and its clearance leave, by edges. Where corner cells reach further in than the rows,
 * it gives way to them in width or in height: such that the core asked for has room, or else with the larger area.
 */
const coreLeft = once((view): Box => {
  const { width, height } = view.die;
  const { clearance } = view.limits.core;
  const inset = view.rows.map((row, side) => {
    let deepest = view.layouts[side]?.wanted ?? 0;
    for (const c of row) if (c.t1 > deepest) deepest = c.t1;
    return deepest + clearance;
  });
  const [left = 0, bottom = 0, right = 0, top = 0] = inset;
  const corners = view.corners.flat().map((c) => ({
    /** How far the corner cell keeps the core off the vertical and off the horizontal side at it. */
    across: (isRight(c.side) ? highT(2, view.die, c) : c.x1) + clearance,
    along: (isUpper(c.side) ? highT(3, view.die, c) : c.y1) + clearance,
    right: isRight(c.side),
    upper: isUpper(c.side),
  }));
  const intruding = corners.filter(
    (c) => c.across > (c.right ? right : left) && c.along > (c.upper ? top : bottom),
  );
  const most = (start: number, list: readonly number[]): number =>
    list.reduce((a, b) => Math.max(a, b), start);
  const narrow = upright({
    x0: most(
      left,
      intruding.filter((c) => !c.right).map((c) => c.across),
    ),
    y0: bottom,
    x1:
      width -
      most(
        right,
        intruding.filter((c) => c.right).map((c) => c.across),
      ),
    y1: height - top,
  });
  const low = upright({
    x0: left,
    y0: most(
      bottom,
      intruding.filter((c) => !c.upper).map((c) => c.along),
    ),
    x1: width - right,
    y1:
      height -
      most(
        top,
        intruding.filter((c) => c.upper).map((c) => c.along),
      ),
  });
  const area = (b: Box): number => (b.x1 - b.x0) * (b.y1 - b.y0);
  const [narrowHolds, lowHolds] = [holdsCore(view, narrow), holdsCore(view, low)];
  if (narrowHolds !== lowHolds) return narrowHolds ? narrow : low;
  return area(low) > area(narrow) ? low : narrow;
});

const holdsCore = ({ limits }: View, b: Box): boolean =>
  b.x1 - b.x0 >= limits.core.width && b.y1 - b.y0 >= limits.core.height;

/** A box without negative extents: a ring that leaves nothing inside has a core without width or height. */
const upright = (b: Box): Box => ({ ...b, x1: Math.max(b.x0, b.x1), y1: Math.max(b.y0, b.y1) });

const isRight = (corner: number): boolean => corner === 1 || corner === 2;
const isUpper = (corner: number): boolean => corner === 2 || corner === 3;

function core(view: View): readonly Hit[] {
  const left = coreLeft(view);
  const given = view.core;
  if (given.x0 === left.x0 && given.y0 === left.y0 && given.x1 === left.x1 && given.y1 === left.y1) return [];
  const say = (b: Box): string =>
    `${um(b.x1 - b.x0)} by ${um(b.y1 - b.y0)} at (${b.x0 / 1e6}, ${b.y0 / 1e6})`;
  return [hit(`the core is given as ${say(given)}; the ring leaves ${say(left)}`, 'core')];
}

function coreFits(view: View): readonly Hit[] {
  const left = coreLeft(view);
  const { core } = view.limits;
  const missing: string[] = [];
  if (left.x1 - left.x0 < core.width) missing.push(`${um(core.width - (left.x1 - left.x0))} of width`);
  if (left.y1 - left.y0 < core.height) missing.push(`${um(core.height - (left.y1 - left.y0))} of height`);
  if (missing.length === 0) return [];
  return [hit(`the ring leaves too little for the core: ${missing.join(' and ')} are missing`, 'core')];
}

export const CORE_RULES: readonly Rule[] = [
  {
    name: 'core',
    severity: 'error',
    protects: 'That whoever places the core knows the true rectangle inside the ring and its clearance.',
    mend: 'Set core to the rectangle that the message states.',
    run: core,
  },
  {
    name: 'core-fits',
    severity: 'error',
    protects: 'That the core which the ring was built for has room.',
    mend: 'Enlarge the die, or choose a style or cells that are less deep.',
    run: coreFits,
  },
];
