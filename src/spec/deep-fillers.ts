/** Fillers that reach deeper than the corner cell: left out of use, so that they make no ring impossible. */
import type { Footprint, Library } from '../library/footprint.ts';
import type { Place } from '../problems/problem.ts';
import { type Report, shown } from './report.ts';

/**
 * The fillers that may be used. Two that abut one corner cell from its two sides and reach deeper than it overlap, and
 * any gap may be the one beside the corner: a filler deeper than the corner cell both ways can stand nowhere, and one
 * that is deeper one way only is spared where another fills whatever it fills.
 */
export function withoutDeep(
  report: Report,
  placeOf: (filler: Footprint) => Place,
  library: Library,
  fillers: readonly Footprint[],
  corner: Footprint,
): readonly Footprint[] {
  const reach = (filler: Footprint): number => {
    const standIn = filler.onVertical === null ? undefined : library.footprints.get(filler.onVertical);
    return [filler, standIn ?? filler].reduce((most, f) => Math.max(most, f.setback + f.depth), 0);
  };
  const [least, most] = [Math.min(corner.width, corner.depth), Math.max(corner.width, corner.depth)];
  /** Whatever gap a filler is part of, so many of the other one fill as well. */
  const fillsFor = (other: Footprint, filler: Footprint): boolean =>
    reach(other) <= least &&
    other.standsAlone &&
    filler.width % other.width === 0 &&
    (other.padOnTop || !filler.padOnTop);
  return fillers.filter((filler) => {
    const deep = reach(filler);
    if (deep <= least || (deep <= most && !fillers.some((other) => fillsFor(other, filler)))) return true;
    report.note(
      placeOf(filler),
      'filler-left-out',
      `the filler ${shown(filler.name)} reaches ${deep / 1e6} um inward, deeper than the corner cell ${shown(corner.name)} (${corner.width / 1e6} by ${corner.depth / 1e6} um): it is not used`,
      'take a corner cell as large as the fillers are deep, or leave the filler out of `fillers`',
    );
    return false;
  });
}
