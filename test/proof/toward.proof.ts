/**
 * The nearest legal places once more, at length: five thousand random sides against a general QP solver (npm highs), and
 * thirty thousand small ones against every legal placing.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { againstAll, againstSolver, loadSolver, sides, small } from '../fit/toward-cases.ts';

it('a general QP solver finds no better on five thousand sides', async () => {
  const highs = await loadSolver();
  let compared = 0;
  fc.assert(
    fc.property(sides, (c) => {
      if (againstSolver(highs, c)) compared++;
    }),
    { numRuns: 5000 },
  );
  console.log(`${compared} of 5000 sides compared`);
  expect(compared).toBeGreaterThan(4900);
});

it('no legal placing of thirty thousand small sides is nearer', () => {
  let searched = 0;
  fc.assert(
    fc.property(small, (c) => {
      if (againstAll(c).searched) searched++;
    }),
    { numRuns: 30_000 },
  );
  console.log(`${searched} of 30000 were searched`);
});
