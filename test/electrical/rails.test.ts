/**
 * Shows: the rail network of every arc of the demonstrations, open and closed, has ngspice's operating point to 1e-9
 * relative; the worked loop of ring-model section 7 from a placed ring; and drawn rails have the squares that the network counts.
 * Sources: ngspice; ring-model section 7 (3.928 ohm, 5.24 V).
 */
import { describe, expect, test } from 'vitest';
import { arcName } from '../../src/electrical/arcs.ts';
import { assess } from '../../src/electrical/assess.ts';
import { assessedValue } from '../../src/figures/figure.ts';
import { CORNER_SQUARES } from '../../src/figures/strips.ts';
import type { Placement } from '../../src/format/placement.ts';
import { lay } from '../../src/run.ts';
import { hasNgspice, ngspice } from '../figures/outside.ts';
import { entry, footprint, ring, um } from '../helpers/ring.ts';
import { FROST_HUB, LAMP_CONTROLLER, TIDE_GAUGE } from './blocks.ts';
import { assessmentOf, laidOf, RULES, withBlock } from './sample.ts';

describe.each([
  ['tide-gauge', TIDE_GAUGE],
  ['frost-hub', FROST_HUB],
  ['lamp-controller', LAMP_CONTROLLER],
])('%s', (name, block) => {
  const placement = laidOf(`fixtures/${name}/ring.yaml`, {
    'ring.yaml': withBlock(block.replace('SUPPLIES', 'given')),
  });
  const assessment = assessmentOf(placement);
  const solved = assessment.arcs.flatMap((loaded, i) => {
    const rail = assessment.rails[i];
    return rail === undefined || 'missing' in rail ? [] : [{ loaded, rail }];
  });

  test("every arc that carries a current is ngspice's operating point of the same network", () => {
    expect(solved.length).toBeGreaterThan(2);
    if (!hasNgspice) return;
    for (const { rail } of solved) {
      const { network, solution } = rail;
      const n = network.draw.length;
      const lines = [...network.resistance].map((r, i) => `rb${i} n${i} n${(i + 1) % n} ${r}`);
      for (const [i, taken] of network.draw.entries())
        if (taken !== 0) lines.push(`id${i} n${i} 0 dc ${taken}`);
      for (const [k, { node, resistance }] of network.feeds.entries())
        lines.push(
          ...(resistance > 0
            ? [`vf${k} f${k} 0 dc 0`, `rf${k} f${k} n${node} ${resistance}`]
            : [`vf${k} n${node} 0 dc 0`]),
        );
      const values = ngspice(lines, ['op', ...[...network.draw.keys()].map((i) => `print v(n${i})`)]);
      const most = Math.max(...solution.drop);
      for (let i = 0; i < n; i++)
        expect(
          Math.abs((solution.drop[i] ?? 0) + (values.get(`v(n${i})`) ?? Number.NaN)),
        ).toBeLessThanOrEqual(1e-9 * most);
    }
  });

  test('what the cells draw is what the supplies give', () => {
    for (const { rail } of solved) {
      const drawn = rail.network.draw.reduce((sum, i) => sum + i, 0);
      expect(rail.solution.given.reduce((sum, i) => sum + i, 0) / drawn).toBeCloseTo(1, 9);
    }
  });

  test('open and closed arcs are both there over the demonstrations', () => {
    const closed = assessment.arcs.filter(({ arc }) => arc.closed).map(({ arc }) => arcName(arc));
    expect(closed.length > 0 || assessment.arcs.some(({ arc }) => !arc.closed)).toBe(true);
  });
});

/** A ring of 1000 x 1000 whose only supply lane lies from t 100 to 110, its clamp and its far pad in the middle of sides. */
function workedLoop(): Placement {
  const lanes = [
    { lane: 'VDD', from: 40, to: 50 },
    { lane: 'VSS', from: 60, to: 70 },
  ].map(({ lane, from, to }) => ({
    lane,
    strips: [{ layer: 'M5', from: um(from), to: um(to), edges: 'both' as const, carry: 'through' as const }],
  }));
  const inside = { t: um(20), along: um(20), deep: um(20), opening: { along: um(10), deep: um(10) } };
  const supply = (name: string, lane: string, clamped: boolean) =>
    footprint(name, 'supply', 20, {
      depth: um(80),
      lanes,
      landings: [{ name: 'pad', at: um(10), feeds: [lane], inside }],
      clamps: clamped ? [{ supply: 'VDD', ground: 'VSS' }] : [],
    });
  const cells = [
    supply('vdd', 'VDD', false),
    supply('vss', 'VSS', true),
    footprint('fill', 'filler', 10, { depth: um(80), lanes }),
    footprint('corner', 'corner', 80, { depth: um(80), lanes }),
  ];
  const [vdd, vss] = [cells[0] ?? footprint('', 'supply', 1), cells[1] ?? footprint('', 'supply', 1)];
  const laid = lay(
    ring(
      cells,
      'in-cell',
      {
        bottom: [entry(vss, 'VSS', { at: um(490), pad: null, nets: ['vss'] })],
        top: [entry(vdd, 'VDD', { at: um(490), pad: null, nets: ['vdd'] })],
      },
      {
        die: { width: um(1000), height: um(1000) },
        sections: [
          {
            name: 'main',
            lanes: new Map([
              ['VDD', 'vdd'],
              ['VSS', 'vss'],
            ]),
            pairs: [{ supply: 'VDD', ground: 'VSS' }],
          },
        ],
      },
    ),
  );
  if (!laid.ok) throw new Error(laid.problems.map((p) => p.message).join('\n'));
  return laid.value;
}

test('the worked loop: a pad in the middle of the top, the clamp in the middle of the bottom, 3.928 ohm and 5.24 V', () => {
  const placement = workedLoop();
  expect(placement.die).toEqual({ width: 1000, height: 1000 });
  expect(
    placement.rails.map((rail) => rail.rectangles.map((r) => [r.x, r.y, r.width, r.height]))[0],
  ).toContainEqual([100, 100, 800, 10]);
  const a = assess({ ...placement, rules: { ...placement.rules, electrical: RULES } });
  if (a === undefined || 'missing' in a.discharge) throw new Error('assessed');
  const path = a.discharge.worst.find(({ from }) => from.pad.pin === 'VDD');
  expect(path?.rail).toBeCloseTo(5.24, 2);
  expect((path?.rail ?? 0) / (2000 / 1500)).toBeCloseTo(3.928, 3);
  expect(path?.legs.map((leg) => leg.what)).toEqual(['rail', 'clamp']);
  expect(path?.unknown).toEqual(['clamp in VSS']);
});

test('the network counts the squares that the drawn rails have: stretches less their corner squares, bends as 0.5587', () => {
  const placement = workedLoop();
  const a = assess({
    ...placement,
    rules: { ...placement.rules, electrical: { ...RULES, core: { vdd: 10 }, drop: { vdd: 1 } } },
  });
  const [rail] = a?.rails ?? [];
  if (rail === undefined || 'missing' in rail) throw new Error('solved');
  const drawn = placement.rails[0]?.rectangles ?? [];
  const straight = drawn.reduce(
    (sum, r) => sum + Math.max(r.width, r.height) - 2 * Math.min(r.width, r.height),
    0,
  );
  const ohms = 0.05 * (straight / 10 + 4 * CORNER_SQUARES);
  expect(rail.metal.resistance.reduce((sum, r) => sum + r, 0)).toBeCloseTo(ohms, 9);
  // A loop held at one place and drawn from evenly drops I R / 8 at the other side.
  expect(rail.solution.drop.reduce((most, v) => Math.max(most, v), 0) / ((0.01 * ohms) / 8)).toBeCloseTo(
    1,
    2,
  );
  const entry = a?.supplies[0];
  expect(assessedValue(entry?.demands.current ?? { notAssessed: '' })).toBeUndefined();
});
