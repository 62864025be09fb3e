/** The fillers, break cells and corner cell of a ring: those that the user names, else the library's. */
import type { Footprint, Library } from '../library/footprint.ts';
import type { Source } from '../source/source.ts';
import { didYouMean, type Report, shown } from './report.ts';

const ROLE = { fillers: 'filler', breaks: 'break' } as const;
const WORD = { filler: 'filler', break: 'break cell', corner: 'corner cell' } as const;
type Kind = keyof typeof WORD;

/** All cells of a role but those that only stand for another one on the vertical sides. */
function ofRole(library: Library, role: Kind): readonly Footprint[] {
  const all = [...library.footprints.values()].filter((footprint) => footprint.role === role);
  const standIns = new Set(all.flatMap((f) => (f.onVertical === f.name ? [] : (f.onVertical ?? []))));
  return all.filter((footprint) => !standIns.has(footprint.name));
}

/** The fillers or the break cells that may be set. */
export function namedCells(
  report: Report,
  source: Source,
  library: Library,
  key: 'fillers' | 'breaks',
  names: readonly string[] | undefined,
): readonly Footprint[] {
  const role = ROLE[key];
  if (names === undefined) return ofRole(library, role);
  return names.flatMap((name, i) => {
    if (names.indexOf(name) === i) return ofName(report, source, library, [key, i], name, role) ?? [];
    report.error(
      source.placeOf([key, i]),
      'duplicate-name',
      `${WORD[role]} ${shown(name)} is named twice`,
      'leave one of the two',
    );
    return [];
  });
}

function ofName(
  report: Report,
  source: Source,
  library: Library,
  path: readonly (string | number)[],
  name: string,
  role: Kind,
): Footprint | undefined {
  const footprint = library.footprints.get(name);
  if (footprint?.role === role) return footprint;
  const known = [...library.footprints.values()].filter((f) => f.role === role).map((f) => f.name);
  report.error(
    source.placeOf(path),
    'unknown-cell',
    footprint === undefined
      ? `the library ${shown(library.name)} has no ${WORD[role]} ${shown(name)}`
      : `${shown(name)} is no ${WORD[role]}: its role is ${footprint.role}`,
    didYouMean(name, known, WORD[role]),
  );
  return undefined;
}

/** The corner cell; it need not be named where the library has just one. */
export function cornerCell(
  report: Report,
  source: Source,
  library: Library,
  name: string | undefined,
): Footprint | undefined {
  if (name !== undefined) return ofName(report, source, library, ['corners', 'cell'], name, 'corner');
  const all = ofRole(library, 'corner');
  if (all.length === 1) return all[0];
  report.absence(
    source.placeOf(['cells']),
    'which-corner',
    all.length === 0
      ? `the library ${shown(library.name)} has no corner cell`
      : `the library ${shown(library.name)} has ${all.length} corner cells`,
    all.length === 0
      ? 'give a cell of the cell file the role `corner`'
      : `choose one with \`corners: {cell: …}\`: ${all
          .slice(0, 12)
          .map((f) => shown(f.name))
          .join(', ')}`,
  );
  return undefined;
}
