/**
 * Shows that keeping an older placement moves the fewest pins there can be: equal to a mixed-integer program on random
 * sides with awkward fillers and rules between next-but-one neighbours, where a greedy rule often does worse; and that
 * whole rings keep what they can and stay sound.
 *
 * Source of the values: npm `highs`; the checker for soundness; the difference of two placements for what moved.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { difference, isEmpty } from '../../src/compare/difference.ts';
import type { Placement } from '../../src/format/placement.ts';
import { SIDES } from '../../src/geometry/side.ts';
import type { Outcome } from '../../src/problems/problem.ts';
import { lay } from '../../src/run.ts';
import type { Entry, Ring } from '../../src/spec/ring.ts';
import { randomRings } from '../helpers/random-ring.ts';
import { entry, library, ring, um } from '../helpers/ring.ts';
import { compareKept } from './keep-cases.ts';

it('moves what the mixed-integer program moves on 40 sides, a third of which a greedy rule gets wrong', () => {
  const { compared, moved, greedyWorse } = compareKept(40, 10);
  expect(compared).toBeGreaterThan(20);
  expect(moved).toBeGreaterThan(20);
  expect(greedyWorse).toBeGreaterThanOrEqual(40 / 3);
});

const kept = (now: Ring, old: Placement): Outcome<Placement> => lay(now, old);

const value = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.message).join('\n'));
  return outcome.value;
};
const messages = (outcome: Outcome<unknown>): readonly string[] =>
  outcome.ok ? outcome.notes.map((n) => n.message) : [];

/** Without findings, which only judging adds. */
const unjudged = (placement: Placement): Placement => ({ ...placement, findings: [] });

describe('a whole ring', () => {
  it('that did not change stays as it is, whatever it is', () => {
    let laid = 0;
    fc.assert(
      fc.property(randomRings, (random) => {
        const outcome = lay(random);
        if (!outcome.ok) return;
        laid++;
        const old = unjudged(outcome.value);
        const again = kept(random, old);
        expect(messages(again)).toEqual([]);
        const { summary: _, ...now } = unjudged(value(again));
        const { summary: __, ...before } = old;
        expect(now).toEqual(before);
      }),
      { numRuns: 150 },
    );
    expect(laid).toBeGreaterThan(40);
  });

  it('that lost and gained pins is sound, and every pin that no note names stands where it stood', () => {
    let [laid, pins, moved] = [0, 0, 0];
    const changed = fc.tuple(randomRings, fc.array(fc.nat(1000), { minLength: 40, maxLength: 40 }));
    fc.assert(
      fc.property(changed, ([random, seed]) => {
        const first = lay(random);
        if (!first.ok) return;
        const old = unjudged(first.value);
        let turn = 0;
        const chance = (of: number): number => (seed[turn++ % seed.length] ?? 0) % of;
        const edited = (entries: readonly Entry[]): readonly Entry[] =>
          entries.flatMap((e, i) => {
            const plain = e.footprint.role === 'signal' || e.footprint.role === 'analog';
            if (!plain) return [e];
            const draw = chance(7);
            if (draw === 0) return [];
            if (draw > 1) return [e];
            const pin = `N${i}_${e.pins[0]}`;
            return [e, { ...e, pins: [pin], nets: [pin], at: null, row: null }];
          });
        const sides = Object.fromEntries(
          SIDES.map((side) => [side, { ...random.sides[side], entries: edited(random.sides[side].entries) }]),
        ) as unknown as Ring['sides'];
        const now: Ring = { ...random, sides };
        const again = kept(now, old);
        if (!again.ok) return;
        laid++;
        // Whatever the edit itself breaks, keeping places breaks no more.
        const errors = (findings: Placement['findings']): readonly string[] =>
          findings.filter((f) => f.severity === 'error').map((f) => f.rule);
        const anew = lay(now);
        const allowed = new Set(anew.ok ? errors(anew.value.findings) : []);
        expect(errors(again.value.findings).filter((rule) => !allowed.has(rule))).toEqual([]);
        const noted = new Set(again.notes.flatMap((n) => (n.message.split(' moves')[0] ?? '').split(', ')));
        const found = difference(old, again.value);
        pins += old.bondPads.length;
        moved += found.moved.length;
        for (const m of found.moved)
          if (m.along !== 0) expect(noted.has(m.pin), `${m.pin} ${m.along}\n${[...noted].join()}`).toBe(true);
      }),
      { numRuns: 200 },
    );
    console.log(`${laid} changed rings: ${moved} of ${pins} pins moved`);
    expect(laid).toBeGreaterThan(40);
    expect(moved).toBeLessThan(pins / 4);
  });
});

describe('what had to move, and why', () => {
  const cells = library();
  const io = cells.find((c) => c.name === 'io');
  if (!io) throw new Error('no io cell');
  const side = (
    pins: readonly string[],
    at: Partial<Record<string, Partial<Entry>>> = {},
  ): readonly Entry[] => pins.map((pin) => entry(io, pin, at[pin] ?? {}));
  const of = (entries: readonly Entry[], more: Partial<Ring> = {}): Ring =>
    ring(cells, 'inline', { bottom: entries }, { die: { width: um(1200), height: um(1200) }, ...more });
  const old = unjudged(value(lay(of(side(['a', 'b', 'c', 'd'])))));
  const padsOf = (outcome: Outcome<Placement>): readonly string[] =>
    value(outcome).bondPads.map((p) => `${p.number} ${p.pin} ${p.x}`);

  it('keeps the place of a pin that left free for those that come', () => {
    expect(padsOf(kept(of(side(['a', 'b', 'c', 'd'])), old))).toEqual([
      '1 a 257.5',
      '2 b 327.5',
      '3 c 397.5',
      '4 d 467.5',
    ]);
    const fewer = kept(of(side(['a', 'c', 'd'])), old);
    expect(padsOf(fewer)).toEqual(['1 a 257.5', '2 c 397.5', '3 d 467.5']);
    const other = kept(of(side(['a', 'new', 'c', 'd'])), old);
    expect(padsOf(other)).toEqual(['1 a 257.5', '2 new 327.5', '3 c 397.5', '4 d 467.5']);
    expect(messages(other)).toEqual([]);
  });

  it('moves the fewer: those before a pin that came, or those after it', () => {
    const pushed = kept(of(side(['a', 'b', 'c', 'new', 'd'])), old);
    expect(padsOf(pushed)).toEqual(['1 a 257.5', '2 b 327.5', '3 c 397.5', '4 new 467.5', '5 d 537.5']);
    expect(messages(pushed)).toEqual([
      'd moves from 450 um to 520 um on the bottom side: what stands before it (new) reaches 70 um beyond its old place',
    ]);
    const early = unjudged(value(lay(of(side(['a', 'b', 'c', 'd'], { a: { at: um(500) } })))));
    const inserted = kept(of(side(['a', 'new', 'b', 'c', 'd'])), early);
    expect(messages(inserted)).toEqual([
      'a moves from 500 um to 430 um on the bottom side: what stands after it (new) begins 70 um too early for its old place',
    ]);
  });

  it('names pins that the description itself moves', () => {
    const fixed = kept(of(side(['a', 'b', 'c', 'd'], { d: { at: um(700) } })), old);
    expect(messages(fixed)).toEqual([
      'd moves from 450 um to 700 um on the bottom side: the description fixes it there',
    ]);
    const two = (bottom: readonly string[], left: readonly string[]): Ring =>
      ring(
        cells,
        'inline',
        { bottom: side(bottom), left: side(left) },
        { die: { width: um(1200), height: um(1200) } },
      );
    const before = unjudged(value(lay(two(['a', 'b', 'c'], ['z']))));
    expect(messages(kept(two(['a', 'c'], ['z', 'b']), before))).toEqual([
      'b moves from the bottom to the left side: so the description has it',
    ]);
  });

  it('takes pads that share a name for one another: a supply that came moves none of them', () => {
    const vdd = cells.find((c) => c.name === 'sup_vdd');
    if (!vdd) throw new Error('no supply cell');
    const named = (kinds: readonly string[]): Ring =>
      of(kinds.map((kind) => (kind === 'VDD' ? entry(vdd, 'VDD') : entry(io, kind))));
    const before = unjudged(value(lay(named(['VDD', 'a', 'b', 'VDD', 'c', 'd']))));
    const more = kept(named(['VDD', 'a', 'b', 'VDD', 'c', 'd', 'VDD']), before);
    expect(messages(more)).toEqual([]);
    const first = kept(named(['VDD', 'VDD', 'a', 'b', 'VDD', 'c', 'd']), before);
    const found = difference(before, value(first));
    // A pad of that name stands at each old place of one, and four pins move; with the places told apart it were five.
    expect(found.moved.map((m) => m.pin)).toEqual(['a', 'b', 'c', 'd']);
    expect(messages(first)).toHaveLength(4);
    const fewer = kept(named(['a', 'b', 'VDD', 'c', 'd']), before);
    expect(messages(fewer)).toEqual([]);
    expect(difference(before, value(fewer)).removed.map((n) => n.place.s)).toEqual([257.5]);
  });

  it('keeps the die where it is left open, and lets it grow rather than move a pin', () => {
    const open = { die: null };
    const first = unjudged(value(lay(of(side(['a', 'b', 'c', 'd']), open))));
    const fewer = value(kept(of(side(['a', 'b']), open), first));
    expect(fewer.die).toEqual(first.die);
    const more = value(kept(of(side(['a', 'b', 'c', 'd', 'e', 'f']), open), first));
    expect(more.die.width).toBeGreaterThan(first.die.width);
    expect(difference(first, more).moved).toEqual([]);
  });

  it('keeps rows: a pin that left one of two rows does not turn the others over', () => {
    const two = (pins: readonly string[]): Ring =>
      ring(cells, 'staggered', { bottom: side(pins) }, { die: { width: um(1400), height: um(1400) } });
    const before = unjudged(value(lay(two(['a', 'b', 'c', 'd', 'e', 'f']))));
    const after = value(kept(two(['a', 'c', 'd', 'e', 'f']), before));
    const found = difference(before, after);
    expect(found.moved).toEqual([]);
    expect(found.changed).toEqual([]);
    expect(found.removed.map((n) => n.pin)).toEqual(['b']);
    expect(isEmpty(difference(before, before))).toBe(true);
  });
});
