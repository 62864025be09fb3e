/** Rings laid from text for the electrical tests: the invented library of the demonstrations, and its demonstrations. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Assessment } from '../../src/electrical/assess.ts';
import type { ElectricalRules, Placement } from '../../src/format/placement.ts';
import { found, type Problem, problemText } from '../../src/problems/problem.ts';
import { assessed, type Run, run } from '../../src/run.ts';

/** What a description and its changes, file by file, come to; the files are the repository's own. */
export function runOf(path: string, changes: Readonly<Record<string, (text: string) => string>> = {}): Run {
  return run((wanted) => {
    const text = readFileSync(resolve(wanted), 'utf8');
    const change = Object.entries(changes).find(([name]) => wanted.endsWith(name))?.[1];
    return found(change === undefined ? text : change(text));
  }, path);
}

export function laidOf(
  path: string,
  changes?: Readonly<Record<string, (text: string) => string>>,
): Placement {
  const outcome = runOf(path, changes);
  if (outcome.kind === 'laid') return outcome.placement;
  throw new Error(outcome.problems.map(problemText).join('\n'));
}

export const assessmentOf = (placement: Placement): Assessment => {
  const assessment = assessed(placement);
  if (assessment === undefined) throw new Error('nothing electrical is asked for');
  return assessment;
};

/** A text with a block of `electrical` in place of its own. */
export const withBlock =
  (block: string) =>
  (text: string): string => {
    const lines = text.split('\n');
    const from = lines.findIndex((line) => /^electrical:/.test(line));
    if (from >= 0) {
      const length = lines.slice(from + 1).findIndex((line) => /^\S/.test(line));
      lines.splice(from, length < 0 ? lines.length : length + 1);
    }
    return `${lines.join('\n')}\n${block}`;
  };

export const errorsOf = (placement: Placement): readonly string[] =>
  placement.findings.filter((f) => f.severity === 'error').map((f) => f.rule);

export const codesOf = (problems: readonly Problem[]): readonly string[] =>
  problems.map((problem) => problem.code);

/** Demands that ask for nothing yet, on one layer of 0.05 ohm a square. */
export const RULES: ElectricalRules = {
  celsius: null,
  layers: [{ name: 'M5', sheetResistance: 0.05, limits: [] }],
  wires: null,
  core: {},
  outputs: [],
  together: [],
  noise: {},
  drop: {},
  discharge: { level: 2000, rail: 6, path: null },
  decoupling: null,
  supplies: 'given',
  coreStrips: null,
};
