/**
 * The whole run:
 *
 *   resolved ring -> plan -> fit -> placement
 */
import { fitSides } from './fit/fit.ts';
import type { Placement } from './format/placement.ts';
import { place } from './place/place.ts';
import { plan } from './plan/plan.ts';
import { found, type Outcome } from './problems/problem.ts';
import type { Ring } from './spec/ring.ts';

/** Lays a resolved ring; its findings follow when the checker has landed. */
export function lay(ring: Ring): Outcome<Placement> {
  const planned = plan(ring);
  if (!planned.ok) return planned;
  const fitted = fitSides(planned.value);
  return fitted.ok ? found(place(fitted.value)) : fitted;
}
