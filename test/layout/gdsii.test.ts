/**
 * Shows that the GDSII file holds the placement: every reference's place and turn, every polygon, every label, read
 * back by two general readers that nobody here wrote.
 *
 * Source of the values: npm `gdsii` (records) and python3-gdspy (cells, places and turns by its own arithmetic); the
 * Stream Format's rule for a reference, from memory: reflect about the x axis, then turn, then move; ring-model
 * section 1 for the placement's side of it: mirror x to -x, then turn, then move, and its cell by hand.
 */
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Placement } from '../../src/format/placement.ts';
import { placementSchema } from '../../src/format/placement.ts';
import { databaseUnit, gdsii } from '../../src/write/layout/gdsii.ts';
import type { LayerMap } from '../../src/write/layout/layers.ts';
import { real } from '../../src/write/layout/stream.ts';
import { byPlacement, compare, LAYERS, readBack } from './gdsii-reader.ts';
import { run, tool } from './outside.ts';
import { anyPlacement, handWorkedCell, sample } from './sample.ts';

const written = (placement: Placement, layers: LayerMap = LAYERS): Uint8Array => {
  const outcome = gdsii(placement, layers);
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.message).join('\n'));
  return outcome.value;
};

describe('GDSII read back with npm gdsii', () => {
  it('holds every cell, polygon and label of the sample', () => {
    const placement = sample();
    expect(placementSchema.safeParse(placement).error).toBeUndefined();
    const read = readBack(written(placement));
    compare(placement, read, 1000);
    expect(read.names).toEqual(['tide_gauge']);
    expect(new Set(read.references.map((r) => r.name))).toEqual(new Set(['io', 'power', 'ground', 'f_10']));
    expect(new Set(read.references.map((r) => `${r.angle} ${r.reflected}`)).size).toBe(8);
    expect(read.labels.map((l) => [l.text, ...l.at])).toEqual(
      placement.bondPads.map((p) => [
        p.pin === 'adc in' ? 'adc_in' : p.pin,
        Math.floor(p.x * 1000),
        Math.floor(p.y * 1000),
      ]),
    );
  });

  it('holds any cells in any of the eight orientations, on any grid', () => {
    fc.assert(
      fc.property(anyPlacement, (placement) => {
        const read = readBack(written(placement));
        compare(placement, read, databaseUnit(placement.units.grid));
        const names = read.references.map((r) => r.name);
        expect(names.every((name) => /^[A-Za-z0-9_?$]+$/u.test(name))).toBe(true);
        // Two footprints never come to bear one name, nor that of the ring's own structure.
        const pairs = new Set(placement.cells.map((cell, i) => `${cell.footprint}\n${names[i]}`));
        expect(pairs.size).toBe(new Set(placement.cells.map((c) => c.footprint)).size);
        expect(pairs.size).toBe(new Set(names).size);
        expect(names).not.toContain(read.names[0]);
      }),
      { numRuns: 300 },
    );
  });

  /** Ring-model section 1: 75 x 350, mirrored, right side of a die 3000 wide, t 50 to 400, s 1000 to 1075. */
  it('places the hand-worked cell', () => {
    const placement: Placement = { ...handWorkedCell(), bondPads: [], stems: [], rails: [], coreStrips: [] };
    const read = readBack(written(placement));
    compare(placement, read, 1000);
    expect(read.references).toEqual([
      { name: 'io', reflected: true, angle: 270, at: [2_950_000, 1_075_000] },
    ]);
  });

  it('draws no pad that the cell contains, and labels it all the same', () => {
    const base = sample();
    const placement: Placement = {
      ...base,
      footprints: base.footprints.map((f) =>
        f.name === 'io'
          ? {
              ...f,
              landings: [
                {
                  name: 'PAD',
                  at: 20,
                  feeds: [],
                  inside: { t: 20, along: 30, deep: 30, opening: { along: 26, deep: 26 } },
                },
              ],
            }
          : f,
      ),
    };
    const read = readBack(written(placement));
    const pads = read.shapes.filter((s) => s.layer === 37);
    expect(pads).toHaveLength(2);
    expect(read.labels).toHaveLength(placement.bondPads.length);
  });
});

describe('GDSII read back with python3-gdspy', () => {
  /** The recorded value is the digest of the bytes that gdspy 1.4.2 read back right. */
  const RECORDED = '8a2248de36e6741c7e8d646a70260e03e8348a58070a1e2841c595284935e8f2';
  const SCRIPT = `
import json, sys, gdspy
job = json.load(sys.stdin)
library = gdspy.GdsLibrary()
library.read_gds(job["file"])
top = library.cell_dict[job["top"]]
box = lambda points: [round(float(v), 6) for v in (min(p[0] for p in points), min(p[1] for p in points), max(p[0] for p in points), max(p[1] for p in points))]
own = gdspy.GdsLibrary()
cells = {}
for name, width, height in job["footprints"]:
    # A body and a mark in its lower-left corner, so that each orientation looks different.
    cell = gdspy.Cell(name, exclude_from_current=True)
    cell.add(gdspy.Rectangle((0, 0), (width, height), layer=1))
    cell.add(gdspy.Rectangle((0, 0), (width / 8, height / 4), layer=2))
    cells[name] = cell
out = {"references": [], "shapes": [], "labels": []}
for ref in top.references:
    name = ref.ref_cell if isinstance(ref.ref_cell, str) else ref.ref_cell.name
    placed = gdspy.CellReference(cells[name], ref.origin, ref.rotation, ref.magnification, ref.x_reflection)
    found = placed.get_polygons(by_spec=True)
    out["references"].append([name, box(found[(1, 0)][0]), box(found[(2, 0)][0])])
for polygon in top.polygons:
    for points, layer, datatype in zip(polygon.polygons, polygon.layers, polygon.datatypes):
        out["shapes"].append([int(layer), int(datatype), box(points)])
for label in top.labels:
    out["labels"].append([label.text, round(float(label.position[0]), 6), round(float(label.position[1]), 6), int(label.layer)])
print(json.dumps(out))
`;

  it('gives the same places, turns and polygons', () => {
    const placement = sample();
    const bytes = written(placement);
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(RECORDED);
    const python = tool('python3-gdspy', ['/usr/bin/python3', 'python3'], ['-c', 'import gdspy']);
    if (python === null) return;
    const folder = mkdtempSync(join(tmpdir(), 'ringwright-gdsii-'));
    try {
      const file = join(folder, 'ring.gds');
      writeFileSync(file, bytes);
      const legal = (name: string) => name.replace('-', '_');
      const footprints = placement.footprints.map((f) => [legal(f.name), f.width, f.height]);
      const answer = run(
        python,
        ['-W', 'ignore', '-c', SCRIPT],
        JSON.stringify({ file, top: 'tide_gauge', footprints }),
      );
      expect(answer.status, answer.err).toBe(0);
      const read: {
        references: [string, number[], number[]][];
        shapes: [number, number, number[]][];
        labels: unknown[];
      } = JSON.parse(answer.out);
      const round = (v: number) => Math.round(v * 1e6) / 1e6 + 0;
      const expected = placement.cells.map((cell) => {
        const f = placement.footprints.find((g) => g.name === cell.footprint) ?? { width: 0, height: 0 };
        const corners = [
          [0, 0],
          [f.width / 8, f.height / 4],
        ].map(([x = 0, y = 0]) => byPlacement([x, y], cell, (um) => um));
        const mark = [
          Math.min(...corners.map((c) => c[0])),
          Math.min(...corners.map((c) => c[1])),
          Math.max(...corners.map((c) => c[0])),
          Math.max(...corners.map((c) => c[1])),
        ].map(round);
        return [
          legal(cell.footprint),
          [cell.x, cell.y, cell.x + cell.width, cell.y + cell.height].map(round),
          mark,
        ];
      });
      const sorted = (list: readonly unknown[]) => list.map((v) => JSON.stringify(v)).sort();
      expect(sorted(read.references)).toEqual(sorted(expected));
      const plain = readBack(bytes);
      const shapes = plain.shapes.map(({ layer, datatype, points }) => [
        layer,
        datatype,
        [points[0]?.[0], points[0]?.[1], points[2]?.[0], points[2]?.[1]].map((v) => (v ?? 0) / 1000),
      ]);
      expect(sorted(read.shapes)).toEqual(sorted(shapes));
      expect(read.labels).toHaveLength(placement.bondPads.length);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});

describe('what stands against a GDSII file', () => {
  const problemsOf = (placement: Placement, layers: LayerMap) => {
    const outcome = gdsii(placement, layers);
    return outcome.ok ? [] : outcome.problems;
  };

  it('names every layer that the map lacks in one problem', () => {
    const { rails: _, bondPads: __, coreStrips: ___, ...rest } = LAYERS;
    const lacking = problemsOf(sample(), { ...rest, stems: { Metal5: { layer: 1, datatype: 0 } } });
    expect(lacking).toHaveLength(1);
    expect(lacking[0]).toMatchObject({
      code: 'layer-map-lacks',
      message:
        'the layer map has no number for bondPads, stems.Metal4, rails.Metal3, coreStrips.Metal5, coreStrips.Metal4',
    });
  });

  it('does not take a layer from the prototype of the map', () => {
    const base = sample();
    const placement: Placement = {
      ...base,
      stems: base.stems.map((s) => ({ ...s, layers: ['constructor'] })),
    };
    expect(problemsOf(placement, LAYERS)[0]?.message).toMatch('stems.constructor');
  });

  it('refuses a layer number that two bytes cannot hold', () => {
    for (const layer of [-1, 32_768, 1.5, Number.NaN])
      expect(problemsOf(sample(), { ...LAYERS, die: { layer, datatype: 0 } })[0]?.code).toBe('layer-number');
  });

  it('refuses a shape off the database unit, and one beyond four bytes', () => {
    const base = sample();
    const moved = (x: number): Placement => ({
      ...base,
      stems: base.stems.map((stem, i) => (i === 1 ? { ...stem, x } : stem)),
    });
    expect(problemsOf(moved(10.0005), LAYERS)).toMatchObject([
      { code: 'off-database-unit', message: expect.stringMatching('the stem of bond pad 2: ') },
    ]);
    expect(problemsOf(moved(2_200_000), LAYERS)).toMatchObject([{ code: 'beyond-database' }]);
    expect(problemsOf(moved(2_100_000), LAYERS)).toEqual([]);
  });
});

describe('the database unit and its eight-byte real', () => {
  /** Stream Format, from memory: 1e-3 is 3E4189374BC6A7F0 and 1e-9 is 3944B82FA09B5A50 within a last bit. */
  it('encodes the two usual units as published', () => {
    expect(real(1e-3).toString(16)).toBe('3e4189374bc6a7f0');
    expect(real(1e-9).toString(16)).toMatch(/^3944b82fa09b5a5/u);
    expect(real(1).toString(16)).toBe('4110000000000000');
    expect(real(270).toString(16)).toBe('4310e00000000000');
    expect(real(0)).toBe(0n);
  });

  it('decodes to the very double', () => {
    const decoded = (bits: bigint) =>
      Number(bits & ((1n << 56n) - 1n)) * 2 ** -56 * 16 ** (Number((bits >> 56n) & 0x7fn) - 64);
    fc.assert(
      fc.property(fc.double({ min: 1e-20, max: 1e20, noNaN: true }), (value) => {
        expect(decoded(real(value))).toBe(value);
      }),
    );
  });

  it('is a nanometre, or the decimal part of one that divides the grid', () => {
    expect([0.001, 0.005, 0.05, 1, 0.0025, 0.0005, 0.00125, 0.000002].map(databaseUnit)).toEqual([
      1000, 1000, 1000, 1000, 100, 100, 10, 1,
    ]);
  });
});
