/**
 * Shows: least side, least die with opposite sides at one length, cut into sides, fillers and shared slack are exact.
 * Source: npm `highs` solves each question as a mixed-integer program (the cut over stretches whose lengths a search of
 * every gap finds), on 40 random cases of up to 25 pads with fillers that leave lengths out or may not stand alone, wide
 * and padless cells, graded corners and fixed cells; a rule of thumb does worse on a third of them at least. 500 cases
 * of up to 60 by `npm run proof`.
 */
import { expect, it } from 'vitest';
import {
  cutProof,
  fillersProof,
  leastDieProof,
  leastSideProof,
  slackProof,
  type Tally,
  tallyText,
} from './proofs.ts';

const CASES = 40;

function holds(what: string, tally: Tally, unit = 'pads'): void {
  console.info(tallyText(what, tally, unit));
  expect(tally.cases).toBe(CASES);
  expect(tally.differ).toEqual([]);
  expect(tally.greedyWorse).toBeGreaterThanOrEqual(CASES / 3);
}

it('least side', () => holds('least side', leastSideProof(CASES, 25)));
it('least die', () => holds('least die', leastDieProof(CASES, 25)));
it('cut into sides', () => holds('cut into sides', cutProof(CASES, 25)));
it('fewest fillers', () => holds('fewest fillers', fillersProof(CASES, 120), 'um'));
it('shared slack', () => holds('shared slack', slackProof(CASES, 25), 'cells'));
