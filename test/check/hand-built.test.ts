/**
 * Shows: a placement worked out by hand is found sound; one grid step inside any limit is caught; the turn agrees
 * with the worked example. Sources: ring-model section 1 (the mirrored 75 x 350 cell on the right side of a die 3000
 * wide: lower-left (2600, 1000), origin (2950, 1075)) and the arithmetic spelled out in hand-built.ts.
 */
import { describe, expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import { poseOf } from '../../src/check/turn.ts';
import type { Rules } from '../../src/format/placement.ts';
import { HAND_BUILT } from './hand-built.ts';

describe('the placement worked out by hand', () => {
  it('is sound, without as much as a note', () => {
    expect(judge(HAND_BUILT)).toEqual([]);
  });

  /** Rules with one limit a grid step inside what the arithmetic gives, and the rule that must speak. */
  const inside: readonly (readonly [string, string, (r: Rules) => Rules])[] = [
    [
      'corner clearance 283',
      'corner-clearance',
      (r) => ({ ...r, corners: { ...r.corners, clearance: 283.5 } }),
    ],
    ['opening inset 4', 'opening-inset', (r) => ({ ...r, pads: { ...r.pads, openingInset: 4.5 } })],
    [
      'opening to seal ring 60 + 4 - 50',
      'opening-to-seal',
      (r) => ({ ...r, pads: { ...r.pads, openingToSeal: { least: 14.5, most: null } } }),
    ],
    [
      'at most as much',
      'opening-to-seal',
      (r) => ({ ...r, pads: { ...r.pads, openingToSeal: { least: 0, most: 13.5 } } }),
    ],
    ['core 90', 'core-fits', (r) => ({ ...r, core: { ...r.core, height: 90.5 } })],
    ['clearance of the core 5', 'core', (r) => ({ ...r, core: { ...r.core, clearance: 5.5 } })],
    ['edge 60', 'edge-allowance', (r) => ({ ...r, edge: { ...r.edge, street: 40.5 } })],
    ['gap to the cells 3', 'row-place', (r) => ({ ...r, pads: { ...r.pads, toCell: 3.5 } })],
    ['stems 12 wide', 'stem-shape', (r) => ({ ...r, stems: { ...r.stems, width: 13 } })],
  ];

  it.each(inside)('is caught one grid step beyond: %s', (_, rule, change) => {
    const findings = judge({ ...HAND_BUILT, rules: change(HAND_BUILT.rules) });
    expect(findings.map((f) => f.rule)).toContain(rule);
  });

  it.each([
    ['corner clearance 283', (r: Rules): Rules => ({ ...r, corners: { ...r.corners, clearance: 283 } })],
    ['opening inset 4', (r: Rules): Rules => ({ ...r, pads: { ...r.pads, openingInset: 4 } })],
    [
      'opening to seal ring just 14',
      (r: Rules): Rules => ({ ...r, pads: { ...r.pads, openingToSeal: { least: 14, most: 14 } } }),
    ],
  ] as const)('is sound at the very limit: %s', (_, change) => {
    expect(judge({ ...HAND_BUILT, rules: change(HAND_BUILT.rules) })).toEqual([]);
  });
});

describe('the turn', () => {
  it('puts the origin of the worked example where it belongs', () => {
    const pose = poseOf(75, 350, { role: 'signal', drawnFor: 'bottom' }, true, 90);
    expect(pose).toMatchObject({ faces: 2, reversed: true, width: 350, height: 75 });
    expect([2600 - pose.lowX, 1000 - pose.lowY]).toEqual([2950, 1075]);
  });

  it('names the side and the sense of every turn of every drawing', () => {
    // By hand: a turn by 90 takes each side to the next; a mirror exchanges left and right, and a corner's two edges.
    const sides = ['left', 'bottom', 'right', 'top'] as const;
    const mirror = { left: 'right', bottom: 'bottom', right: 'left', top: 'top' } as const;
    const mirrorCorner = { left: 'bottom', bottom: 'left', right: 'top', top: 'right' } as const;
    for (const drawnFor of sides)
      for (const mirrored of [false, true])
        for (const quarter of [0, 1, 2, 3]) {
          const side = mirrored ? mirror[drawnFor] : drawnFor;
          const after = mirrored ? mirrorCorner[drawnFor] : drawnFor;
          expect(poseOf(20, 30, { role: 'signal', drawnFor }, mirrored, 90 * quarter)).toMatchObject({
            faces: (sides.indexOf(side) + quarter) % 4,
            reversed: mirrored,
          });
          expect(poseOf(20, 30, { role: 'corner', drawnFor }, mirrored, 90 * quarter)).toMatchObject({
            faces: (sides.indexOf(after) + quarter) % 4,
            reversed: mirrored,
          });
        }
  });
});
