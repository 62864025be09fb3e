/** Everything that becomes an edge must lie on the grid: the description's sizes, the library's, and both together. */
import { micrometres, onStep, type Units } from '../geometry/units.ts';
import type { Footprint } from '../library/footprint.ts';
import type { Place } from '../problems/problem.ts';
import type { Source } from '../source/source.ts';
import { edgesOnGrid, mustBeOnGrid } from './lengths.ts';
import { type Report, shown } from './report.ts';
import type { Entry } from './ring.ts';
import type { KnownText } from './schema.ts';

/** The description's lengths that place or size a shape, entries apart. */
export function checkGrid(report: Report, source: Source, text: KnownText, grid: Units): void {
  const look = (length: Units | undefined, ...path: readonly string[]): void => {
    if (length !== undefined)
      mustBeOnGrid(report, grid, length, `\`${path.join('.')}\``, () => source.placeOf(path));
  };
  if (typeof text.die === 'object') {
    look(text.die.width, 'die', 'width');
    look(text.die.height, 'die', 'height');
  }
  for (const key of ['street', 'seal', 'clearance'] as const) look(text.edge?.[key], 'edge', key);
  for (const key of ['width', 'height', 'clearance'] as const) look(text.core?.[key], 'core', key);
  look(text.bondPads?.toCell, 'bondPads', 'toCell');
  for (const key of ['gap', 'inset'] as const) look(text.rows?.[key], 'rows', key);
  look(text.stems?.width, 'stems', 'width');
  for (const [name, kind] of Object.entries(text.bondPads?.kinds ?? {})) {
    const path = ['bondPads', 'kinds', name];
    for (const end of ['along', 'deep'] as const) {
      look(kind[end], ...path, end);
      const opening = kind.opening[end];
      const at = [...path, 'opening', end];
      if (opening > kind[end])
        report.error(
          source.placeOf(at),
          'opening-beyond-metal',
          `\`${at.join('.')}\` is ${micrometres(opening)}, more than the metal's ${micrometres(kind[end])}`,
          'the opening lies on the metal, with some of it all around',
        );
      else if (onStep(kind[end], grid) && !edgesOnGrid(grid, kind[end] / 2, opening))
        report.error(
          source.placeOf(at),
          'off-grid',
          `\`${at.join('.')}\` is ${micrometres(opening)}, which centred on ${micrometres(kind[end])} of metal puts its edges off the grid of ${micrometres(grid)}`,
          `make the difference of the two a multiple of ${micrometres(grid)} times two`,
        );
    }
  }
}

/** One problem for each footprint whose shapes do not lie on the grid. */
export function checkLibraryGrid(
  report: Report,
  place: Place,
  grid: Units,
  footprints: Iterable<Footprint>,
): void {
  for (const footprint of new Set(footprints)) {
    const off = offGridParts(footprint, grid);
    if (off.length > 0)
      report.error(
        place,
        'off-grid',
        `cell ${shown(footprint.name)} does not lie on the grid of ${micrometres(grid)}: ${off.slice(0, 4).join(', ')}${off.length > 4 ? ` and ${off.length - 4} more` : ''}`,
        'correct the cell file, or set `grid` to what the library was drawn on',
      );
  }
}

function offGridParts(footprint: Footprint, grid: Units): readonly string[] {
  const parts: string[] = [];
  const look = (length: Units, what: string): void => {
    if (!onStep(length, grid)) parts.push(`${what} ${micrometres(length)}`);
  };
  look(footprint.width, 'width');
  look(footprint.depth, 'depth');
  look(footprint.setback, 'setback');
  for (const { lane, strips } of footprint.lanes)
    for (const strip of strips) {
      look(strip.from, `lane ${shown(lane)} from`);
      look(strip.to, `lane ${shown(lane)} to`);
    }
  for (const { name, at, inside } of footprint.landings) {
    if (inside === null) continue;
    const { t, along, deep, opening } = inside;
    const edges = (centre: Units, extent: Units): boolean => edgesOnGrid(grid, centre, extent);
    if (!edges(at, along) || !edges(t, deep)) parts.push(`the bond pad at landing ${shown(name)}`);
    if (!edges(at, opening.along) || !edges(t, opening.deep))
      parts.push(`its opening at landing ${shown(name)}`);
  }
  return parts;
}

/** A stem is centred on its landing; one problem for each landing that brings its edges off the grid. */
export function checkStemGrid(
  report: Report,
  source: Source,
  grid: Units,
  width: Units,
  entries: readonly Entry[],
): void {
  if (!onStep(width, grid)) return;
  const seen = new Set<string>();
  for (const { footprint, pad } of entries)
    for (const landing of pad === null ? [] : footprint.landings) {
      const key = JSON.stringify([footprint.name, landing.name]);
      if (seen.has(key) || edgesOnGrid(grid, landing.at, width)) continue;
      seen.add(key);
      report.error(
        source.placeOf(['stems', 'width']),
        'off-grid',
        `a stem ${micrometres(width)} wide would have its edges off the grid of ${micrometres(grid)}: landing ${shown(landing.name)} of ${shown(footprint.name)} is ${micrometres(landing.at)} from the cell's edge`,
        `make the stem one step of ${micrometres(grid)} wider or narrower, or move the landing by half a step`,
      );
    }
}
