/**
 * Shows: a figure carries its working or says what it misses, a ratio within 1e-9 of a whole number is that number
 * (ring-model section 6: 1.2 V over 0.4 V is 3), and what is not assessed never decides.
 * Source: our own rules.
 */
import { expect, test } from 'vitest';
import {
  asInput,
  assessedValue,
  countFor,
  figure,
  greatest,
  input,
  isAssessed,
  notAssessed,
  ratio,
  within,
} from '../../src/figures/figure.ts';

test('a ratio within 1e-9 of a whole number is that number', () => {
  expect(1.2 / 0.4).not.toBe(3);
  expect(ratio(1.2, 0.4)).toBe(3);
  expect(countFor(1.2, 0.4)).toBe(3);
  expect(countFor(1.2 * (1 + 2e-9), 0.4)).toBe(4);
  expect(countFor(1.2 * (1 + 0.5e-9), 0.4)).toBe(3);
  expect(countFor(0, 0.4)).toBe(0);
  expect(ratio(1e9 + 0.25, 1)).toBe(1e9);
  expect(ratio(2.5, 1)).toBe(2.5);
});

test('a value at its limit keeps within it, one beyond does not', () => {
  expect(within(0.1 * 3, 0.3)).toBe(true);
  expect(within(0.3 * (1 + 2e-9), 0.3)).toBe(false);
  expect(within(0, 0)).toBe(true);
  expect(within(1e-12, 0)).toBe(false);
});

test('a figure carries its working', () => {
  const peak = figure(4 / 3, 'A', 'V / 1500 ohm', [input('V', 2000, 'V')], 'ANSI/ESDA/JEDEC JS-001');
  expect(isAssessed(peak)).toBe(true);
  expect(assessedValue(peak)).toBe(4 / 3);
  expect(asInput('I', peak)).toEqual({ name: 'I', value: 4 / 3, unit: 'A' });
  expect(() => figure(Number.NaN, 'A', 'V / R', [], '')).toThrow(RangeError);
});

test('the greatest decides; what is not assessed is named and never counts', () => {
  const entry = (name: string, value: number | string) => ({
    name,
    figure: typeof value === 'string' ? notAssessed(value) : figure(value, '', 'n', [], 'given'),
  });
  const { decides, missing } = greatest([
    entry('current', 2),
    entry('noise', 'the noise budget'),
    entry('wire', 3),
    entry('discharge', 3),
  ]);
  expect(decides?.name).toBe('wire');
  expect(missing).toEqual(['the noise budget']);
  expect(greatest([entry('noise', 'the budget')])).toEqual({ decides: undefined, missing: ['the budget'] });
});
