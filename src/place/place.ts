/** From a fit to the placement: every shape in the die, as the placement file has it. Findings come later. */
import type { Fit } from '../fit/fit.ts';
import { FORMAT, type PlacedCell, type Placement, type Stem, VERSION } from '../format/placement.ts';
import { SIDES } from '../geometry/side.ts';
import { micrometres } from '../geometry/units.ts';
import { type Placed, type PlacedSide, placeCells } from './cells.ts';
import { coreOf } from './core.ts';
import { footprintsOf, netsOf, rulesOf, sectionsOf } from './footprints.ts';
import { packageOf } from './package.ts';
import { bondPadOf, numberedPads, type PlacedPad, stemOf } from './pads.ts';
import { partingsOf } from './partings.ts';
import { railsOf } from './rails.ts';

export function place(fit: Fit): Placement {
  const { ring } = fit.plan;
  const sides = placeCells(fit);
  const cells = sides.flatMap((side) => [...side.cells, side.corner]);
  const numbered = numberedPads(fit);
  const bondPads = numbered.map((pad) => bondPadOf(fit, pad));
  const core = coreOf(fit, sides);
  return {
    format: FORMAT,
    version: VERSION,
    ring: ring.name,
    units: { length: 'um', grid: micrometres(ring.grid) },
    numbering: {
      start: { side: ring.numbering.side, end: ring.numbering.end },
      direction: ring.numbering.direction,
    },
    rules: rulesOf(ring),
    nets: netsOf(ring, bondPads),
    sections: sectionsOf(ring),
    footprints: footprintsOf(
      ring,
      cells.map((cell) => cell.footprint),
    ),
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
    cells: cells.map(cellOf),
    bondPads,
    stems: numbered.map((pad) => stemOf(fit, pad)).filter((stem): stem is Stem => stem !== null),
    rails: railsOf(fit, sides),
    partings: partingsOf(fit, sides),
    findings: [],
    summary: summaryOf(fit, sides, numbered, core),
    ...(ring.package === undefined ? {} : { package: packageOf(ring.package, numbered) }),
  };
}

function cellOf(cell: Placed): PlacedCell {
  const pins = cell.entry?.pins ?? [];
  return {
    name: cell.name,
    footprint: cell.footprint.name,
    role: cell.footprint.role,
    side: cell.side,
    x: micrometres(cell.outline.x),
    y: micrometres(cell.outline.y),
    width: micrometres(cell.outline.width),
    height: micrometres(cell.outline.height),
    rotation: cell.rotation,
    mirrored: cell.mirrored,
    origin: { x: micrometres(cell.origin.x), y: micrometres(cell.origin.y) },
    section: cell.section,
    ...(pins.length === 0 ? {} : { pins: [...pins] }),
    ...(cell.entry?.tied === undefined ? {} : { tied: { ...cell.entry.tied } }),
  };
}

function summaryOf(
  fit: Fit,
  sides: readonly PlacedSide[],
  pads: readonly PlacedPad[],
  core: Placement['core'],
): Placement['summary'] {
  const roles: Partial<Record<PlacedCell['role'], number>> = {};
  for (const side of sides)
    for (const cell of [...side.cells, side.corner])
      roles[cell.footprint.role] = (roles[cell.footprint.role] ?? 0) + 1;
  const pitches = SIDES.map((side) => {
    const centres = pads.filter((pad) => pad.side === side).map((pad) => pad.s);
    centres.sort((a, b) => a - b);
    let [least, greatest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let i = 1; i < centres.length; i++) {
      const pitch = (centres[i] ?? 0) - (centres[i - 1] ?? 0);
      least = Math.min(least, pitch);
      greatest = Math.max(greatest, pitch);
    }
    const some = centres.length > 1;
    return {
      side,
      least: some ? least / 1e6 : null,
      greatest: some ? greatest / 1e6 : null,
    };
  });
  return {
    roles: Object.fromEntries(Object.entries(roles).sort(([a], [b]) => (a < b ? -1 : 1))),
    pitches,
    area: {
      die: areaOf(micrometres(fit.die.width), micrometres(fit.die.height)),
      core: areaOf(core.width, core.height),
    },
    limits: { ...fit.limits },
  };
}

/** Square micrometres, to the sixth decimal: the product of two exact lengths need not be exact in a double. */
const areaOf = (width: number, height: number): number => Number((width * height).toFixed(6));
