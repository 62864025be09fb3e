/**
 * Shows: fillers whose widths share no usable step are refused with what would mend it, instead of a search without end.
 * Source: the widths are a reviewer's, 19.96, 20.015 and 31.235 um on a grid of 5 nm; the clock is a guard against hanging.
 */
import { expect, it } from 'vitest';
import { lay } from '../../src/run.ts';
import { entry, footprint, library, ring, um } from '../helpers/ring.ts';

it('says which side and what to add', () => {
  const cells = library(35, [19.96, 20.015, 31.235]);
  const io = cells.find((f) => f.name === 'io') ?? footprint('io', 'signal', 35);
  const pins = (side: string) => Array.from({ length: 20 }, (_, i) => entry(io, `${side}${i}`));
  const started = performance.now();
  const laid = lay(
    ring(
      cells,
      'inline',
      { left: pins('l'), right: pins('r') },
      { die: { width: um(3000), height: um(3000) } },
    ),
  );
  expect(performance.now() - started).toBeLessThan(20_000);
  expect(laid.ok).toBe(false);
  if (laid.ok) return;
  expect(laid.problems.map((p) => p.code)).toContain('fillers-too-awkward');
  expect(laid.problems.every((p) => (p.mend ?? '').includes('filler'))).toBe(true);
});
