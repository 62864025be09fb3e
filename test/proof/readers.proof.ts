/**
 * Shows that no text brings the program down: a hundred thousand inputs, over all readers (the ring description, the
 * tables, LEF, the cell file, the placement), each taken the whole way that a command takes it. Each ends in a value or
 * in problems with a place within the text, without an exception, within two seconds and 512 MB; a ring that is laid is
 * laid soundly; what is written is well-formed and holds nothing that a spreadsheet, a browser or a terminal would run.
 * No source: the promise is the project's own; xmllint is the second opinion on drawings. The same, shorter, is in
 * test/source/readers.test.ts. A failing input is told with its reader, seed and number, from
 * which it is made anew; FUZZ_SEED sets another seed.
 */
import { expect, it } from 'vitest';
import { fuzzAll } from '../helpers/fuzz/look.ts';
import { READERS } from '../helpers/fuzz/seeds.ts';

const COUNTS = { ring: 24_000, table: 20_000, lef: 20_000, cells: 18_000, placement: 18_000 } as const;
const seed = Number(process.env.FUZZ_SEED ?? 20_260_701);

it('takes a hundred thousand inputs', { timeout: 6 * 3_600_000 }, async () => {
  const all = await fuzzAll(
    READERS.map((reader) => ({ reader, count: COUNTS[reader] })),
    seed,
  );
  expect(all.reduce((sum, { inputs }) => sum + inputs, 0)).toBe(100_000);
});
