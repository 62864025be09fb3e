/**
 * GDSII as npm `gdsii` reads it, and a placement held against it. A reference by the Stream Format's rule, from memory:
 * reflect about the x axis, then turn, then move; the placement's by ring-model section 1: mirror x to -x, then turn,
 * then move.
 */
import { type GDSRecord, parseGDS, RecordType } from 'gdsii';
import { expect } from 'vitest';
import type { Placement } from '../../src/format/placement.ts';
import type { LayerMap } from '../../src/write/layout/layers.ts';

export const LAYERS: LayerMap = {
  bondPads: { layer: 81, datatype: 0 },
  openings: { layer: 37, datatype: 0 },
  labels: { layer: 81, datatype: 10 },
  die: { layer: 63, datatype: 1 },
  cells: { layer: 63, datatype: 2 },
  stems: { Metal4: { layer: 46, datatype: 0 }, Metal5: { layer: 81, datatype: 0 } },
  rails: { Metal3: { layer: 42, datatype: 20 } },
  coreStrips: { Metal4: { layer: 46, datatype: 3 }, Metal5: { layer: 81, datatype: 3 } },
};

interface Shape {
  readonly layer: number;
  readonly datatype: number;
  readonly points: readonly (readonly [number, number])[];
}
interface Reference {
  readonly name: string;
  readonly reflected: boolean;
  readonly angle: number;
  readonly at: readonly [number, number];
}
interface Label {
  readonly layer: number;
  readonly text: string;
  readonly at: readonly [number, number];
}
interface Read {
  readonly unit: number;
  readonly names: string[];
  readonly shapes: Shape[];
  readonly references: Reference[];
  readonly labels: Label[];
}

/** The elements as the general reader tells its records, lengths in the database's whole numbers. */
export function readBack(bytes: Uint8Array): Read {
  const read: Read = { unit: 0, names: [], shapes: [], references: [], labels: [] };
  let unit = 0;
  let element: GDSRecord[] = [];
  for (const record of parseGDS(bytes)) {
    if (record.tag === RecordType.UNITS) unit = record.data.metersPerUnit;
    else if (record.tag === RecordType.STRNAME) read.names.push(record.data);
    else if (record.tag === RecordType.ENDEL) {
      const of = (tag: RecordType) => element.find((r) => r.tag === tag)?.data as never;
      const at = (of(RecordType.XY) as [number, number][] | undefined) ?? [];
      const first = at[0] ?? [Number.NaN, Number.NaN];
      if (element[0]?.tag === RecordType.BOUNDARY)
        read.shapes.push({ layer: of(RecordType.LAYER), datatype: of(RecordType.DATATYPE), points: at });
      else if (element[0]?.tag === RecordType.SREF)
        read.references.push({
          name: of(RecordType.SNAME),
          reflected: ((of(RecordType.STRANS) ?? 0) as number) < 0,
          angle: of(RecordType.ANGLE) ?? 0,
          at: first,
        });
      else read.labels.push({ layer: of(RecordType.LAYER), text: of(RecordType.STRING), at: first });
      element = [];
    } else if (
      ![
        RecordType.HEADER,
        RecordType.BGNLIB,
        RecordType.LIBNAME,
        RecordType.BGNSTR,
        RecordType.ENDSTR,
        RecordType.ENDLIB,
      ].includes(record.tag)
    )
      element.push(record);
  }
  return { ...read, unit };
}

type Point = readonly [number, number];
const turned = ([x, y]: Point, degrees: number): Point =>
  degrees === 90 ? [-y, x] : degrees === 180 ? [-x, -y] : degrees === 270 ? [y, -x] : [x, y];

/** GDSII: reflect about the x axis, turn, move. */
const byReference = (point: Point, { reflected, angle, at }: Reference): Point => {
  const [x, y] = turned([point[0], reflected ? -point[1] : point[1]], angle);
  return [x + at[0], y + at[1]];
};
/** The placement: mirror x to -x, turn, move. */
export const byPlacement = (
  point: Point,
  cell: Placement['cells'][number],
  steps: (um: number) => number,
): Point => {
  const [x, y] = turned([cell.mirrored ? -point[0] : point[0], point[1]], cell.rotation);
  return [x + steps(cell.origin.x), y + steps(cell.origin.y)];
};

/** Every reference and every shape of a read file against the placement. */
export function compare(placement: Placement, read: Read, unit: number, layers: LayerMap = LAYERS): void {
  const steps = (um: number) => Math.round((um * 1e6) / unit);
  const sizes = new Map(placement.footprints.map((f) => [f.name, f]));
  expect(read.unit).toBeCloseTo(unit * 1e-12, 18);
  expect(read.references).toHaveLength(placement.cells.length);
  placement.cells.forEach((cell, index) => {
    const reference = read.references[index];
    const drawn = sizes.get(cell.footprint);
    if (!reference || !drawn) throw new Error(`no reference for ${cell.name}`);
    const [w, h] = [steps(drawn.width), steps(drawn.height)];
    // Three corners fix place, turn and mirror image.
    const corners: Point[] = [
      [0, 0],
      [w, 0],
      [0, h],
    ];
    const placed = corners.map((corner) => byReference(corner, reference).map((v) => v + 0));
    expect(placed).toEqual(corners.map((corner) => byPlacement(corner, cell, steps).map((v) => v + 0)));
    const far = byReference([w, h], reference);
    const xs = [...placed.map((p) => p[0] ?? 0), far[0]];
    const ys = [...placed.map((p) => p[1] ?? 0), far[1]];
    expect([Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]).toEqual(
      [cell.x, cell.y, cell.x + cell.width, cell.y + cell.height].map(steps),
    );
  });
  const text = (layer: { layer: number; datatype: number } | undefined, box: readonly number[]) =>
    JSON.stringify([layer?.layer, layer?.datatype, ...box]);
  const box = (x: number, y: number, width: number, height: number) =>
    [x, y, x + width, y + height].map(steps);
  // A pad that its cell contains comes with the cell.
  const outside = placement.bondPads.filter((p) => {
    const cell = placement.cells.find((c) => c.name === p.cell);
    const footprint = placement.footprints.find((f) => f.name === cell?.footprint);
    return footprint?.landings.find((l) => l.name === p.landing)?.inside === null;
  });
  const expected = [
    text(layers.die, box(0, 0, placement.die.width, placement.die.height)),
    ...placement.cells.map((c) => text(layers.cells, box(c.x, c.y, c.width, c.height))),
    ...outside.flatMap((p) => [
      text(layers.bondPads, box(p.x - p.width / 2, p.y - p.height / 2, p.width, p.height)),
      text(
        layers.openings,
        box(p.x - p.opening.width / 2, p.y - p.opening.height / 2, p.opening.width, p.opening.height),
      ),
    ]),
    ...placement.stems.flatMap((s) =>
      s.layers.map((name) => text(layers.stems?.[name], box(s.x, s.y, s.width, s.height))),
    ),
    ...(placement.coreStrips ?? []).flatMap((strip) =>
      [...strip.rectangles, ...strip.straps].map((r) =>
        text(layers.coreStrips?.[r.layer], box(r.x, r.y, r.width, r.height)),
      ),
    ),
    ...placement.rails.flatMap((rail) =>
      rail.rectangles.map((r) => text(layers.rails?.[r.layer], box(r.x, r.y, r.width, r.height))),
    ),
  ];
  const got = read.shapes.map(({ layer, datatype, points }) => {
    const [a, b, c, d, e] = points;
    expect(e).toEqual(a);
    expect([b?.[1], c?.[0], d?.[0]]).toEqual([a?.[1], b?.[0], a?.[0]]);
    expect(d?.[1]).toBe(c?.[1]);
    return text({ layer, datatype }, [a?.[0] ?? 0, a?.[1] ?? 0, c?.[0] ?? 0, c?.[1] ?? 0]);
  });
  expect(got.sort()).toEqual(expected.sort());
}
