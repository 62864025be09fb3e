/** What lies at a place of the die, the uppermost first. */
import { type Dot, holds } from './geometry.ts';
import { type Model, padBox } from './model.ts';
import type { Shown } from './parts.ts';
import type { Thing } from './thing.ts';

export function under({ placement }: Model, shown: Shown, dot: Dot): readonly Thing[] {
  const found: Thing[] = [];
  if (shown.pads)
    for (const pad of placement.bondPads)
      if (holds(padBox(pad), dot)) found.push({ kind: 'pad', number: pad.number });
  if (shown.stems)
    for (const stem of placement.stems)
      if (holds(stem, dot) && !found.some((thing) => thing.kind === 'pad' && thing.number === stem.bondPad))
        found.push({ kind: 'pad', number: stem.bondPad });
  const cells: Thing[] = !shown.cells
    ? []
    : placement.cells
        .filter((cell) => holds(cell, dot))
        .map((cell): Thing => ({ kind: 'cell', name: cell.name }));
  const rails: Thing[] = !shown.rails
    ? []
    : placement.rails.flatMap((rail, at): Thing[] =>
        rail.rectangles.some((box) => holds(box, dot)) ? [{ kind: 'rail', at }] : [],
      );
  return [...found, ...rails, ...cells];
}
