/** From a fit to the placement: every shape in the die, as the placement file has it. Findings come later. */
import type { Fit } from '../fit/fit.ts';
import { FORMAT, type PlacedCell, type Placement, type Stem, VERSION } from '../format/placement.ts';
import { SIDES, type Side } from '../geometry/side.ts';
import { micrometres, PER_MICROMETRE } from '../geometry/units.ts';
import type { Footprint } from '../library/footprint.ts';
import { type Placed, type PlacedSide, placeCells } from './cells.ts';
import { coreOf } from './core.ts';
import { footprintsOf, netsOf, rulesOf, sectionsOf } from './footprints.ts';
import { packageOf } from './package.ts';
import { bondPadOf, type PlacedPad, padsByNumber, stemOf } from './pads.ts';
import { partingsOf } from './partings.ts';
import { askedOf, padKindsOf, pinsOf } from './pins.ts';
import { railsOf } from './rails.ts';

export function place(fit: Fit): Placement {
  const { ring } = fit.plan;
  const sides = placeCells(fit);
  const cells: PlacedCell[] = [];
  const used = new Set<Footprint>();
  const take = (placed: Placed): void => {
    cells.push(placed.cell);
    used.add(placed.footprint);
  };
  for (const side of sides) {
    side.cells.forEach(take);
    take(side.corner);
  }
  const pads = padsByNumber(fit);
  const bondPads = pads.map((pad, i) => bondPadOf(fit, pad, i + 1));
  const stems: Stem[] = [];
  pads.forEach((pad, i) => {
    const stem = stemOf(fit, pad, i + 1);
    if (stem !== null) stems.push(stem);
  });
  const core = coreOf(fit, sides);
  const bonded = ring.package === undefined ? undefined : packageOf(ring.package, pads);
  return {
    format: FORMAT,
    version: VERSION,
    ring: ring.name,
    units: { length: 'um', grid: micrometres(ring.grid) },
    numbering: {
      start: { side: ring.numbering.side, end: ring.numbering.end },
      direction: ring.numbering.direction,
    },
    rules: rulesOf(ring, padKindsOf(fit.plan)),
    nets: netsOf(ring, bondPads),
    sections: sectionsOf(ring),
    footprints: footprintsOf(ring, used),
    pins: pinsOf(fit.plan, bondPads, bonded),
    asked: askedOf(fit.plan),
    die: { width: micrometres(fit.die.width), height: micrometres(fit.die.height) },
    core,
    sides: sides.map((side) => ({
      side: side.side,
      style: ring.sides[side.side].style,
      cells: side.cells.length,
      bondPads: fit.rows[side.side].pads.length,
      length: micrometres(side.length),
      filled: micrometres(side.filled),
    })),
    cells,
    bondPads,
    stems,
    rails: railsOf(fit, sides),
    partings: partingsOf(fit, sides),
    findings: [],
    summary: summaryOf(fit, sides, pads, core),
    ...(bonded === undefined ? {} : { package: bonded }),
  };
}

function summaryOf(
  fit: Fit,
  sides: readonly PlacedSide[],
  pads: readonly PlacedPad[],
  core: Placement['core'],
): Placement['summary'] {
  const counts = new Map<PlacedCell['role'], number>();
  const count = ({ footprint: { role } }: Placed): void => {
    counts.set(role, (counts.get(role) ?? 0) + 1);
  };
  for (const { cells, corner } of sides) {
    cells.forEach(count);
    count(corner);
  }
  const centres: Record<Side, number[]> = { left: [], bottom: [], right: [], top: [] };
  for (const pad of pads) centres[pad.side].push(pad.s);
  const pitches = SIDES.map((side) => ({ side, ...pitchesOf(centres[side]) }));
  return {
    roles: Object.fromEntries([...counts].sort(([a], [b]) => (a < b ? -1 : 1))),
    pitches,
    area: {
      die: areaOf(micrometres(fit.die.width), micrometres(fit.die.height)),
      core: areaOf(core.width, core.height),
    },
    limits: { ...fit.limits },
  };
}

/** The least and the greatest distance of neighbouring centres. */
function pitchesOf(centres: number[]): { least: number | null; greatest: number | null } {
  if (centres.length < 2) return { least: null, greatest: null };
  const sorted = centres.sort((a, b) => a - b);
  let [least, greatest] = [Number.POSITIVE_INFINITY, 0];
  for (let i = 1; i < sorted.length; i++) {
    const pitch = (sorted[i] ?? 0) - (sorted[i - 1] ?? 0);
    least = Math.min(least, pitch);
    greatest = Math.max(greatest, pitch);
  }
  return { least: least / PER_MICROMETRE, greatest: greatest / PER_MICROMETRE };
}

/** Square micrometres, to the sixth decimal: the product of two exact lengths need not be exact in a double. */
const areaOf = (width: number, height: number): number => Number((width * height).toFixed(6));
