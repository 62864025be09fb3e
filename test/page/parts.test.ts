/**
 * The page's own reckoning, without a browser. Distances are held to the placement's numbers by plain subtraction;
 * the search to a filter written here; names to pairwise comparison of their boxes.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Placement } from '../../src/format/placement.ts';
import { fanned, LINE, roomOf } from '../../src/page/fan.ts';
import { labelsOf } from '../../src/page/labels.ts';
import { indexOf, search } from '../../src/page/match.ts';
import { boxOf, carried, modelOf, neighboursOf, thingsNamed } from '../../src/page/model.ts';
import { ALL_SHOWN } from '../../src/page/parts.ts';
import { measure, shapeNamed, shapesOf, snapAt, snapNear } from '../../src/page/snap.ts';
import { under } from '../../src/page/under.ts';
import { figuresOf } from '../../src/page/walk.ts';
import { sample, spread } from '../write/sample.ts';

const placement = sample({ pads: spread(48), style: 'staggered' });
const model = modelOf(placement);
const shapes = shapesOf(model);

describe('the measure', () => {
  it('gives any two pads the difference of the numbers in the placement, to the picometre', () => {
    const numbers = fc.constantFrom(...placement.bondPads);
    fc.assert(
      fc.property(numbers, numbers, (a, b) => {
        const [one, other] = [a, b].map((pad) => shapeNamed(shapes, `pad ${pad.number} ${pad.pin}`));
        if (one === undefined || other === undefined) throw new Error('a pad has no shape');
        const measured = measure(snapAt(one, 'centre'), snapAt(other, 'centre'));
        expect(measured.dx).toBeCloseTo(Math.abs(a.x - b.x), 6);
        expect(measured.dy).toBeCloseTo(Math.abs(a.y - b.y), 6);
        // No dust of binary fractions in what people read.
        expect(String(measured.dx)).toMatch(/^\d+(\.\d{1,6})?$/);
      }),
    );
  });

  it('says pitch in one row and stagger between two, along the side and across it', () => {
    const [a, b, c] = placement.bondPads;
    if (a === undefined || b === undefined || c === undefined) throw new Error('too few pads');
    const centre = (pad: typeof a) => {
      const shape = shapeNamed(shapes, `pad ${pad.number} ${pad.pin}`);
      if (shape === undefined) throw new Error('a pad has no shape');
      return snapAt(shape, 'centre');
    };
    expect(measure(centre(a), centre(c)).pads).toEqual({
      side: 'left',
      along: a.y - c.y,
      across: 0,
      word: 'pitch',
    });
    expect(measure(centre(a), centre(b)).pads).toEqual({
      side: 'left',
      along: a.y - b.y,
      across: Math.abs(a.x - b.x),
      word: 'stagger',
    });
  });

  it('takes 0.1 + 0.2 for 0.3', () => {
    const [shape] = shapes;
    if (shape === undefined) throw new Error('no shape');
    const at = (x: number) => snapAt({ ...shape, box: { x, y: 0, width: 1, height: 1 } }, 'left edge');
    expect(measure(at(0.1), at(0.4)).dx).toBe(0.3);
    expect(measure(at(0.1), at(0.4)).dy).toBeUndefined();
  });

  it('snaps to the nearest edge or centre within reach, of what is shown only', () => {
    const pad = placement.bondPads[4];
    if (pad === undefined) throw new Error('too few pads');
    const near = (x: number, y: number, shown = ALL_SHOWN) => snapNear(shapes, shown, { x, y }, 6);
    expect(near(pad.x + 3, pad.y + 2)).toMatchObject({ spot: 'centre', shape: { pad }, x: pad.x, y: pad.y });
    const edge = pad.x - pad.width / 2;
    expect(near(edge - 1, pad.y + 20)).toMatchObject({ spot: 'left edge', x: edge });
    expect(near(edge - 1, pad.y + 20, { ...ALL_SHOWN, pads: false })?.shape.layer).not.toBe('pads');
    expect(near(placement.die.width / 2, placement.die.height / 2)?.shape.name).toBe('the core');
    expect(near(-50, -50)).toBeUndefined();
  });
});

describe('the model', () => {
  it('knows what lies at a place, the uppermost first', () => {
    for (const pad of placement.bondPads)
      expect(under(model, ALL_SHOWN, pad)[0]).toEqual({ kind: 'pad', number: pad.number });
    for (const cell of placement.cells.filter(({ role }) => role === 'corner'))
      expect(under(model, ALL_SHOWN, { x: cell.x + 1, y: cell.y + 1 })).toContainEqual({
        kind: 'cell',
        name: cell.name,
      });
    expect(under(model, ALL_SHOWN, { x: -1, y: -1 })).toEqual([]);
  });

  it('knows the neighbours of a pad on its side, of its row and of the other', () => {
    for (const pad of placement.bondPads) {
      const along = (other: typeof pad) =>
        pad.side === 'left' || pad.side === 'right' ? other.y - pad.y : other.x - pad.x;
      const near = (own: boolean) => {
        const others = placement.bondPads.filter(
          (other) => other !== pad && other.side === pad.side && (other.row === pad.row) === own,
        );
        const nearest = (sign: number) =>
          Math.min(
            ...others.filter((other) => sign * along(other) > 0).map((other) => Math.abs(along(other))),
          );
        return [nearest(1), nearest(-1)].filter(Number.isFinite).sort((a, b) => a - b);
      };
      const found = neighboursOf(model, pad);
      const told = (list: (typeof found)['row']) =>
        list.map(({ distance }) => distance).sort((a, b) => a - b);
      expect(told(found.row)).toEqual(near(true));
      expect(told(found.other)).toEqual(near(false));
    }
  });

  it('carries a choice into a later ring by what it is, not by its number', () => {
    const [first, ...rest] = placement.bondPads;
    const later: Placement = {
      ...placement,
      bondPads: rest.map((pad) => ({ ...pad, number: pad.number - 1 })),
      rails: placement.rails.slice(1),
      findings: [{ rule: 'r', severity: 'note', message: 'new words', items: ['x'] }],
    };
    const before = modelOf({
      ...placement,
      findings: [
        { rule: 'q', severity: 'error', message: 'gone', items: [] },
        { rule: 'r', severity: 'note', message: 'old words', items: ['x'] },
      ],
    });
    const now = modelOf(later);
    expect(carried({ kind: 'pad', number: 5 }, before, now)).toEqual({ kind: 'pad', number: 4 });
    expect(carried({ kind: 'pad', number: first?.number ?? 0 }, before, now)).toBeUndefined();
    expect(carried({ kind: 'rail', at: 1 }, before, now)).toEqual({ kind: 'rail', at: 0 });
    expect(carried({ kind: 'rail', at: 0 }, before, now)).toBeUndefined();
    expect(carried({ kind: 'finding', number: 2 }, before, now)).toEqual({ kind: 'finding', number: 1 });
    expect(carried({ kind: 'finding', number: 1 }, before, now)).toBeUndefined();
    expect(carried({ kind: 'net', name: 'nowhere' }, before, now)).toBeUndefined();
    expect(carried({ kind: 'section', name: 'analog' }, before, now)).toEqual({
      kind: 'section',
      name: 'analog',
    });
  });

  it('finds what a finding names, and where a thing stands', () => {
    const [pad] = placement.bondPads;
    const [cell] = placement.cells;
    if (pad === undefined || cell === undefined) throw new Error('an empty sample');
    expect(thingsNamed(model, [pad.pin, cell.name, 'analog', 'nothing'])).toEqual([
      { kind: 'pad', number: pad.number },
      { kind: 'cell', name: cell.name },
      { kind: 'section', name: 'analog' },
    ]);
    expect(boxOf(model, { kind: 'cell', name: cell.name })).toMatchObject({ x: cell.x, width: cell.width });
    expect(boxOf(model, { kind: 'finding', number: 99 })).toBeUndefined();
  });
});

describe('the search', () => {
  const index = indexOf(model);
  const names = [
    ...placement.bondPads.map(({ pin }) => pin),
    ...placement.nets.map(({ name }) => name),
    ...placement.sections.map(({ name }) => name),
    ...placement.cells.filter(({ role }) => role !== 'filler').map(({ name }) => name),
  ];

  it('finds every name that holds the text, whatever its case, and the same one first', () => {
    const texts = fc
      .constantFrom(...names)
      .chain((name) =>
        fc
          .tuple(fc.nat(name.length - 1), fc.integer({ min: 1, max: name.length }))
          .map(([from, to]) => name.slice(from, from + to)),
      );
    fc.assert(
      fc.property(texts, (text) => {
        const wanted = text.trim().toLowerCase();
        fc.pre(wanted !== '' && !/^\d+$/.test(wanted));
        const hits = search(index, text.toUpperCase());
        expect(hits.map(({ name }) => name).sort()).toEqual(
          names.filter((name) => name.toLowerCase().includes(wanted)).sort(),
        );
        if (names.some((name) => name.toLowerCase() === wanted))
          expect(hits[0]?.name.toLowerCase()).toBe(wanted);
      }),
    );
  });

  it('takes a number for a pad, and nothing for nothing', () => {
    expect(search(index, '12')[0]?.thing).toEqual({ kind: 'pad', number: 12 });
    expect(search(index, ' ')).toEqual([]);
    expect(search(index, 'no such thing')).toEqual([]);
  });
});

describe('the names around the die', () => {
  const measureText = (text: string): number => text.length * 7;

  it('stand a line apart, in order, within bounds, and nowhere farther than they must', () => {
    const wishes = fc.array(fc.double({ min: 0, max: 600, noNaN: true }), { maxLength: 40 });
    fc.assert(
      fc.property(wishes, (raw) => {
        const list = raw.toSorted((a, b) => a - b);
        const { places, gap } = fanned(list, { low: 0, high: 600 });
        expect(Number.isFinite(gap)).toBe(true);
        for (const [i, place] of places.entries()) {
          expect(place).toBeGreaterThanOrEqual(LINE / 2 - 1e-9);
          expect(place).toBeLessThanOrEqual(600 - LINE / 2 + 1e-9);
          if (i > 0) expect(place - (places[i - 1] ?? 0)).toBeGreaterThanOrEqual(LINE - 1e-9);
        }
        // Where all wishes are apart already, none is moved.
        const apart = list.every((wish, i) => i === 0 || wish - (list[i - 1] ?? 0) >= LINE);
        const within = list.every((wish) => wish >= LINE / 2 && wish <= 600 - LINE / 2);
        if (apart && within)
          for (const [i, place] of places.entries()) expect(place).toBeCloseTo(list[i] ?? 0, 6);
      }),
    );
    expect(fanned(Array(47).fill(1), { low: 0, high: 600 }).gap).toBe(Number.POSITIVE_INFINITY);
  });

  it('never overlap and never leave the box, wherever the die stands', () => {
    const ring = fc
      .constantFrom(16, 120, 400)
      .map((pads) => modelOf(sample({ pads: spread(pads), style: 'inline' })));
    const setting = fc.record({
      k: fc.double({ min: 0.01, max: 3, noNaN: true }),
      left: fc.double({ min: -4000, max: 900, noNaN: true }),
      top: fc.double({ min: -300, max: 4000, noNaN: true }),
      width: fc.integer({ min: 200, max: 1500 }),
      height: fc.integer({ min: 200, max: 1000 }),
    });
    fc.assert(
      fc.property(ring, setting, (one, { k, left, top, width, height }) => {
        const first = new Set([3, 40]);
        const labels = labelsOf(
          one,
          { frame: { k, left, top }, width, height, measure: measureText, first },
          [],
        );
        for (const [i, { rect, text }] of labels.entries()) {
          expect([text, rect.x0 >= 0, rect.y0 >= 0, rect.x1 <= width, rect.y1 <= height]).toEqual([
            text,
            true,
            true,
            true,
            true,
          ]);
          for (const { rect: other } of labels.slice(i + 1))
            expect(rect.x0 < other.x1 && other.x0 < rect.x1 && rect.y0 < other.y1 && other.y0 < rect.y1).toBe(
              false,
            );
        }
      }),
      { numRuns: 60 },
    );
  });

  it('are all written out where the room that they ask for is given', () => {
    for (const pads of [16, 48, 100]) {
      const one = modelOf(sample({ pads: spread(pads), style: 'inline' }));
      const [width, height] = [1000, 900];
      const { beside, above } = roomOf(one, measureText, { width, height });
      const { die } = one.placement;
      const k = Math.min((width - 2 * beside) / die.width, (height - 2 * above) / die.height);
      const frame = { k, left: (width - k * die.width) / 2, top: (height + k * die.height) / 2 };
      const labels = labelsOf(one, { frame, width, height, measure: measureText, first: new Set() }, []);
      expect(labels.filter(({ named }) => named)).toHaveLength(pads);
    }
  });

  it('cannot reorder the number beside them', () => {
    const one = modelOf(sample({ pads: spread(4), style: 'inline', pinName: () => '\u202eevil' }));
    const frame = { k: 1, left: 200, top: 900 };
    const [label] = labelsOf(
      one,
      { frame, width: 1400, height: 1100, measure: measureText, first: new Set() },
      [],
    );
    expect(label?.text).toBe('\u2068\ufffdevil\u2069  1');
  });
});

describe('the figures', () => {
  const figure = (value: number) => ({
    value,
    unit: 'V',
    formula: 'a b',
    inputs: [{ name: 'a', value: 2, unit: 'A' }],
    source: 'invented',
  });

  it('are found wherever they stand, with what stands beside them', () => {
    const odd = {
      ...placement,
      summary: {
        ...placement.summary,
        later: {
          whole: figure(1),
          list: [
            {
              net: 'VDD',
              have: 3,
              needed: figure(2),
              demands: { noise: figure(3), wire: { notAssessed: 'no wires' } },
            },
          ],
          named: [{ what: 'drop', of: 'VDD', figure: figure(4), limit: figure(5) }],
        },
      },
    } as unknown as Placement;
    expect(figuresOf(odd)).toEqual([
      { title: 'later', about: [], rows: [{ what: 'whole', figure: figure(1) }] },
      {
        title: 'later, list',
        about: [
          ['net', 'VDD'],
          ['have', '3'],
        ],
        rows: [
          { what: 'needed', figure: figure(2) },
          { what: 'demands, noise', figure: figure(3) },
          { what: 'demands, wire', figure: { notAssessed: 'no wires' } },
        ],
      },
      { title: 'later, named', about: [], rows: [{ what: 'drop VDD', figure: figure(4), limit: figure(5) }] },
    ]);
    expect(figuresOf(placement)).toEqual([]);
  });
});
