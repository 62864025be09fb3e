/**
 * How small the die can be in each style that the library and the rules allow: planned and fitted, never placed. Where
 * pins are not bound to sides each style has a cut of its own.
 */
import type { Die } from '../fit/die.ts';
import { micrometres, type Units } from '../geometry/units.ts';
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import type { Ring } from '../spec/ring.ts';
import { against, bySide, CHOICES, entriesOf, forSizing, hasPad, nameOf } from './alternatives.ts';
import { givenOf } from './given.ts';
import { asDescribed, isDescribed, type Laid, layIn, mixesOf } from './layouts.ts';
import { furtherOf } from './room.ts';
import { sizedOf } from './sized.ts';
import type { Sizes } from './sizes.ts';
import { EXCLUSION, WAFERS } from './wafer.ts';

export interface SizeOptions {
  /** A die to fill, in place of the description's. */
  readonly die?: Die;
  /** What is not used at a wafer's edge, in millimetres. */
  readonly exclusion?: number;
  /** The width of stems, for styles that need some where the description has none. */
  readonly stem?: Units;
}

/** Sizes a ring in every style. A ring that no style can build, or that no die holds, is a problem. */
export function sizeRing(described: Ring, options: SizeOptions = {}): Outcome<Sizes> {
  const ring = forSizing(described, options.stem);
  const exclusion = options.exclusion ?? EXCLUSION;
  const refused: { name: string; reasons: string[] }[] = [];
  const laid: Laid[] = [];
  const problems: StyleProblem[] = [];
  for (const choice of CHOICES) {
    const reasons = against(ring, choice);
    const styles = bySide(() => choice.style);
    const outcome = reasons.length > 0 ? null : layIn(ring, nameOf(choice), styles, choice);
    if (outcome === null) refused.push({ name: nameOf(choice), reasons: [...reasons] });
    else if (outcome.ok) laid.push(outcome.value);
    else {
      refused.push({ name: nameOf(choice), reasons: outcome.problems.map((p) => p.message) });
      problems.push(...outcome.problems.map((problem) => ({ problem, style: nameOf(choice) })));
    }
  }
  const own = asDescribed(ring, laid);
  if (own !== null && !own.ok) problems.push(...own.problems.map((problem) => ({ problem, style: null })));
  const all = [...(own?.ok === true ? [own.value] : []), ...laid];
  if (all.length === 0)
    return failed(...(problems.length > 0 ? byStyles(problems) : [noStyle(ring, refused)]));
  const mixes = ring.order === undefined ? mixesOf(ring, laid) : [];
  const further = furtherOf(ring);
  const everyStyle = [...all, ...mixes];
  const die = options.die ?? described.die;
  return found({
    ring: ring.name,
    pads: entriesOf(ring).reduce((sum, entry) => sum + (hasPad(entry) ? entry.pins.length : 0), 0),
    sides: ring.order === undefined ? 'bound' : 'cut',
    core: { width: micrometres(ring.core.width), height: micrometres(ring.core.height) },
    shrink: ring.shrink,
    wafers: { diameters: [...WAFERS], exclusion },
    usual: further.usual?.[0]?.footprint.name ?? null,
    pair: further.pair?.nets ?? null,
    styles: everyStyle.map((one) => sizedOf(one, further, exclusion, isDescribed(ring, one))),
    refused,
    given: die === null ? null : givenOf(ring, die, everyStyle, further),
    suppliesToCome: described.electrical?.supplies.set === true,
  });
}

/** What stands against a style; no style is the ring as it is described. */
interface StyleProblem {
  readonly problem: Problem;
  readonly style: string | null;
}

/** Each problem once, with the styles that it stands against, unless it stands against all that have any. */
function byStyles(list: readonly StyleProblem[]): readonly Problem[] {
  const all = new Set(list.map(({ style }) => style));
  const told = new Map<string, { readonly problem: Problem; readonly styles: Set<string | null> }>();
  for (const { problem, style } of list) {
    const key = JSON.stringify([problem.message, problem.mend, problem.place]);
    const known = told.get(key) ?? { problem, styles: new Set() };
    told.set(key, { ...known, styles: known.styles.add(style) });
  }
  return [...told.values()].map(({ problem, styles }) => {
    const names = [...styles].flatMap((style) => style ?? []);
    const everywhere = all.size > 1 && styles.size === all.size;
    return everywhere || names.length === 0
      ? problem
      : { ...problem, message: `${names.join('; ')}: ${problem.message}` };
  });
}

const noStyle = (ring: Ring, refused: readonly { name: string; reasons: readonly string[] }[]): Problem => ({
  code: 'no-style',
  message: 'the ring can be built in no style',
  mend: refused.map(({ name, reasons }) => `${name}: ${reasons.join('; ')}`).join('. '),
  place: ring.place,
});
