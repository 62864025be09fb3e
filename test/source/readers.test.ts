/**
 * Shows in brief what test/proof/readers.proof.ts shows at length: every reader, the whole way, on mutated files of the
 * project, small ones; those that are large, deep or dense on purpose are left to the proof. No source: the promise is the project's own.
 */
import { expect, it } from 'vitest';
import { fuzzAll } from '../helpers/fuzz/look.ts';
import { READERS } from '../helpers/fuzz/seeds.ts';

const EACH = 300;

it(`takes ${READERS.length * EACH} inputs`, async () => {
  const all = await fuzzAll(
    READERS.map((reader) => ({ reader, count: EACH, from: 100, brief: true })),
    7,
  );
  expect(all.reduce((sum, { inputs }) => sum + inputs, 0)).toBe(READERS.length * EACH);
});
