/**
 * Shows: no false alarm on what the engine lays from random libraries, orders, styles and dies. Source of the
 * second opinion on shapes: npm clipper2-ts, in test/place.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import { lay } from '../../src/run.ts';
import { randomRings } from '../helpers/random-ring.ts';

const RUNS = process.env.PROOF === undefined ? 150 : 3_000;

it(`finds what the engine lays of ${RUNS} random rings sound`, () => {
  let laid = 0;
  fc.assert(
    fc.property(randomRings, (ring) => {
      const outcome = lay(ring);
      if (!outcome.ok) return;
      laid++;
      expect(judge(outcome.value).filter((f) => f.severity === 'error')).toEqual([]);
    }),
    { numRuns: RUNS },
  );
  console.log(`${laid} of ${RUNS} random rings laid, each without an error`);
  expect(laid).toBeGreaterThan(RUNS / 4);
});
