/** The rules, sections, nets and footprints that a placement carries so that it stands alone. */

import type { BondPad, PlacedFootprint, Placement, Rules } from '../format/placement.ts';
import { micrometres } from '../geometry/units.ts';
import type { Footprint } from '../library/footprint.ts';
import type { NeighbourRule, Ring } from '../spec/ring.ts';
import { electricalRulesOf, footprintElectricalOf } from './electrical.ts';

/** Footprints in use, and those that a checker or a later edit of the placement needs: by name. */
export function footprintsOf(ring: Ring, used: Iterable<Footprint>): readonly PlacedFootprint[] {
  const wanted = new Map<string, Footprint>();
  const add = (footprint: Footprint | undefined): void => {
    if (footprint === undefined || wanted.has(footprint.name)) return;
    wanted.set(footprint.name, footprint);
    for (const name of [...footprint.needs, ...(footprint.onVertical === null ? [] : [footprint.onVertical])])
      add(ring.library.footprints.get(name));
  };
  for (const footprint of used) add(footprint);
  for (const footprint of [...ring.fillers, ...ring.breaks, ring.corners.footprint]) add(footprint);
  for (const footprint of ring.library.footprints.values()) if (footprint.perSection !== null) add(footprint);
  return [...wanted.values()].sort((a, b) => (a.name < b.name ? -1 : 1)).map(footprintOf);
}

function footprintOf(f: Footprint): PlacedFootprint {
  return {
    name: f.name,
    role: f.role,
    width: micrometres(f.drawn.width),
    height: micrometres(f.drawn.height),
    drawnFor: f.drawnFor,
    setback: micrometres(f.setback),
    landings: f.landings.map((l) => ({
      name: l.name,
      at: micrometres(l.at),
      feeds: [...l.feeds],
      inside:
        l.inside === null
          ? null
          : {
              t: micrometres(l.inside.t),
              along: micrometres(l.inside.along),
              deep: micrometres(l.inside.deep),
              opening: {
                along: micrometres(l.inside.opening.along),
                deep: micrometres(l.inside.opening.deep),
              },
            },
    })),
    lanes: f.lanes.map(({ lane, strips }) => ({
      lane,
      strips: strips.map((s) => ({
        layer: s.layer,
        from: micrometres(s.from),
        to: micrometres(s.to),
        edges: s.edges,
        carry: s.carry,
      })),
    })),
    ties: f.ties.map((tie) => [...tie]),
    clamps: f.clamps.map(({ supply, ground }) => ({ supply, ground })),
    diodes: [...f.diodes],
    standsAlone: f.standsAlone,
    padOnTop: f.padOnTop,
    turns: { plain: [...f.turns.plain], mirrored: [...f.turns.mirrored] },
    onVertical: f.onVertical,
    perSection: f.perSection === null ? null : { ...f.perSection },
    needs: [...f.needs],
    ...(f.signals === undefined
      ? {}
      : { signals: f.signals.map((s) => ({ name: s.name, direction: s.direction })) }),
    ...footprintElectricalOf(f),
  };
}

export function rulesOf(ring: Ring, kinds: Rules['pads']['kinds']): Rules {
  const electrical = electricalRulesOf(ring);
  return {
    edge: {
      street: micrometres(ring.edge.street),
      seal: micrometres(ring.edge.seal),
      clearance: micrometres(ring.edge.clearance),
    },
    core: {
      width: micrometres(ring.core.width),
      height: micrometres(ring.core.height),
      clearance: micrometres(ring.core.clearance),
    },
    shrink: ring.shrink,
    pads: {
      pitch: micrometres(ring.pads.pitch),
      spacing: micrometres(ring.pads.spacing),
      openingSpacing: micrometres(ring.pads.openingSpacing),
      openingInset: micrometres(ring.pads.openingInset),
      openingToSeal: {
        least: micrometres(ring.pads.openingToSeal.least),
        most: ring.pads.openingToSeal.most === null ? null : micrometres(ring.pads.openingToSeal.most),
      },
      toCell: micrometres(ring.pads.toCell),
      kinds,
    },
    rows: {
      overCircuit: ring.rows.overCircuit,
      gap: micrometres(ring.rows.gap),
      first: ring.rows.first,
      inset: micrometres(ring.rows.inset),
    },
    stems: {
      width: micrometres(ring.stems.width),
      spacing: micrometres(ring.stems.spacing),
      layers: [...ring.stems.layers],
    },
    corners: {
      clearance: micrometres(ring.corners.clearance),
      pitches: ring.corners.pitches.map((p) => ({ pads: p.pads, pitch: micrometres(p.pitch) })),
    },
    neighbours: ring.neighbours.map(neighbourRuleOf),
    severities: Object.fromEntries([...ring.severities].sort(([a], [b]) => (a < b ? -1 : 1))),
    waivers: ring.waivers.map((w) => ({ rule: w.rule, items: [...w.items], reason: w.reason })),
    ...(electrical === undefined ? {} : { electrical }),
  };
}

function neighbourRuleOf(rule: NeighbourRule): Rules['neighbours'][number] {
  switch (rule.kind) {
    case 'together':
      return { kind: rule.kind, pins: [...rule.pins] };
    case 'apart':
      return {
        kind: rule.kind,
        pins: [...rule.pins],
        from: [...rule.from],
        distance: micrometres(rule.distance),
      };
    case 'beside-ground':
      return { kind: rule.kind, nets: [...rule.nets] };
    case 'signals-between-grounds':
      return { kind: rule.kind, most: rule.most, sections: [...rule.sections] };
  }
}

/** Power nets in the order of the sections, then the signals' by pad number. */
export function netsOf(ring: Ring, pads: readonly BondPad[]): Placement['nets'] {
  const kinds = new Map<string, 'supply' | 'ground' | 'signal'>();
  for (const section of ring.sections) {
    const grounds = new Set(section.pairs.map((pair) => pair.ground));
    for (const [lane, net] of section.lanes)
      if (grounds.has(lane)) kinds.set(net, 'ground');
      else if (!kinds.has(net)) kinds.set(net, 'supply');
  }
  for (const pad of pads) if (!kinds.has(pad.net)) kinds.set(pad.net, 'signal');
  return [...kinds].map(([name, kind]) => ({ name, kind }));
}

export function sectionsOf(ring: Ring): Placement['sections'] {
  return ring.sections.map((section) => ({
    name: section.name,
    lanes: Object.fromEntries(section.lanes),
    pairs: section.pairs.map(({ supply, ground }) => ({ supply, ground })),
  }));
}
