/**
 * The rules for wires: each a small function from the strung wires of a placement to what it complains of. The
 * limits are the package's; where one is not given, its rule says nothing.
 */
import type { Placement } from '../format/placement.ts';
import { framesOf } from './frame.ts';
import { END_RULES } from './rules/ends.ts';
import { PAIR_RULES } from './rules/pairs.ts';
import type { Bonded, WireHit, WireRule } from './rules/say.ts';
import { SINGLE_RULES } from './rules/single.ts';
import { strung } from './wires.ts';

export type { WireHit, WireRule } from './rules/say.ts';

const RULES = [...PAIR_RULES, ...SINGLE_RULES, ...END_RULES];

/** The rules for wires, by which severities and waivers name them. */
export const wireRules: readonly WireRule[] = RULES.map(({ look: _, ...rule }) => rule);

/** What the rules complain of in a placement, rule by rule; every rule is listed, with nothing where there is no package. */
export function wireHits(
  placement: Placement,
): readonly { readonly rule: WireRule; readonly hits: readonly WireHit[] }[] {
  const bonded = placement.package;
  if (bonded === undefined) return wireRules.map((rule) => ({ rule, hits: [] }));
  const of: Bonded = { ...strung(placement), placement, bonded, frames: framesOf(placement, bonded) };
  return RULES.map(({ look, ...rule }) => ({ rule, hits: look(of) }));
}
