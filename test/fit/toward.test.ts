/**
 * Shows that cells stand as near to their wished places as any legal placing does. Sources: for small sides every
 * legal placing, enumerated below; for a thousand random sides with graded corners and rules between next-but-one pads
 * the optimality (KKT) conditions of the exact optimum, and a general QP solver (npm highs); by hand ring-model
 * section 9's three pads.
 */
import fc from 'fast-check';
import highsModule from 'highs';
import { describe, expect, it } from 'vitest';
import { type FillerSet, fillerSet } from '../../src/fit/fillers.ts';
import { type PackProblem, pack, placing } from '../../src/fit/pack.ts';
import { isLegal, type Lattice, latticeOf } from '../../src/fit/toward/lattice.ts';
import { type Relaxed, relax } from '../../src/fit/toward/relax.ts';
import { search } from '../../src/fit/toward/search.ts';
import { distanceFrom, toward, type Wish } from '../../src/fit/toward.ts';
import { units } from '../../src/geometry/units.ts';
import { footprint } from '../helpers/ring.ts';

const filler = (width: number, alone: boolean) => ({
  ...footprint(`f${width}`, 'filler', 1, { standsAlone: alone }),
  width: units(width),
});
const setOf = (...fillers: readonly (readonly [width: number, alone?: boolean])[]): FillerSet =>
  fillerSet(fillers.map(([width, alone = true]) => filler(width, alone)));

/** What every sum of squares is held to: they are of whole numbers but for the weights' quotients. */
const NEARLY = 1e-9;

interface Case {
  readonly problem: PackProblem;
  readonly length: number;
  readonly wishes: readonly (Wish | null)[];
}

const small = fc
  .record({
    fillers: fc.uniqueArray(fc.record({ w: fc.integer({ min: 1, max: 7 }), alone: fc.boolean() }), {
      minLength: 1,
      maxLength: 3,
      selector: (f) => f.w,
    }),
    widths: fc.array(fc.integer({ min: 1, max: 6 }), { minLength: 1, maxLength: 4 }),
    gaps: fc.array(fc.integer({ min: 0, max: 8 }), { minLength: 4, maxLength: 4 }),
    near: fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 4, maxLength: 4 }),
    next: fc.array(fc.integer({ min: 0, max: 16 }), { minLength: 4, maxLength: 4 }),
    other: fc.option(fc.tuple(fc.nat(4), fc.boolean()), { nil: null, freq: 3 }),
    low: fc.integer({ min: 0, max: 6 }),
    fixed: fc.option(fc.tuple(fc.nat(3), fc.integer({ min: 2, max: 20 })), { nil: null, freq: 6 }),
    wishes: fc.array(
      fc.option(fc.tuple(fc.integer({ min: -5, max: 40 }), fc.integer({ min: 1, max: 3 })), {
        nil: null,
        freq: 4,
      }),
      { minLength: 4, maxLength: 4 },
    ),
    slack: fc.integer({ min: 0, max: 16 }),
  })
  .map((r): Case | null => {
    const set = setOf(...r.fillers.map((f) => [f.w, f.alone] as const));
    // Over circuit some gaps take fewer fillers, or none.
    const rest = r.other === null || r.other[1] ? [] : r.fillers.slice(1);
    const less = setOf(...rest.map((f) => [f.w, f.alone] as const));
    const own = (gap: number): FillerSet => (r.other?.[0] === gap ? less : set);
    const n = r.widths.length;
    const fixed = r.fixed === null ? null : { cell: r.fixed[0] % n, s: r.fixed[1] };
    const problem: PackProblem = {
      start: 2,
      end: 3,
      lastFillers: own(n),
      cells: r.widths.map((width, i) => ({
        width,
        gap: Math.max(0, (r.gaps[i] ?? 0) - 5),
        fillers: own(i),
        low: i === 0 ? r.low : 0,
        tail: width + 3 + (i === n - 1 ? r.low % 3 : 0),
        fixed: fixed?.cell === i ? fixed.s : null,
      })),
      rules: r.widths.flatMap((_, to) => [
        ...(to >= 2 ? [{ from: to - 2, to, distance: r.next[to] ?? 0, why: '' }] : []),
        ...(to >= 1 ? [{ from: to - 1, to, distance: r.near[to] ?? 0, why: '' }] : []),
      ]),
    };
    const wishes = r.widths.map((_, i): Wish | null => {
      const wish = r.wishes[i];
      return wish === null || wish === undefined ? null : { at: wish[0], weight: wish[1] };
    });
    const packing = pack(problem);
    if (packing.stuck !== null) return null;
    for (let length = 8 + r.slack; length < 80; length++)
      if (placing(packing, length) !== null) return { problem, length, wishes };
    return null;
  })
  .filter((c) => c !== null);

/** Every legal placing. */
function* placings({ problem, length }: Case): Generator<readonly number[]> {
  function* go(places: readonly number[], end: number): Generator<readonly number[]> {
    const i = places.length;
    const cell = problem.cells[i];
    if (cell === undefined) {
      if (problem.lastFillers.isLegal(length - problem.end - end)) yield places;
      return;
    }
    for (let s = Math.max(end + cell.gap, cell.low); s + cell.tail <= length; s++) {
      if (!cell.fillers.isLegal(s - end) || (cell.fixed !== null && cell.fixed !== s)) continue;
      if (problem.rules.some((r) => r.to === i && s - (places[r.from] ?? 0) < r.distance)) continue;
      yield* go([...places, s], s + cell.width);
    }
  }
  yield* go([], problem.start);
}

describe('on small sides', () => {
  it('no legal placing is nearer, and the one found is legal', () => {
    const seen = { all: 0, searched: 0 };
    fc.assert(
      fc.property(small, (c) => {
        const otherwise = placing(pack(c.problem), c.length) ?? [];
        const found = toward(c.problem, c.length, c.wishes, otherwise);
        // What nobody wishes may stay where it is.
        const wishes = c.wishes.map((wish, i) => (c.problem.cells[i]?.fixed === null ? wish : null));
        let least = Number.POSITIVE_INFINITY;
        let legal = false;
        for (const places of placings(c)) {
          least = Math.min(least, distanceFrom(wishes, places));
          legal ||= places.every((s, i) => s === found.places[i]);
        }
        expect(found.proven).toBe(true);
        expect(legal).toBe(true);
        expect(distanceFrom(wishes, found.places)).toBe(least);
        seen.all++;
        const lattice = latticeOf(c.problem, c.length, c.wishes);
        const relaxed = lattice === undefined ? undefined : relax(lattice);
        if (lattice !== undefined && relaxed !== undefined && !isLegal(lattice, relaxed.rounded))
          seen.searched++;
      }),
      { numRuns: 1500 },
    );
    // Rounding alone does not do on a good part of them.
    expect(seen.searched).toBeGreaterThan(seen.all / 10);
  });
});

/** A side as rings have them: pads in two rows, wider pitches near the corners, cells of several widths. */
const sides = fc
  .record({
    count: fc.integer({ min: 2, max: 60 }),
    widths: fc.array(fc.constantFrom(35, 40, 75, 35), { minLength: 60, maxLength: 60 }),
    two: fc.boolean(),
    pitch: fc.constantFrom(60, 70, 90),
    graded: fc.constantFrom<readonly (readonly [pads: number, pitch: number])[]>(
      [],
      [[3, 100]],
      [
        [5, 110],
        [2, 140],
      ],
    ),
    stem: fc.integer({ min: 30, max: 45 }),
    spread: fc.integer({ min: 20, max: 160 }),
    noise: fc.array(fc.integer({ min: -90_000, max: 90_000 }), { minLength: 60, maxLength: 60 }),
    bare: fc.array(fc.nat(9), { minLength: 60, maxLength: 60 }),
    slack: fc.integer({ min: 0, max: 3000 }),
  })
  .map((r): Case => {
    // In nanometres, to keep the solver's numbers small.
    const NM = 1000;
    const widths = r.widths.slice(0, r.count).map((w) => w * NM);
    const set = setOf([10 * NM], [5 * NM], [NM], [NM / 2]);
    const rows = widths.map((_, i) => (r.two ? i % 2 : 0));
    const rank = (i: number, row: number): number => rows.slice(0, i).filter((other) => other === row).length;
    const total = (row: number): number => rows.filter((other) => other === row).length;
    const rules = widths.flatMap((_, to) =>
      [2, 1].flatMap((back) => {
        const from = to - back;
        const [a, b] = [rows[from], rows[to]];
        if (from < 0 || a === undefined || b === undefined) return [];
        const centres = ((widths[from] ?? 0) - (widths[to] ?? 0)) / 2;
        if (a !== b) return [{ from, to, distance: r.stem * NM + centres, why: '' }];
        if (!r.two && back === 2) return [];
        const near = Math.min(rank(from, a), total(a) - 1 - rank(to, a));
        const pitch = r.graded.reduce<number>(
          (most, [pads, wider]) => (near < pads - 1 ? Math.max(most, wider) : most),
          r.pitch,
        );
        return [{ from, to, distance: pitch * NM + centres, why: '' }];
      }),
    );
    const problem: PackProblem = {
      start: 300 * NM,
      end: 300 * NM,
      lastFillers: set,
      cells: widths.map((width) => ({
        width,
        gap: 0,
        fillers: set,
        low: 300 * NM,
        tail: 300 * NM + width,
        fixed: null,
      })),
      rules,
    };
    const packing = pack(problem);
    let length = 600 * NM + widths.reduce((sum, w) => sum + w, 0) + r.slack * NM;
    while (placing(packing, length) === null) length += 500 * NM;
    const wishes = widths.map((width, i): Wish | null =>
      r.bare[i] === 0
        ? null
        : {
            at:
              Math.round(length / 2 + (i - (r.count - 1) / 2) * r.spread * NM - width / 2) +
              (r.noise[i] ?? 0),
            weight: 1 + ((r.bare[i] ?? 0) % 2),
          },
    );
    return { problem, length, wishes };
  });

function relaxedOf(c: Case): { readonly lattice: Lattice; readonly relaxed: Relaxed } {
  const lattice = latticeOf(c.problem, c.length, c.wishes);
  const relaxed = lattice === undefined ? undefined : relax(lattice);
  if (lattice === undefined || relaxed === undefined) throw new Error('nothing can move');
  return { lattice, relaxed };
}

/** Whether no pressure is negative, each presses only what is tight, and together they hold every group. */
function holdsKkt(lattice: Lattice, relaxed: Relaxed): void {
  const scale = Math.max(1, ...relaxed.places.map(Math.abs), ...relaxed.wishes.map(Math.abs));
  const slip = 1e-9 * scale;
  const place = (k: number): number => relaxed.places[k] ?? 0;
  const bound = (list: readonly number[], k: number): number => list[relaxed.wished[k] ?? 0] ?? 0;
  const push = relaxed.places.map(
    (x, k) => (lattice.weight[relaxed.wished[k] ?? 0] ?? 0) * (x - (relaxed.wishes[k] ?? 0)),
  );
  const press = (k: number, by: number): void => {
    push[k] = (push[k] ?? 0) + by;
  };
  for (const { from, to, steps, pressure } of relaxed.edges) {
    expect(place(to) - place(from) - steps).toBeGreaterThan(-slip);
    expect(pressure).toBeGreaterThanOrEqual(0);
    if (pressure > slip) expect(place(to) - place(from) - steps).toBeLessThan(slip);
    press(to, -pressure);
    press(from, pressure);
  }
  relaxed.places.forEach((x, k) => {
    const [least, most] = [relaxed.least.get(k) ?? 0, relaxed.most.get(k) ?? 0];
    expect(x).toBeGreaterThan(bound(lattice.low, k) - slip);
    expect(x).toBeLessThan(bound(lattice.high, k) + slip);
    expect(Math.min(least, most)).toBeGreaterThanOrEqual(0);
    if (least > slip) expect(x).toBeLessThan(bound(lattice.low, k) + slip);
    if (most > slip) expect(x).toBeGreaterThan(bound(lattice.high, k) - slip);
    press(k, most - least);
  });
  const weights = relaxed.wished.map((g) => lattice.weight[g] ?? 0);
  const total = weights.reduce((sum, w) => sum + w, 0);
  for (const rest of push) expect(Math.abs(rest)).toBeLessThan(slip * total);
}

describe('on a thousand random sides with graded corners and rules between next-but-one pads', () => {
  it('the exact optimum meets the optimality conditions, and rounding it is legal', () => {
    let tight = 0;
    fc.assert(
      fc.property(sides, (c) => {
        const { lattice, relaxed } = relaxedOf(c);
        holdsKkt(lattice, relaxed);
        tight += relaxed.edges.filter((edge) => edge.pressure > 0 && edge.to - edge.from > 1).length;
        // Fillers of half a micrometre make every gap of whole steps legal.
        expect(isLegal(lattice, relaxed.rounded)).toBe(true);
      }),
      { numRuns: 1000 },
    );
    expect(tight).toBeGreaterThan(500);
  });

  it('a general QP solver finds no better', async () => {
    const highs = await (highsModule as unknown as typeof highsModule.default)();
    let compared = 0;
    fc.assert(
      fc.property(sides, (c) => {
        const { lattice, relaxed } = relaxedOf(c);
        const weights = relaxed.wished.map((g) => lattice.weight[g] ?? 0);
        const value = (places: readonly number[]): number =>
          places.reduce((sum, x, k) => sum + (weights[k] ?? 0) * (x - (relaxed.wishes[k] ?? 0)) ** 2, 0);
        const name = (k: number): string => `x${k}`;
        const number = (v: number): string => (v < 0 ? `- ${-v}` : `+ ${v}`);
        const lp = [
          'Minimize',
          ` obj: ${relaxed.wishes.map((a, k) => `${number(-2 * (weights[k] ?? 0) * a)} ${name(k)}`).join(' ')} + [ ${relaxed.wishes.map((_, k) => `${2 * (weights[k] ?? 0)} ${name(k)} ^ 2`).join(' + ')} ] / 2`,
          'Subject To',
          ...relaxed.edges.map((e, i) => ` c${i}: ${name(e.to)} - ${name(e.from)} >= ${e.steps}`),
          'Bounds',
          ...relaxed.wished.map((g, k) => ` ${lattice.low[g]} <= ${name(k)} <= ${lattice.high[g]}`),
          'End',
        ].join('\n');
        const solved = highs.solve(lp);
        if (solved.Status !== 'Optimal') return;
        const theirs = relaxed.wished.map((_, k) => {
          const column = solved.Columns[name(k)];
          return column !== undefined && 'Primal' in column ? column.Primal : 0;
        });
        const [ours, other] = [value(relaxed.places), value(theirs)];
        expect(ours).toBeLessThanOrEqual(other + 1e-5 * Math.max(1, other));
        expect(Math.abs(ours - other)).toBeLessThanOrEqual(1e-4 * Math.max(1, other));
        compared++;
      }),
      { numRuns: 150 },
    );
    expect(compared).toBeGreaterThan(140);
  });
});

describe('by hand', () => {
  /** Cells of no width at wishes 0, 10, 20 with neighbours 35 and next-but-one 90 apart (ring-model, section 9). */
  const three = (fillers: FillerSet): Case => ({
    problem: {
      start: -1000,
      end: -1000,
      lastFillers: fillers,
      cells: [0, 1, 2].map(() => ({ width: 0, gap: 0, fillers, low: -1000, tail: -1000, fixed: null })),
      rules: [
        { from: 0, to: 1, distance: 35, why: '' },
        { from: 0, to: 2, distance: 90, why: '' },
        { from: 1, to: 2, distance: 35, why: '' },
      ],
    },
    length: 0,
    wishes: [0, 10, 20].map((at) => ({ at, weight: 1 })),
  });

  it('three pads with neighbours 35 and next-but-one 90 apart', () => {
    const c = three(setOf([1]));
    expect(toward(c.problem, c.length, c.wishes, []).places).toEqual([-35, 10, 55]);
  });

  it('with fillers of 20 alone the nearest legal places', () => {
    const c = three(setOf([20]));
    // Gaps of 40 or more in twenties, next but one 90 or more, so 100: -40, 0 or 20, 60 cost 40^2 + 10^2 + 40^2.
    const found = toward(c.problem, c.length, c.wishes, []);
    expect(found.proven).toBe(true);
    expect(distanceFrom(c.wishes, found.places)).toBe(3300);
  });

  it('a gap that cannot be filled costs the least that legal gaps cost', () => {
    // Fillers of 10 and one of 1 that may not stand alone: a gap is 0 or at least 10. The second cell wants 4.
    const fillers = setOf([10], [1, false]);
    const cell = { width: 100, gap: 0, fillers, low: 0, tail: 0, fixed: null };
    const problem: PackProblem = { start: 0, end: 0, lastFillers: fillers, cells: [cell, cell], rules: [] };
    const wishes = [
      { at: 20, weight: 1 },
      { at: 124, weight: 1 },
    ];
    const found = toward(problem, 300, wishes, []);
    // Abutting at 22 and 122 costs 2^2 + 2^2; ten apart, at 17 and 127, 3^2 + 3^2.
    expect(found).toEqual({ places: [22, 122], proven: true });
  });
});

it('the search alone agrees with rounding where every gap is legal', () => {
  fc.assert(
    fc.property(sides, (c) => {
      const { lattice, relaxed } = relaxedOf(c);
      if (lattice.weight.length > 12) return;
      const found = search(lattice, relaxed);
      expect(found).not.toBeNull();
      const cost = (steps: readonly number[]): number =>
        relaxed.wished.reduce(
          (sum, g, k) => sum + (lattice.weight[g] ?? 0) * ((steps[g] ?? 0) - (relaxed.wishes[k] ?? 0)) ** 2,
          0,
        );
      const [ours, rounded] = [cost(found ?? []), cost(relaxed.rounded)];
      expect(Math.abs(ours - rounded)).toBeLessThanOrEqual(NEARLY * Math.max(1, rounded));
    }),
    { numRuns: 300 },
  );
});
