/**
 * Shows that exchanges are proposed which remove crossings, that no others would remove more, that the ring laid with
 * them has just the crossings foretold, and that nothing is proposed outside the groups. Source: for small groups every
 * order of their pins, tried below.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stringWires } from '../../src/bond/string.ts';
import { suggestOrder } from '../../src/bond/suggest.ts';
import { wiresOf } from '../../src/bond/wires.ts';
import type { Placement } from '../../src/format/placement.ts';
import { SIDES, type Side } from '../../src/geometry/side.ts';
import { exchangePins } from '../../src/spec/package-exchange.ts';
import type { Entry, Ring } from '../../src/spec/ring.ts';
import { bondedRing, each, laid, lead, packageOf, pins } from './sample.ts';

const crossings = (placement: Placement): number =>
  wiresOf(placement).reduce((sum, wire) => sum + wire.crosses.length, 0) / 2;

/** A ring whose pins stand in some orders along the sides, each bonded to the finger of its name. */
function ringOf(
  orders: Readonly<Record<Side, readonly string[]>>,
  exchange: readonly (readonly string[])[],
): Ring {
  const n = orders.left.length;
  const entries = pins(each(n));
  const byName = new Map(SIDES.flatMap((side) => entries[side]).map((entry) => [entry.pins[0], entry]));
  const listed = (side: Side): readonly Entry[] => orders[side].flatMap((name) => byName.get(name) ?? []);
  const fingers = lead(n, 200, 3000).map((finger) => ({ ...finger, name: `P${finger.name}` }));
  const bonds = { by: 'names', first: 0, free: [], to: new Map(), unbonded: [], exchange } as const;
  return bondedRing(packageOf(fingers, { bonds }), {
    left: listed('left'),
    bottom: listed('bottom'),
    right: listed('right'),
    top: listed('top'),
  });
}

const N = 6;
const names = (k: number): readonly string[] => Array.from({ length: N }, (_, i) => `P${k * N + i + 1}`);
const shuffled = (k: number) => fc.shuffledSubarray([...names(k)], { minLength: N, maxLength: N });
const orders = fc
  .tuple(shuffled(0), shuffled(1), shuffled(2), shuffled(3))
  .map(([left, bottom, right, top]) => ({ left, bottom, right, top }));

/** Every order of a list. */
function* permutations<T>(list: readonly T[]): Generator<readonly T[]> {
  if (list.length < 2) yield list;
  for (const [i, first] of list.entries())
    for (const rest of permutations([...list.slice(0, i), ...list.slice(i + 1)])) yield [first, ...rest];
}

/** Pads with the pins of a group in another order, wires moving with the pins. */
function reordered(placement: Placement, group: readonly string[], order: readonly string[]): Placement {
  if (placement.package === undefined) throw new Error('no package');
  const slots = placement.bondPads.filter((pad) => group.includes(pad.pin));
  const old = new Map(slots.map((pad) => [pad.pin, pad]));
  const now = new Map(slots.map((pad, i) => [pad.number, old.get(order[i] ?? '') ?? pad]));
  const numberOf = new Map([...now].map(([number, pad]) => [pad.number, number]));
  return {
    ...placement,
    bondPads: placement.bondPads.map((pad) => {
      const pin = now.get(pad.number);
      return pin === undefined ? pad : { ...pad, pin: pin.pin, net: pin.net };
    }),
    package: {
      ...placement.package,
      bonds: placement.package.bonds.map((bond) => ({
        ...bond,
        bondPad: numberOf.get(bond.bondPad) ?? bond.bondPad,
      })),
    },
  };
}

describe('with every side a group', () => {
  it('all crossings go, and the ring laid with the exchanges has none', () => {
    fc.assert(
      fc.property(orders, (order) => {
        const ring = ringOf(
          order,
          SIDES.map((_, k) => names(k)),
        );
        const placement = laid(ring);
        const suggestion = suggestOrder(placement);
        expect(suggestion.before).toBe(crossings(placement));
        expect(suggestion.after).toBe(0);
        expect(suggestion.swaps.length === 0).toBe(suggestion.before === 0);
        const again = laid(exchangePins(ring, suggestion.swaps));
        expect(crossings(again)).toBe(0);
        // Every pin kept its finger.
        for (const wire of stringWires(again)) expect(wire.finger).toBe(wire.pin);
      }),
      { numRuns: 25 },
    );
  });
});

describe('with a group of some pins of a side', () => {
  it('no order of its pins crosses less, and all other pins stay', () => {
    fc.assert(
      fc.property(
        orders,
        fc.shuffledSubarray([...names(1)], { minLength: 2, maxLength: 5 }),
        (order, group) => {
          const ring = ringOf(order, [group]);
          const placement = laid(ring);
          const suggestion = suggestOrder(placement);
          let least = Number.POSITIVE_INFINITY;
          for (const tried of permutations(group))
            least = Math.min(least, crossings(reordered(placement, group, tried)));
          expect(suggestion.after).toBe(least);
          const again = laid(exchangePins(ring, suggestion.swaps));
          expect(crossings(again)).toBe(least);
          const moved = placement.bondPads
            .filter((pad, i) => again.bondPads[i]?.pin !== pad.pin)
            .map((pad) => pad.pin);
          for (const pin of moved) expect(group).toContain(pin);
        },
      ),
      { numRuns: 25 },
    );
  });

  it('proposes nothing without a group', () => {
    const order = { left: names(0), bottom: [...names(1)].reverse(), right: names(2), top: names(3) };
    const suggestion = suggestOrder(laid(ringOf(order, [])));
    expect(suggestion).toEqual({ swaps: [], before: 15, after: 15 });
  });

  it('takes the fewest exchanges for two pins that stand for each other', () => {
    const bottom = ['P7', 'P9', 'P8', 'P10', 'P11', 'P12'];
    const order = { left: names(0), bottom, right: names(2), top: names(3) };
    const suggestion = suggestOrder(laid(ringOf(order, [names(1)])));
    expect(suggestion).toEqual({ swaps: [['P9', 'P8']], before: 1, after: 0 });
  });
});
