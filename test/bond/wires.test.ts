/**
 * Shows where wires start and end, how long and how slanted they are, what they may carry and what inductance they
 * have. Sources: plane geometry worked by hand; MIL-PRF-38535, appendix A, A.3.5.5.3, for currents (the values of
 * outside-checks.md: one-mil gold and copper 0.949 A up to 0.040 in and 0.648 A above, aluminium 0.696 and 0.481,
 * silver 0.474 and 0.332); Rosa 1908 for inductance (1 mm and 2 mm of 25.4 um: 0.862 and 2.001 nH).
 */
import { describe, expect, it } from 'vitest';
import { actualWires, inductanceOf } from '../../src/bond/inductance.ts';
import { type StrungWire, stringWires } from '../../src/bond/string.ts';
import { wireSelf } from '../../src/figures/coupled.ts';
import { assessedValue } from '../../src/figures/figure.ts';
import type { Placement } from '../../src/format/placement.ts';
import type { Side } from '../../src/geometry/side.ts';
import { finger, PLACED, pad, placedBy } from './sample.ts';

function wire(placement: Placement, k = 0): StrungWire {
  const found = stringWires(placement)[k];
  if (found === undefined) throw new Error(`no wire ${k}`);
  return found;
}

describe('a wire', () => {
  it.each([
    ['left', [95, 1000], [-3000, 0]],
    ['bottom', [1000, 95], [0, -3000]],
    ['right', [1905, 1000], [3000, 0]],
    ['top', [1000, 1905], [0, 3000]],
  ] as const)('straight out from the middle of the %s side', (side, [x, y], [toX, toY]) => {
    const placement = placedBy([pad(1, 'A', side, x, y)], [finger('1', side, 0, 3000)], [[1, '1']]);
    const w = wire(placement);
    expect(w.from).toEqual({ x: x - 1000, y: y - 1000 });
    expect(w.to).toEqual({ x: toX, y: toY });
    expect(w.span).toBe(2095);
    expect(w.along).toBe(0);
    expect(w.angle).toBe(0);
    // Up to 150, and down from there: 150 + sqrt(2095^2 + 150^2).
    expect(w.length).toBeCloseTo(150 + 2100.3630639, 6);
  });

  it.each(['left', 'bottom', 'right', 'top'] as const)(
    'runs aside counter-clockwise on the %s side, at the angle to its normal',
    (side: Side) => {
      const at = { left: [95, 1000], bottom: [1000, 95], right: [1905, 1000], top: [1000, 1905] }[side];
      const placement = placedBy(
        [pad(1, 'A', side, at[0] ?? 0, at[1] ?? 0)],
        [finger('1', side, 2095, 3000)],
        [[1, '1']],
      );
      expect(wire(placement).along).toBeCloseTo(2095, 9);
      expect(wire(placement).angle).toBeCloseTo(45, 9);
    },
  );

  it('that runs inward stands at more than a right angle', () => {
    const placement = placedBy([pad(1, 'A', 'bottom', 1000, 95)], [finger('1', 'top', 0, 3000)], [[1, '1']]);
    expect(wire(placement).angle).toBe(180);
  });

  it('starts on silicon: the shrunk, moved and turned die', () => {
    const more = { die: { x: 100, y: -40, rotation: 90 } };
    const shrunk = placedBy(
      [pad(1, 'A', 'bottom', 1200, 95)],
      [finger('1', 'right', -40, 3000)],
      [[1, '1']],
      more,
      0.9,
    );
    // 0.9 (200, -905) = (180, -814.5), turned (814.5, 180), moved (914.5, 140).
    expect(wire(shrunk).from).toEqual({ x: 914.5, y: 140 });
    // The die's bottom looks to the right; counter-clockwise along it is upward.
    expect(wire(shrunk).along).toBeCloseTo(-180, 9);
    const turned = placedBy([pad(1, 'A', 'bottom', 1000, 95)], [finger('1', 'bottom', 0, 3000)], [[1, '1']], {
      die: { x: 0, y: 0, rotation: 45 },
    });
    // (0, -905) turned by 45 degrees.
    expect(wire(turned).from.x).toBeCloseTo(905 * Math.SQRT1_2, 6);
    expect(wire(turned).from.y).toBeCloseTo(-905 * Math.SQRT1_2, 6);
  });

  it('takes the last loop height that fits, and the drop of its tier', () => {
    const loops = [
      { row: null, tier: null, height: 150 },
      { row: 'inner', tier: null, height: 250 },
      { row: null, tier: 2, height: 300 },
    ] as const;
    const placement = placedBy(
      [
        pad(1, 'A', 'bottom', 800, 95, { row: 'outer' }),
        pad(2, 'B', 'bottom', 1000, 200, { row: 'inner' }),
        pad(3, 'C', 'bottom', 1200, 200, { row: 'inner' }),
      ],
      [
        finger('1', 'bottom', -200, 3000),
        finger('2', 'bottom', 0, 3000),
        finger('3', 'bottom', 200, 3300, { tier: 2 }),
      ],
      [
        [1, '1'],
        [2, '2'],
        [3, '3'],
      ],
      { wires: { ...PLACED.wires, loops, drops: [100, -50] } },
    );
    expect(stringWires(placement).map((w) => [w.loop, w.drop])).toEqual([
      [150, 100],
      [250, 100],
      [300, -50],
    ]);
    // 250 + sqrt(2200^2 + 350^2)
    expect(wire(placement, 1).length).toBeCloseTo(250 + 2227.6669409, 6);
  });
});

describe('several wires', () => {
  const FINGERS = [finger('1', 'bottom', -150, 3000), finger('2', 'bottom', 150, 3000)];

  it('on one pad stand a pitch apart along the side, in the order of their fingers', () => {
    const wide = { width: 120, height: 60, opening: { width: 110, height: 50 } };
    const placement = placedBy([pad(1, 'A', 'bottom', 1000, 95, wide)], FINGERS, [
      [1, '2'],
      [1, '1'],
    ]);
    expect(stringWires(placement).map((w) => [w.finger, w.from.x, w.from.y])).toEqual([
      ['2', 30, -905],
      ['1', -30, -905],
    ]);
  });

  it('on a deep pad stand one behind the other, the more slanted one inward', () => {
    const deep = { width: 60, height: 120, opening: { width: 50, height: 110 } };
    const fingers = [finger('1', 'bottom', 100, 3000), finger('2', 'bottom', 300, 3000)];
    const placement = placedBy([pad(1, 'A', 'bottom', 1000, 125, deep)], fingers, [
      [1, '2'],
      [1, '1'],
    ]);
    expect(stringWires(placement).map((w) => [w.finger, w.from.x, w.from.y])).toEqual([
      ['2', 0, -845],
      ['1', 0, -905],
    ]);
  });

  it.each(['left', 'bottom', 'right', 'top'] as const)(
    'on one finger of the %s side stand a pitch apart across it, and do not cross',
    (side) => {
      const at = (s: number): readonly [number, number] =>
        side === 'bottom'
          ? [1000 + s, 95]
          : side === 'right'
            ? [1905, 1000 + s]
            : side === 'top'
              ? [1000 - s, 1905]
              : [95, 1000 - s];
      const placement = placedBy(
        [pad(1, 'A', side, ...at(100)), pad(2, 'B', side, ...at(-100))],
        [finger('1', side, 0, 3000)],
        [
          [1, '1'],
          [2, '1'],
        ],
      );
      const [a, b] = [wire(placement, 0), wire(placement, 1)];
      expect(Math.hypot(a.to.x - b.to.x, a.to.y - b.to.y)).toBe(60);
      // Each runs 70 toward the middle of the finger, from 100 off to 30 off.
      expect([a.along, b.along]).toEqual([-70, 70]);
    },
  );

  it('down to the paddle end straight outside their pads', () => {
    const paddle = { width: 4000, height: 4000, reach: 300, drop: 280 };
    const placement = placedBy([pad(1, 'A', 'right', 1905, 700)], [], [[1, null]], { paddle });
    expect(wire(placement)).toMatchObject({ finger: null, tier: 0, drop: 280, angle: 0, span: 395 });
    expect(wire(placement).to).toEqual({ x: 1300, y: -300 });
  });
});

describe('current', () => {
  const carrying = (metal: 'gold' | 'copper' | 'aluminium' | 'silver', span: number): number =>
    wire(
      placedBy([pad(1, 'A', 'bottom', 1000, 95)], [finger('1', 'bottom', 0, 905 + span)], [[1, '1']], {
        wires: { ...PLACED.wires, metal, diameter: 25.4, loops: [{ row: null, tier: null, height: 1 }] },
      }),
    ).mostCurrent;

  it.each([
    ['gold', 0.949, 0.648],
    ['copper', 0.949, 0.648],
    ['aluminium', 0.696, 0.481],
    ['silver', 0.474, 0.332],
  ] as const)('of a one-mil wire of %s, short and long', (metal, short, long) => {
    // 0.040 in are 1016 um; the loop of 1 um makes the wire longer than its span by a little more than that.
    expect(carrying(metal, 1014.9)).toBeCloseTo(short, 3);
    expect(carrying(metal, 1016.1)).toBeCloseTo(long, 3);
  });

  it('is shared by the wires of a pin', () => {
    const wide = { width: 120, height: 60, opening: { width: 110, height: 50 } };
    const placement = placedBy(
      [pad(1, 'A', 'bottom', 1000, 95, wide), pad(2, 'B', 'bottom', 1300, 95)],
      [finger('1', 'bottom', -150, 3000), finger('2', 'bottom', 150, 3000), finger('3', 'bottom', 300, 3000)],
      [
        [1, '1'],
        [1, '2'],
        [2, '3'],
      ],
      { wires: { ...PLACED.wires, currents: { A: 0.5 } } },
    );
    expect(stringWires(placement).map((w) => w.current)).toEqual([0.25, 0.25, null]);
  });
});

describe('inductance', () => {
  const flat = (span: number, lead: number | null = null): Placement =>
    placedBy([pad(1, 'A', 'bottom', 1000, 95)], [finger('1', 'bottom', 0, 905 + span)], [[1, '1']], {
      wires: { ...PLACED.wires, diameter: 25.4, lead, loops: [{ row: null, tier: null, height: 0.001 }] },
    });

  it.each([
    [1000, 0.862],
    [2000, 2.001],
    [3000, 3.245],
  ])('of a wire of %d um without a loop', (span, nanohenry) => {
    const placement = flat(span);
    expect(assessedValue(inductanceOf(placement, wire(placement)))).toBeCloseTo(nanohenry, 3);
  });

  it('has the lead added, and is what the conductors handed on have', () => {
    const placement = flat(2000, 1.5);
    const figure = inductanceOf(placement, wire(placement));
    expect(assessedValue(figure)).toBeCloseTo(3.501, 3);
    const conductor = actualWires(placement).get(1)?.[0];
    expect(conductor === undefined ? undefined : wireSelf(conductor)).toBeCloseTo(
      assessedValue(figure) ?? 0,
      9,
    );
  });

  it('counts rise and slant, which meet at a right angle when the wire falls no further', () => {
    const placement = placedBy(
      [pad(1, 'A', 'bottom', 1000, 95)],
      [finger('1', 'bottom', 0, 2905)],
      [[1, '1']],
      {
        wires: { ...PLACED.wires, diameter: 25.4, drops: [-150] },
      },
    );
    // Rise 150 and a level 2000: at a right angle nothing couples. 2 l (ln(4 l / d) - 3/4), l in cm:
    // 0.03 (ln 23.622 - 0.75) = 0.07237; 2.001.
    expect(assessedValue(inductanceOf(placement, wire(placement)))).toBeCloseTo(0.0724 + 2.0008, 3);
  });

  it('knows the places in the axes of the die, on silicon', () => {
    const placement = placedBy(
      [pad(1, 'A', 'bottom', 1000, 95)],
      [finger('1', 'right', 0, 3000)],
      [[1, '1']],
      { die: { x: 0, y: 0, rotation: 90 } },
      0.9,
    );
    const places = actualWires(placement).get(1)?.[0]?.places ?? [];
    const rounded = places.map((place) => place.map((v) => Math.round(v * 1e6) / 1e6));
    // The pad at 0.9 (1000, 95); the finger is 3000 to the right of the cavity's middle, so below the die's.
    expect(rounded).toEqual([
      [900, 85.5, 0],
      [900, 85.5, 150],
      [900, -2100, 0],
    ]);
  });
});

it('a pad or finger that is not there gives no wire', () => {
  const placement = placedBy(
    [pad(1, 'A', 'bottom', 1000, 95)],
    [finger('1', 'bottom', 0, 3000)],
    [
      [2, '1'],
      [1, 'x'],
    ],
  );
  expect(stringWires(placement)).toEqual([]);
});
