/** Which supply cells are set where they are missing, for each lane. */
import type { Footprint, Library } from '../library/footprint.ts';
import type { Electrical } from './electrical.ts';
import { type ElectricalContext, refuse, wrong } from './electrical-context.ts';
import { ELECTRICAL_DEFAULTS, type ElectricalText } from './electrical-schema.ts';
import { didYouMean, shown } from './report.ts';

/** The library's supply cells for a lane: those with one landing, which feeds it; the fewest lanes first. */
function supplyCellsFor(library: Library, lane: string): readonly Footprint[] {
  const standsFor = new Set([...library.footprints.values()].flatMap((f) => f.onVertical ?? []));
  return [...library.footprints.values()]
    .filter((f) => f.role === 'supply' && f.landings.length === 1 && !standsFor.has(f.name))
    .filter((f) => f.landings[0]?.feeds.includes(lane) === true)
    .sort(
      (a, b) =>
        (a.landings[0]?.feeds.length ?? 0) - (b.landings[0]?.feeds.length ?? 0) ||
        a.width - b.width ||
        (a.name < b.name ? -1 : 1),
    );
}

export function resolveSupplies(context: ElectricalContext, text: ElectricalText): Electrical['supplies'] {
  const { library, sections } = context;
  const given = text.supplies ?? ELECTRICAL_DEFAULTS.supplies;
  if (given === 'given') return { set: false, cells: new Map(), spare: 0 };
  const how = given === 'auto' ? {} : given;
  if (Object.keys(how).length === 0 && given !== 'auto')
    refuse(context, ['supplies'], 'it is empty; write `supplies: auto`');
  const demands = text.core ?? text.outputs ?? text.discharge;
  if (demands === undefined) refuse(context, ['supplies'], 'there is nothing that asks for supplies');
  const lanes = [...new Set(sections.flatMap((s) => s.pairs.flatMap((pair) => [pair.supply, pair.ground])))];
  const cells = new Map<string, Footprint>();
  for (const lane of lanes) {
    const [first] = supplyCellsFor(library, lane);
    if (first !== undefined) cells.set(lane, first);
  }
  for (const [lane, name] of Object.entries(how.cells ?? {})) {
    const path = ['supplies', 'cells', lane];
    const footprint = library.footprints.get(name);
    const fitting = supplyCellsFor(library, lane);
    if (!lanes.includes(lane))
      wrong(
        context,
        path,
        'unknown-lane',
        `${shown(lane)} is no supply or ground lane of any section`,
        didYouMean(lane, lanes, 'lane'),
      );
    else if (footprint === undefined || !fitting.includes(footprint))
      wrong(
        context,
        path,
        'no-supply-cell',
        `${shown(name)} is no supply cell with a single landing that feeds ${shown(lane)}`,
        didYouMean(
          name,
          fitting.map((f) => f.name),
          'such cell',
        ),
      );
    else if (footprint === cells.get(lane)) refuse(context, path, 'that cell is taken anyway');
    else cells.set(lane, footprint);
  }
  return { set: true, cells, spare: how.spare ?? ELECTRICAL_DEFAULTS.spare };
}
