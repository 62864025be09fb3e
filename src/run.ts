/**
 * The whole run:
 *
 *   resolved ring -> plan -> fit -> placement -> findings
 */
import { judge } from './check/judge.ts';
import { fitSides } from './fit/fit.ts';
import type { Placement } from './format/placement.ts';
import { place } from './place/place.ts';
import { plan } from './plan/plan.ts';
import { found, type Outcome } from './problems/problem.ts';
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
