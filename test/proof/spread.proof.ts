/**
 * Shows: on 300 random rows of up to 30 loads, open and closed, with closed slots and standing cuts, supplies are placed as
 * well as a mixed-integer solver places them, and a greedy rule is worse on at least a third.
 * Source: npm `highs`.
 */
import { expect, test } from 'vitest';
import { spread } from '../../src/figures/spread.ts';
import { compare, worstStretch } from '../figures/spread-cases.ts';

test('300 rows', { timeout: 3_600_000 }, () => {
  const seeds = Array.from({ length: 300 }, (_, i) => 1000 + i);
  const { cases, differ, greedyWorse } = compare(seeds, 30, ({ row, count }) => {
    const { cuts, worst } = spread(row, count);
    expect(worst).toBeCloseTo(worstStretch(row, cuts), 9);
    return worst;
  });
  console.info(
    `spread: ${cases} rows, ${cases - differ.length} equal to the optimum, greedy worse on ${greedyWorse}`,
  );
  expect(differ).toEqual([]);
  expect(greedyWorse).toBeGreaterThanOrEqual(cases / 3);
});
