/**
 * Shows what the rules for wires find and what they leave alone: every rule fires on a case made for it and keeps
 * still one step inside its limit. No source beyond the limits of the case itself; the crossing pairs of a shuffled
 * pin list are worked out from the two orders.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wireHits, wireRules } from '../../src/bond/rules.ts';
import { wiresOf } from '../../src/bond/wires.ts';
import type { Placement } from '../../src/format/placement.ts';
import { SIDES } from '../../src/geometry/side.ts';
import type { Entry } from '../../src/spec/ring.ts';
import { um } from '../helpers/ring.ts';
import { bondedRing, each, finger, laid, lead, PLACED, packageOf, pad, pins, placedBy } from './sample.ts';

/** The hits by rule, as their items. */
function told(placement: Placement): Readonly<Record<string, readonly (readonly string[])[]>> {
  return Object.fromEntries(
    wireHits(placement)
      .filter(({ hits }) => hits.length > 0)
      .map(({ rule, hits }) => [rule.name, hits.map((hit) => hit.items)]),
  );
}

const A = pad(1, 'A', 'bottom', 900, 95);
const B = pad(2, 'B', 'bottom', 1100, 95);
const ENDS = [finger('1', 'bottom', -100, 3000), finger('2', 'bottom', 100, 3000)];
const BONDS = [
  [1, '1'],
  [2, '2'],
] as const;
const straight = (more: Parameters<typeof placedBy>[3] = {}): Placement =>
  placedBy([A, B], ENDS, BONDS, more);
type Limits = typeof PLACED.limits;
const limited = (limits: Partial<Limits>): Placement => straight({ limits: { ...PLACED.limits, ...limits } });

describe('each rule', () => {
  it('keeps still on two straight wires', () => {
    expect(told(straight())).toEqual({});
  });

  it('has a name of its own, and hits name their pins', () => {
    expect(new Set(wireRules.map((rule) => rule.name)).size).toBe(wireRules.length);
  });

  // Both wires are 2095 long in plan and 2250.36 with their loops; 200 apart, 175 metal to metal.
  it.each([
    ['wire-span', { span: { least: null, most: 2094.9 } }, { span: { least: null, most: 2095 } }],
    ['wire-span', { span: { least: 2095.1, most: null } }, { span: { least: 2095, most: null } }],
    ['wire-length', { length: 2250.3 }, { length: 2250.4 }],
  ] as const)('%s', (rule, tight, loose) => {
    expect(told(limited(tight))).toEqual({
      [rule]: [
        ['A', '1'],
        ['B', '2'],
      ],
    });
    expect(told(limited(loose))).toEqual({});
  });

  it('wire-spacing, and not where loops differ', () => {
    expect(told(limited({ wireSpacing: 175.1 }))).toEqual({ 'wire-spacing': [['A', 'B']] });
    expect(told(limited({ wireSpacing: 175 }))).toEqual({});
    const rows = placedBy(
      [
        { ...A, row: 'outer' },
        { ...B, row: 'inner' },
      ],
      ENDS,
      BONDS,
      {
        limits: { ...PLACED.limits, wireSpacing: 175.1, height: 100 },
        wires: {
          ...PLACED.wires,
          loops: [
            { row: 'outer', tier: null, height: 150 },
            { row: 'inner', tier: null, height: 250 },
          ],
        },
      },
    );
    expect(told(rows)).toEqual({});
  });

  it('wire-angle', () => {
    const ends = [finger('1', 'bottom', -1100, 3000), finger('2', 'bottom', 100, 3000)];
    // 1000 aside over 2095 outward: 25.5 degrees.
    const slanted = (angle: number): Placement =>
      placedBy([A, B], ends, BONDS, { limits: { ...PLACED.limits, angle } });
    expect(told(slanted(25.51))).toEqual({ 'wire-angle': [['A', '1']] });
    expect(told(slanted(25.52))).toEqual({});
  });

  it('wires-cross, which names both pins and the place', () => {
    const crossed = placedBy([A, B], ENDS, [
      [1, '2'],
      [2, '1'],
    ]);
    expect(told(crossed)).toEqual({ 'wires-cross': [['A', 'B']] });
    const hit = wireHits(crossed).find(({ rule }) => rule.name === 'wires-cross')?.hits[0];
    expect(hit?.message).toBe('the wire from "A" to finger "2" and the wire from "B" to finger "1" cross');
    // Half way from y 95 to the fingers at -2000, in the die's axes.
    expect(hit?.at).toEqual({ x: 1000e6, y: -952.5e6 });
  });

  it('wires-cross-above where the loops differ', () => {
    const crossed = placedBy(
      [
        { ...A, row: 'outer' },
        { ...B, row: 'inner' },
      ],
      ENDS,
      [
        [1, '2'],
        [2, '1'],
      ],
      {
        wires: {
          ...PLACED.wires,
          loops: [
            { row: 'outer', tier: null, height: 150 },
            { row: 'inner', tier: null, height: 250 },
          ],
        },
      },
    );
    expect(told(crossed)).toEqual({ 'wires-cross-above': [['A', 'B']] });
  });

  it('wire-current', () => {
    const carrying = (amperes: number): Placement =>
      straight({ wires: { ...PLACED.wires, diameter: 25.4, currents: { A: amperes } } });
    // A one-mil gold wire longer than 0.040 in may carry 0.648 A (MIL-PRF-38535).
    expect(told(carrying(0.649))).toEqual({ 'wire-current': [['A', '1']] });
    expect(told(carrying(0.648))).toEqual({});
    // Three digits, or as many as set a current apart from what is allowed.
    const said = (amperes: number): string =>
      wireHits(carrying(amperes))
        .flatMap(({ hits }) => hits.map(({ message }) => message))
        .join();
    expect(said(100 / 3)).toContain('carries 33.3 A;');
    expect(said(0.6483)).toMatch(/carries 0\.6483 A; .* may carry 0\.648 A$/);
  });

  it('pin-unbonded, unless said so', () => {
    const one = (unbonded: readonly string[]): Placement => placedBy([A, B], ENDS, [[1, '1']], { unbonded });
    expect(told(one([]))).toEqual({ 'pin-unbonded': [['B']] });
    expect(told(one(['B']))).toEqual({});
    expect(told(one(['A', 'B']))).toEqual({ 'pin-unbonded': [['A']] });
  });

  it('wire-without-end', () => {
    const lost = placedBy([A, B], ENDS, [
      [1, '1'],
      [2, 'x'],
      [9, '2'],
      [2, null],
    ]);
    expect(told(lost)['wire-without-end']).toEqual([['B', 'x'], ['9'], ['B']]);
  });

  const WIDE = ENDS.map((end) => ({ ...end, width: um(150) }));

  it('opening-too-short for two feet of 50 a pitch of 60 apart', () => {
    const opened = (width: number): Placement =>
      placedBy([{ ...A, width: 200, opening: { width, height: 50 } }, B], WIDE, [
        [1, '1'],
        [1, '2'],
        [2, '2'],
      ]);
    expect(told(opened(109))).toEqual({ 'opening-too-short': [['A']] });
    expect(told(opened(110))).toEqual({});
    // A foot must also fit across.
    const narrow = placedBy([{ ...A, opening: { width: 60, height: 49 } }, B], ENDS, BONDS);
    expect(told(narrow)).toEqual({ 'opening-too-short': [['A']] });
    const shrunk = placedBy([A, B], ENDS, BONDS, {}, 0.9);
    expect(told(shrunk)).toEqual({ 'opening-too-short': [['A'], ['B']] });
  });

  it('finger-too-narrow for two feet of 50 a pitch of 60 apart', () => {
    const shared = (width: number): Placement =>
      placedBy(
        [A, B],
        [finger('1', 'bottom', 0, 3000, { width: um(width) })],
        [
          [1, '1'],
          [2, '1'],
        ],
      );
    expect(told(shared(109))).toEqual({ 'finger-too-narrow': [['1']] });
    expect(told(shared(110))).toEqual({});
  });

  it('finger-in-die, for a die that was moved or turned too', () => {
    const near = (y: number, die: Partial<typeof PLACED.die> = {}): Placement =>
      placedBy([], [finger('1', 'bottom', 0, y)], [], { die: { ...PLACED.die, ...die } });
    expect(told(near(999))).toEqual({ 'finger-in-die': [['1']] });
    expect(told(near(1000))).toEqual({});
    expect(told(near(1000, { y: -1 }))).toEqual({ 'finger-in-die': [['1']] });
    // Turned by 45 degrees the die's corner reaches 1414 downward.
    expect(told(near(1413, { rotation: 45 }))).toEqual({ 'finger-in-die': [['1']] });
    expect(told(near(1415, { rotation: 45 }))).toEqual({});
  });

  it('die-out-of-room and down-bond-off-paddle', () => {
    const cavity = (width: number): Placement => placedBy([], [], [], { cavity: { width, height: 2400 } });
    expect(told(cavity(1999))).toEqual({ 'die-out-of-room': [['cavity']] });
    expect(told(cavity(2000))).toEqual({});
    const paddle = (width: number, reach: number): Placement =>
      placedBy([pad(1, 'A', 'right', 1905, 1000)], [], [[1, null]], {
        paddle: { width, height: 2400, reach, drop: 0 },
      });
    expect(told(paddle(1900, 300))).toEqual({
      'die-out-of-room': [['paddle']],
      'down-bond-off-paddle': [['A']],
    });
    expect(told(paddle(2600, 301))).toEqual({ 'down-bond-off-paddle': [['A']] });
    expect(told(paddle(2600, 300))).toEqual({});
  });
});

describe('an inner-row wire that passes between two outer pads', () => {
  // The outer pads stand 40 apart; the wire, 25 thick, keeps 7.5 from each.
  const OUTER = { ...pad(1, 'A', 'bottom', 950, 95), row: 'outer' } as const;
  const OTHER = { ...pad(3, 'C', 'bottom', 1050, 95), row: 'outer' } as const;
  const INNER = { ...pad(2, 'B', 'bottom', 1000, 195), row: 'inner' } as const;
  const FINGERS = [
    finger('1', 'bottom', -250, 3000),
    finger('2', 'bottom', 0, 3000),
    finger('3', 'bottom', 250, 3000),
  ];
  const passing = (inner: number, aside = 0): Placement =>
    placedBy(
      [OUTER, { ...INNER, x: 1000 + aside }, OTHER],
      FINGERS,
      [
        [1, '1'],
        [2, '2'],
        [3, '3'],
      ],
      {
        limits: { ...PLACED.limits, padSpacing: 10, height: 60 },
        wires: {
          ...PLACED.wires,
          loops: [
            { row: null, tier: null, height: 150 },
            { row: 'inner', tier: null, height: inner },
          ],
        },
      },
    );

  it('is sound when its loop is higher by the limit, and a finding when it is not', () => {
    expect(told(passing(210))).toEqual({});
    expect(told(passing(209))).toEqual({
      'wire-near-pad': [
        ['B', 'A'],
        ['B', 'C'],
      ],
    });
  });

  it('that passes above an outer pad as well', () => {
    expect(told(passing(210, -45))).toEqual({});
    expect(told(passing(209, -45))['wire-near-pad']).toContainEqual(['B', 'A']);
  });

  it('is sound above pads that have no wire', () => {
    const bare = passing(150);
    const { package: bonded } = bare;
    if (bonded === undefined) throw new Error('no package');
    const alone = {
      ...bare,
      package: { ...bonded, bonds: bonded.bonds.filter((b) => b.bondPad === 2), unbonded: ['A', 'C'] },
    };
    expect(told(alone)).toEqual({});
  });
});

describe('a pin list shuffled along each side', () => {
  it('gives findings that name just the crossing pairs', () => {
    const n = 10;
    const names = (side: number) => Array.from({ length: n }, (_, i) => `P${side * n + i + 1}`);
    const shuffles = fc.tuple(
      ...SIDES.map((_, k) => fc.shuffledSubarray(names(k), { minLength: n, maxLength: n })),
    );
    fc.assert(
      fc.property(shuffles, (orders) => {
        const entries = pins(each(n));
        const byName = new Map(SIDES.flatMap((side) => entries[side]).map((e) => [e.pins[0], e]));
        const listed = (k: number): readonly Entry[] =>
          (orders[k] ?? []).flatMap((name) => byName.get(name) ?? []);
        const shuffled = { left: listed(0), bottom: listed(1), right: listed(2), top: listed(3) };
        const fingers = lead(n, 200, 3000).map((f) => ({ ...f, name: `P${f.name}` }));
        const bonded = packageOf(fingers, {
          bonds: { by: 'names', first: 0, free: [], to: new Map(), unbonded: [], exchange: [] },
        });
        const placement = laid(bondedRing(bonded, shuffled));
        const pairs = new Set<string>();
        orders.forEach((order, k) => {
          const rank = new Map(names(k).map((name, i) => [name, i]));
          order.forEach((a, i) => {
            for (const b of order.slice(i + 1))
              if ((rank.get(a) ?? 0) > (rank.get(b) ?? 0)) pairs.add(`${a} ${b}`);
          });
        });
        const found = placement.findings
          .filter((f) => f.rule === 'wires-cross')
          .map((f) => f.items.join(' '));
        expect(new Set(found)).toEqual(pairs);
        expect(found.length).toBe(pairs.size);
        expect(placement.summary.wires?.crossings).toBe(pairs.size);
        // The wires say the same of each other.
        const wires = wiresOf(placement);
        expect(wires.reduce((sum, w) => sum + w.crosses.length, 0)).toBe(2 * pairs.size);
      }),
      { numRuns: 20 },
    );
  });

  it('in its own order crosses nothing', () => {
    const placement = laid(bondedRing(packageOf(lead(10, 200, 3000)), pins(each(10))));
    expect(told(placement)).toEqual({});
    expect(placement.summary.wires?.crossings).toBe(0);
  });
});
