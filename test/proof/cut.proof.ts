/**
 * Shows at length what test/size/proof.test.ts shows in brief: the cut into sides is exact on 500 random cases of up to 60 pads, a
 * third of which a rule of thumb gets wrong. Source: npm `highs`, a mixed-integer program a case.
 */
import { expect, it } from 'vitest';
import { cutProof, tallyText } from '../size/proofs.ts';

it('cut into sides: 500 cases of up to 60 pads', () => {
  const tally = cutProof(500, 60);
  console.info(tallyText('cut into sides', tally));
  expect(tally.differ).toEqual([]);
  expect(tally.greedyWorse).toBeGreaterThanOrEqual(500 / 3);
});
