/**
 * What a general polygon library (npm clipper2-ts) says of the shapes of a placement, in terms of the checker's rules:
 * overlap by areas of unions, spacing by growth with square corners, gaps by counting outlines. It shares nothing with
 * placer or checker.
 */
import { areaPaths, FillRule, intersect, type Paths64, union } from 'clipper2-ts';
import type { Placement } from '../../src/format/placement.ts';
import { apart, area, type Box, centred, grown, path } from '../helpers/polygon-shapes.ts';

const overlap = (a: Paths64, b: Paths64): boolean =>
  a.length > 0 && b.length > 0 && area(intersect(a, b, FillRule.NonZero)) > 0;

const metal = (pad: Placement['bondPads'][number]): Box => centred(pad, pad);

const opening = (pad: Placement['bondPads'][number]): Box => centred(pad, pad.opening);

const SIDES = ['left', 'bottom', 'right', 'top'] as const;

/** How many pieces the cells of a side and its two corner cells fall into. */
function piecesOf(placement: Placement, side: number): number {
  const corners = placement.cells.filter((cell) => cell.side === null);
  const at = (k: number): Box[] => {
    const right = k === 1 || k === 2;
    const upper = k === 2 || k === 3;
    return corners.filter(
      (c) =>
        c.x + c.width / 2 > placement.die.width / 2 === right &&
        c.y + c.height / 2 > placement.die.height / 2 === upper,
    );
  };
  const own = placement.cells.filter((cell) => cell.side === SIDES[side]);
  const strip = [...at((side + 3) % 4), ...own, ...at(side)].map(path);
  return union(strip, FillRule.NonZero).filter((p) => areaPaths([p]) > 0).length;
}

/** The rules that a sound judge of shapes must name, of those that this opinion covers. */
export function secondOpinion(placement: Placement): ReadonlySet<string> {
  const { rules, die, cells, bondPads, stems } = placement;
  const broken = new Set<string>();
  if (!apart(cells, 0)) broken.add('cell-overlap');
  if (SIDES.some((_, side) => piecesOf(placement, side) > 1)) broken.add('abutment');
  if (!apart(bondPads.map(metal), rules.pads.spacing)) broken.add('pad-spacing');
  if (!apart(bondPads.map(opening), rules.pads.openingSpacing)) broken.add('opening-spacing');
  const e = rules.edge.street + rules.edge.seal + rules.edge.clearance;
  const shapes = [...cells, ...bondPads.map(metal), ...stems];
  const inside = (margin: number): boolean => {
    const room = [
      path({ x: margin, y: margin, width: die.width - 2 * margin, height: die.height - 2 * margin }),
    ];
    return shapes.every((box) => area(intersect([path(box)], room, FillRule.NonZero)) === area([path(box)]));
  };
  if (!inside(e)) broken.add('edge');
  const foreign = stems.some((stem) => {
    const others = bondPads.filter((pad) => pad.number !== stem.bondPad).map((pad) => path(metal(pad)));
    return overlap(grown(stem, rules.stems.spacing), others);
  });
  if (foreign || !apart(stems, rules.stems.spacing)) broken.add('stem-spacing');
  const kinds = new Map(placement.footprints.map((f) => [f.name, f]));
  const contained = new Set(
    cells.filter((c) => kinds.get(c.footprint)?.landings.some((l) => l.inside !== null)).map((c) => c.name),
  );
  const forbidding = cells.filter((c) => kinds.get(c.footprint)?.padOnTop !== true);
  // A pad that its cell contains is answered for by that cell alone, not by those beside it.
  const pressed = bondPads.some((pad) =>
    overlap(
      [path(metal(pad))],
      forbidding.filter((c) => c.name !== pad.cell || !contained.has(c.name)).map(path),
    ),
  );
  if (pressed) broken.add('pad-on-cell');
  return broken;
}
