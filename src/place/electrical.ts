/** The electrical demands as the placement carries them, so that it stands alone. */
import type { ElectricalRules, PlacedFootprint } from '../format/placement.ts';
import { micrometres } from '../geometry/units.ts';
import type { Footprint } from '../library/footprint.ts';
import type { Ring } from '../spec/ring.ts';

/** The rules that the assessment needs; undefined where nothing electrical is asked for. */
export function electricalRulesOf(ring: Ring): ElectricalRules | undefined {
  const { electrical, library } = ring;
  if (electrical === undefined) return undefined;
  const { wires, coreStrips, discharge, decoupling } = electrical;
  return {
    celsius: electrical.celsius,
    layers: [...(library.layers ?? [])].map(([name, { sheetResistance, currentLimits }]) => ({
      name,
      sheetResistance: sheetResistance ?? null,
      limits: (currentLimits ?? []).map(({ celsius, perMicrometre }) => ({ celsius, perMicrometre })),
    })),
    wires:
      wires === null
        ? null
        : {
            metal: wires.metal,
            diameter: micrometres(wires.diameter),
            length: micrometres(wires.length),
            lead: wires.lead,
          },
    core: Object.fromEntries(electrical.core),
    outputs: electrical.outputs.map((output) => ({
      name: output.name,
      pins: [...output.pins],
      current: output.current,
      slope: output.slope,
      edge: output.edge === null ? null : { time: output.edge.time, shape: output.edge.shape },
      load: output.load,
      swing: output.swing,
    })),
    together: electrical.together.map((group) => [...group]),
    noise: Object.fromEntries(electrical.noise),
    drop: Object.fromEntries(electrical.drop),
    discharge: discharge === null ? null : { ...discharge },
    decoupling: decoupling === null ? null : { ...decoupling },
    supplies: electrical.supplies.set ? 'auto' : 'given',
    coreStrips:
      coreStrips === null
        ? null
        : {
            nets: [...coreStrips.nets],
            layer: coreStrips.layer,
            width: coreStrips.width === null ? null : micrometres(coreStrips.width),
            spacing: micrometres(coreStrips.spacing),
            clearance: micrometres(coreStrips.clearance),
          },
  };
}

/** What a footprint says of itself electrically, in the placement's form. */
export function footprintElectricalOf(
  f: Footprint,
): Pick<PlacedFootprint, 'rating' | 'straps' | 'electrical'> {
  const { electrical } = f;
  return {
    ...(f.rating === undefined ? {} : { rating: f.rating }),
    ...(f.straps === undefined
      ? {}
      : {
          straps: f.straps.map((strap) => ({
            lane: strap.lane,
            layer: strap.layer,
            at: micrometres(strap.at),
            width: micrometres(strap.width),
            t: micrometres(strap.t),
          })),
        }),
    ...(electrical === undefined
      ? {}
      : {
          electrical: {
            drives: electrical.drives === null ? null : { ...electrical.drives },
            clamp: electrical.clamp === null ? null : { ...electrical.clamp },
            padDiode: electrical.padDiode === null ? null : { ...electrical.padDiode },
            breakDiode: electrical.breakDiode === null ? null : { ...electrical.breakDiode },
          },
        }),
  };
}
