/** A library may have another footprint for the vertical sides. */
import { isHorizontal, type Side } from '../geometry/side.ts';
import type { Footprint, Library } from './footprint.ts';

/** The footprint that stands on a side for one that is named for the horizontal ones. */
export function standIn(library: Library, footprint: Footprint, side: Side): Footprint {
  if (footprint.onVertical === null || isHorizontal(side)) return footprint;
  return library.footprints.get(footprint.onVertical) ?? footprint;
}
