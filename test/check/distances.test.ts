/**
 * Shows how the wider pitches near the corners are counted, and that each least distance is exact: what is there is
 * allowed, one grid step more is not. Source: ring-model section 3; the counts follow from eight pads a row by hand.
 */
import { describe, expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import type { Placement, Rules } from '../../src/format/placement.ts';
import { samples } from './samples.ts';

const [INLINE, STAGGERED] = samples().map((s) => s.placement);
if (INLINE === undefined || STAGGERED === undefined) throw new Error('no samples');

const found = (
  placement: Placement,
  rule: string,
  change: (rules: Rules) => Rules,
): readonly (readonly string[])[] =>
  judge({ ...placement, rules: change(placement.rules) })
    .filter((f) => f.rule === rule)
    .map((f) => f.items);

const steps =
  (...pitches: Rules['corners']['pitches']) =>
  (rules: Rules): Rules => ({ ...rules, corners: { clearance: 0, pitches } });

/** The pins of one side. */
const pinsOn = (placement: Placement, side: string): ReadonlySet<string> =>
  new Set(placement.bondPads.filter((b) => b.side === side).map((b) => b.pin));

describe('wider pitches near the corners', () => {
  const wide = 5000;
  const pairsOn = (placement: Placement, side: string, change: (rules: Rules) => Rules) =>
    found(placement, 'corner-pitch', change).filter(([a = '']) => pinsOn(placement, side).has(a));

  it('hold for the first pads from either corner', () => {
    // P1 to P8 on the left: the pitch after the first pad, then after the first two, and so on from both ends.
    expect(pairsOn(INLINE, 'left', steps({ pads: 1, pitch: wide }))).toEqual([
      ['P1', 'P2'],
      ['P7', 'P8'],
    ]);
    expect(pairsOn(INLINE, 'left', steps({ pads: 2, pitch: wide }))).toEqual([
      ['P1', 'P2'],
      ['P2', 'P3'],
      ['P6', 'P7'],
      ['P7', 'P8'],
    ]);
    expect(pairsOn(INLINE, 'left', steps({ pads: 4, pitch: wide }))).toHaveLength(7);
    expect(pairsOn(INLINE, 'left', steps({ pads: 0, pitch: wide }))).toEqual([]);
  });

  it('are counted in each row by itself', () => {
    // Outer P1, P3, P5, P7 and inner P2, P4, P6, P8.
    expect(pairsOn(STAGGERED, 'left', steps({ pads: 1, pitch: wide }))).toEqual([
      ['P1', 'P3'],
      ['P5', 'P7'],
      ['P2', 'P4'],
      ['P6', 'P8'],
    ]);
  });

  it('take the widest of the steps that a pad belongs to', () => {
    const between = Math.abs(
      (INLINE.bondPads.find((b) => b.pin === 'P1')?.y ?? 0) -
        (INLINE.bondPads.find((b) => b.pin === 'P2')?.y ?? 0),
    );
    const at = (first: number, second: number) =>
      pairsOn(INLINE, 'left', steps({ pads: 1, pitch: first }, { pads: 1, pitch: second })).map(([a]) => a);
    expect(at(between, 1)).not.toContain('P1');
    expect(at(1, between)).not.toContain('P1');
    expect(at(between + 0.5, 1)).toContain('P1');
    expect(at(1, between + 0.5)).toContain('P1');
  });
});

describe('least distances', () => {
  /** The greatest value of a limit, in grid steps, at which a rule is silent. */
  function greatest(placement: Placement, rule: string, set: (rules: Rules, value: number) => Rules): number {
    let [low, high] = [0, 8000];
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if (found(placement, rule, (rules) => set(rules, middle * 0.5)).length === 0) low = middle;
      else high = middle - 1;
    }
    return low * 0.5;
  }

  /** Neighbours of a row by their places in the file. */
  function leastPitch(placement: Placement): number {
    let least = Number.POSITIVE_INFINITY;
    for (const side of ['left', 'bottom', 'right', 'top'])
      for (const row of ['single', 'outer', 'inner']) {
        const along = placement.bondPads
          .filter((b) => b.side === side && b.row === row)
          .map((b) => (side === 'left' || side === 'right' ? b.y : b.x))
          .sort((a, b) => a - b);
        along.slice(1).forEach((s, i) => {
          least = Math.min(least, s - (along[i] ?? 0));
        });
      }
    return least;
  }

  it('allow the pitch that is there and no more', () => {
    for (const placement of [INLINE, STAGGERED])
      expect(greatest(placement, 'pad-pitch', (r, pitch) => ({ ...r, pads: { ...r.pads, pitch } }))).toBe(
        leastPitch(placement),
      );
  });

  it('allow the spacing of metal that is there and no more', () => {
    // Inline pads of one width: the pitch less that width.
    expect(greatest(INLINE, 'pad-spacing', (r, spacing) => ({ ...r, pads: { ...r.pads, spacing } }))).toBe(
      leastPitch(INLINE) - 60,
    );
    expect(
      greatest(INLINE, 'opening-spacing', (r, openingSpacing) => ({
        ...r,
        pads: { ...r.pads, openingSpacing },
      })),
    ).toBe(leastPitch(INLINE) - 52);
  });
});
