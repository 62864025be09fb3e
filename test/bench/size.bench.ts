/**
 * Sizing: how the time of all styles grows with the pins, bound to sides and free of them, and 500 free pins over the
 * second that they may take; then npm `highs` over the program on the same random cases, question by question.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { found } from '../../src/problems/problem.ts';
import { sizeRing } from '../../src/size/size.ts';
import { readRing } from '../../src/spec/read.ts';
import type { Ring } from '../../src/spec/ring.ts';
import { entry, library, ring } from '../helpers/ring.ts';
import {
  cutProof,
  fillersProof,
  leastDieProof,
  leastSideProof,
  slackProof,
  type Tally,
} from '../size/proofs.ts';
import { freeRingText } from './free-ring.ts';
import { ratioOf, report } from './measure.ts';

function free(pins: number): Ring {
  const cells = resolve('fixtures/cells/harbour.cells.yaml');
  const text = freeRingText(pins, cells);
  const read = readRing(
    (path) => found(path === 'ring.yaml' ? text : readFileSync(path, 'utf8')),
    'ring.yaml',
    [],
  );
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
}

function bound(pins: number): Ring {
  const [io] = library();
  if (io === undefined) throw new Error('an empty library');
  const of = (side: string) => Array.from({ length: pins / 4 }, (_, i) => entry(io, `${side}${i}`));
  return ring(library(), 'inline', { left: of('l'), bottom: of('b'), right: of('r'), top: of('t') });
}

const size = (of: Ring): void => {
  const sized = sizeRing(of);
  if (!sized.ok || sized.value.styles.length < 4) throw new Error('not every style is sized');
};

for (const [what, make] of [
  ['pins bound to sides', bound],
  ['free pins', free],
] as const) {
  const [few, more, many] = [make(100), make(200), make(500)];
  for (const [pins, large] of [
    [200, more],
    [500, many],
  ] as const)
    report(
      ratioOf(
        `sizes in every style, ${what}: ${pins} / 100 pins`,
        () => size(large),
        () => size(few),
        5,
      ),
    );
}

const many = free(500);
const times: number[] = [];
for (let k = 0; k < 9; k++) {
  const begun = performance.now();
  size(many);
  times.push(performance.now() - begun);
}
const [first = Number.NaN] = times;
times.sort((a, b) => a - b);
const of = (share: number): number => (times[Math.floor(times.length * share)] ?? Number.NaN) / 1000;
report({
  what: 'sizes in every style, 500 free pins, warm / 1 s',
  ratio: of(0.5),
  spread: [of(0.25), of(0.75)],
  firstMs: first,
});

const CASES = 60;
const questions: readonly (readonly [string, () => Tally])[] = [
  ['least side of up to 60 pads', () => leastSideProof(CASES, 60)],
  ['least die of up to 60 pads', () => leastDieProof(CASES, 60)],
  ['cut of up to 25 pads into sides', () => cutProof(CASES, 25)],
  ['fewest fillers of a gap', () => fillersProof(CASES, 400)],
  ['shared slack of up to 24 cells', () => slackProof(CASES, 24)],
];
for (const [what, ask] of questions) {
  const { cases, differ, greedyWorse, ours, theirs } = ask();
  if (differ.length > 0) throw new Error(`${what}: other answers on seeds ${differ.join(', ')}`);
  report({
    what: `npm highs / ours, ${what}`,
    ratio: theirs / ours,
    cases,
    greedyWorse,
    oursMs: ours,
    highsMs: theirs,
  });
}
