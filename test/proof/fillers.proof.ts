/**
 * Shows at length what test/size/proof.test.ts shows in brief: the fewest fillers of a gap, and slack shared among gaps,
 * on 500 random cases each, a third of which a rule of thumb gets wrong. Source: npm `highs`, a mixed-integer program a
 * case.
 */
import { expect, it } from 'vitest';
import { fillersProof, slackProof, type Tally, tallyText } from '../size/proofs.ts';

const holds = (what: string, tally: Tally, unit: string): void => {
  console.info(tallyText(what, tally, unit));
  expect(tally.differ).toEqual([]);
  expect(tally.greedyWorse).toBeGreaterThanOrEqual(500 / 3);
};

it('fewest fillers: 500 gaps', () => holds('fewest fillers', fillersProof(500, 400), 'um'));
it('shared slack: 500 stretches', () => holds('shared slack', slackProof(500, 60), 'cells'));
