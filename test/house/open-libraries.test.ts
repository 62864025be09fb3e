/**
 * Shows: rings on two real, openly published I/O libraries, laid from their LEF, have no finding of severity error; their
 * lanes, sections and rails come from the LEF. Source: the published LEF (see the README of the folder beside the
 * project); lane names, strip extents and layers below are read off it by hand.
 */
import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readText } from '../../src/commands/files.ts';
import type { Placement } from '../../src/format/placement.ts';
import { run } from '../../src/run.ts';
import { polygonVerdict } from '../helpers/polygons.ts';

const OPEN = '../shared/open-io-cells';
const there = existsSync(OPEN);
if (!there) console.log(`${OPEN} is not there: the rings of the open libraries are left out`);

function laid(path: string): Placement {
  const outcome = run(readText, path);
  if (outcome.kind !== 'laid') throw new Error(JSON.stringify(outcome));
  return outcome.placement;
}

const lanesOf = (placement: Placement): readonly string[] =>
  [...new Set(placement.rails.map((r) => r.lane))].sort();

describe.skipIf(!there)('rings of the open libraries', () => {
  it.each([
    ['fixtures/open-130/inline.ring.yaml', 'inline'],
    ['fixtures/open-130/staggered.ring.yaml', 'staggered'],
    ['fixtures/open-180/ring.yaml', 'in-cell'],
  ] as const)('%s: at least 40 pads, no error, sound shapes', (path, style) => {
    const placement = laid(path);
    expect(placement.bondPads.length).toBeGreaterThanOrEqual(40);
    expect(placement.sides.every((side) => side.style === style)).toBe(true);
    expect(placement.findings.filter((f) => f.severity === 'error')).toEqual([]);
    expect(polygonVerdict(placement)).toEqual([]);
  });

  it('130 nm: four lanes, each one closed loop, strips where the LEF draws them', () => {
    const placement = laid('fixtures/open-130/inline.ring.yaml');
    expect(lanesOf(placement)).toEqual(['iovdd', 'iovss', 'vdd', 'vss']);
    expect(placement.rails.map((rail) => rail.closed)).toEqual([true, true, true, true]);
    // LEF: iovdd on Metal3 from 66 to 91.5 and from 93.5 to 119, in every cell from edge to edge.
    const iovdd = placement.rails.find((rail) => rail.lane === 'iovdd');
    const bottom = placement.cells.find((cell) => cell.side === 'bottom' && cell.role === 'signal');
    const metal3 = iovdd?.rectangles.filter(
      (r) =>
        r.layer === 'Metal3' && r.width > r.height && r.y > (bottom?.y ?? 0) && r.y < (bottom?.y ?? 0) + 180,
    );
    expect(metal3?.map((r) => [r.y - (bottom?.y ?? 0), r.height])).toEqual([
      [66, 25.5],
      [93.5, 25.5],
    ]);
  });

  it('130 nm: in the core supply cells the top layer is cut, the lane goes on below', () => {
    const placement = laid('fixtures/open-130/inline.ring.yaml');
    const core = placement.cells.filter(
      (cell) => cell.footprint === 'sg13g2_IOPadVdd' && cell.side === 'bottom',
    );
    expect(core.length).toBeGreaterThan(0);
    const iovdd = placement.rails.find((rail) => rail.lane === 'iovdd')?.rectangles ?? [];
    const middle = (cell: Placement['cells'][number]) => cell.x + cell.width / 2;
    const over = (layer: string, cell: Placement['cells'][number]) =>
      iovdd.filter(
        (r) =>
          r.layer === layer &&
          r.y < 400 &&
          r.width > r.height &&
          r.x < middle(cell) &&
          r.x + r.width > middle(cell),
      ).length;
    for (const cell of core) expect([over('TopMetal2', cell), over('Metal3', cell)]).toEqual([0, 2]);
  });

  it('staggered: the pads are wide enough that two rows pay', () => {
    const placement = laid('fixtures/open-130/staggered.ring.yaml');
    expect(placement.rules.pads.pitch).toBeGreaterThanOrEqual(100);
    expect(new Set(placement.bondPads.map((pad) => pad.row))).toEqual(new Set(['outer', 'inner']));
    // Cells of 80 um abut, where one row of such pads would keep them a pad pitch apart.
    expect(placement.sides.map((side) => side.filled)).toEqual([0, 0, 0, 0]);
  });

  it('180 nm: two sections parted by the library break cells, ties declared, ground going on through', () => {
    const placement = laid('fixtures/open-180/ring.yaml');
    expect(placement.sections.length).toBe(2);
    const breaks = placement.cells.filter((cell) => cell.role === 'break');
    expect(breaks.length).toBe(2);
    expect(breaks.every((cell) => /__brk[25]$/.test(cell.footprint))).toBe(true);
    const ties = new Map(placement.footprints.map((f) => [f.name.replace(/.*__/, ''), f.ties]));
    const sorted = (name: string) => ties.get(name)?.map((tie) => [...tie].sort());
    expect(sorted('dvdd')).toEqual([['DVDD', 'VDD']]);
    expect(sorted('dvss')).toEqual([['DVSS', 'VSS']]);
    const vss = placement.rails.filter((rail) => rail.lane === 'VSS');
    expect(vss.map((rail) => rail.closed)).toEqual([true]);
    expect(placement.rails.filter((rail) => rail.lane === 'DVDD').map((rail) => rail.closed)).toEqual([
      false,
      false,
    ]);
  });
});
