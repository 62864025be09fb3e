/** The starter ring (fixtures/starter) with a piece exchanged, and what stands against it. */
import { readFileSync } from 'node:fs';
import { expect } from 'vitest';
import { layRing } from '../../src/index.ts';
import type { Outcome, Problem } from '../../src/problems/problem.ts';

export const RING = readFileSync('fixtures/starter/ring.yaml', 'utf8');
export const CELLS = readFileSync('fixtures/starter/cells.yaml', 'utf8');

/** A text with one piece exchanged; the piece must be there. */
export function swap(text: string, from: string | RegExp, to: string): string {
  const now = text.replace(from, () => to);
  expect(now).not.toBe(text);
  return now;
}

export const problemsOf = (outcome: Outcome<unknown>): readonly Problem[] =>
  outcome.ok ? [] : outcome.problems;

/** The problems of a ring that cannot be laid. */
export const against = (ring: string, cells = CELLS): readonly Problem[] => {
  const outcome = layRing({ 'ring.yaml': ring, 'cells.yaml': cells }, 'ring.yaml');
  return outcome.kind === 'laid' ? [] : outcome.problems;
};
