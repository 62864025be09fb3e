/**
 * Shows that the DEF file holds the placement: every component's place and orientation, every pin's metal, every
 * rail and stem, recomputed by a reader written here from the standard's rules alone.
 *
 * Source of the values: LEF/DEF 5.8 language reference, from memory: a statement ends at a `;` between blanks; a
 * backslash takes a sign's meaning away; a component's point is the lower-left corner of its placed outline; N, W,
 * S and E are turns of 0, 90, 180 and 270 degrees; FN is mirrored about the y axis, FS about the x axis, FE is FN and
 * FW is FS turned by 90. The cell of ring-model section 1 is FE.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Placement } from '../../src/format/placement.ts';
import { type DefSettings, def } from '../../src/write/layout/def.ts';
import { anyPlacement, sample } from './sample.ts';

const written = (placement: Placement, settings: DefSettings = {}): string => {
  const outcome = def(placement, settings);
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.message).join('\n'));
  return outcome.value;
};

type Point = readonly [number, number];

/** Each orientation as what it makes of a point. */
const ORIENTATIONS: Readonly<Record<string, (p: Point) => Point>> = {
  N: ([x, y]) => [x, y],
  W: ([x, y]) => [-y, x],
  S: ([x, y]) => [-x, -y],
  E: ([x, y]) => [y, -x],
  FN: ([x, y]) => [-x, y],
  FS: ([x, y]) => [x, -y],
  FE: ([x, y]) => [-y, -x],
  FW: ([x, y]) => [y, x],
};

interface Component {
  readonly name: string;
  readonly macro: string;
  readonly at: Point;
  readonly orientation: string;
}
interface Box {
  readonly layer: string;
  readonly box: readonly number[];
}
interface Pin {
  readonly name: string;
  readonly net: string;
  readonly use: string;
  readonly shapes: Box[];
}
interface Read {
  per: number;
  design: string;
  die: number[];
  readonly components: Component[];
  readonly pins: Pin[];
  readonly special: { name: string; use: string; ends: string[]; shapes: Box[] }[];
  readonly nets: { name: string; ends: string[] }[];
}

/** Tokens between blanks; statements end at `;`. */
function statements(text: string): string[][] {
  const all: string[][] = [];
  let open: string[] = [];
  for (const token of text.split(/\s+/u).filter((t) => t !== '')) {
    if (token === 'END' && open.length === 0) {
      open.push(token);
      continue;
    }
    if (open[0] === 'END') {
      all.push([...open, token]);
      open = [];
    } else if (token === ';') {
      all.push(open);
      open = [];
    } else open.push(token);
  }
  expect(open).toEqual([]);
  return all;
}

function readBack(text: string): Read {
  const read: Read = { per: 0, design: '', die: [], components: [], pins: [], special: [], nets: [] };
  let section = '';
  let announced = 0;
  let seen = 0;
  const number = (token: string | undefined): number => {
    expect(token).toMatch(/^-?\d+$/u);
    return Number(token);
  };
  const points = (tokens: readonly string[], from: number, count: number): number[] => {
    const list: number[] = [];
    for (let i = 0; i < count; i++) {
      const at = from + 4 * i;
      expect([tokens[at], tokens[at + 3]]).toEqual(['(', ')']);
      list.push(number(tokens[at + 1]), number(tokens[at + 2]));
    }
    return list;
  };
  const ends = (tokens: readonly string[]): string[] => {
    const list: string[] = [];
    for (let i = 2; tokens[i] === '('; i += 4) {
      expect(tokens[i + 3]).toBe(')');
      list.push(`${tokens[i + 1]} ${tokens[i + 2]}`);
    }
    return list;
  };
  for (const tokens of statements(text)) {
    const [head = '', second = ''] = tokens;
    if (section === '') {
      if (head === 'UNITS') read.per = number(tokens[3]);
      else if (head === 'DESIGN') read.design = second;
      else if (head === 'DIEAREA') read.die = points(tokens, 1, 2);
      else if (['COMPONENTS', 'PINS', 'SPECIALNETS', 'NETS'].includes(head))
        [section, announced, seen] = [head, number(second), 0];
      else expect(['VERSION', 'DIVIDERCHAR', 'BUSBITCHARS', 'END']).toContain(head);
      continue;
    }
    if (head === 'END') {
      expect([second, seen]).toEqual([section, announced]);
      section = '';
      continue;
    }
    seen++;
    expect(head).toBe('-');
    const plus = (word: string): number[] =>
      tokens.flatMap((token, i) => (token === '+' && tokens[i + 1] === word ? [i + 1] : []));
    const word = (name: string): string => tokens[(plus(name)[0] ?? Number.NaN) + 1] ?? '';
    if (section === 'COMPONENTS') {
      const fixed = plus('FIXED')[0] ?? 0;
      const [x = 0, y = 0] = points(tokens, fixed + 1, 1);
      read.components.push({
        name: second,
        macro: tokens[2] ?? '',
        at: [x, y],
        orientation: tokens[fixed + 5] ?? '',
      });
    } else if (section === 'PINS') {
      const fixed = plus('FIXED')[0];
      const [x = 0, y = 0] = fixed === undefined ? [] : points(tokens, fixed + 1, 1);
      if (fixed !== undefined) expect(tokens[fixed + 5]).toBe('N');
      const shapes = plus('LAYER').map((i) => {
        const [a = 0, b = 0, c = 0, d = 0] = points(tokens, i + 2, 2);
        return { layer: tokens[i + 1] ?? '', box: [a + x, b + y, c + x, d + y] };
      });
      read.pins.push({ name: second, net: word('NET'), use: word('USE'), shapes });
    } else if (section === 'SPECIALNETS')
      read.special.push({
        name: second,
        use: word('USE'),
        ends: ends(tokens),
        shapes: plus('RECT').map((i) => ({ layer: tokens[i + 1] ?? '', box: points(tokens, i + 2, 2) })),
      });
    else read.nets.push({ name: second, ends: ends(tokens) });
  }
  return read;
}

/** The placement's own rule for a point of the library's drawing: mirror x to -x, turn, move. */
function placed(point: Point, cell: Placement['cells'][number], steps: (um: number) => number): Point {
  const x = cell.mirrored ? -point[0] : point[0];
  const y = point[1];
  const turned: Point =
    cell.rotation === 90
      ? [-y, x]
      : cell.rotation === 180
        ? [-x, -y]
        : cell.rotation === 270
          ? [y, -x]
          : [x, y];
  return [turned[0] + steps(cell.origin.x) + 0, turned[1] + steps(cell.origin.y) + 0];
}

/** By the standard: turn and mirror the outline, move its lower-left corner to the component's point. */
function byStandard(point: Point, outline: Point, component: Component): Point {
  const map = ORIENTATIONS[component.orientation];
  if (!map) throw new Error(`no orientation ${component.orientation}`);
  const corners = [map([0, 0]), map(outline)];
  const left = Math.min(...corners.map((c) => c[0]));
  const low = Math.min(...corners.map((c) => c[1]));
  const [x, y] = map(point);
  return [x - left + component.at[0] + 0, y - low + component.at[1] + 0];
}

function compare(placement: Placement, read: Read): void {
  const steps = (um: number) => Math.round(um * read.per);
  const box = (x: number, y: number, width: number, height: number) =>
    [x, y, x + width, y + height].map(steps);
  const sizes = new Map(placement.footprints.map((f) => [f.name, f]));
  expect([100, 200, 400, 800, 1000, 2000, 4000, 8000, 10_000, 20_000]).toContain(read.per);
  expect(read.die).toEqual(box(0, 0, placement.die.width, placement.die.height));
  expect(read.components).toHaveLength(placement.cells.length);
  expect(new Set(read.components.map((c) => c.name)).size).toBe(placement.cells.length);
  placement.cells.forEach((cell, index) => {
    const component = read.components[index];
    const drawn = sizes.get(cell.footprint);
    if (!component || !drawn) throw new Error(`no component for ${cell.name}`);
    const outline: Point = [steps(drawn.width), steps(drawn.height)];
    for (const point of [[0, 0], [outline[0], 0], [0, outline[1]], outline] as Point[])
      expect(byStandard(point, outline, component)).toEqual(placed(point, cell, steps));
  });
  const railBoxes = placement.rails.flatMap((rail) =>
    rail.rectangles.map((r) => `${r.layer} ${box(r.x, r.y, r.width, r.height)}`),
  );
  const stemBoxes = placement.stems.flatMap((s) =>
    s.layers.map((layer) => `${layer} ${box(s.x, s.y, s.width, s.height)}`),
  );
  const coreBoxes = (placement.coreStrips ?? []).flatMap((strip) =>
    [...strip.rectangles, ...strip.straps].map((r) => `${r.layer} ${box(r.x, r.y, r.width, r.height)}`),
  );
  const got = read.special.flatMap((net) => net.shapes.map((s) => `${s.layer} ${s.box}`));
  expect(got.sort()).toEqual([...railBoxes, ...stemBoxes, ...coreBoxes].sort());
  placement.bondPads.forEach((pad, index) => {
    const pin = read.pins[index];
    for (const shape of pin?.shapes ?? [])
      expect(shape.box).toEqual(box(pad.x - pad.width / 2, pad.y - pad.height / 2, pad.width, pad.height));
  });
}

describe('DEF read back by the standard', () => {
  it('holds the sample: cells, pins, nets, rails', () => {
    const placement = sample();
    const read = readBack(written(placement));
    compare(placement, read);
    expect(new Set(read.components.map((c) => c.orientation)).size).toBe(8);
    expect(read.per).toBe(1000);
    expect(read.design).toBe('tide_gauge');
    expect(read.pins.map((pin) => [pin.name, pin.net, pin.use])).toEqual([
      ['sda', 'sda', 'SIGNAL'],
      ['scl', 'scl', 'SIGNAL'],
      ['VDD_1', 'VDD', 'POWER'],
      ['data[0]', 'data[0]', 'SIGNAL'],
      ['data[1]', 'data[1]', 'SIGNAL'],
      ['VSS_1', 'VSS', 'GROUND'],
      ['adc_in', 'adc_in', 'SIGNAL'],
      ['lone[7]', 'lone[7]', 'SIGNAL'],
      ['module', 'module', 'SIGNAL'],
      ['clk', 'clk', 'SIGNAL'],
    ]);
    expect(read.pins.map((pin) => pin.shapes.map((s) => s.layer))).toEqual(
      placement.bondPads.map(() => ['Metal4', 'Metal5']),
    );
    expect(read.nets).toContainEqual({ name: 'adc_in', ends: ['PIN adc_in', 'io_adc_in PAD'] });
    expect(read.nets.map((n) => n.name)).not.toContain('VDD');
    const [vdd] = read.special.filter((n) => n.name === 'VDD');
    expect([vdd?.use, vdd?.ends, vdd?.shapes.length]).toEqual(['POWER', ['PIN VDD_1'], 8]);
  });

  it('holds any cells in any of the eight orientations, on any grid, under any names', () => {
    fc.assert(
      fc.property(anyPlacement, (placement) => {
        compare(placement, readBack(written(placement, { padLayer: 'Metal5' })));
      }),
      { numRuns: 300 },
    );
  });

  /** Ring-model section 1: 75 x 350, mirrored, right side of a die 3000 wide, t 50 to 400, s 1000 to 1075. */
  it('calls the hand-worked cell FE at its lower-left corner', () => {
    const base = sample();
    const [io] = base.footprints;
    const [cell] = base.cells;
    if (!io || !cell) throw new Error('the sample is empty');
    const placement: Placement = {
      ...base,
      die: { width: 3000, height: 3000 },
      footprints: [{ ...io, width: 75, height: 350 }],
      cells: [
        {
          ...cell,
          name: 'sda',
          side: 'right',
          x: 2600,
          y: 1000,
          width: 350,
          height: 75,
          rotation: 90,
          mirrored: true,
          origin: { x: 2950, y: 1075 },
        },
      ],
    };
    expect(written(placement)).toContain('\n- io_sda io + FIXED ( 2600000 1000000 ) FE ;\n');
  });

  it('gives a pad the named layer, and without layer and stem no shape', () => {
    const bare = { ...sample(), stems: [], coreStrips: [] };
    expect(readBack(written(bare)).pins.every((pin) => pin.shapes.length === 0)).toBe(true);
    expect(written(bare)).not.toContain('LAYER');
    const named = readBack(written(bare, { padLayer: 'Top[1]' }));
    expect(named.pins.map((pin) => pin.shapes.map((s) => s.layer))).toEqual(
      bare.bondPads.map(() => ['Top\\[1\\]']),
    );
  });

  it('escapes what is no bus, and leaves a bus its brackets', () => {
    const text = written(sample());
    expect(text).toContain('- data[0] + NET data[0] ');
    const lone = written(sample({ sides: { right: [{ pin: 'a[1]' }, { pin: 'a[3]' }, { pin: 'x/y\\z' }] } }));
    expect(lone).toContain('- a\\[1\\] + NET a\\[1\\] ');
    expect(lone).toContain('- x\\/y\\\\z + NET x\\/y\\\\z ');
  });

  it('takes the standard unit that the grid divides, and refuses a grid that has none', () => {
    const per = (grid: number) => {
      const outcome = def({ ...sample(), units: { length: 'um', grid } });
      return outcome.ok ? readBack(outcome.value).per : outcome.problems.map((p) => p.code);
    };
    expect([0.001, 0.05, 0.005, 0.0025, 0.0005, 0.00025, 0.000125, 0.0001, 0.00005].map(per)).toEqual([
      1000, 1000, 1000, 2000, 2000, 4000, 8000, 10_000, 20_000,
    ]);
    expect(per(0.0003)).toEqual(10_000);
    expect(per(0.000_03)).toEqual(['grid-not-in-def']);
  });

  it('refuses a shape off the grid', () => {
    const base = sample();
    const placement = { ...base, cells: base.cells.map((c, i) => (i === 2 ? { ...c, x: c.x + 0.0001 } : c)) };
    expect(def(placement)).toMatchObject({
      ok: false,
      problems: [{ code: 'off-database-unit', message: expect.stringMatching('cell scl') }],
    });
  });
});
