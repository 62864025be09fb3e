/**
 * Shows that slack goes toward the fingers through the whole run: wires come out straight where there is room, as
 * straight as the rules allow where there is not, and never less straight than with shared slack. No source but the
 * definition: the sum of squares of how far wires run aside.
 */
import { describe, expect, it } from 'vitest';
import { wireRules } from '../../src/bond/rules.ts';
import { stringWires } from '../../src/bond/string.ts';
import type { Placement } from '../../src/format/placement.ts';
import { SIDES, type Side } from '../../src/geometry/side.ts';
import type { Slack } from '../../src/spec/ring.ts';
import { um } from '../helpers/ring.ts';
import { bondedRing, each, laid, lead, packageOf, pins } from './sample.ts';

type Options = Parameters<typeof bondedRing>[3];

function placed(
  slack: Slack,
  count: number,
  pitch: number,
  more: Options = {},
  style: 'inline' | 'staggered' = 'inline',
) {
  const of = bondedRing(packageOf(lead(count, pitch, 4000)), pins(each(count)), style, {
    die: { width: um(4000), height: um(4000) },
    ...more,
  });
  const side = (name: Side) => ({ ...of.sides[name], slack });
  return laid({
    ...of,
    sides: { left: side('left'), bottom: side('bottom'), right: side('right'), top: side('top') },
  });
}

const aside = (placement: Placement): number =>
  stringWires(placement).reduce((sum, { along }) => sum + along * along, 0);

/** What the checker says of the places; these rings of signals alone have no supplies, and wires have rules of their own. */
const OTHERS = new Set(['clamp-missing', 'arc-unfed', ...wireRules.map((rule) => rule.name)]);
const sound = (placement: Placement): readonly string[] =>
  placement.findings.filter((f) => !OTHERS.has(f.rule)).map((f) => `${f.rule}: ${f.message}`);

describe('slack toward the fingers', () => {
  it('makes every wire straight where there is room', () => {
    const placement = placed('toward-fingers', 12, 200);
    expect(sound(placement)).toEqual([]);
    for (const wire of stringWires(placement)) expect(Math.abs(wire.along)).toBeLessThanOrEqual(0.25);
    const { wires } = placement.summary;
    expect(wires?.angle).toBeLessThan(0.01);
    expect(wires?.towardFingers.map((t) => t.side)).toEqual([...SIDES]);
    for (const t of wires?.towardFingers ?? []) {
      expect(t.proven).toBe(true);
      expect(t.placed).toBeLessThan(t.shared);
    }
  });

  it.each([
    ['a fan wider than the die', 24, 300, {}, 'inline'],
    ['fingers nearer to each other than the pads may be', 30, 50, {}, 'inline'],
    ['two rows', 40, 130, {}, 'staggered'],
    ['wider pitches near the corners', 24, 300, { corners: [[3, 100]] }, 'inline'],
  ] as const)('is soundly placed and never worse than shared: %s', (_, count, pitch, more, style) => {
    const options = (slack: Slack) => {
      if (!('corners' in more)) return placed(slack, count, pitch, {}, style);
      const base = bondedRing(packageOf(lead(1, 100, 4000)), pins(each(1)));
      const pitches = more.corners.map(([pads, wide]) => ({ pads, pitch: um(wide) }));
      return placed(slack, count, pitch, { corners: { ...base.corners, pitches } }, style);
    };
    const [toward, shared] = [options('toward-fingers'), options('shared')];
    expect(sound(toward)).toEqual([]);
    expect(sound(shared)).toEqual([]);
    expect(aside(toward)).toBeLessThan(aside(shared));
    const squares = (of: (t: { readonly shared: number; readonly placed: number }) => number): number =>
      (toward.summary.wires?.towardFingers ?? []).reduce((sum, t) => sum + of(t) ** 2 * count, 0);
    // The summary's figures, to the nanometre, are these sums.
    expect(squares((t) => t.placed) / aside(toward)).toBeCloseTo(1, 4);
    expect(squares((t) => t.shared) / aside(shared)).toBeCloseTo(1, 4);
  });

  it('keeps a cell that is fixed at a place', () => {
    const entries = pins(each(8));
    const bottom = entries.bottom.map((e, i) => (i === 3 ? { ...e, at: um(1500) } : e));
    const of = bondedRing(packageOf(lead(8, 250, 4000)), { ...entries, bottom }, 'inline', {
      die: { width: um(4000), height: um(4000) },
    });
    const side = (name: Side) => ({ ...of.sides[name], slack: 'toward-fingers' as const });
    const placement = laid({
      ...of,
      sides: { left: side('left'), bottom: side('bottom'), right: side('right'), top: side('top') },
    });
    expect(placement.cells.find((cell) => cell.name === 'P12')?.x).toBe(1500);
    expect(sound(placement)).toEqual([]);
  });
});
