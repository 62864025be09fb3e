/**
 * Shows: whatever the library, order, style and die, a ring is laid such that a general polygon library finds its
 * shapes sound and the checker finds no error, or it is refused with words that name what to change; nothing crashes.
 * Source of the first verdict: npm clipper2-ts; of the second: src/check, which shares no code with the placer.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { lay } from '../../src/run.ts';
import { polygonVerdict } from '../helpers/polygons.ts';
import { randomRings } from '../helpers/random-ring.ts';

/** 20 000 are laid by test/proof/random.proof.ts. */
const RUNS = 1000;

it(`lays ${RUNS} random rings soundly or says what to change`, () => {
  let laid = 0;
  fc.assert(
    fc.property(randomRings, (ring) => {
      const outcome = lay(ring);
      if (!outcome.ok) {
        for (const problem of outcome.problems) {
          expect(problem.code).toMatch(/^[a-z]+(-[a-z]+)*$/);
          expect(problem.mend ?? '').not.toBe('');
        }
        return;
      }
      laid++;
      expect(polygonVerdict(outcome.value)).toEqual([]);
      expect(outcome.value.findings.filter((f) => f.severity === 'error')).toEqual([]);
    }),
    { numRuns: RUNS },
  );
  console.log(`${RUNS} random rings: ${laid} laid and sound, ${RUNS - laid} refused with a mend`);
  expect(laid).toBeGreaterThan(RUNS / 3);
});
