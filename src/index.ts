/**
 * The library: the same as the commands, with no file and no console.
 *
 *   import { layRing, judgeRing } from 'ringwright';
 *   const outcome = layRing({ 'ring.yaml': ringText, 'cells.yaml': cellText }, 'ring.yaml');
 *   if (outcome.kind === 'laid') console.log(outcome.placement.die, judgeRing(outcome.placement));
 */
import type { Finding, Placement } from './format/placement.ts';
import { readPlacement } from './format/read.ts';
import { failed, found, type Outcome, type Problem } from './problems/problem.ts';
import { allRules, findingsOf, isSound, type Run, run } from './run.ts';
import type { ReadFile } from './spec/read.ts';

export { placementJsonSchema } from './format/schema.ts';
export { cellFileJsonSchema } from './library/cell-file.ts';
export { ringJsonSchema } from './spec/read.ts';
export type { Finding, Outcome, Placement, Problem, ReadFile, Run };
export { allRules, isSound, readPlacement };

/**
 * Reads a ring description with all the files that it names, lays it and judges it. `files` holds their texts by
 * path, or is a function that reads one; `path` is the description's.
 */
export function layRing(files: Readonly<Record<string, string>> | ReadFile, path: string): Run {
  if (typeof files === 'function') return run(files, path);
  const texts = new Map(Object.entries(files));
  return run((wanted) => {
    const text = texts.get(wanted);
    if (text !== undefined) return found(text);
    return failed({
      code: 'no-such-file',
      message: 'there is no such file',
      mend: `known: ${[...texts.keys()].join(', ')}`,
      place: { file: wanted, line: 1, column: 1 },
    });
  }, path);
}

/** Judges a placement, the program's own or one that a script has edited; it believes no derived field. */
export const judgeRing = (placement: Placement): readonly Finding[] => findingsOf(placement);
