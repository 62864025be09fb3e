/**
 * Shows: on what concerns two shapes (overlap, gaps, spacing of metal, openings and stems, pads over cells, the edge
 * allowance) the checker's verdict is that of a general polygon library, on good rings and on broken ones. Source:
 * npm clipper2-ts, growth with square corners.
 */
import { expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import type { Placement } from '../../src/format/placement.ts';
import { HAND_BUILT } from './hand-built.ts';
import { along, type Draft, diceFrom, inward } from './operators/operator.ts';
import { samples } from './samples.ts';
import { secondOpinion } from './second-opinion.ts';

const COVERED = [
  'cell-overlap',
  'abutment',
  'pad-spacing',
  'opening-spacing',
  'stem-spacing',
  'pad-on-cell',
  'edge',
] as const;

/** The checker's verdict in the same terms; what lies outside the die lies outside the allowance too. */
function firstOpinion(placement: Placement): ReadonlySet<string> {
  const rules = new Set(judge(placement).map((f) => f.rule));
  if (rules.has('outside-die') || rules.has('edge-allowance')) rules.add('edge');
  return rules;
}

/**
 * Moves a few shapes by a few grid steps, cells along their side only, so that a gap is one to both; widens some; and
 * sets the least distances anew, so that many lie near what is there.
 */
function nudged(placement: Placement, seed: number): Draft {
  const draft = structuredClone(placement) as Draft;
  const dice = diceFrom(seed);
  const step = (): number => (dice.below(61) - 30) * 0.5;
  if (dice.below(3) === 0) draft.rules.pads.spacing = dice.below(80) * 0.5;
  if (dice.below(3) === 0) draft.rules.pads.openingSpacing = dice.below(80) * 0.5;
  if (dice.below(3) === 0) draft.rules.stems.spacing = dice.below(80) * 0.5;
  for (let k = dice.below(4); k > 0; k--) {
    const way = dice.below(5);
    const pad = dice.of(draft.bondPads);
    const stem = dice.of(draft.stems);
    if (way === 0) {
      const cell = dice.of(draft.cells.filter((c) => c.side !== null));
      if (cell?.side != null) along(cell.side, cell, step());
    } else if (way === 1 && pad !== undefined) (dice.below(3) === 0 ? inward : along)(pad.side, pad, step());
    else if (way === 2 && stem !== undefined) {
      const side = draft.bondPads.find((b) => b.number === stem.bondPad)?.side ?? 'left';
      along(side, stem, step());
    } else if (way === 3 && pad !== undefined) pad.width = Math.max(4, pad.width + 2 * step());
    else if (way === 4 && stem !== undefined) stem.width = Math.max(1, stem.width + 2 * step());
  }
  return draft;
}

const RUNS = process.env.PROOF === undefined ? 300 : 6_000;

it(`agrees with the polygon library on ${RUNS} placements`, () => {
  const all = samples().map((s) => s.placement);
  const counts = new Map<string, number>(COVERED.map((rule) => [rule, 0]));
  let sound = 0;
  for (let run = 0; run < RUNS; run++) {
    const placement = nudged(all[run % all.length] ?? HAND_BUILT, 7919 * run) as Placement;
    const [first, second] = [firstOpinion(placement), secondOpinion(placement)];
    for (const rule of COVERED) {
      expect(first.has(rule), `run ${run}: ${rule}`).toBe(second.has(rule));
      if (second.has(rule)) counts.set(rule, (counts.get(rule) ?? 0) + 1);
    }
    if (second.size === 0) sound++;
  }
  console.log(
    `same verdict on ${RUNS}: ${sound} sound, ${[...counts].map(([rule, n]) => `${n} ${rule}`).join(', ')}`,
  );
  expect(sound).toBeGreaterThan(RUNS / 20);
  for (const [rule, n] of counts) expect(n, rule).toBeGreaterThan(0);
});
