/** Rules that look at one cell or one bond pad at a time. */
import type { Hit } from '../finding.ts';
import type { CellView, PadView, View } from '../view.ts';

/** Runs a look at each cell and gathers what it says. */
export const eachCell =
  (look: (cell: CellView, view: View) => Hit | undefined) =>
  (view: View): readonly Hit[] => {
    const hits: Hit[] = [];
    for (const cell of view.cells) {
      const found = look(cell, view);
      if (found !== undefined) hits.push(found);
    }
    return hits;
  };

/** Runs a look at each bond pad and gathers what it says. */
export const eachPad =
  (look: (pad: PadView, view: View) => Hit | undefined) =>
  (view: View): readonly Hit[] => {
    const hits: Hit[] = [];
    for (const pad of view.pads) {
      const found = look(pad, view);
      if (found !== undefined) hits.push(found);
    }
    return hits;
  };
