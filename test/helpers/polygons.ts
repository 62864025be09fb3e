/**
 * A second opinion on a placement by a general polygon library (npm clipper2-ts): overlap by areas of unions, spacing
 * by growth with square corners. Shares nothing with placer or checker.
 */
import { areaPaths, FillRule, intersect, union } from 'clipper2-ts';
import type { Placement } from '../../src/format/placement.ts';
import { apart, area, centred, grown, path } from './polygon-shapes.ts';

/** What the polygon library finds wrong; empty where the shapes are sound. */
export function polygonVerdict(placement: Placement): readonly string[] {
  const { rules, die } = placement;
  const wrong: string[] = [];
  const cells = placement.cells.map(path);
  const joined = union(cells, FillRule.NonZero);
  if (area(joined) !== cells.reduce((sum, p) => sum + area([p]), 0)) wrong.push('cells overlap');
  // An unbroken ring is one piece with a hole in it; deep cells that meet near a corner make further holes.
  const outlines = joined.filter((p) => areaPaths([p]) > 0).length;
  const around = joined.some((p) => areaPaths([p]) < 0);
  if (outlines !== 1 || !around) wrong.push(`the ring of cells is broken: ${outlines} pieces`);
  if (
    !apart(
      placement.bondPads.map((pad) => centred(pad, pad)),
      rules.pads.spacing,
    )
  )
    wrong.push('pad metal spacing');
  if (
    !apart(
      placement.bondPads.map((pad) => centred(pad, pad.opening)),
      rules.pads.openingSpacing,
    )
  )
    wrong.push('opening spacing');
  const e = rules.edge.street + rules.edge.seal + rules.edge.clearance;
  const inside = path({ x: e, y: e, width: die.width - 2 * e, height: die.height - 2 * e });
  const shapes = [
    ...placement.cells,
    ...placement.bondPads.map((pad) => centred(pad, pad)),
    ...placement.stems,
  ];
  const within = shapes.every(
    (box) => area(intersect([path(box)], [inside], FillRule.NonZero)) === area([path(box)]),
  );
  if (!within) wrong.push('a shape outside the edge allowance');
  if (!stemsClear(placement)) wrong.push('stem spacing');
  if (!padsMayLie(placement)) wrong.push('a pad on a cell that allows none');
  return wrong;
}

function stemsClear(placement: Placement): boolean {
  const { spacing } = placement.rules.stems;
  if (!apart(placement.stems, spacing)) return false;
  return placement.stems.every((stem) => {
    const foreign = placement.bondPads
      .filter((pad) => pad.number !== stem.bondPad)
      .filter((pad) => Math.abs(pad.x - stem.x) < 600 && Math.abs(pad.y - stem.y) < 600)
      .map((pad) => path(centred(pad, pad)));
    return area(intersect(grown(stem, spacing), foreign, FillRule.NonZero)) === 0;
  });
}

/** Pads lie on no cell, or on cells that allow it. */
function padsMayLie(placement: Placement): boolean {
  const allows = new Map(placement.footprints.map((f) => [f.name, f.padOnTop]));
  const forbidding = placement.cells.filter((cell) => allows.get(cell.footprint) !== true).map(path);
  const over = placement.sides.filter((s) => s.style === 'over-circuit').map((s) => s.side);
  const pads = placement.bondPads.filter((pad) => over.includes(pad.side));
  const outside = placement.bondPads.filter((pad) => {
    const style = placement.sides.find((s) => s.side === pad.side)?.style;
    return style === 'inline' || style === 'staggered';
  });
  const onForbidding = pads.map((pad) => path(centred(pad, pad)));
  const onAny = outside.map((pad) => path(centred(pad, pad)));
  return (
    area(intersect(onForbidding, forbidding, FillRule.NonZero)) === 0 &&
    area(intersect(onAny, placement.cells.map(path), FillRule.NonZero)) === 0
  );
}
