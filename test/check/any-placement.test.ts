/**
 * Shows: whatever the schema accepts is judged: no crash, no hang, and a verdict that can be written back into the
 * file. Values are replaced by others of the same type, lists are cut, doubled and turned around. Source: issue 3,
 * item 4.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import { findingSchema } from '../../src/format/placement.ts';
import { readPlacement } from '../../src/format/read.ts';
import { diceFrom } from './operators/operator.ts';
import { samples } from './samples.ts';

const NUMBERS = [0, -1, 1, 0.5, 1e-9, 0.1 + 0.2, 1e300, -1e300, 5e-324, 2 ** 53, 1e9, 123.456, 3000];
const TEXTS = [
  '__proto__',
  'constructor',
  'toString',
  '',
  ' ',
  '\u202e',
  '</svg>',
  '=1+1',
  'P1',
  'VDD',
  'main',
  'corner',
];

/** Changes some values in place, each for one of its own type. */
function garble(root: object, seed: number): void {
  const dice = diceFrom(seed);
  for (let k = dice.below(12) + 1; k > 0; k--) {
    let holder: object = root;
    for (let depth = 0; depth < 7; depth++) {
      const keys = Object.keys(holder);
      const key = keys[dice.below(keys.length)];
      if (key === undefined) break;
      const value: unknown = Reflect.get(holder, key);
      if (Array.isArray(value) && dice.below(4) === 0) {
        const way = dice.below(4);
        if (way === 0) value.length = dice.below(value.length + 1);
        else if (way === 1) value.reverse();
        else if (value.length < 400) value.push(...structuredClone(value));
        break;
      }
      if (typeof value === 'object' && value !== null) {
        holder = value;
        continue;
      }
      if (typeof value === 'number') Reflect.set(holder, key, dice.of(NUMBERS));
      else if (typeof value === 'boolean') Reflect.set(holder, key, !value);
      else if (typeof value === 'string') Reflect.set(holder, key, dice.of(TEXTS));
      break;
    }
  }
}

const RUNS = process.env.PROOF === undefined ? 800 : 20_000;

it(`judges whatever the schema accepts of ${RUNS} garbled placements`, () => {
  const texts = samples().map((s) => JSON.stringify(s.placement));
  let judged = 0;
  fc.assert(
    fc.property(fc.constantFrom(...texts), fc.nat(), (text, seed) => {
      const draft: object = JSON.parse(text);
      garble(draft, seed);
      const read = readPlacement(JSON.stringify(draft));
      if (!read.ok) return;
      judged++;
      for (const finding of judge(read.value)) {
        expect(findingSchema.safeParse(finding).success).toBe(true);
        expect(finding.items.length).toBeGreaterThan(0);
        expect(finding.message).not.toMatch(/NaN|undefined|Infinity|[\p{Cc}\p{Cf}]/u);
      }
    }),
    { numRuns: RUNS },
  );
  console.log(`${judged} of ${RUNS} garbled placements fitted the schema, and were judged`);
  expect(judged).toBeGreaterThan(RUNS / 10);
});
