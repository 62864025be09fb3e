/** Fillers whose widths share so fine a step that what they add up to cannot be listed. */
import { commonStep, micrometres, units } from '../geometry/units.ts';
import type { Footprint } from '../library/footprint.ts';
import type { Place } from '../problems/problem.ts';
import { type Report, shown } from './report.ts';

/** The most steps in the widest filler: a millimetre at a step of a nanometre. */
const FINEST = 1_000_000;

export function checkFineness(
  report: Report,
  placeOf: (filler: Footprint) => Place,
  fillers: readonly Footprint[],
): void {
  let step = 0;
  let widest: Footprint | undefined;
  for (const filler of fillers) {
    step = commonStep(step, filler.width);
    if (widest === undefined || filler.width > widest.width) widest = filler;
    if (widest.width <= FINEST * step) continue;
    report.error(
      placeOf(filler),
      'fillers-too-fine',
      `the filler ${shown(filler.name)}, ${micrometres(filler.width)} wide, and those before it share no step coarser than ${micrometres(units(step))}, which is less than a millionth of ${shown(widest.name)}, ${micrometres(widest.width)} wide`,
      'leave it out of `fillers`, or draw it on the grid of the others',
    );
    return;
  }
}
