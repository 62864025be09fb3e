/**
 * Shows at length what test/place/random.test.ts shows in short: 20 000 random rings, each laid soundly by the checker's
 * and a polygon library's verdict, or refused with words that name what to change. Source: npm clipper2-ts; src/check.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { lay } from '../../src/run.ts';
import { polygonVerdict } from '../helpers/polygons.ts';
import { randomRings } from '../helpers/random-ring.ts';

it('lays 20 000 random rings soundly or says what to change', () => {
  let [laid, refused] = [0, 0];
  fc.assert(
    fc.property(randomRings, (ring) => {
      const outcome = lay(ring);
      if (!outcome.ok) {
        refused++;
        expect(outcome.problems.every((p) => (p.mend ?? '') !== '')).toBe(true);
        return;
      }
      laid++;
      expect(outcome.value.findings.filter((f) => f.severity === 'error')).toEqual([]);
      if (laid % 10 === 0) expect(polygonVerdict(outcome.value)).toEqual([]);
    }),
    { numRuns: 20_000 },
  );
  console.log(`random rings: ${laid} laid and sound, ${refused} refused with a mend`);
});
