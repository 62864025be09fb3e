/**
 * Shows: fillers whose widths share no usable step are refused with what would mend it, instead of a search without end.
 * Source: the widths are a reviewer's, 19.96, 20.015 and 31.235 um on a grid of 5 nm; the clock is a guard against hanging.
 */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { layRing } from '../../src/index.ts';
import { lay } from '../../src/run.ts';
import { freeRingText } from '../bench/free-ring.ts';
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

const CELLS = readFileSync('fixtures/cells/harbour.cells.yaml', 'utf8');

/** The harbour cells with other fillers. */
const withFillers = (widths: readonly number[]): string => {
  const lines = CELLS.split('\n').filter((line) => !line.includes('role: filler'));
  const at = lines.findIndex((line) => line.includes('role: corner'));
  lines.splice(
    at,
    0,
    ...widths.map((width, i) => `  fill_${i}: {role: filler, width: ${width}, height: 180}`),
  );
  return lines.join('\n');
};

it.each([
  [[50, 35.5], 40],
  [[20, 19.99], 40],
  [[20, 7], 200],
  [[9.7, 8.3, 7.1], 200],
])(
  'fillers of %j um: the search of %i free pins ends, and says that a smaller die may exist',
  (widths, pins) => {
    const started = performance.now();
    const outcome = layRing(
      { 'ring.yaml': freeRingText(pins, 'cells.yaml'), 'cells.yaml': withFillers(widths) },
      'ring.yaml',
    );
    expect(performance.now() - started).toBeLessThan(30_000);
    const said = outcome.kind === 'laid' ? outcome.notes : outcome.problems;
    expect(said.map(({ code }) => code)).toContain(
      outcome.kind === 'laid' ? 'cut-not-proven' : 'fillers-too-awkward',
    );
  },
);

it('with a filler that divides the others it is proven', () => {
  const outcome = layRing(
    { 'ring.yaml': freeRingText(40, 'cells.yaml'), 'cells.yaml': withFillers([50, 35.5, 0.5]) },
    'ring.yaml',
  );
  expect(outcome.kind).toBe('laid');
  expect(outcome.kind === 'laid' && outcome.notes.map(({ code }) => code)).not.toContain('cut-not-proven');
});
