/** What every command shares: its outcome as plain data, and the ways to print problems and findings. */

import type { Command } from 'commander';
import type { Finding } from '../format/placement.ts';
import { type Problem, problemText } from '../problems/problem.ts';
import { jsonText, writtenOut } from '../problems/unseen.ts';

/** 0: sound. 1: the ring breaks a rule or cannot be laid. 2: unreadable input, a wrong call or a fault. */
export type Status = 0 | 1 | 2;

export interface Result {
  readonly status: Status;
  /** For standard output and standard error, each ending with a line feed where not empty. */
  readonly out: string;
  readonly err: string;
}

/** Adds one command to the program; `run` takes over its outcome. */
export type Declare = (program: Command, run: (work: () => Promise<Result>) => Promise<void>) => void;

export const problemsText = (problems: readonly Problem[]): string =>
  problems.map((problem) => `${problemText(problem)}\n`).join('');

/** A count with its word. */
export const counted = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`;

/** Problems as a command's outcome: as text on standard error, or as JSON on standard output. */
export function refused(status: Status, problems: readonly Problem[], json: boolean): Result {
  if (json) return { status, out: `${jsonText({ status, problems })}\n`, err: '' };
  return { status, out: '', err: `${problemsText(problems)}${counted(problems.length, 'problem')}\n` };
}

/** Findings for a terminal, the gravest first as the checker lists them. */
export function findingsText(findings: readonly Finding[]): string {
  return findings
    .map((f) => {
      const place = f.x === undefined || f.y === undefined ? '' : ` at (${f.x}, ${f.y})`;
      const waived = f.waived === undefined ? '' : ` (waived: ${writtenOut(f.waived)})`;
      return `${f.severity}: ${writtenOut(f.message)}${place} [${f.rule}]${waived}\n`;
    })
    .join('');
}
