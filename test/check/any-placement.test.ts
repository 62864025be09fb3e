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
import { findingsOf } from '../../src/run.ts';
import { diceFrom } from './operators/operator.ts';
import { demonstrations, samples } from './samples.ts';

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

it('judges demands and packages with one number at its extreme, or refuses it, figures and all', () => {
  const sample = demonstrations().find(({ placement }) => placement.package && placement.rules.electrical);
  if (sample === undefined) throw new Error('no demonstration has demands and a package');
  /** Where numbers stand, one of each list. */
  const places = new Map<string, readonly string[]>();
  const look = (value: unknown, path: readonly string[]): void => {
    if (typeof value === 'number')
      places.set(path.map((step) => (/^\d+$/.test(step) ? '#' : step)).join('.'), path);
    else if (typeof value === 'object' && value !== null)
      for (const [key, inner] of Object.entries(value)) look(inner, [...path, key]);
  };
  look(sample.placement.rules.electrical, ['rules', 'electrical']);
  look(sample.placement.package, ['package']);
  expect(places.size).toBeGreaterThan(40);
  let [judged, refused] = [0, 0];
  for (const path of places.values())
    for (const extreme of [0, 5e-324, 1e-12, 1e-6, 1e6, 1e12, 1e300, -1e300]) {
      const draft: object = structuredClone(sample.placement);
      let holder: object = draft;
      for (const step of path.slice(0, -1)) holder = Reflect.get(holder, step);
      Reflect.set(holder, path.at(-1) ?? '', extreme);
      const read = readPlacement(JSON.stringify(draft));
      if (!read.ok) {
        refused++;
        continue;
      }
      judged++;
      for (const { message } of findingsOf(read.value))
        expect(message).not.toMatch(/NaN|undefined|Infinity|[\p{Cc}\p{Cf}]/u);
    }
  console.log(`${judged} judged, ${refused} refused`);
  expect(Math.min(judged, refused)).toBeGreaterThan(50);
});
