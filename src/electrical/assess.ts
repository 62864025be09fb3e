/**
 * The electrical assessment of a placement:
 *
 *   cells in ring order -> arcs -> groups of arcs -> counts
 *                               -> rails solved   -> drops, current densities
 *                               -> roads          -> discharge paths
 *   core strips, decoupling, loops of neighbouring supplies
 *
 * It reads the placement alone; actual wires come from whoever knows them. Nothing that is not given is assumed:
 * such a figure is not assessed, and never counts as holding.
 */

import { dischargePeak } from '../figures/discharge.ts';
import type { ElectricalRules, Placement } from '../format/placement.ts';
import { arcName, arcsOf, type RingCell, ringCells } from './arcs.ts';
import { type ActualWires, type Bonding, bondingOf } from './bonding.ts';
import { coreShares } from './core.ts';
import { countOf, type SupplyCount } from './counts.ts';
import { type Discharge, type Searched, searchDischarge } from './discharge.ts';
import { dischargeDemand } from './discharge-demand.ts';
import { type Given, givenBy } from './given.ts';
import { type Group, groupsOf, type LoadedArc, loadedArcs } from './groups.ts';
import { type Load, loadsOf } from './loads.ts';
import { type Layers, layersOf, type Missing } from './metal.ts';
import { withOwnNames } from './own-names.ts';
import { type Roads, roadsOf } from './paths.ts';
import {
  alongArc,
  arcMetal,
  type MetalOf,
  metalBook,
  type SolvedArc,
  solveArc,
  stemResistance,
  stemsOf,
} from './rails.ts';
import { coreStrips, type Strips } from './strips.ts';

export interface Assessment {
  readonly placement: Placement;
  readonly rules: ElectricalRules;
  readonly layers: Layers;
  readonly bonding: Bonding | undefined;
  readonly ring: readonly RingCell[];
  readonly loads: readonly Load[];
  readonly arcs: readonly LoadedArc[];
  /** Of each arc, in the same order. */
  readonly rails: readonly (SolvedArc | Missing)[];
  /** What each supply cell gives, by its name. */
  readonly given: ReadonlyMap<string, Given>;
  readonly groups: readonly Group[];
  readonly supplies: readonly SupplyCount[];
  readonly roads: Roads;
  readonly discharge: Searched | Unsearched;
  readonly strips: Strips | undefined;
}

/** Assesses a placement; undefined where it says nothing electrical. */
export function assess(given: Placement, actual?: ActualWires): Assessment | undefined {
  const placement = withOwnNames(given);
  const rules = placement.rules.electrical;
  if (rules === undefined) return undefined;
  const layers = layersOf(rules);
  const bonding = bondingOf(rules, placement.package, actual);
  const ring = ringCells(placement);
  const loads = loadsOf(placement, rules);
  const plain = arcsOf(placement, ring);
  const arcs = loadedArcs(plain, loads, coreShares(placement, rules, plain));
  const stems = stemsOf(placement);
  const metalOf = metalBook(layers);
  const rails = arcs.map((arc) => solveArc(arc, metalOf, layers, stems));
  const currents = givenBy(arcs, rails);
  const groups = groupsOf(placement, arcs);
  const roads = roadsOf(placement, ring, arcs);
  const discharge = dischargeOf(placement, rules, { arcs, roads, metalOf, layers });
  const supplies = groups.map((group) =>
    countOf(group, rules, bonding, currents, dischargeDemand(group, rules, discharge)),
  );
  const strips = coreStrips(placement, rules, ring, layers);
  return {
    placement,
    rules,
    layers,
    bonding,
    ring,
    loads,
    arcs,
    rails,
    given: currents,
    groups,
    supplies,
    roads,
    discharge,
    strips,
  };
}

interface Ways {
  readonly arcs: readonly LoadedArc[];
  readonly roads: Roads;
  readonly metalOf: MetalOf;
  readonly layers: Layers;
}

/** Where resistances are not known, whether there is a path at all still is. */
export type Unsearched = Missing & { readonly none: Searched['none'] };

function dischargeOf(
  placement: Placement,
  rules: ElectricalRules,
  { arcs, roads, metalOf, layers }: Ways,
): Searched | Unsearched {
  if (rules.discharge === null) return { missing: 'a discharge level', none: [] };
  if (roads.unknown.length > 0)
    return { missing: `the lanes that the pad circuits of ${someOf(roads.unknown)} work on`, none: [] };
  const peak = dischargePeak(rules.discharge.level);
  const unsearched = (missing: string): Unsearched => ({
    missing,
    none: searchDischarge({ peak, roads, along: arcs.map(() => () => 0), stem: () => 0 }).none,
  });
  const along: Discharge['along'][number][] = [];
  for (const arc of arcs) {
    const metal = arcMetal(arc, metalOf);
    if ('missing' in metal) return unsearched(`${metal.missing}, for ${arcName(arc.arc)}`);
    along.push(alongArc(arc, metal));
  }
  const stems = stemsOf(placement);
  const ohms = new Map<number, number>();
  for (const { pad } of roads.pads) {
    const stem = stemResistance(pad, stems.get(pad.number), layers);
    if ('missing' in stem) return unsearched(stem.missing);
    ohms.set(pad.number, stem.value);
  }
  return searchDischarge({ peak, roads, along, stem: (pad) => ohms.get(pad.number) ?? 0 });
}

function someOf(names: readonly string[]): string {
  const few = names.slice(0, 6).join(', ');
  return names.length > 6 ? `${few} and ${names.length - 6} more` : few;
}
