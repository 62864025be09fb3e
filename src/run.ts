/**
 * The whole run, as one way through the house:
 *
 *   what the user wrote -> resolved ring -> plan -> fit -> placement -> findings
 *            readRing                       plan    fit     place       judge
 */
import { judge } from './check/judge.ts';
import { ruleList } from './check/rules.ts';
import { fitSides } from './fit/fit.ts';
import type { Placement } from './format/placement.ts';
import { place } from './place/place.ts';
import { plan } from './plan/plan.ts';
import { found, type Outcome, type Problem } from './problems/problem.ts';
import { type ReadFile, readRing } from './spec/read.ts';
import type { Ring } from './spec/ring.ts';

/** Lays a resolved ring and judges it: a placement with its findings, or why it cannot be laid. */
export function lay(ring: Ring): Outcome<Placement> {
  const planned = plan(ring);
  if (!planned.ok) return planned;
  const fitted = fitSides(planned.value);
  if (!fitted.ok) return fitted;
  const placement = place(fitted.value);
  return found({ ...placement, findings: judge(placement) });
}

/** What came of a description: unreadable, impossible to lay, or laid (soundly or with findings). */
export type Run =
  | { readonly kind: 'unreadable'; readonly problems: readonly Problem[] }
  | { readonly kind: 'impossible'; readonly problems: readonly Problem[]; readonly notes: readonly Problem[] }
  | { readonly kind: 'laid'; readonly placement: Placement; readonly notes: readonly Problem[] };

/** Reads a ring description and all that it names, and lays it. */
export function run(read: ReadFile, path: string): Run {
  const described = readRing(
    read,
    path,
    ruleList.map((rule) => rule.name),
  );
  if (!described.ok) return { kind: 'unreadable', problems: described.problems };
  const laid = lay(described.value);
  return laid.ok
    ? { kind: 'laid', placement: laid.value, notes: [...described.notes, ...laid.notes] }
    : { kind: 'impossible', problems: laid.problems, notes: described.notes };
}

/** Whether no finding of severity error stands that is not waived. */
export const isSound = (placement: Placement): boolean =>
  placement.findings.every((finding) => finding.severity !== 'error' || finding.waived !== undefined);
