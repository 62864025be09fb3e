/**
 * Shows that no text makes the reading of a description throw or go on without a place: sound descriptions with pieces
 * cut out, doubled, exchanged and filled with awkward words (fast-check), and pin lists likewise. No source: a clock is
 * only a guard against hanging.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { outcomeOf, PLAIN_RING } from './sample.ts';

const AWKWARD = [
  '__proto__',
  'constructor',
  'toString',
  '&a',
  '*a',
  '<<: *a',
  '-1',
  '1e999',
  '.nan',
  '.inf',
  '0x10',
  '1e-9',
  '999999999999999999999',
  'null',
  '~',
  '[]',
  '{}',
  '""',
  "'",
  '"',
  '\n',
  '\t',
  ': ',
  '- ',
  '# ',
  '\u0000',
  '\ud800',
  '\u202e',
  '<script>',
  '=cmd()',
  'none',
  'main',
  'VDD',
  'vdd',
  'io_bi',
  'clamp',
  'brk5',
  'corner',
  'staggered',
  'in-cell',
  'over-circuit',
];

/** A text with up to eight pieces replaced. */
const mutated = (text: string): fc.Arbitrary<string> =>
  fc
    .array(
      fc.record({
        at: fc.nat({ max: text.length }),
        cut: fc.oneof(fc.constant(0), fc.nat({ max: 12 }), fc.nat({ max: 200 })),
        put: fc.oneof(
          fc.constantFrom(...AWKWARD),
          fc.string({ maxLength: 8, unit: 'binary' }),
          fc
            .record({ from: fc.nat({ max: text.length }), long: fc.nat({ max: 120 }) })
            .map(({ from, long }) => text.slice(from, from + long)),
        ),
      }),
      { minLength: 1, maxLength: 8 },
    )
    .map((edits) =>
      edits.reduce((now, { at, cut, put }) => now.slice(0, at) + put + now.slice(at + cut), text),
    );

/** A word or a line of the text exchanged for another word of it or an awkward one: it often stays YAML. */
function reworded(text: string): fc.Arbitrary<string> {
  const words = text.split(/([\s:,{}[\]]+)/);
  const picks = words.flatMap((word, i) => (/^\w/.test(word) ? [i] : []));
  return fc
    .array(
      fc.tuple(
        fc.constantFrom(...picks),
        fc.oneof(fc.constantFrom(...picks.map((i) => words[i] ?? '')), fc.constantFrom(...AWKWARD)),
      ),
      { minLength: 1, maxLength: 5 },
    )
    .map((swaps) => {
      const now = [...words];
      for (const [i, word] of swaps) now[i] = word;
      return now.join('');
    });
}

function holds(text: string, csv = ''): void {
  const started = performance.now();
  const outcome = outcomeOf(text, { files: { 'pins.csv': csv } });
  if (!outcome.ok) {
    expect(outcome.problems.length).toBeGreaterThan(0);
    for (const problem of outcome.problems) {
      if (problem.code !== 'more-problems') expect(problem.place).toBeDefined();
      expect(problem.message).not.toMatch(/undefined|\[object|NaN/);
    }
  }
  expect(performance.now() - started).toBeLessThan(10_000);
}

const CSV =
  'side,pin,cell,section,at,gap,row,shift,mirrored,bondPad,net,pins,nets,tied\n' +
  'left,A0,io_bi,main,500,,,,yes,plain,data,,,enable=1\n' +
  'left,,wide_vdd,main,,10,,,,,,west=VDD east=VDD,,\n' +
  'top,VSSIO,pw_vssio,,,,,2.5,no,,,,,\n' +
  'right,,clamp,,,,,,,,,,,\n';
const WITH_CSV = `${PLAIN_RING.slice(0, PLAIN_RING.indexOf('sides:'))}pins: pins.csv\n`;

describe('any text is answered with a ring or with problems that have a place', () => {
  test('mutated descriptions', () => {
    fc.assert(
      fc.property(mutated(PLAIN_RING), (text) => holds(text)),
      { numRuns: 700 },
    );
  });

  test('reworded descriptions', () => {
    fc.assert(
      fc.property(reworded(PLAIN_RING), (text) => holds(text)),
      { numRuns: 700 },
    );
  });

  test('mutated pin lists', () => {
    holds(WITH_CSV, CSV);
    fc.assert(
      fc.property(fc.oneof(mutated(CSV), reworded(CSV)), (csv) => holds(WITH_CSV, csv)),
      { numRuns: 700 },
    );
  });

  test('any YAML value in place of the description', () => {
    fc.assert(
      fc.property(fc.json({ maxDepth: 4 }), (json) => holds(json)),
      { numRuns: 500 },
    );
  });

  test('ten thousand cells, each with something wrong', () => {
    const cells = Array.from(
      { length: 10_000 },
      (_, i) => `    - {pin: P${i % 5000}, cell: io_b${i % 7}, at: 0.001}\n`,
    );
    holds(`${PLAIN_RING.slice(0, PLAIN_RING.indexOf('sides:'))}sides:\n  left:\n${cells.join('')}`);
  });
});
