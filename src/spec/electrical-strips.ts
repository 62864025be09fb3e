/** The core strips as they are asked for: nets with a core current, a known layer, and cells where straps land. */
import { exactUnits, micrometres, onStep, units, ZERO } from '../geometry/units.ts';
import type { Electrical } from './electrical.ts';
import { type ElectricalContext, netsByKind, refuse, wrong } from './electrical-context.ts';
import { ELECTRICAL_DEFAULTS, type ElectricalText } from './electrical-schema.ts';
import { mustBeOnGrid } from './lengths.ts';
import { didYouMean, shown } from './report.ts';

export function resolveCoreStrips(
  context: ElectricalContext,
  text: ElectricalText,
): Electrical['coreStrips'] {
  const { library, sections, entries, report, source, grid } = context;
  const strips = text.coreStrips;
  if (strips === undefined) return null;
  if (text.core === undefined) refuse(context, ['coreStrips'], 'no `core` current is given');
  const layers = [...(library.layers?.keys() ?? [])];
  const layer = library.layers?.get(strips.layer);
  if (layer === undefined)
    wrong(
      context,
      ['coreStrips', 'layer'],
      'unknown-layer',
      `nothing is known of a layer ${shown(strips.layer)}`,
      didYouMean(strips.layer, layers, 'layer'),
    );
  else if (strips.width === undefined && (layer.currentLimits ?? []).length === 0)
    wrong(
      context,
      ['coreStrips', 'layer'],
      'no-current-limit',
      `the cell file gives layer ${shown(strips.layer)} no current limit to size strips by`,
      'add `currentLimits:` to the layer in the cell file, or `width:` here',
    );
  const nets = coreNets(context, text);
  strips.nets.forEach((net, i) => {
    const path = ['coreStrips', 'nets', i];
    if (!nets.includes(net))
      wrong(
        context,
        path,
        'unknown-net',
        `${shown(net)} is no net of the core`,
        didYouMean(net, nets, 'net of the core'),
      );
    else if (strips.nets.indexOf(net) !== i)
      wrong(context, path, 'duplicate-name', `${shown(net)} is listed twice`, 'list it once');
    else {
      const lands = entries.some((entry) => {
        const lanes = sections.find((section) => section.name === entry.section)?.lanes;
        return entry.footprint.straps?.some((strap) => lanes?.get(strap.lane) === net) === true;
      });
      if (!lands)
        wrong(
          context,
          path,
          'no-strap',
          `no supply cell of ${shown(net)} says where a strap from the core lands`,
          'add `straps: [{lane: …, layer: …, at: …, width: …, t: …}]` to the cell in the cell file',
        );
    }
  });
  for (const key of ['spacing', 'clearance'] as const) {
    const length = strips[key];
    if (length !== undefined)
      mustBeOnGrid(report, grid, length, `\`coreStrips.${key}\``, () =>
        source.placeOf(['electrical', 'coreStrips', key]),
      );
  }
  if (strips.width !== undefined && !onStep(strips.width, units(2 * grid)))
    wrong(
      context,
      ['coreStrips', 'width'],
      'off-grid',
      `\`coreStrips.width\` is ${micrometres(strips.width)}, which is no multiple of twice the grid of ${micrometres(grid)}`,
      'round it, so that its middle line is on the grid',
    );
  return {
    nets: strips.nets,
    layer: strips.layer,
    width: strips.width ?? null,
    spacing: strips.spacing,
    clearance: strips.clearance ?? exactUnits(ELECTRICAL_DEFAULTS.clearance) ?? ZERO,
  };
}

/** The supply nets with a core current, and the grounds that it goes back through. */
function coreNets({ sections }: ElectricalContext, text: ElectricalText): readonly string[] {
  const { supply } = netsByKind(sections);
  const given = Object.keys(text.core ?? {}).filter((net) => supply.has(net));
  const grounds = sections.flatMap(({ lanes, pairs }) =>
    pairs
      .filter((pair) => given.includes(lanes.get(pair.supply) ?? ''))
      .flatMap((pair) => lanes.get(pair.ground) ?? []),
  );
  return [...new Set([...given, ...grounds])];
}
