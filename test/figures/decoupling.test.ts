/**
 * Shows: the charge that outputs take in one edge and the capacitance that gives it away within a budget.
 * Source: Q = C V, by hand.
 */
import { expect, test } from 'vitest';
import { capacitanceFor, switchedCharge } from '../../src/figures/decoupling.ts';

test('sixteen outputs of 15 pF at 3.3 V take 792 pC, which 2.64 nF give away within 0.3 V', () => {
  const charge = switchedCharge(Array.from({ length: 16 }, () => ({ load: 15, swing: 3.3 })));
  expect(charge).toBeCloseTo(792, 9);
  expect(capacitanceFor(charge, 0.3)).toBeCloseTo(2640, 9);
});
