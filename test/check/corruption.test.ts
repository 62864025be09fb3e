/**
 * Shows: whatever is done to a sound placement, the checker finds it, by the rule named beforehand and never by a
 * crash. Every operator is tried at random places on sound placements of every style, through the file's text as a
 * script would write it; every rule is some operator's target. Source of the operators: our own list of what a
 * script, a slip of the hand or a wrong cell file can do (common practice, no source). `npm run proof` tries each
 * many times more, on random rings too.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import { ruleList } from '../../src/check/rules.ts';
import { lay } from '../../src/run.ts';
import { randomRings } from '../helpers/random-ring.ts';
import { harvest, OPERATORS } from './harness.ts';
import { demonstrations, samples } from './samples.ts';

const SAMPLES = samples();
const PROOF = process.env.PROOF !== undefined;
/** Trials of each operator on each sample and on each demonstration; random rings, tried once each. */
const [TRIALS, ON_DEMONSTRATIONS, RANDOM] = PROOF ? [25, 8, 100] : [2, 1, 3];

it('finds the samples sound', () => {
  for (const { placement } of SAMPLES)
    expect(judge(placement).filter((f) => f.severity !== 'note')).toEqual([]);
});

it(`catches each of ${OPERATORS.length} corruptions wherever it strikes, by the rule named beforehand`, () => {
  const { table, missed } = harvest(
    SAMPLES.map((s) => s.placement),
    TRIALS,
    false,
  );
  console.log(table);
  expect(missed).toEqual([]);
});

it('catches them on the demonstrations and on rings of the open libraries too', () => {
  const placements = demonstrations().map((s) => s.placement);
  for (const placement of placements)
    expect(judge(placement).filter((f) => f.severity !== 'note')).toEqual([]);
  const { missed, trials } = harvest(placements, ON_DEMONSTRATIONS, true);
  console.log(`${trials} corruptions of ${placements.length} rings`);
  expect(missed).toEqual([]);
});

it(`catches them on ${RANDOM} random rings too`, () => {
  // Small ones, so that the proof does not spend its time on rings of thousands of fillers.
  const placements = fc
    .sample(randomRings, { numRuns: 30 * RANDOM, seed: 7 })
    .flatMap((ring) => {
      const outcome = lay(ring);
      return outcome.ok && outcome.value.cells.length < 400 && outcome.value.bondPads.length > 3
        ? [outcome.value]
        : [];
    })
    .slice(0, RANDOM);
  const { missed, trials } = harvest(placements, 1, true);
  console.log(`${trials} corruptions of ${placements.length} random rings`);
  expect(placements).toHaveLength(RANDOM);
  expect(missed).toEqual([]);
});

it('has an operator for every rule', () => {
  const targets = new Set(OPERATORS.map((o) => o.rule));
  expect(ruleList.map((r) => r.name).filter((name) => !targets.has(name))).toEqual([]);
  expect(OPERATORS.length).toBeGreaterThanOrEqual(60);
  expect(new Set(OPERATORS.map((o) => o.name)).size).toBe(OPERATORS.length);
});
