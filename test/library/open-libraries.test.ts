/**
 * The two open libraries through the LEF reader and their cell files: every size, and every strip at every edge, layer by
 * layer, equal to a scan of the same LEF by a few lines that share no code with the reader.
 * Source of the values: the published LEF files; where a lane runs through, ends or is tied: the notes that came with
 * them (README of the folder beside the project) and the drawings themselves.
 */
import { describe, expect, it } from 'vitest';
import { micrometres } from '../../src/geometry/units.ts';
import type { Footprint, Strip } from '../../src/library/footprint.ts';
import { LIBRARIES, libraryAt, type Scanned, scan, thereAre } from './open.ts';

type Edge = 'left' | 'right' | 'top';

/** Layer, from and to of each rectangle at an edge of the drawing, without doubles. */
function atEdge({ size: [w, h], power }: Scanned, edge: Edge): string[] {
  const all = power.flatMap(({ layer, rect: [x1, y1, x2, y2] }) => {
    if (edge === 'top') return y2 >= h ? [`${layer} ${x1} ${x2}`] : [];
    return (edge === 'left' ? x1 <= 0 : x2 >= w) ? [`${layer} ${y1} ${y2}`] : [];
  });
  return [...new Set(all)].sort();
}

const stripsAt = ({ lanes }: Footprint, edge: 'start' | 'end'): string[] =>
  lanes
    .flatMap(({ strips }) => strips)
    .filter((strip) => strip.edges === 'both' || strip.edges === edge)
    .map(({ layer, from, to }) => `${layer} ${micrometres(from)} ${micrometres(to)}`)
    .sort();

const byPlace = (strip: Strip): string => `${strip.layer} ${strip.from} ${strip.to}`;

describe.runIf(thereAre)('the open libraries', () => {
  for (const { name, cells, folder } of LIBRARIES) {
    const library = (): ReadonlyMap<string, Footprint> => libraryAt(cells).footprints;

    it(`${name}: has every macro with its size`, () => {
      const sizes = [...library().values()].map((f) => [
        f.name,
        [micrometres(f.drawn.width), micrometres(f.drawn.height)],
      ]);
      const scanned = [...scan(folder)].map(([macro, { size }]) => [macro, size]);
      expect(new Map(sizes as [string, number[]][])).toEqual(new Map(scanned as [string, number[]][]));
    });

    it(`${name}: has every strip at every edge, by layer`, () => {
      const scanned = scan(folder);
      let compared = 0;
      for (const f of library().values()) {
        const cell = scanned.get(f.name);
        if (!cell) throw new Error(`${f.name} is not in the scan`);
        const corner = f.role === 'corner';
        // The corner cells are drawn for the lower left: toward the left side lies their upper edge. Core pins of supply
        // cells reach the upper edge too, in row cells it is none of a neighbour's.
        const [start, end] = [atEdge(cell, corner ? 'top' : 'left'), atEdge(cell, 'right')];
        expect([f.name, stripsAt(f, 'start')]).toEqual([f.name, start]);
        expect([f.name, stripsAt(f, 'end')]).toEqual([f.name, end]);
        compared += start.length + end.length;
      }
      expect(compared).toBeGreaterThan(1000);
    });

    it(`${name}: knows the same lane at one place in all cells`, () => {
      const lanes = new Map<string, string>();
      for (const f of library().values())
        for (const { lane, strips } of f.lanes)
          for (const strip of strips) {
            expect([f.name, lanes.get(byPlace(strip)) ?? lane]).toEqual([f.name, lane]);
            lanes.set(byPlace(strip), lane);
          }
    });
  }

  it('open-130: cuts exactly the top-layer strips that end after 3.9 um', () => {
    const scanned = scan(LIBRARIES[0].folder);
    const cut: string[] = [];
    const short: string[] = [];
    for (const f of libraryAt(LIBRARIES[0].cells).footprints.values()) {
      for (const { lane, strips } of f.lanes)
        for (const s of strips)
          if (s.carry === 'cut') cut.push(`${f.name} ${lane} ${s.layer} ${micrometres(s.from)} ${s.edges}`);
      const cell = scanned.get(f.name);
      for (const { pin, layer, rect } of cell?.power ?? [])
        if (rect[0] === 0 && rect[2] === 3.9) short.push(`${f.name} ${pin} ${layer} ${rect[1]} both`);
    }
    expect(cut.sort()).toEqual(short.sort());
    // Two of the I/O supply cell and five of the core supply cell.
    expect(cut).toHaveLength(7);
  });

  it('open-130: finds landings, corner, signals and layers', () => {
    const { footprints, layers } = libraryAt(LIBRARIES[0].cells);
    const of = (name: string): Footprint | undefined => footprints.get(name);
    expect(of('sg13g2_Corner')).toMatchObject({ role: 'corner', drawnFor: 'left' });
    expect(of('sg13g2_IOPadIn')?.landings).toEqual([{ name: 'pad', at: 40e6, feeds: [], inside: null }]);
    expect(of('sg13g2_IOPadVdd')?.landings).toEqual([
      { name: 'vdd', at: 40e6, feeds: ['vdd'], inside: null },
    ]);
    expect(of('sg13g2_IOPadIOVss')?.landings[0]?.feeds).toEqual(['iovss']);
    expect(of('sg13g2_IOPadTriOut4mA')?.signals).toEqual([
      { name: 'c2p', direction: 'input', at: { s: 38.475e6, t: 180e6 } },
      { name: 'c2p_en', direction: 'input', at: { s: 41.525e6, t: 180e6 } },
    ]);
    expect(layers?.get('TopMetal2')).toEqual({
      sheetResistance: 0.0145,
      currentLimits: [{ celsius: null, perMicrometre: 16 }],
    });
    const fillers = [...footprints.values()].filter((f) => f.role === 'filler').map((f) => f.width / 1e6);
    expect(fillers.sort((a, b) => a - b)).toEqual([1, 2, 5, 10, 20, 50]);
  });

  it('open-180: finds pads in the cells, ties, breaks and the filler that may not stand alone', () => {
    const { footprints, layers } = libraryAt(LIBRARIES[1].cells);
    const of = (name: string): Footprint | undefined => footprints.get(`gf180mcu_fd_io__${name}`);
    const inside = { t: 32.5e6, along: 64e6, deep: 64e6, opening: { along: 60e6, deep: 60e6 } };
    expect(of('bi_t')?.landings).toEqual([{ name: 'PAD', at: 37.5e6, feeds: [], inside }]);
    expect(of('dvdd')).toMatchObject({ role: 'supply', ties: [['DVDD', 'VDD']] });
    expect(of('dvdd')?.landings[0]).toMatchObject({ feeds: ['DVDD', 'VDD'], inside });
    expect(of('dvss')).toMatchObject({ ties: [['DVSS', 'VSS']] });
    expect(of('cor')).toMatchObject({ role: 'corner', drawnFor: 'left', width: 355e6, depth: 355e6 });
    for (const name of ['brk2', 'brk5']) {
      expect(of(name)?.role).toBe('break');
      expect(of(name)?.lanes.map(({ lane }) => lane)).toEqual(['VSS']);
    }
    const alone = [...footprints.values()].filter((f) => !f.standsAlone).map((f) => [f.name, f.width]);
    expect(alone).toEqual([['gf180mcu_fd_io__fillnc', 100_000]]);
    // Everything that a cell draws as stubs is joined inside.
    for (const f of footprints.values())
      for (const { strips } of f.lanes) for (const strip of strips) expect(strip.carry).toBe('through');
    expect(layers?.get('Metal5')?.currentLimits?.[1]).toEqual({ celsius: 110, perMicrometre: 1.8 });
  });
});
