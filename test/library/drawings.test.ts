/**
 * A library may be drawn for any side: what is read is the same, in the cell's own frame.
 * Source of the values: the side frames of src/geometry/side.ts, used here in the other direction (cell to drawing); the
 * corner cells by hand, their strips at the two edges that face the core.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Rect, rectOnDie, SIDES, type Side } from '../../src/geometry/side.ts';
import { units } from '../../src/geometry/units.ts';
import type { Footprint } from '../../src/library/footprint.ts';
import { macro, readCells, sound } from './small.ts';

const um = (r: Rect): number[] => [r.x, r.y, r.x + r.width, r.y + r.height].map((n) => n / 1e6);

/** A cell 40 wide and 100 deep as it is drawn for a side. */
function drawnFor(side: Side): string {
  const extent = side === 'bottom' || side === 'top' ? [40, 100] : [100, 40];
  const die = { width: units((extent[0] ?? 0) * 1e6), height: units((extent[1] ?? 0) * 1e6) };
  const at = (s: number, t: number, along: number, deep: number): number[] =>
    um(rectOnDie(side, die, s * 1e6, t * 1e6, along * 1e6, deep * 1e6));
  return macro(
    'a',
    'PAD INPUT',
    [extent[0] ?? 0, extent[1] ?? 0],
    [
      { pin: 'VDD', rects: [at(0, 20, 40, 10)] },
      { pin: 'VSS', use: 'GROUND', rects: [at(0, 50, 2, 12), at(38, 50, 2, 12)] },
      { pin: 'pad', use: 'SIGNAL', layer: 'M6', rects: [at(5, 0, 10, 3)] },
      { pin: 'Y', use: 'SIGNAL', direction: 'OUTPUT', rects: [at(30, 99, 4, 1)] },
    ],
  );
}

const read = (lef: string, more: object = {}): Footprint | undefined =>
  sound(
    readCells({ name: 'l', lef: ['a.lef'], drawn: { stubs: 'joined' }, ...more }, { 'a.lef': lef }),
  ).footprints.get('a');

describe('drawings', () => {
  it('are read alike, whichever edge faces outward', () => {
    const want = {
      width: 40e6,
      depth: 100e6,
      landings: [{ name: 'pad', at: 10e6, feeds: [], inside: null }],
      lanes: [
        { lane: 'VDD', strips: [{ layer: 'M4', from: 20e6, to: 30e6, edges: 'both', carry: 'through' }] },
        { lane: 'VSS', strips: [{ layer: 'M4', from: 50e6, to: 62e6, edges: 'both', carry: 'cut' }] },
      ],
      signals: [{ name: 'Y', direction: 'output', at: { s: 32e6, t: 100e6 } }],
    };
    for (const side of SIDES) {
      const upright = side === 'bottom' || side === 'top';
      expect(read(drawnFor(side), { drawn: { outward: side } })).toMatchObject({
        ...want,
        drawnFor: side,
        drawn: upright ? { width: 40e6, height: 100e6 } : { width: 100e6, height: 40e6 },
      });
    }
  });

  it('tell a corner by the two edges that their strips reach', () => {
    // Strips of 10 to 20 and of 30 to 45 from the outer edges of a cell 80 along the side after it, 60 along the one before.
    const drawn: Record<Side, [size: [number, number], rects: number[][]]> = {
      left: [
        [80, 60],
        [
          [78, 10, 80, 20],
          [10, 58, 20, 60],
          [78, 30, 80, 45],
          [30, 58, 45, 60],
        ],
      ],
      bottom: [
        [60, 80],
        [
          [40, 78, 50, 80],
          [0, 10, 2, 20],
          [15, 78, 30, 80],
          [0, 30, 2, 45],
        ],
      ],
      right: [
        [80, 60],
        [
          [0, 40, 2, 50],
          [60, 0, 70, 2],
          [0, 15, 2, 30],
          [35, 0, 50, 2],
        ],
      ],
      top: [
        [60, 80],
        [
          [10, 0, 20, 2],
          [58, 60, 60, 70],
          [30, 0, 45, 2],
          [58, 35, 60, 50],
        ],
      ],
    };
    for (const side of SIDES) {
      const [size, rects] = drawn[side];
      const lef = macro('a', 'PAD SPACER', size, [{ pin: 'VDD', rects }]);
      expect(read(lef, { cells: { a: { role: 'corner' } } })).toMatchObject({
        role: 'corner',
        drawnFor: side,
        width: 80e6,
        depth: 60e6,
        lanes: [
          {
            lane: 'VDD',
            strips: [
              { from: 10e6, to: 20e6, edges: 'both' },
              { from: 30e6, to: 45e6, edges: 'both' },
            ],
          },
        ],
      });
    }
  });

  it('take a corner from its class where no strips tell, and from its strips where they disagree', () => {
    const classes: Record<string, Side> = {
      BOTTOMLEFT: 'left',
      BOTTOMRIGHT: 'bottom',
      TOPRIGHT: 'right',
      TOPLEFT: 'top',
    };
    for (const [sub, side] of Object.entries(classes)) {
      const lef = macro('a', `ENDCAP ${sub}`, [60, 60], []);
      expect(read(lef)).toMatchObject({ role: 'corner', drawnFor: side });
    }
    const strips = [
      {
        pin: 'VDD',
        rects: [
          [58, 10, 60, 20],
          [10, 58, 20, 60],
        ],
      },
    ];
    const lef = macro('a', 'ENDCAP TOPLEFT', [60, 60], strips);
    expect(read(lef)).toMatchObject({ drawnFor: 'left' });
    const outcome = readCells({ name: 'l', lef: ['a.lef'], drawn: { stubs: 'joined' } }, { 'a.lef': lef });
    expect(outcome.ok && outcome.notes.map((note) => note.code)).toEqual(['class-disagrees']);
  });

  it('merge what abuts or overlaps, and see what joins two ends', () => {
    const strips = (rects: number[][]): unknown =>
      read(macro('a', 'PAD SPACER', [40, 100], [{ pin: 'VDD', rects }]))?.lanes[0]?.strips.map((s) => [
        s.from / 1e6,
        s.to / 1e6,
        s.edges,
        s.carry,
      ]);
    expect(
      strips([
        [0, 10, 40, 15],
        [0, 15, 40, 20],
        [0, 18, 40, 22],
      ]),
    ).toEqual([[10, 22, 'both', 'through']]);
    // Two stubs joined by a jog, beside two that are not: the drawing is literal.
    expect(
      strips([
        [0, 10, 5, 20],
        [35, 10, 40, 20],
        [5, 12, 35, 14],
        [0, 30, 5, 40],
        [35, 30, 40, 40],
      ]),
    ).toEqual([
      [10, 20, 'both', 'through'],
      [30, 40, 'both', 'cut'],
    ]);
    // Touching at a corner is no contact.
    expect(
      strips([
        [0, 10, 5, 20],
        [35, 10, 40, 20],
        [5, 20, 35, 30],
        [0, 50, 40, 60],
      ]),
    ).toEqual([
      [10, 20, 'both', 'cut'],
      [50, 60, 'both', 'through'],
    ]);
    expect(strips([[-1, -5, 41, 120]])).toEqual([[0, 100, 'both', 'through']]);
    expect(
      strips([
        [0, 10, 5, 20],
        [35, 10, 40, 21],
        [0, 40, 40, 50],
      ]),
    ).toEqual([
      [10, 20, 'start', 'cut'],
      [10, 21, 'end', 'cut'],
      [40, 50, 'both', 'through'],
    ]);
  });

  it('give each strip once, however many rectangles draw it', () => {
    const cuts = fc.array(fc.integer({ min: 1, max: 39 }), { maxLength: 6 });
    fc.assert(
      fc.property(cuts, cuts, (along, across) => {
        // A strip from 10 to 50, 40 long, cut into pieces both ways, in any order.
        const grid = (list: number[]): number[] => [...new Set([0, ...list, 40])].sort((a, b) => a - b);
        const pairs = (list: number[]): [number, number][] =>
          list.slice(1).map((to, i) => [list[i] ?? 0, to]);
        const rects = pairs(grid(along)).flatMap(([x1, x2]) =>
          pairs(grid(across)).map(([y1, y2]) => [x1, 10 + y1, x2, 10 + y2]),
        );
        const [lane] =
          read(macro('a', 'PAD SPACER', [40, 100], [{ pin: 'VDD', rects: rects.reverse() }]))?.lanes ?? [];
        expect(lane?.strips).toEqual([
          { layer: 'M4', from: 10e6, to: 50e6, edges: 'both', carry: 'through' },
        ]);
      }),
      { numRuns: 200 },
    );
  });
});
