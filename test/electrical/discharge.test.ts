/**
 * Shows: discharge paths are the least of all that there are, the drops of a path add up, clamps that share the current
 * drop no more than one that carries all, break-cell diodes join sections, and a section that nothing clamps has no path.
 * Sources: trying every chain of clamps and diodes; Kirchhoff's laws on the whole network (the mesh solver).
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { searchDischarge } from '../../src/electrical/discharge.ts';
import type { Jump, PadEnds } from '../../src/electrical/paths.ts';
import type { BondPad, PlacedCell, PlacedFootprint } from '../../src/format/placement.ts';
import { type Element, solveMesh } from '../figures/mesh.ts';
import { TIDE_GAUGE } from './blocks.ts';
import { assessmentOf, laidOf, withBlock } from './sample.ts';

const PEAK = 4 / 3;
const DIODE = { threshold: 0.8, resistance: 0.5 };

/** A pad on two straight rails of `ohms` from cell to cell, arcs 0 and 1: a signal, or a supply or ground pad. */
function pad(number: number, at: number, kind: PadEnds['kind']): PadEnds {
  const spot = (arc: number) => [{ arc, at }];
  return {
    pad: { number, pin: `P${number}`, net: `N${number}`, cell: `P${number}` } as BondPad,
    cell: {
      cell: { name: `P${number}` } as PlacedCell,
      footprint: {} as PlacedFootprint,
      side: 'left',
      s: 0,
      along: 0,
      pads: [],
    },
    kind,
    out: spot(kind === 'ground' ? 1 : 0),
    into: spot(kind === 'supply' ? 0 : 1),
    diode: kind === 'signal' ? DIODE : undefined,
  };
}

const clampAt = (at: number, threshold: number, resistance: number): readonly Jump[] => {
  const drop = { threshold, resistance };
  const [up, down] = [
    { arc: 0, at },
    { arc: 1, at },
  ];
  return [
    { from: up, to: down, kind: 'clamp', cell: `C${at}`, drop },
    { from: down, to: up, kind: 'clamp', cell: `C${at}`, drop },
  ];
};

interface Ladder {
  readonly ohms: readonly [number, number];
  readonly pads: readonly PadEnds[];
  readonly jumps: readonly Jump[];
}

const search = ({ ohms, pads, jumps }: Ladder) =>
  searchDischarge({
    peak: PEAK,
    roads: { jumps, pads, unknown: [] },
    along: ohms.map((each) => (a: number, b: number) => each * Math.abs(a - b)),
    stem: () => 0.1,
  });

const ladders = fc
  .record({
    ohms: fc.tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 1, max: 9 })),
    kinds: fc.array(fc.constantFrom('signal' as const, 'supply' as const, 'ground' as const), {
      minLength: 2,
      maxLength: 7,
    }),
    clamps: fc.array(
      fc.record({
        at: fc.integer({ min: 0, max: 7 }),
        threshold: fc.integer({ min: 0, max: 3 }),
        resistance: fc.integer({ min: 0, max: 4 }),
      }),
      { minLength: 1, maxLength: 4 },
    ),
  })
  .map(
    ({ ohms, kinds, clamps }): Ladder => ({
      ohms: [ohms[0] / 10, ohms[1] / 10],
      pads: kinds.map((kind, i) => pad(i + 1, i, kind)),
      jumps: clamps.flatMap((c) => clampAt(c.at, c.threshold, c.resistance)),
    }),
  );

/** The least drop from one pad to another over every chain of at most three jumps. */
function tried({ ohms, jumps }: Ladder, from: PadEnds, to: PadEnds): number {
  const rail = (arc: number, a: number, b: number): number => PEAK * (ohms[arc] ?? 0) * Math.abs(a - b);
  const ends = (end: PadEnds): number =>
    (end.diode ? end.diode.threshold + PEAK * end.diode.resistance : 0) + PEAK * 0.1;
  const [target] = to.into;
  let best = Number.POSITIVE_INFINITY;
  const walk = (arc: number, at: number, volts: number, left: number): void => {
    if (target && arc === target.arc) best = Math.min(best, volts + rail(arc, at, target.at));
    if (left === 0) return;
    for (const { from: a, to: b, drop } of jumps)
      if (a.arc === arc)
        walk(
          b.arc,
          b.at,
          volts + rail(arc, at, a.at) + (drop?.threshold ?? 0) + PEAK * (drop?.resistance ?? 0),
          left - 1,
        );
  };
  for (const start of from.out) walk(start.arc, start.at, 0, 3);
  return best + ends(from) + ends(to);
}

test('the worst path from each pad is the worst of the least ones, and its legs add up', () => {
  fc.assert(
    fc.property(ladders, (ladder) => {
      const { worst, none } = search(ladder);
      expect(none).toEqual([]);
      expect(worst.length).toBe(ladder.pads.length);
      for (const { from, to, total, rail, legs } of worst) {
        const all = ladder.pads.filter((other) => other !== from).map((other) => tried(ladder, from, other));
        expect(total).toBeCloseTo(Math.max(...all), 9);
        expect(total).toBeCloseTo(tried(ladder, from, to), 9);
        expect(legs.reduce((sum, leg) => sum + leg.volts, 0)).toBeCloseTo(total, 9);
        const metal = legs.filter((leg) => leg.what === 'rail' || leg.what === 'stem');
        expect(metal.reduce((sum, leg) => sum + leg.volts, 0)).toBeCloseTo(rail, 9);
      }
    }),
    { numRuns: 300 },
  );
});

test('clamps that share the current drop no more than the one that is counted with', () => {
  fc.assert(
    fc.property(ladders, (ladder) => {
      const length = 8;
      const node = (arc: number, at: number): number => 1 + arc * length + at;
      const rails: Element[] = [0, 1].flatMap((arc) =>
        Array.from({ length: length - 1 }, (_, at) => ({
          from: node(arc, at),
          to: node(arc, at + 1),
          resistance: ladder.ohms[arc] ?? 1,
          threshold: null,
        })),
      );
      const clamps = ladder.jumps.map(({ from, to, drop }) => ({
        from: node(from.arc, from.at),
        to: node(to.arc, to.at),
        resistance: Math.max(1e-3, drop?.resistance ?? 0),
        threshold: drop?.threshold ?? 0,
      }));
      for (const { from, to, total } of search(ladder).worst) {
        const [start, end] = [from.out[0], to.into[0]];
        if (!start || !end) throw new Error('both pads join a rail');
        const out = {
          from: node(end.arc, end.at),
          to: 0,
          resistance: 0.1 + (to.diode?.resistance ?? 0),
          threshold: to.diode?.threshold ?? null,
        };
        const solved = solveMesh({
          nodes: 1 + 2 * length,
          elements: [...rails, ...clamps, out],
          pressed: [{ node: node(start.arc, start.at), current: PEAK }],
        });
        const entry = (from.diode ? from.diode.threshold + PEAK * from.diode.resistance : 0) + PEAK * 0.1;
        const volts = (solved?.voltage[node(start.arc, start.at)] ?? Number.NaN) + entry;
        expect(volts).toBeLessThanOrEqual(total + 0.01);
      }
    }),
    { numRuns: 150 },
  );
});

describe('on the tide gauge, whose analog section has an I/O ground of its own', () => {
  const block = TIDE_GAUGE.replace('SUPPLIES', 'auto');
  const laid = (cells: (text: string) => string, demands = block) =>
    laidOf('fixtures/tide-gauge/ring.yaml', { 'ring.yaml': withBlock(demands), 'harbour.cells.yaml': cells });
  const rulesOf = (placement: ReturnType<typeof laid>) => placement.findings.map((f) => f.rule);
  const same = (text: string): string => text;

  test('every pair of pads finds a path within the budgets', () => {
    const placement = laid(same);
    const { discharge } = assessmentOf(placement);
    if ('missing' in discharge) throw new Error(discharge.missing);
    expect(discharge.none).toEqual([]);
    expect(discharge.sources).toBe(placement.bondPads.length);
    expect(rulesOf(placement)).toEqual([]);
    // Across the sections the way leads through the two grounds' diodes.
    const across = discharge.worst.find(({ from, to }) => from.cell.cell.section !== to.cell.cell.section);
    expect(across?.legs.filter((leg) => leg.what === 'clamp').length).toBeGreaterThan(1);
  });

  test('without the diodes between the grounds no path leads from I/O to core, an error for each pair of nets', () => {
    const bare = laid((text) =>
      text.replaceAll(/ {4}clamps: \[\{supply: VSSIO, ground: VSS\}\]\n {4}clampDrop: .*\n/g, ''),
    );
    const paths = bare.findings.filter((f) => f.rule === 'discharge-path');
    expect(paths.length).toBeGreaterThan(0);
    expect(paths[0]?.severity).toBe('error');
    expect(paths.some((f) => f.message.includes('VDDIO to VDD'))).toBe(true);
  });

  test('a budget that is broken says by how much', () => {
    const tight = laid(same, block.replace('path: 14', 'path: 8'));
    const over = tight.findings.filter((f) => f.rule === 'discharge-drop');
    expect(over.length).toBeGreaterThan(0);
    expect(over[0]?.message).toMatch(/drops [\d.]+ V in all, [\d.]+ m?V above the budget of 8 V/);
  });

  test('where the library does not say what clamps drop, the path is not assessed, and the rails are', () => {
    const silent = laid((text) => text.replace(/^clampDrop: .*\n/m, ''));
    const figures =
      silent.summary.electrical && 'figures' in silent.summary.electrical
        ? silent.summary.electrical.figures
        : [];
    const path = figures.find(({ what }) => what === 'discharge path');
    const rails = figures.find(({ what }) => what === 'discharge along rails');
    expect(path?.figure).toHaveProperty('notAssessed');
    expect(rails?.figure).toHaveProperty('value');
  });
});
