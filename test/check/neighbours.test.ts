/**
 * Shows what the neighbour rules ask for, case by case, on the inline sample: its order of pins is written out in
 * samples.ts, and the counts below are counted off there by hand. Source: issue 3, item 2; common practice, no source.
 */
import { describe, expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import type { Placement, Rules } from '../../src/format/placement.ts';
import { samples } from './samples.ts';

const INLINE = samples()[0]?.placement;
if (INLINE === undefined) throw new Error('no sample');

type Neighbour = Rules['neighbours'][number];

const withRule = (...neighbours: readonly Neighbour[]): Placement => ({
  ...INLINE,
  rules: { ...INLINE.rules, neighbours },
});

/** The items of what a neighbour rule finds. */
const found = (rule: string, ...neighbours: readonly Neighbour[]): readonly (readonly string[])[] =>
  judge(withRule(...neighbours))
    .filter((f) => f.rule === rule)
    .map((f) => f.items);

describe('pins that stand together', () => {
  const together = (...pins: readonly string[]) => found('pins-together', { kind: 'together', pins });

  it('may stand in any order', () => {
    expect(together('P2', 'P3')).toEqual([]);
    expect(together('P3', 'P1', 'P2')).toEqual([]);
    expect(together('P5')).toEqual([]);
  });

  it('must have no other between', () => {
    expect(together('P1', 'P3')).toEqual([['P1', 'P3']]);
    expect(together('P4', 'P5', 'P7')).toEqual([['P4', 'P5', 'P7']]);
  });

  it('do not stand together across a corner', () => {
    expect(together('P8', 'P9')).toEqual([['P8', 'P9']]);
  });
});

describe('pins that stand apart', () => {
  const pad = (pin: string): { x: number; y: number } => {
    const found = INLINE.bondPads.find((b) => b.pin === pin);
    if (found === undefined) throw new Error(`no pin ${pin}`);
    return found;
  };

  it('keep the distance of their centres, to the step', () => {
    const distance = Math.abs(pad('P1').y - pad('P2').y);
    const rule = (d: number): Neighbour => ({
      kind: 'apart',
      pins: ['P1'],
      from: ['P2', 'P20'],
      distance: d,
    });
    expect(found('pins-apart', rule(distance))).toEqual([]);
    expect(found('pins-apart', rule(distance + 0.5))).toEqual([['P1', 'P2']]);
  });
});

describe('supplies beside their ground', () => {
  const beside = (...nets: readonly string[]) =>
    found('supply-beside-ground', { kind: 'beside-ground', nets });

  it('have it as a direct neighbour, fillers apart', () => {
    expect(beside('avdd')).toEqual([]);
    // P2 and P3 on the left; on the top `both` feeds VSS two cells on, with a signal between.
    expect(beside('vdd').flat()).not.toContain('P2');
    expect(beside('vdd')).toHaveLength(1);
  });

  it('are found one by one', () => {
    // The supply of drive stands between signals.
    expect(beside('hvdd')).toHaveLength(1);
    // Of the supplies on vddio P7 stands beside P8; the two of quiet beside none.
    expect(beside('vddio').flat()).not.toContain('P7');
    expect(beside('vddio')).toHaveLength(2);
  });
});

describe('signals between two grounds', () => {
  const between = (most: number, ...sections: readonly string[]) =>
    found('signals-between-grounds', { kind: 'signals-between-grounds', most, sections });

  // main runs on from the top: sig sig WIDE WIDE sig | sig (vdd) VSS skew sig sig (vddio) VSSIO | sig sig WIDE WIDE sig.
  it('are counted on across the corner where the list of the ring begins', () => {
    expect(between(2, 'main')).toHaveLength(1);
    expect(between(3, 'main')).toEqual([]);
    // Stretches of 2, 2 (one on the top, one on the left), 3, 2 and 1.
    expect(between(1, 'main')).toHaveLength(4);
    expect(between(0, 'main')).toHaveLength(5);
  });

  it('are counted to the ends of an open section, not into the next', () => {
    // drive: (vdd) sig BOTH sig (vddio) sig skew WIDE WIDE: stretches of 1 and 3.
    expect(between(2, 'drive')).toHaveLength(1);
    expect(between(0, 'drive')).toHaveLength(2);
  });

  it('are counted around a section that is the whole ring', () => {
    const cells = INLINE.cells.map((c) => (c.section === null ? c : { ...c, section: 'main' }));
    const around = (most: number): number =>
      judge({ ...withRule({ kind: 'signals-between-grounds', most, sections: ['main'] }), cells }).filter(
        (f) => f.rule === 'signals-between-grounds',
      ).length;
    // From the left side's VSS on: 3, 2, 0, 1, 4, 0, 6, 3, 0, 2, 0, and 2 across the corner where the list begins.
    expect([0, 1, 2, 3, 4, 5, 6].map(around)).toEqual([8, 7, 4, 2, 1, 1, 0]);
  });
});
