/**
 * The whole run, as one way through the house:
 *
 *   what the user wrote -> resolved ring -> plan -> fit -> placement -> findings
 *            readRing                       plan    fit     place       judge
 *
 * One loop: where slack goes toward the package's fingers, the wires of a first placement tell the wished places of
 * a second one.
 */
import { wireHits, wireRules } from './bond/rules.ts';
import { pullsOf, type Toward, wireSummary } from './bond/summary.ts';
import type { Judged } from './check/finding.ts';
import { judge } from './check/judge.ts';
import { ruleList } from './check/rules.ts';
import { goesTowardFingers, wishedPlan } from './fit/fingers.ts';
import { type Fit, fitSides } from './fit/fit.ts';
import { holdPins } from './fit/hold.ts';
import type { Finding, Placement } from './format/placement.ts';
import { SIDES } from './geometry/side.ts';
import { place } from './place/place.ts';
import { type Plan, plan } from './plan/plan.ts';
import { found, type Outcome, type Problem } from './problems/problem.ts';
import { type ReadFile, readRing } from './spec/read.ts';
import type { Ring } from './spec/ring.ts';

/**
 * Lays a resolved ring and judges it: a placement with its findings, or why it cannot be laid. With an older placement
 * to keep, pins stay where they were; the notes name those that move.
 */
export function lay(ring: Ring, keep?: Placement): Outcome<Placement> {
  const planned = plan(ring);
  if (!planned.ok) return planned;
  const fitted = keep === undefined ? fitSides(planned.value) : fitKeeping(planned.value, keep);
  if (!fitted.ok) return fitted;
  const notes = [...planned.notes, ...fitted.notes];
  const placement = place(fitted.value);
  if (!goesTowardFingers(ring)) return found(finished(placement, null), notes);
  const sides = SIDES.filter((side) => ring.sides[side].slack === 'toward-fingers');
  const aimed = fitSides(wishedPlan(fitted.value, pullsOf(placement)));
  // Near a corner the pads of two sides may bar each other's way to the fingers; shared slack then has to do.
  const second = aimed.ok ? place(aimed.value) : placement;
  const unproven = aimed.ok ? aimed.value.unproven : sides;
  return found(finished(second, { shared: placement, sides, unproven }), notes);
}

/** A placement with its wires' summary and its findings. */
function finished(placement: Placement, toward: Toward | null): Placement {
  const wires = wireSummary(placement, toward);
  const summary = wires === undefined ? placement.summary : { ...placement.summary, wires };
  const whole = { ...placement, summary };
  return { ...whole, findings: findingsOf(whole) };
}

/** All that stands against a placement, the program's own or one that a script has edited. */
export const findingsOf = (placement: Placement): readonly Finding[] => judge(placement, wireHits(placement));

/** All rules, which severities and waivers may name. */
export const allRules: readonly Judged['rule'][] = [...ruleList, ...wireRules];

/** Rows are kept as well; where that alone makes a ring impossible, they take turns anew. */
function fitKeeping(planned: Plan, keep: Placement): Outcome<Fit> {
  const fitHeld = (rows: boolean): Outcome<Fit> => {
    const held = holdPins(planned, keep, rows);
    if (!held.ok) return held;
    const fitted = fitSides(held.value);
    return fitted.ok ? found(fitted.value, [...held.notes, ...fitted.notes]) : fitted;
  };
  const first = fitHeld(true);
  if (first.ok) return first;
  const anew = fitHeld(false);
  return anew.ok ? anew : first;
}

/** What came of a description: unreadable, impossible to lay, or laid (soundly or with findings). */
export type Run =
  | { readonly kind: 'unreadable'; readonly problems: readonly Problem[] }
  | { readonly kind: 'impossible'; readonly problems: readonly Problem[]; readonly notes: readonly Problem[] }
  | { readonly kind: 'laid'; readonly placement: Placement; readonly notes: readonly Problem[] };

/** Reads a ring description and all that it names, and lays it; an older placement's places are kept if one is given. */
export function run(read: ReadFile, path: string, keep?: Placement): Run {
  const described = readRing(
    read,
    path,
    allRules.map((rule) => rule.name),
  );
  if (!described.ok) return { kind: 'unreadable', problems: described.problems };
  const laid = lay(described.value, keep);
  return laid.ok
    ? { kind: 'laid', placement: laid.value, notes: [...described.notes, ...laid.notes] }
    : { kind: 'impossible', problems: laid.problems, notes: described.notes };
}

/** Whether no finding of severity error stands that is not waived. */
export const isSound = (placement: Placement): boolean =>
  placement.findings.every((finding) => finding.severity !== 'error' || finding.waived !== undefined);
