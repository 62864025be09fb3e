/** A ring laid out in a style on its least die, and the mixes of styles that are worth a look. */
import { cutOrder } from '../fit/cut/cut.ts';
import { lessDie } from '../fit/die.ts';
import { type Fit, fitSides } from '../fit/fit.ts';
import { SIDES, type Side } from '../geometry/side.ts';
import { plan } from '../plan/plan.ts';
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import type { Ring, Style } from '../spec/ring.ts';
import { bySide, type Choice, inStyles, nameOf } from './alternatives.ts';
import { leastLength, type Measured, measureWith } from './measure.ts';

/** A style with the ring laid out in it, on its least die. */
export interface Laid {
  readonly name: string;
  readonly styles: Readonly<Record<Side, Style>>;
  readonly choice: Choice;
  readonly ring: Ring;
  readonly fit: Fit;
  readonly measured: Measured;
  readonly notes: readonly Problem[];
}

/** A ring in some styles on its least die, cut into sides where its pins are not bound to them. */
export function layIn(
  ring: Ring,
  name: string,
  styles: Readonly<Record<Side, Style>>,
  choice: Choice,
): Outcome<Laid> {
  const styled = inStyles(ring, styles, choice.overCircuit);
  const cut = styled.order === undefined ? layBound(styled) : cutOrder(styled, styled.order);
  if (!cut.ok) return cut;
  const { fit } = cut.value;
  const measured = measureWith(fit.plan, fit.rows);
  if (measured === null)
    return failed({ code: 'no-cut', message: 'a side cannot be packed', place: ring.place });
  return found({ name, styles, choice, ring: cut.value.ring, fit, measured, notes: cut.notes });
}

export function layBound(ring: Ring): Outcome<{ readonly ring: Ring; readonly fit: Fit }> {
  const planned = plan(ring);
  if (!planned.ok) return planned;
  const fit = fitSides(planned.value);
  return fit.ok ? found({ ring, fit: fit.value }, fit.notes) : fit;
}

const sameStyles = (a: Readonly<Record<Side, Style>>, b: Readonly<Record<Side, Style>>): boolean =>
  SIDES.every((side) => a[side] === b[side]);

const describedStyles = (ring: Ring): Record<Side, Style> => bySide((side) => ring.sides[side].style);

export const isDescribed = (ring: Ring, one: Laid): boolean =>
  sameStyles(describedStyles(ring), one.styles) &&
  (SIDES.every((side) => one.styles[side] !== 'over-circuit') ||
    one.choice.overCircuit === ring.rows.overCircuit);

/** The ring as it is described, where its sides differ in style; null where one of the styles is just that. */
export function asDescribed(ring: Ring, laid: readonly Laid[]): Outcome<Laid> | null {
  const styles = describedStyles(ring);
  const [first] = SIDES.map((side) => styles[side]);
  if (SIDES.every((side) => styles[side] === first)) return null;
  if (laid.some((one) => isDescribed(ring, one))) return null;
  return layIn(ring, mixName(styles, ring.rows.overCircuit), styles, {
    style: styles.left,
    overCircuit: ring.rows.overCircuit,
  });
}

/** The commonest style and those of the sides that differ from it. */
function mixName(styles: Readonly<Record<Side, Style>>, overCircuit: 1 | 2): string {
  const name = (style: Style): string => nameOf({ style, overCircuit });
  const count = (style: Style): number => SIDES.filter((side) => styles[side] === style).length;
  const base = SIDES.map((side) => styles[side]).reduce((a, b) => (count(b) > count(a) ? b : a));
  const others = SIDES.filter((side) => styles[side] !== base).map((side) => `${side} ${name(styles[side])}`);
  return `${name(base)}, ${others.join(', ')}`;
}

/**
 * Mixes by side: where a single side decides an axis, the same ring with that side in another style, if that makes the
 * die less; only with styles that are denser all around. Of one style's mixes with another the least is kept, with the fewest sides changed.
 */
export function mixesOf(ring: Ring, laid: readonly Laid[]): readonly Laid[] {
  const mixes: Laid[] = [];
  for (const base of laid) {
    const tight = tightSides(base);
    const subsets = tight.length === 2 ? [[tight[0]], [tight[1]], tight] : [tight];
    if (tight.length === 0) continue;
    for (const other of laid) {
      // Both over circuit would need two numbers of rows in one ring.
      if (other.choice.style === base.choice.style || !lessDie(other.fit.die, base.fit.die)) continue;
      const overCircuit =
        base.choice.style === 'over-circuit' ? base.choice.overCircuit : other.choice.overCircuit;
      let best: Laid | null = null;
      for (const sides of subsets) {
        const styles = bySide((side) => (sides.includes(side) ? other.choice.style : base.choice.style));
        const mix = layIn(ring, mixName(styles, overCircuit), styles, { ...base.choice, overCircuit });
        if (mix.ok && lessDie(mix.value.fit.die, (best ?? base).fit.die)) best = mix.value;
      }
      if (best !== null) mixes.push(best);
    }
  }
  return mixes;
}

/** Sides that alone decide an axis: longer than the side across, and than the core asks. */
function tightSides({ fit, measured }: Laid): readonly Side[] {
  const lone = (a: Side, b: Side): readonly Side[] => {
    const [x, y] = [leastLength(measured, a), leastLength(measured, b)];
    return x === y ? [] : [x > y ? a : b];
  };
  return [
    ...(fit.limits.width === 'pads' ? lone('bottom', 'top') : []),
    ...(fit.limits.height === 'pads' ? lone('left', 'right') : []),
  ];
}
