/** The figures of a ring in one style: its die and what decides it, its sides, its wafers, what binds and what it costs. */
import { coreWays } from '../fit/core.ts';
import { SIDES, type Side, sideLength } from '../geometry/side.ts';
import { micrometres, units } from '../geometry/units.ts';
import type { PlannedCell } from '../plan/plan.ts';
import { bindings, inWords, measureWithout, usualPitch } from './binding.ts';
import type { Laid } from './layouts.ts';
import { leastLength, type Measured } from './measure.ts';
import { type Further, roomFor } from './room.ts';
import { costsOf } from './sensitivity.ts';
import type { BindingText, Sized } from './sizes.ts';
import { estimatedDies, WAFERS, wholeDies } from './wafer.ts';

const um = (length: number): number => micrometres(units(length));

export function sizedOf(laid: Laid, further: Further, exclusion: number, described: boolean): Sized {
  const { fit, measured, ring } = laid;
  const { die } = fit;
  const core = coreRectangle(laid);
  const [w, h] = [um(die.width) * ring.shrink, um(die.height) * ring.shrink].map((length) => length / 1000);
  const [coreW, coreH] = [core.width, core.height].map((length) => (um(length) * ring.shrink) / 1000);
  const [width = 0, height = 0, inW = 0, inH = 0] = [w, h, coreW, coreH];
  const area = width * height;
  return {
    name: laid.name,
    described,
    mixed: SIDES.some((side) => laid.styles[side] !== laid.styles.left),
    die: { width: um(die.width), height: um(die.height) },
    limits: { width: limitOf(laid, 'width'), height: limitOf(laid, 'height') },
    sides: SIDES.map((side) => {
      const least = leastLength(measured, side);
      const room = (unit: readonly PlannedCell[] | null): number | null =>
        unit === null ? null : roomFor(measured, side, die, unit);
      return {
        side,
        style: laid.styles[side],
        pads: measured.rows[side].pads.length,
        cells: measured.plan.sides[side].length,
        least: um(least),
        slack: um(sideLength(side, die) - least),
        more: room(further.usual),
        pairs: room(further.pair?.cells ?? null),
        pitch: pitchOf(measured, side),
      };
    }),
    core: { x: um(core.x), y: um(core.y), width: um(core.width), height: um(core.height) },
    area: { die: area, core: inW * inH },
    ringShare: area > 0 ? 1 - (inW * inH) / area : 0,
    dies: WAFERS.map((diameter) => ({
      diameter,
      whole: wholeDies(diameter, exclusion, width, height),
      estimate: estimatedDies(diameter, area),
    })),
    bindings: bindingsOf(measured),
    costs: costsOf(measured, die),
    notes: laid.notes,
  };
}

function limitOf({ fit, measured }: Laid, axis: 'width' | 'height'): Sized['limits']['width'] {
  const by = fit.limits[axis];
  const [a, b]: readonly [Side, Side] = axis === 'width' ? ['bottom', 'top'] : ['left', 'right'];
  const side = leastLength(measured, a) >= leastLength(measured, b) ? a : b;
  return { by, side: by === 'pads' ? side : null };
}

/** The larger of the two rectangles that the core may take. */
function coreRectangle({ ring, fit }: Laid): { x: number; y: number; width: number; height: number } {
  const { width, height } = coreWays(ring, fit.rows);
  const [a, b] = [width, height].map((insets) => ({
    x: insets.left,
    y: insets.bottom,
    width: Math.max(0, fit.die.width - insets.left - insets.right),
    height: Math.max(0, fit.die.height - insets.bottom - insets.top),
  }));
  if (a === undefined || b === undefined) throw new RangeError('a core has two ways');
  const holds = (r: typeof a): boolean => r.width >= ring.core.width && r.height >= ring.core.height;
  if (holds(a) !== holds(b)) return holds(a) ? a : b;
  return a.width * a.height >= b.width * b.height ? a : b;
}

/** What binds most on each side, sides that agree told together. */
function bindingsOf(measured: Measured): readonly BindingText[] {
  const relaxed = new Map<string, Measured | null>();
  const texts = new Map<string, BindingText>();
  for (const side of SIDES) {
    const [most] = bindings(measured, side);
    if (most === undefined) continue;
    if (!relaxed.has(most.why)) relaxed.set(most.why, measureWithout(measured, most.why));
    const lax = relaxed.get(most.why) ?? null;
    const rule = inWords(most.why, measured.rows[side]);
    const pitch = pitchOf(measured, side);
    const [then] = lax === null ? [] : bindings(lax, side);
    const free = lax === null ? null : pitchOf(lax, side);
    const thenRule = lax === null || then === undefined ? null : inWords(then.why, lax.rows[side]);
    const key = JSON.stringify([rule, pitch, free, thenRule, lax === null]);
    const like = texts.get(key);
    const shorter = lax === null ? 0 : um(leastLength(measured, side) - leastLength(lax, side));
    texts.set(key, {
      sides: [...(like?.sides ?? []), side],
      rule,
      counts: [...(like?.counts ?? []), most.count],
      pitch,
      without:
        lax === null
          ? null
          : { pitch: free, rule: thenRule, shorter: [...(like?.without?.shorter ?? []), shorter] },
    });
  }
  return [...texts.values()];
}

function pitchOf(measured: Measured, side: Side): number | null {
  const pitch = usualPitch(measured, side);
  return pitch === null ? null : um(pitch);
}
