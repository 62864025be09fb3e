/**
 * Shows: no false alarm. Placements that the engine lays, on random libraries, orders, styles and dies, pass; so do
 * their sound edits, alone and one after the other. A cell moved by a filler may come too near its neighbour's pad:
 * then it is the rules on distances that speak, and a polygon library or the pitch says so too. Source: issue 3,
 * item 1.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import type { Finding, Placement } from '../../src/format/placement.ts';
import { readPlacement } from '../../src/format/read.ts';
import { EDITS } from './edits.ts';
import { type Draft, diceFrom } from './operators/operator.ts';
import { samples } from './samples.ts';
import { secondOpinion } from './second-opinion.ts';

const errors = (placement: Placement): readonly Finding[] =>
  judge(placement).filter((f) => f.severity === 'error');

/** What a cell that moved along its side may break without anything else being wrong. */
const DISTANCES = new Set([
  'pad-pitch',
  'corner-pitch',
  'pad-spacing',
  'opening-spacing',
  'stem-spacing',
  'corner-clearance',
  'pad-on-cell',
  'pins-apart',
]);

const RUNS = process.env.PROOF === undefined ? 400 : 6_000;

it(`finds ${RUNS} chains of sound edits sound`, () => {
  const all = samples().map((s) => s.placement);
  const applied = new Map(EDITS.map((e) => [e.name, 0]));
  let tooNear = 0;
  fc.assert(
    fc.property(
      fc.constantFrom(...all),
      fc.array(fc.tuple(fc.constantFrom(...EDITS), fc.nat()), { minLength: 1, maxLength: 4 }),
      (placement, edits) => {
        const draft = structuredClone(placement) as Draft;
        let shuffled = false;
        for (const [edit, seed] of edits) {
          // What follows finds neighbours by their place in the list, so the lists are shuffled last.
          if (edit.name.startsWith('every list')) shuffled = true;
          else if (edit.apply(draft, diceFrom(seed)))
            applied.set(edit.name, (applied.get(edit.name) ?? 0) + 1);
        }
        const last = EDITS[0];
        if (shuffled && last?.apply(draft, diceFrom(edits.length)) === true)
          applied.set(last.name, (applied.get(last.name) ?? 0) + 1);
        const read = readPlacement(JSON.stringify(draft));
        if (!read.ok) throw new Error(read.problems.map((p) => p.message).join('\n'));
        const found = errors(read.value);
        if (found.length === 0) return;
        expect(found.filter((f) => !DISTANCES.has(f.rule))).toEqual([]);
        const byPolygons = secondOpinion(read.value);
        for (const f of found)
          if (['pad-spacing', 'opening-spacing', 'stem-spacing', 'pad-on-cell'].includes(f.rule))
            expect(byPolygons.has(f.rule)).toBe(true);
        tooNear++;
      },
    ),
    { numRuns: RUNS },
  );
  console.log([...applied].map(([name, n]) => `${n} times ${name}`).join('; '), `; ${tooNear} came too near`);
  for (const [name, n] of applied) expect(n, name).toBeGreaterThan(0);
  expect(tooNear).toBeLessThan(RUNS / 2);
});

it('takes no offence at a filler replaced, even where the counts were forgotten', () => {
  const edit = EDITS.find((e) => e.name.endsWith('the counts forgotten'));
  for (const { placement } of samples()) {
    const draft = structuredClone(placement) as Draft;
    expect(edit?.apply(draft, diceFrom(3))).toBe(true);
    const findings = judge(draft as Placement).filter((f) => f.severity !== 'note');
    expect(new Set(findings.map((f) => `${f.rule} ${f.severity}`))).toEqual(
      new Set(['counts warning', 'summary warning']),
    );
  }
});
