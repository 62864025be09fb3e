/**
 * Shows at length what test/size/proof.test.ts shows in brief: the least die is exact on 500 random cases of up to 60 pads, a
 * third of which a rule of thumb gets wrong. Source: npm `highs`, a mixed-integer program a case.
 */
import { expect, it } from 'vitest';
import { leastDieProof, tallyText } from '../size/proofs.ts';

it('least die: 500 cases of up to 60 pads', () => {
  const tally = leastDieProof(500, 60);
  console.info(tallyText('least die', tally));
  expect(tally.differ).toEqual([]);
  expect(tally.greedyWorse).toBeGreaterThanOrEqual(500 / 3);
});
