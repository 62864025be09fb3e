/**
 * Shows at length what test/check shows in brief: tens of trials of every corruption on each sample, demonstration and
 * open library, and on random rings; the polygon library's verdict on thousands of placements; thousands of random
 * rings and chains of sound edits without an alarm; a hundred thousand mutated texts read or refused. Sources: as the
 * tests themselves name them.
 */
process.env.PROOF = 'check';
await import('../check/corruption.test.ts');
await import('../check/verdict.test.ts');
await import('../check/sound-edits.test.ts');
await import('../check/random.test.ts');
await import('../check/read.test.ts');
await import('../check/any-placement.test.ts');
