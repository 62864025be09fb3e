/**
 * Shows: a ring of 10 000 pads is assessed whole; what grows with the square is capped and says so: wires in the
 * inductance matrix, and the pads from which discharge paths are searched; and an eighth more supplies are set on it.
 * Source: our own rules. `npm run bench` shows how the time grows.
 */
import { expect, test } from 'vitest';
import { assess } from '../../src/electrical/assess.ts';
import { oneMore } from '../../src/electrical/rails.ts';
import { isAssessed } from '../../src/figures/figure.ts';
import { solveRail } from '../../src/figures/rail.ts';
import { withSupplies } from '../../src/plan/supplies.ts';
import { largeNeeds, largePlacement } from './large.ts';

test('10 000 pads', () => {
  const placement = largePlacement(10_000);
  const a = assess(placement);
  if (a === undefined || 'missing' in a.discharge) throw new Error('assessed');
  expect(a.arcs.map(({ arc }) => arc.closed)).toEqual([true, true, true, true]);
  expect(a.rails.every((rail) => !('missing' in rail))).toBe(true);
  const io = a.supplies.find(({ group }) => group.net === 'vssio');
  if (io === undefined || !isAssessed(io.noise)) throw new Error('assessed');
  expect(io.have).toBe(1000);
  expect(io.noise.inputs.find(({ name }) => name === 'wires')?.value).toBe(1000);
  expect(io.noise.inputs.find(({ name }) => name === 'wires in M')?.value).toBe(256);
  expect(a.discharge.sources).toBeLessThan(a.discharge.pads);
  expect(a.discharge.sources).toBeGreaterThanOrEqual(8);
  expect(a.discharge.pads).toBe(10_000);
});

test('supplies set on 10 000 pads: as many pairs as asked for, none beside another supply', () => {
  const { plan, needs } = largeNeeds(10_000);
  const { ring, set } = withSupplies(plan, needs);
  expect(set.length).toBe(2 * 125);
  expect(new Set(set.map(({ pin }) => pin)).size).toBe(set.length);
  const all = Object.values(ring.sides).flatMap((side) => side.entries);
  expect(all.length).toBe(10_000 + set.length);
});

test('one more supply on a long arc: what a stretch of it tells is what the whole arc would', () => {
  const placement = largePlacement(4000);
  const a = assess(placement);
  if (a === undefined) throw new Error('assessed');
  for (const [i, loaded] of a.arcs.entries()) {
    const rail = a.rails[i];
    if (rail === undefined || 'missing' in rail) throw new Error('solved');
    const { at, drop } = oneMore(loaded, rail);
    const resistance = Math.min(...rail.network.feeds.map((feed) => feed.resistance));
    const feeds = [...rail.network.feeds, { node: at, voltage: 0, resistance }];
    const whole = solveRail({ ...rail.network, feeds })?.drop ?? new Float64Array();
    const worst = whole.reduce((most, value) => Math.max(most, value), 0);
    expect(Math.abs(drop - worst)).toBeLessThanOrEqual(1e-9 * worst);
    expect(drop).toBeLessThanOrEqual(rail.worst.drop);
  }
});
