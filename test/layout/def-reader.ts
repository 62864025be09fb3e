/**
 * A reader of DEF from the standard's rules alone, and a placement held against what it read.
 *
 * LEF/DEF 5.8 language reference, from memory: a statement ends at a `;` between blanks; a backslash takes a sign's
 * meaning away; a component's point is the lower-left corner of its placed outline; N, W, S and E are turns of 0, 90,
 * 180 and 270 degrees; FN is mirrored about the y axis, FS about the x axis, FE is FN and FW is FS turned by 90.
 */
import { expect } from 'vitest';
import type { Placement } from '../../src/format/placement.ts';

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

export function readBack(text: string): Read {
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
      // Each FIXED places the LAYER shapes that stand before it and behind the FIXED before.
      const shapes: Box[] = [];
      let from = 0;
      for (const fixed of plus('FIXED')) {
        const [x = 0, y = 0] = points(tokens, fixed + 1, 1);
        expect(tokens[fixed + 5]).toBe('N');
        for (const i of plus('LAYER').filter((at) => at > from && at < fixed)) {
          const [a = 0, b = 0, c = 0, d = 0] = points(tokens, i + 2, 2);
          shapes.push({ layer: tokens[i + 1] ?? '', box: [a + x, b + y, c + x, d + y] });
        }
        from = fixed;
      }
      if (plus('FIXED').length > 1) expect(plus('PORT')).toHaveLength(plus('FIXED').length);
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

export function compare(placement: Placement, read: Read): void {
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
  const padBoxes = placement.bondPads.map((pad) =>
    String(box(pad.x - pad.width / 2, pad.y - pad.height / 2, pad.width, pad.height)),
  );
  for (const shape of read.pins.flatMap((pin) => pin.shapes)) expect(padBoxes).toContain(String(shape.box));
}
