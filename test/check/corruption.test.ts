/**
 * Shows: whatever is done to a sound placement, the checker finds it, by the rule named beforehand and never by a
 * crash. Every operator is tried at random places on sound placements of every style, through the file's text as a
 * script would write it; every rule is some operator's target. Source of the operators: our own list of what a
 * script, a slip of the hand or a wrong cell file can do (common practice, no source). `npm run proof` tries each
 * many times more, on random rings too.
 */
import { expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import { ruleList } from '../../src/check/rules.ts';
import { harvest, OPERATORS } from './harness.ts';
import { samples } from './samples.ts';

const SAMPLES = samples();

it('finds the samples sound', () => {
  for (const { placement } of SAMPLES)
    expect(judge(placement).filter((f) => f.severity !== 'note')).toEqual([]);
});

it(`catches each of ${OPERATORS.length} corruptions wherever it strikes, by the rule named beforehand`, () => {
  const { table, missed } = harvest(
    SAMPLES.map((s) => s.placement),
    2,
    false,
  );
  console.log(table);
  expect(missed).toEqual([]);
});

it('has an operator for every rule', () => {
  const targets = new Set(OPERATORS.map((o) => o.rule));
  expect(ruleList.map((r) => r.name).filter((name) => !targets.has(name))).toEqual([]);
  expect(OPERATORS.length).toBeGreaterThanOrEqual(60);
  expect(new Set(OPERATORS.map((o) => o.name)).size).toBe(OPERATORS.length);
});
